"""Photos come in parts, are kept by what they hold, and are nothing but photos."""

from __future__ import annotations

import errno
import hashlib
import io
import os
import random
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st
from PIL import Image, ImageChops, ImageStat
from starlette.testclient import TestClient

from server.errors import DiskFull
from server.store.photos import MOST_BYTES, Photos
from server.store.plain_picture import NoPicture, plain_picture

TYPE = {"content-type": "application/octet-stream"}
# The smallest baseline JPEG of one grey pixel, put together by ITU-T T.81: tables of ones, one component, one block.
QUANT = b"\xff\xdb\x00\x43\x00" + b"\x01" * 64
FRAME = b"\xff\xc0\x00\x0b\x08\x00\x01\x00\x01\x01\x01\x11\x00"
HUFFMAN = b"\xff\xc4\x00\x14\x00\x01" + b"\x00" * 15 + b"\x00" + b"\xff\xc4\x00\x14\x10\x01" + b"\x00" * 15 + b"\x00"
SCAN = b"\xff\xda\x00\x08\x01\x01\x00\x00\x3f\x00" + b"\x3f"
JPEG = b"\xff\xd8" + QUANT + FRAME + HUFFMAN + SCAN + b"\xff\xd9"


def picture(size: int) -> bytes:
    """A JPEG of so many bytes: a comment segment makes up the rest."""
    dice = random.Random(size)
    rest, comments = size - len(JPEG), b""
    while rest > 4:
        part = min(rest - 4, 60_000)
        comments += b"\xff\xfe" + (part + 2).to_bytes(2) + dice.randbytes(part)
        rest -= part + 4
    return b"\xff\xd8" + comments + JPEG[2:]


def mark(data: bytes) -> str:
    return hashlib.sha256(data).hexdigest()


def send(client: TestClient, data: bytes, begin: int, end: int, sha256: str | None = None, size: int | None = None) -> int:
    asked = f"/api/photos/{sha256 or mark(data)}?from={begin}&size={size or len(data)}"
    return client.post(asked, content=data[begin:end], headers=TYPE).status_code


def test_a_photo_comes_in_parts_goes_on_where_it_left_off_and_is_kept_once(client: TestClient, tmp_path: Path) -> None:
    data = picture(300_000)
    sha256 = mark(data)
    assert client.get(f"/api/photos/{sha256}/have").json() == {"have": 0}
    assert client.get(f"/api/photos/{sha256}").status_code == 404
    assert send(client, data, 0, 100_000) == 200
    assert client.get(f"/api/photos/{sha256}/have").json() == {"have": 100_000}
    assert client.get(f"/api/photos/{sha256}").status_code == 404, "half a photo is none"
    assert send(client, data, 0, 100_000) == 200, "the reply was lost; the part comes again"
    assert send(client, data, 200_000, 300_000) == 400, "a hole is never left"
    assert send(client, data, 100_000, 300_000) == 200
    answer = client.get(f"/api/photos/{sha256}")
    assert len(answer.content) < 1000 and answer.headers["content-type"] == "image/jpeg"
    assert client.get(f"/api/photos/{sha256}/have").json() == {"have": 300_000}, "as much as the phone had"
    assert "immutable" in answer.headers["cache-control"] and answer.headers["x-content-type-options"] == "nosniff"
    assert send(client, data, 0, 300_000) == 200
    kept = sorted(file.name for file in (tmp_path / "photos").rglob("*") if file.is_file())
    assert kept == [f"{sha256}.jpg", f"{sha256}.sum"]


@pytest.mark.parametrize(
    ("data", "why"),
    [
        (b"<html><script>alert(1)</script></html>", "not a JPEG"),
        (b"\x89PNG\r\n\x1a\n" + b"x" * 50, "not a JPEG"),
        (b"\xff\xd8\xff" + b"x" * 40 + b"\xff\xd9", "damaged"),
        (JPEG.replace(FRAME, FRAME[:5] + b"\xff\xff\xff\xff" + FRAME[9:]), "too many pixels"),
        (JPEG.replace(FRAME, b""), "damaged"),
        (JPEG[:100], "damaged"),
    ],
)
def test_what_is_no_plain_photo_is_refused_and_nothing_of_it_kept(
    client: TestClient, tmp_path: Path, data: bytes, why: str
) -> None:
    answer = client.post(f"/api/photos/{mark(data)}?from=0&size={len(data)}", content=data, headers=TYPE)
    assert answer.status_code == 400 and why in answer.json()["error"]["say"]
    assert not [file for file in (tmp_path / "photos").rglob("*") if file.is_file()]


