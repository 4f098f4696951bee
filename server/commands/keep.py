"""`mudproof backup`, `restore`, `pack` and `unpack`: copies of everything, put back, and carried to another machine."""

from __future__ import annotations

import argparse
import contextlib
import datetime
import errno
import shutil
import sqlite3
import struct
import tempfile
import zipfile
import zlib
from collections.abc import Iterator
from pathlib import Path

from server.errors import SettingsError
from server.store import backups
from server.store.backups import FILE
from server.store.connection import held_alone, read_only
from server.store.photos import MOST_BYTES as MOST_PHOTO_BYTES
from server.store.records import all_records_plain
from server.sync.fields import shown
from server.whole_file import beside

CERTIFICATES = "certificates"
CARRIED = (CERTIFICATES, backups.PHOTOS)
"""Folders that go along with the database."""
MOST_BYTES = {FILE: 4 * 1024**3, CERTIFICATES: 64 * 1024, backups.PHOTOS: MOST_PHOTO_BYTES}
"""What one file of each sort may come to."""
MOST_FILES = 200_000
NO_ROOM = (errno.ENOSPC, errno.EDQUOT, errno.EFBIG)


def backup(args: argparse.Namespace) -> None:
    """A copy of the database now, beside a running server too."""
    with read_only(args.data):
        pass  # says what is wrong where there is no database of ours
    with saying_there_is_no_room(args.data):
        made = backups.back_up(args.data, f"by-hand-{datetime.datetime.now():%Y-%m-%d-%H%M%S}.db")
    print(f"Saved {made}")


def restore(args: argparse.Namespace) -> None:
    """Put a copy back: the one given, else the newest sound one. What was there is kept beside it."""
    copy = args.file or backups.newest(args.data)
    if copy is None:
        raise SettingsError(f"There is no copy in {args.data / backups.FOLDER}. Give the file of one.")
    with saying_there_is_no_room(args.data):
        args.data.mkdir(parents=True, exist_ok=True, mode=0o700)
    with saying_there_is_no_room(args.data), held_alone(args.data):
        aside = backups.put_back(args.data, copy, datetime.datetime.now())
        photos = backups.copy_photos(args.data / backups.FOLDER / backups.PHOTOS, args.data / backups.PHOTOS)
    with read_only(args.data) as db:
        count = len(all_records_plain(db))
    print(f"Put back {copy.name}: {count} records. Phones bring what they know beyond it when they next share.")
    if photos:
        print(f"{photos} photos that were missing came back too.")
    if aside is not None:
        print(f"What was there before is kept as {aside.name}")


def pack(args: argparse.Namespace) -> None:
    """Everything a household has on this server as one file: database, photos, certificates."""
    if args.file.exists():
        raise SettingsError(f"{args.file} is there already. Give another name, or move it away.")
    with read_only(args.data):
        pass
    with saying_there_is_no_room(args.file.parent):
        copy = backups.back_up(args.data, ".packing.db")
        try:
            # readable by nobody else: the certificates' keys are in it
            with beside(args.file) as whole, zipfile.ZipFile(whole, "w", zipfile.ZIP_DEFLATED) as packed:
                packed.write(copy, FILE)
                for name in CARRIED:
                    for file in sorted((args.data / name).rglob("*")):
                        if file.is_file():
                            packed.write(file, file.relative_to(args.data).as_posix())
        finally:
            copy.unlink(missing_ok=True)
    print(f"Packed {args.data} into {args.file}. It holds the keys of this server: keep it to yourself.")


def unpack(args: argparse.Namespace) -> None:
    """Set a packed household up on this machine, in a folder that holds none yet. Its database comes last."""
    if (args.data / FILE).exists():
        raise SettingsError(f"{args.data} holds a household already. Give --data another folder.")
    with saying_there_is_no_room(args.data):
        args.data.mkdir(parents=True, exist_ok=True, mode=0o700)
        with tempfile.TemporaryDirectory(dir=args.data, prefix=".mudproof.") as folder, held_alone(args.data):
            came = Path(folder)
            _extract(args.file, came)
            _carry_over(came, args.data)
            backups.put_back(args.data, came / FILE, datetime.datetime.now())
    print(f"The household is in {args.data}. Start it with: mudproof serve --data {args.data}")


def _extract(file: Path, folder: Path) -> None:
    """What is in a packed household, after a look at what it would come to."""
    try:
        with zipfile.ZipFile(file) as packed:
            entries = packed.infolist()
            for entry in entries:
                _check_entry(entry, file)
            names = [entry.filename for entry in entries]
            if FILE not in names or len(names) != len(set(names)) or len(names) > MOST_FILES:
                raise SettingsError(f"{file} is not a packed household: it has no database in it, or more than one.")
            size, room = sum(entry.file_size for entry in entries), shutil.disk_usage(folder).free
            if 2 * size > room:
                raise SettingsError(f"{file} comes to {size:,} bytes, twice, and there is room for {room:,}. Make room first.")
            packed.extractall(folder)
    except (OSError, zipfile.BadZipFile, zlib.error, EOFError, RuntimeError, struct.error) as error:
        if isinstance(error, OSError) and error.errno in NO_ROOM:
            raise
        raise SettingsError(f"{file} cannot be read as a packed household.", str(error)) from error


def _check_entry(entry: zipfile.ZipInfo, file: Path) -> None:
    """Only what pack puts in: nothing that would land elsewhere, nothing that comes to more than such a file can be.

    The sizes are those that the archive tells: Python reads no more of an entry than that.
    """
    parts = Path(entry.filename).parts
    good = entry.filename == FILE or (len(parts) > 1 and parts[0] in CARRIED and ".." not in parts)
    if not good or entry.filename.startswith("/") or "\\" in entry.filename:
        raise SettingsError(f"{file} is not a packed household: it holds {shown(entry.filename)!r}.")
    if entry.file_size > MOST_BYTES[parts[0]]:
        named = f"{shown(entry.filename)} would come to {entry.file_size:,} bytes"
        raise SettingsError(f"{file} is not a packed household: {named}.")


def _carry_over(came: Path, data: Path) -> None:
    """Certificates as they are, and photos that are what their names say."""
    backups.copy_photos(came / backups.PHOTOS, data / backups.PHOTOS)
    for file in sorted((came / CERTIFICATES).rglob("*")):
        if file.is_file():
            target = data / file.relative_to(came)
            target.parent.mkdir(parents=True, exist_ok=True, mode=0o700)
            with beside(target) as temporary:
                temporary.write_bytes(file.read_bytes())


@contextlib.contextmanager
def saying_there_is_no_room(folder: Path) -> Iterator[None]:
    """What a full or forbidden disk stops is said, with what it leaves: everything as it was."""
    try:
        yield
    except sqlite3.Error as error:
        raise SettingsError(f"That could not be done; nothing was changed. The database says: {error}.", str(error)) from error
    except OSError as error:
        full = error.errno in NO_ROOM
        why = f"there is no room in {folder}. Make room" if full else f"{folder} cannot be used. Mend that"
        raise SettingsError(f"Nothing was changed: {why}, and do it again.", str(error)) from error
