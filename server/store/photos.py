"""Photo files by the hash of what a phone sent, come in parts, kept as plain pictures. No photo is ever replaced.

Beside each lies a line (`.sum`) with the hash of what is kept and how many bytes had come.
"""

from __future__ import annotations

import contextlib
import hashlib
import os
import re
from pathlib import Path

from server.errors import BadRequest, NotFound, TooLarge
from server.store.backups import PHOTOS, is_sound, sum_file, sum_of
from server.store.connection import saying_what_went_wrong
from server.store.plain_picture import NoPicture, plain_picture
from server.whole_file import beside

SHA256 = re.compile(r"[0-9a-f]{64}", re.ASCII)
MOST_BYTES = 4 * 1024 * 1024


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
        """How many bytes of a photo have come, of all it had or of a part."""
        whole, part = self.path(sha256), self._part(sha256)
        if whole.exists():
            return sum_of(whole)[1] or whole.stat().st_size
        return part.stat().st_size if part.exists() else 0

    def read(self, sha256: str) -> bytes:
        """A whole photo. Raises NotFound."""
        try:
            return self.path(sha256).read_bytes()
        except FileNotFoundError as error:
            raise NotFound("This photo has not come to the server yet.", f"no {sha256}") from error

    def damaged(self) -> list[Path]:
        """Photos whose files no longer hold what they were kept with."""
        whole = sorted(self._folder.glob("??/*.jpg"))
        return [file for file in whole if not is_sound(file)]

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
        try:
            if hashlib.sha256(data).hexdigest() != sha256:
                raise NoPicture("it did not come through whole")
            plain = plain_picture(data)
        except NoPicture as error:
            with contextlib.suppress(OSError):
                part.unlink()
            raise BadRequest(f"That photo cannot be kept: {error}.", f"sha256={sha256}, {len(data)} bytes") from error
        with beside(sum_file(whole)) as line:
            line.write_text(f"{hashlib.sha256(plain).hexdigest()} {len(data)}\n", encoding="ascii")
        with beside(whole) as picture:
            picture.write_bytes(plain)
        part.unlink(missing_ok=True)