SECRET = b"52 deg 12 min N, behind the blue gate"
BESIDE = {
    "Exif": lambda data: data[:2] + segment(0xE1, b"Exif\0\0MM\0*" + SECRET) + data[2:],
    "a second Exif": lambda data: (
        data[:2] + segment(0xE1, b"Exif\0\0MM\0*") + segment(0xE1, b"Exif\0\0II*\0" + SECRET) + data[2:]
    ),
    "XMP": lambda data: data[:2] + segment(0xE1, b"http://ns.adobe.com/xap/1.0/\0<x>" + SECRET) + data[2:],
    "IPTC": lambda data: data[:2] + segment(0xED, b"Photoshop 3.0\x008BIM\x04\x04" + SECRET) + data[2:],
    "a colour profile": lambda data: data[:2] + segment(0xE2, b"ICC_PROFILE\0\1\1" + SECRET) + data[2:],
    "a comment": lambda data: data[:2] + segment(0xFE, SECRET) + data[2:],
    "a maker's own segment": lambda data: data[:2] + segment(0xEF, SECRET) + data[2:],
    "an archive behind it": lambda data: data + b"PK\x03\x04" + SECRET,
    "a script behind it": lambda data: data + b"<script>" + SECRET + b"\xff\xd9",
    "a second picture behind it": lambda data: data + data[:2] + segment(0xFE, SECRET) + data[2:],
}


def segment(marker: int, holds: bytes) -> bytes:
    """A marker segment by ITU-T T.81, B.1.1.4."""
    return bytes([0xFF, marker]) + (len(holds) + 2).to_bytes(2) + holds


def leaf() -> Image.Image:
    """A picture with edges and shades, wider than high, its left half dark."""
    made = Image.new("RGB", (96, 64))
    made.putdata([(40 + x, 90 + 2 * y, 30 if x < 48 else 200) for y in range(64) for x in range(96)])
    return made


def as_jpeg(image: Image.Image, **more: Any) -> bytes:
    out = io.BytesIO()
    image.save(out, "JPEG", quality=85, **more)
    return out.getvalue()


def markers(data: bytes) -> list[int]:
    """The markers of a JPEG up to its scan, by ITU-T T.81."""
    found, at = [], 2
    while data[at + 1] != 0xDA:
        found.append(data[at + 1])
        at += 2 + int.from_bytes(data[at + 2 : at + 4])
    return found


@pytest.mark.parametrize("hide", BESIDE.values(), ids=BESIDE)
def test_everything_but_the_picture_goes(client: TestClient, hide: Callable[[bytes], bytes]) -> None:
    """What is kept has the segments that a picture needs (JFIF, tables, frame) and ends with it; the picture is as it was."""
    clean = as_jpeg(leaf())
    data = hide(clean)
    assert SECRET in data and send(client, data, 0, len(data)) == 200
    kept = client.get(f"/api/photos/{mark(data)}").content
    assert SECRET not in kept and kept.endswith(b"\xff\xd9") and kept.count(b"\xff\xd9") == 1
    assert set(markers(kept)) <= {0xE0, 0xDB, 0xC0, 0xC2, 0xC4}
    before, after = (Image.open(io.BytesIO(one)).convert("RGB") for one in (clean, kept))
    assert after.size == before.size
    assert max(ImageStat.Stat(ImageChops.difference(before, after)).mean) <= 1.5


