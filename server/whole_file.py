"""Files written whole or not at all: beside what is there, brought to the disk, and only then put in its place."""

from __future__ import annotations

import contextlib
import os
from collections.abc import Iterator
from pathlib import Path


@contextlib.contextmanager
def beside(path: Path, mode: int = 0o600) -> Iterator[Path]:
    """A file to write that becomes `path` in one step when the block has ended well.

    Any error leaves what was there as it was. mode: who may read it; nobody else can for a moment either.
    """
    temporary = path.with_name(f".{path.name}.{os.getpid()}.new")
    temporary.unlink(missing_ok=True)
    os.close(os.open(temporary, os.O_WRONLY | os.O_CREAT | os.O_EXCL, mode))
    try:
        yield temporary
        os.chmod(temporary, mode)
        to_disk(temporary)
        temporary.replace(path)
    finally:
        temporary.unlink(missing_ok=True)
    to_disk(path.parent)


def to_disk(path: Path) -> None:
    """Wait until a file, or the names in a folder, would outlast a power cut. Raises OSError."""
    opened = os.open(path, os.O_RDONLY)
    try:
        os.fsync(opened)
    finally:
        os.close(opened)
