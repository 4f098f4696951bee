"""Copies of the database made while it is in use, checked, kept for a week and a year, and put back; and of the photos."""

from __future__ import annotations

import contextlib
import datetime
import hashlib
import os
import re
import shutil
import sqlite3
from pathlib import Path

from server.errors import StoreError
from server.store.migrations import APPLICATION_ID
from server.store.migrations import newest as newest_schema
from server.whole_file import beside, to_disk

FOLDER = "backups"
FILE = "mudproof.db"
PHOTOS = "photos"
DAYS_KEPT, MONTHS_KEPT = 7, 12
SUM = re.compile(r"([0-9a-f]{64}) (\d{1,9})\n", re.ASCII)
_PREFIX, _SUFFIX = "mudproof-", ".db"


def back_up(folder: Path, name: str) -> Path:
    """A copy of the database as of now under `backups/`, sound or not there at all.

    Raises StoreError or sqlite3.Error; OSError where there is no room. The copy is made by the database itself in one read
    transaction, so that it is whole whatever is written meanwhile.
    """
    kept = folder / FOLDER
    kept.mkdir(parents=True, exist_ok=True, mode=0o700)
    made = kept / name
    with beside(made) as temporary:
        with contextlib.closing(sqlite3.connect(f"{(folder / FILE).absolute().as_uri()}?mode=ro", uri=True)) as db:
            db.execute("VACUUM INTO ?", (str(temporary),))  # into an empty file: it takes no other
        wrong = what_is_wrong(temporary)
        if wrong:
            raise StoreError("The copy of the database is not sound, so it was not kept. Look at the disk.", f"{made}: {wrong}")
    copy_photos(folder / PHOTOS, kept / PHOTOS)
    return made


def copy_photos(source: Path, target: Path) -> int:
    """Copy every sound photo that `target` lacks; gives how many. No photo ever changes once it is kept."""
    copied = 0
    for photo in sorted(source.glob("??/*.jpg")):
        copy = target / photo.relative_to(source)
        if copy.exists() or not is_sound(photo):  # of a damaged one `mudproof check` tells
            continue
        copy.parent.mkdir(parents=True, exist_ok=True, mode=0o700)
        for one, other in ((sum_file(photo), sum_file(copy)), (photo, copy)):
            if one.exists():
                with beside(other) as temporary:
                    temporary.write_bytes(one.read_bytes())
        copied += 1
    return copied


def sum_file(photo: Path) -> Path:
    """Where it is written what a photo's file holds."""
    return photo.with_suffix(".sum")


def sum_of(photo: Path) -> tuple[str, int | None]:
    """The SHA-256 of what a photo's file holds, and how many bytes a phone had sent.

    One from before pictures were written anew holds what its name says.
    """
    try:
        told = SUM.fullmatch(sum_file(photo).read_text(encoding="ascii"))
    except (OSError, ValueError):
        told = None
    return (told[1], int(told[2])) if told else (photo.stem, None)


def is_sound(photo: Path) -> bool:
    """Whether a photo's file holds what it was kept with."""
    return hashlib.sha256(photo.read_bytes()).hexdigest() == sum_of(photo)[0]


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
    for left in (folder / FOLDER).glob(".*.new"):  # of a copy that was broken off
        left.unlink(missing_ok=True)
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
    return next((file for file in files if what_is_wrong(file) is None and foreign(file) is None), None)


def put_back(folder: Path, copy: Path, moment: datetime.datetime) -> Path | None:
    """Make a copy the database again. What was there is kept beside it; gives where. Nobody may be using it.

    Raises StoreError for a copy that is not sound, not ours or too new, and OSError where there is no room: what was there is
    then as it was. At no moment is there no database: a process that is killed leaves the one or the other.
    """
    if not copy.is_file():
        raise StoreError(f"There is no file {copy}. Give the file of a copy.", f"{copy} is no file")
    wrong = what_is_wrong(copy) or foreign(copy)
    if wrong:
        raise StoreError(f"{copy.name} is damaged, or no copy of this Mudproof. Choose another copy.", f"{copy}: {wrong}")
    folder.mkdir(parents=True, exist_ok=True, mode=0o700)
    with beside(folder / FILE) as temporary:
        shutil.copyfile(copy, temporary)
        to_disk(temporary)
        wrong = what_is_wrong(temporary)
        if wrong:
            raise StoreError(f"{copy.name} did not come over whole. Nothing was changed; look at the disk.", f"{copy}: {wrong}")
        return _set_aside(folder, moment)


def _set_aside(folder: Path, moment: datetime.datetime) -> Path | None:
    """A second name for the database that is there, with all that was written to it; gives it.

    Its journal goes with it: left behind it would be played into the one that comes.
    """
    there = folder / FILE
    aside: Path | None = None
    if there.exists():
        with contextlib.suppress(sqlite3.Error), contextlib.closing(sqlite3.connect(there)) as db:
            db.execute("PRAGMA wal_checkpoint(TRUNCATE)")  # a damaged one keeps its journal
    for name in (FILE, f"{FILE}-wal", f"{FILE}-shm"):
        if (folder / name).exists():
            second = folder / f"{name}.before-{moment:%Y%m%d-%H%M%S}"
            _second_name(folder / name, second)
            aside = second if name == FILE else aside
    to_disk(folder)
    for name in (f"{FILE}-wal", f"{FILE}-shm"):
        (folder / name).unlink(missing_ok=True)
    return aside


def _second_name(path: Path, second: Path) -> None:
    try:
        os.link(path, second)
    except OSError:  # a card whose file system knows no second names
        with beside(second) as temporary:
            shutil.copyfile(path, temporary)


def foreign(copy: Path) -> str | None:
    """Why a sound database is no copy of ours that this program can use; None where it is."""
    with contextlib.closing(sqlite3.connect(f"{copy.absolute().as_uri()}?mode=ro&immutable=1", uri=True)) as db:
        mark = int(db.execute("PRAGMA application_id").fetchone()[0])
        version = int(db.execute("PRAGMA user_version").fetchone()[0])
    if mark != APPLICATION_ID:
        return f"application_id={mark:#x}, expected {APPLICATION_ID:#x}"
    return f"schema {version}, newest known {newest_schema()}" if version > newest_schema() else None