def test_a_picture_stands_upright(client: TestClient) -> None:
    """Orientation 6 of Exif (CIPA DC-008): the phone was held on its side, and the picture is to be turned by a quarter."""
    exif = Image.Exif()
    exif[0x0112] = 6
    data = as_jpeg(leaf(), exif=exif)
    assert send(client, data, 0, len(data)) == 200
    kept = Image.open(io.BytesIO(client.get(f"/api/photos/{mark(data)}").content))
    assert kept.size == (64, 96)
    top, bottom = kept.getpixel((32, 10)), kept.getpixel((32, 85))
    assert top[2] < 60 < bottom[2], "what was at the left is on top"  # type: ignore[index]


@pytest.mark.parametrize("mode", ["L", "RGB", "CMYK"])
def test_grey_and_printers_pictures_are_pictures(mode: str) -> None:
    plain = Image.open(io.BytesIO(plain_picture(as_jpeg(leaf().convert(mode)))))
    assert plain.mode == ("L" if mode == "L" else "RGB") and plain.size == (96, 64)


@given(st.data())
def test_any_bytes_are_a_picture_or_none(data: st.DataObject) -> None:
    """A picture with bytes of it changed, cut and doubled: taken or said, and nothing else."""
    harmed = bytearray(as_jpeg(leaf()))
    for _ in range(data.draw(st.integers(1, 8))):
        at = data.draw(st.integers(0, len(harmed) - 1))
        harmed[at : at + data.draw(st.integers(1, 40))] = data.draw(st.binary(max_size=40))
        if not harmed:
            break
    try:
        assert plain_picture(bytes(harmed)).startswith(b"\xff\xd8")
    except NoPicture as error:
        assert str(error) in ("it is damaged", "it is not a JPEG picture", "it has too many pixels, or none")


def test_photos_from_before_and_damaged_ones_are_known(tmp_path: Path) -> None:
    """One that an older server kept as it came has no line beside it, and holds what its name says."""
    photos = Photos(tmp_path)
    old = photos.path(mark(JPEG))
    old.parent.mkdir(parents=True)
    old.write_bytes(JPEG)
    data = as_jpeg(leaf())
    photos.add(mark(data), 0, len(data), data)
    assert photos.damaged() == []
    photos.path(mark(data)).write_bytes(data[:-9])
    assert photos.damaged() == [photos.path(mark(data))]


def test_a_wrong_hash_is_refused(client: TestClient) -> None:
    assert send(client, JPEG, 0, len(JPEG), sha256="0" * 64) == 400


@pytest.mark.parametrize("name", ["..", "%2e%2e", "x" * 64, "A" * 64, "0" * 63, "..%2f..%2fmudproof.db", "0" * 64 + "%00"])
def test_no_name_leads_to_another_file(client: TestClient, name: str) -> None:
    for path in (f"/api/photos/{name}", f"/api/photos/{name}/have"):
        assert client.get(path).status_code == 404


@pytest.mark.parametrize("query", ["", "from=0", "from=-1&size=5", "from=0&size=99999999999", "from=x&size=5", "from=0&size=0"])
def test_sizes_that_make_no_sense_are_said(client: TestClient, query: str) -> None:
    answer = client.post(f"/api/photos/{mark(JPEG)}?{query}", content=JPEG, headers=TYPE)
    assert answer.status_code in (400, 413) and answer.json()["error"]["say"]


def test_too_large_a_photo_is_refused_at_its_first_part(client: TestClient) -> None:
    answer = client.post(f"/api/photos/{'0' * 64}?from=0&size={MOST_BYTES + 1}", content=b"x", headers=TYPE)
    assert answer.status_code == 413


def test_a_full_disk_is_said_and_the_part_can_come_again(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    photos = Photos(tmp_path)

    def full(_: int) -> None:
        raise OSError(errno.ENOSPC, "No space left on device")

    monkeypatch.setattr(os, "fsync", full)
    with pytest.raises(DiskFull):
        photos.add(mark(JPEG), 0, len(JPEG), JPEG[:10])
    monkeypatch.undo()
    held = photos.have(mark(JPEG))
    assert photos.add(mark(JPEG), held, len(JPEG), JPEG[held:]) == len(JPEG)
    assert photos.read(mark(JPEG)).startswith(b"\xff\xd8")
