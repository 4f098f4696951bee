"""Photos come in parts, are kept by what they hold, and are nothing but photos."""

from __future__ import annotations

import errno
import hashlib
import os
import random
from pathlib import Path

import pytest
from starlette.testclient import TestClient

from server.errors import DiskFull
from server.store.photos import MOST_BYTES, Photos, what_is_wrong

TYPE = {"content-type": "application/octet-stream"}
# The smallest baseline JPEG of one grey pixel, put together by ITU-T T.81: tables of ones, one component, one block.
QUANT = b"\xff\xdb\x00\x43\x00" + b"\x01" * 64
FRAME = b"\xff\xc0\x00\x0b\x08\x00\x01\x00\x01\x01\x01\x11\x00"
HUFFMAN = b"\xff\xc4\x00\x14\x00\x01" + b"\x00" * 15 + b"\x00" + b"\xff\xc4\x00\x14\x10\x01" + b"\x00" * 15 + b"\x00"
SCAN = b"\xff\xda\x00\x08\x01\x01\x00\x00\x3f\x00" + b"\x3f"
JPEG = b"\xff\xd8" + QUANT + FRAME + HUFFMAN + SCAN + b"\xff\xd9"


def picture(size: int) -> bytes:
    """A JPEG of so many bytes: a comment segment makes up the rest. No byte of it looks like an end."""
    dice = random.Random(size)
    rest, comments = size - len(JPEG), b""
    while rest > 4:
        part = min(rest - 4, 60_000)
        comments += b"\xff\xfe" + (part + 2).to_bytes(2) + bytes(dice.randrange(1, 250) for _ in range(part))
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
    assert answer.content == data and answer.headers["content-type"] == "image/jpeg"
    assert "immutable" in answer.headers["cache-control"] and answer.headers["x-content-type-options"] == "nosniff"
    assert send(client, data, 0, 300_000) == 200
    assert len([file for file in (tmp_path / "photos").rglob("*") if file.is_file()]) == 1


@pytest.mark.parametrize(
    ("data", "why"),
    [
        (b"<html><script>alert(1)</script></html>", "not a JPEG"),
        (b"\x89PNG\r\n\x1a\n" + b"x" * 50, "not a JPEG"),
        (b"\xff\xd8\xff" + b"x" * 40 + b"\xff\xd9", "damaged"),
        (JPEG + b"<script>alert(1)</script>\xff\xd9", "hidden behind"),
        (JPEG + b"PK\x03\x04", "not a JPEG"),
        (JPEG.replace(FRAME, FRAME[:5] + b"\xff\xff\xff\xff" + FRAME[9:]), "too many pixels"),
        (JPEG.replace(FRAME, b""), "too many pixels, or none"),
        (JPEG[:2] + b"\xff\xe1\x00\x10Exif\x00\x00" + b"gps place" + JPEG[2:], "where or how it was taken"),
        (JPEG[:2] + b"\xff\xe1\x00\x0cExif\x00\x00MM\x00*" + JPEG[2:], "where or how it was taken"),
        (JPEG[:-2], "not a JPEG"),
    ],
)
def test_what_is_no_plain_photo_is_refused_and_nothing_of_it_kept(
    client: TestClient, tmp_path: Path, data: bytes, why: str
) -> None:
    answer = client.post(f"/api/photos/{mark(data)}?from=0&size={len(data)}", content=data, headers=TYPE)
    assert answer.status_code == 400 and why in answer.json()["error"]["say"]
    assert not [file for file in (tmp_path / "photos").rglob("*") if file.is_file()]


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
    assert photos.read(mark(JPEG)) == JPEG


def test_the_smallest_photo_is_one() -> None:
    assert what_is_wrong(JPEG) is None
