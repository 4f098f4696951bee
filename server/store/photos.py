"""Photo files by the hash of what they hold, come in parts, looked at before they are kept. No photo is ever replaced."""

from __future__ import annotations

import contextlib
import hashlib
import os
import re
from pathlib import Path

from server.errors import BadRequest, NotFound, TooLarge
from server.store.backups import PHOTOS
from server.store.connection import saying_what_went_wrong

SHA256 = re.compile(r"[0-9a-f]{64}", re.ASCII)
MOST_BYTES = 4 * 1024 * 1024
MOST_PIXELS = 25_000_000
_START, _END = b"\xff\xd8\xff", b"\xff\xd9"
_SIZES = (*range(0xC0, 0xC4), *range(0xC5, 0xC8), *range(0xC9, 0xCC), *range(0xCD, 0xD0))
"""JPEG markers of a frame header, which holds height and width. Source: ITU-T T.81, table B.1."""
_SCAN, _EXIF_OR_XMP, _NO_LENGTH = 0xDA, 0xE1, (0x01, *range(0xD0, 0xD8))


class Photos:
    """The photos of one data directory."""

    def __init__(self, folder: Path) -> None:
        self._folder = folder / PHOTOS

    def path(self, sha256: str) -> Path:
        """Where a photo lies. Raises NotFound for what is no hash, so that no name ever leads elsewhere."""
        if not SHA256.fullmatch(sha256):
            raise NotFound("There is no such photo.", f"sha256={sha256[:80]!r}")
        return self._folder / sha256[:2] / f"{sha256}.jpg"

    def _part(self, sha256: str) -> Path:
        return self.path(sha256).with_suffix(".part")

    def have(self, sha256: str) -> int:
        """How many bytes of a photo are here, whole or in part."""
        whole, part = self.path(sha256), self._part(sha256)
        return next((file.stat().st_size for file in (whole, part) if file.exists()), 0)

    def read(self, sha256: str) -> bytes:
        """A whole photo. Raises NotFound."""
        try:
            return self.path(sha256).read_bytes()
        except FileNotFoundError as error:
            raise NotFound("This photo has not come to the server yet.", f"no {sha256}") from error

    def damaged(self) -> list[Path]:
        """Photos whose files no longer hold what their names say."""
        whole = sorted(self._folder.glob("??/*.jpg"))
        return [file for file in whole if hashlib.sha256(file.read_bytes()).hexdigest() != file.stem]

    def add(self, sha256: str, begin: int, size: int, data: bytes) -> int:
        """One part of a photo; gives how many bytes are here after it. A part that came before is passed over.

        Raises TooLarge, or BadRequest for a part that does not fit, a hash that does not agree, or what is no photo: nothing
        is kept of it then. Raises DiskFull.
        """
        whole, part = self.path(sha256), self._part(sha256)
        if not 0 < size <= MOST_BYTES or begin + len(data) > size:
            raise TooLarge("That photo is too large.", f"{begin}+{len(data)} of {size} bytes, at most {MOST_BYTES}")
        held = self.have(sha256)
        if whole.exists() or begin < held:
            return held
        if begin > held:
            raise BadRequest("A part of that photo is missing; the phone sends it again.", f"part at {begin}, {held} held")
        with saying_what_went_wrong(self._folder):
            part.parent.mkdir(parents=True, exist_ok=True, mode=0o700)
            with open(part, "ab") as file:
                file.write(data)
                file.flush()
                os.fsync(file.fileno())
            if begin + len(data) < size:
                return begin + len(data)
            self._finish(sha256, part, whole)
        return size

    def _finish(self, sha256: str, part: Path, whole: Path) -> None:
        data = part.read_bytes()
        why = None if hashlib.sha256(data).hexdigest() == sha256 else "it did not come through whole"
        why = why or what_is_wrong(data)
        if why:
            with contextlib.suppress(OSError):
                part.unlink()
            raise BadRequest(f"That photo cannot be kept: {why}.", f"sha256={sha256}, {len(data)} bytes")
        part.replace(whole)


def what_is_wrong(data: bytes) -> str | None:
    """Why these bytes are no photo we keep; None where they are.

    Only JPEG as the app itself makes it: whole from its first to its last byte, so that it can be nothing else besides; no
    more pixels than a phone can show; nothing in it of where and when it was taken.
    """
    if not data.startswith(_START) or not data.endswith(_END):
        return "it is not a JPEG picture"
    at, pixels = 2, 0
    while at + 4 <= len(data):
        if data[at] != 0xFF:
            return "it is damaged"
        marker = data[at + 1]
        if marker == 0xFF or marker in _NO_LENGTH:
            at += 1 if marker == 0xFF else 2
            continue
        length = int.from_bytes(data[at + 2 : at + 4])
        if length < 2 or at + 2 + length > len(data):
            return "it is damaged"
        if marker == _EXIF_OR_XMP:
            return "it still says where or how it was taken"
        if marker in _SIZES:
            pixels = int.from_bytes(data[at + 5 : at + 7]) * int.from_bytes(data[at + 7 : at + 9])
        if marker == _SCAN:
            if not 0 < pixels <= MOST_PIXELS:
                return "it has too many pixels, or none"
            return None if data.find(_END, at) == len(data) - 2 else "something else is hidden behind it"
        at += 2 + length
    return "it is damaged"
