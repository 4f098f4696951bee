"""Copies of the database made while it is in use, checked, kept for a week and a year, and put back; and of the photos."""

from __future__ import annotations

import contextlib
import datetime
import hashlib
import os
import shutil
import sqlite3
from pathlib import Path

from server.errors import StoreError

FOLDER = "backups"
FILE = "mudproof.db"
PHOTOS = "photos"
DAYS_KEPT, MONTHS_KEPT = 7, 12
_PREFIX, _SUFFIX = "mudproof-", ".db"


def back_up(folder: Path, name: str) -> Path:
    """A copy of the database as of now under `backups/`, sound or not there at all. Raises StoreError or sqlite3.Error.

    The copy is made by the database itself in one read transaction, so that it is whole whatever is written meanwhile.
    """
    kept = folder / FOLDER
    kept.mkdir(parents=True, exist_ok=True, mode=0o700)
    made, temporary = kept / name, kept / f".{name}.new"
    temporary.unlink(missing_ok=True)
    with contextlib.closing(sqlite3.connect(f"{(folder / FILE).absolute().as_uri()}?mode=ro", uri=True)) as db:
        db.execute("VACUUM INTO ?", (str(temporary),))
    os.chmod(temporary, 0o600)
    wrong = what_is_wrong(temporary)
    if wrong:
        temporary.unlink()
        raise StoreError("The copy of the database is not sound, so it was not kept. Look at the disk.", f"{made}: {wrong}")
    temporary.replace(made)
    copy_photos(folder / PHOTOS, kept / PHOTOS)
    return made


def copy_photos(source: Path, target: Path) -> int:
    """Copy every sound photo that `target` lacks; gives how many. Photos are named by what they hold, so none ever changes."""
    copied = 0
    for photo in sorted(source.glob("??/*.jpg")):
        copy = target / photo.relative_to(source)
        if copy.exists():
            continue
        data = photo.read_bytes()
        if hashlib.sha256(data).hexdigest() != photo.stem:
            continue  # damaged: `mudproof check` tells of it
        copy.parent.mkdir(parents=True, exist_ok=True, mode=0o700)
        temporary = copy.with_suffix(".new")
        temporary.write_bytes(data)
        temporary.replace(copy)
        copied += 1
    return copied


def what_is_wrong(file: Path) -> str | None:
    """What the database itself finds wrong with a copy; None for a sound one."""
    try:
        with contextlib.closing(sqlite3.connect(f"{file.absolute().as_uri()}?mode=ro&immutable=1", uri=True)) as db:
            found = str(db.execute("PRAGMA integrity_check(1)").fetchone()[0])
    except sqlite3.Error as error:
        return str(error)
    return None if found == "ok" else found


def daily(folder: Path, today: datetime.date) -> Path | None:
    """Today's copy, if there is none yet; older ones than are kept are taken away."""
    name = f"{_PREFIX}{today.isoformat()}{_SUFFIX}"
    if (folder / FOLDER / name).exists():
        return None
    made = back_up(folder, name)
    for old in to_let_go(list(kept_days(folder)), today):
        (folder / FOLDER / f"{_PREFIX}{old.isoformat()}{_SUFFIX}").unlink(missing_ok=True)
    return made


def kept_days(folder: Path) -> list[datetime.date]:
    """Days there are copies of, oldest first."""
    found = []
    for file in (folder / FOLDER).glob(f"{_PREFIX}*{_SUFFIX}"):
        with contextlib.suppress(ValueError):
            found.append(datetime.date.fromisoformat(file.name.removeprefix(_PREFIX).removesuffix(_SUFFIX)))
    return sorted(found)


def to_let_go(days: list[datetime.date], today: datetime.date) -> list[datetime.date]:
    """Copies no longer kept: neither of the last seven days, nor the first of one of the last twelve months."""
    recent = {day for day in days if (today - day).days < DAYS_KEPT}
    firsts: dict[tuple[int, int], datetime.date] = {}
    for day in sorted(days):
        firsts.setdefault((day.year, day.month), day)
    months = {day for day in firsts.values() if (today.year - day.year) * 12 + today.month - day.month < MONTHS_KEPT}
    return [day for day in days if day not in recent | months]


def newest(folder: Path) -> Path | None:
    """The newest sound copy."""
    files = sorted((folder / FOLDER).glob(f"*{_SUFFIX}"), key=lambda file: file.stat().st_mtime, reverse=True)
    return next((file for file in files if what_is_wrong(file) is None), None)


def put_back(folder: Path, copy: Path, moment: datetime.datetime) -> Path | None:
    """Make a copy the database again. What was there is moved aside, never deleted; gives where to. Nobody may be using it.

    Raises StoreError for a copy that is not sound.
    """
    wrong = what_is_wrong(copy)
    if wrong:
        raise StoreError(f"{copy.name} is damaged. Choose an older copy.", f"{copy}: {wrong}")
    folder.mkdir(parents=True, exist_ok=True)
    aside = None
    for name in (FILE, f"{FILE}-wal", f"{FILE}-shm"):
        if (folder / name).exists():
            moved = folder / f"{name}.before-{moment:%Y%m%d-%H%M%S}"
            (folder / name).replace(moved)
            aside = moved if name == FILE else aside
    temporary = folder / f".{FILE}.new"
    shutil.copyfile(copy, temporary)
    with open(temporary, "rb+") as file:
        os.fsync(file.fileno())
    temporary.replace(folder / FILE)
    return aside
