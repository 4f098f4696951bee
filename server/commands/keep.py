"""`mudproof backup`, `restore`, `pack` and `unpack`: copies of everything, put back, and carried to another machine."""

from __future__ import annotations

import argparse
import datetime
import shutil
import tempfile
import zipfile
from pathlib import Path

from server.errors import SettingsError
from server.store import backups
from server.store.backups import FILE
from server.store.connection import held_alone, read_only
from server.store.records import all_records_plain

CARRIED = ("certificates", backups.PHOTOS)
"""Folders that go along with the database."""


def backup(args: argparse.Namespace) -> None:
    """A copy of the database now, beside a running server too."""
    with read_only(args.data):
        pass  # says what is wrong where there is no database of ours
    made = backups.back_up(args.data, f"by-hand-{datetime.datetime.now():%Y-%m-%d-%H%M%S}.db")
    print(f"Saved {made}")


def restore(args: argparse.Namespace) -> None:
    """Put a copy back: the one given, else the newest sound one. What was there is kept beside it."""
    copy = args.file or backups.newest(args.data)
    if copy is None:
        raise SettingsError(f"There is no copy in {args.data / backups.FOLDER}. Give the file of one.")
    with held_alone(args.data):
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
    with tempfile.TemporaryDirectory(dir=args.data) as folder:
        with read_only(args.data):
            pass
        copy = backups.back_up(args.data, ".packing.db")
        whole = Path(folder) / "packed.zip"
        with zipfile.ZipFile(whole, "w", zipfile.ZIP_DEFLATED) as packed:
            packed.write(copy, FILE)
            for name in CARRIED:
                for file in sorted((args.data / name).rglob("*")):
                    if file.is_file():
                        packed.write(file, file.relative_to(args.data).as_posix())
        copy.unlink()
        whole.chmod(0o600)  # the certificates' keys are in it
        shutil.move(whole, args.file)
    print(f"Packed {args.data} into {args.file}. It holds the keys of this server: keep it to yourself.")


def unpack(args: argparse.Namespace) -> None:
    """Set a packed household up on this machine, in a folder that holds none yet."""
    if (args.data / FILE).exists():
        raise SettingsError(f"{args.data} holds a household already. Give --data another folder.")
    args.data.mkdir(parents=True, exist_ok=True)
    with tempfile.TemporaryDirectory(dir=args.data) as folder:
        try:
            with zipfile.ZipFile(args.file) as packed:
                for entry in packed.infolist():
                    _check_name(entry, args.file)
                packed.extractall(folder)
        except (OSError, zipfile.BadZipFile) as error:
            raise SettingsError(f"{args.file} cannot be read as a packed household.", str(error)) from error
        came = Path(folder)
        if not (came / FILE).exists():
            raise SettingsError(f"{args.file} is not a packed household: it has no database in it.")
        with held_alone(args.data):
            backups.put_back(args.data, came / FILE, datetime.datetime.now())
            for name in CARRIED:
                if (came / name).is_dir():
                    shutil.copytree(came / name, args.data / name, dirs_exist_ok=True)
                    (args.data / name).chmod(0o700)
                    for file in (args.data / name).rglob("*"):
                        if file.is_file():
                            file.chmod(0o600)
    print(f"The household is in {args.data}. Start it with: mudproof serve --data {args.data}")


def _check_name(entry: zipfile.ZipInfo, file: Path) -> None:
    """Only what pack puts in: nothing that would land elsewhere, nothing enormous."""
    parts = Path(entry.filename).parts
    good = entry.filename == FILE or (len(parts) > 1 and parts[0] in CARRIED and ".." not in parts)
    if not good or entry.filename.startswith("/") or "\\" in entry.filename:
        raise SettingsError(f"{file} is not a packed household: it holds {entry.filename!r}.")
