"""A picture and nothing else: decoded, and written anew without all that came with it."""

from __future__ import annotations

import io
import threading
import warnings

from PIL import Image, ImageOps, JpegImagePlugin

MOST_PIXELS = 25_000_000
"""More than a phone can show; one of so many takes some 75 MB while it is decoded."""
QUALITY = 85
"""For a picture whose own tables cannot be used again."""
_one_at_a_time = threading.Lock()


class NoPicture(ValueError):
    """These bytes are no picture that is kept; says why, as the end of a sentence."""


def plain_picture(data: bytes) -> bytes:
    """The picture in a JPEG, as a JPEG that holds nothing else: no place, no time, no camera, no comment, no second picture,
    nothing before it or behind. It stands upright, as its orientation told.

    Raises NoPicture. It is written with the tables it came with (ITU-T T.81), so that next to nothing of it is lost.
    """
    try:
        with _one_at_a_time, warnings.catch_warnings(action="ignore"), Image.open(io.BytesIO(data), formats=["JPEG"]) as came:
            width, height = came.size
            if not 0 < width * height <= MOST_PIXELS:
                raise NoPicture("it has too many pixels, or none")
            return _written_anew(came)
    except NoPicture:
        raise
    except Image.DecompressionBombError as error:
        raise NoPicture("it has too many pixels, or none") from error
    except Exception as error:  # a decoder meets anything: whatever stops it, these bytes are no picture
        why = "it is damaged" if data.startswith(b"\xff\xd8") else "it is not a JPEG picture"
        raise NoPicture(why) from error


def _written_anew(came: Image.Image) -> bytes:
    came.load()
    upright = _upright(came)
    grey_or_colour = upright if upright.mode in ("L", "RGB") else upright.convert("RGB")
    plain = Image.new(grey_or_colour.mode, grey_or_colour.size)
    plain.paste(grey_or_colour)
    out = io.BytesIO()
    tables = getattr(came, "quantization", None) if upright.mode == grey_or_colour.mode else None
    try:
        if not tables:
            raise ValueError("no tables")
        sampling = JpegImagePlugin.get_sampling(came)
        plain.save(out, "JPEG", qtables=tables, subsampling=sampling if sampling >= 0 else 0, optimize=True)
    except (ValueError, TypeError, OSError):
        out = io.BytesIO()
        plain.save(out, "JPEG", quality=QUALITY, optimize=True)
    return out.getvalue()


def _upright(came: Image.Image) -> Image.Image:
    """Turned as its orientation tells; as it came where that cannot be read."""
    try:
        return ImageOps.exif_transpose(came)
    except Exception:  # what stands beside a picture is anybody's
        return came
