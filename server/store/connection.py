"""The one owner of the database file: one writer behind a lock, readers beside it. Nobody else opens a connection."""

from __future__ import annotations

import asyncio
import contextlib
import errno
import fcntl
import logging
import os
import re
import secrets
import sqlite3
from collections.abc import AsyncIterator, Iterator
from pathlib import Path
from typing import IO

import aiosqlite

from server.errors import DiskFull, StoreError
from server.store.backups import FILE, back_up
from server.store.backups import newest as newest_copy
from server.store.migrations import APPLICATION_ID, migrate, newest

log = logging.getLogger("mudproof")

LOCK = "mudproof.lock"
OURS = re.compile(r"\.?mudproof\.|serving\.json$|backups$|photos$|certificates$")
"""Names of what lies in a folder of ours."""
BUSY_MS = 5000


class Store:
    """An open data directory. Make it with `open_store`; closing twice is harmless."""

    def __init__(
        self, folder: Path, lock: IO[str], session: str, writer: aiosqlite.Connection, reader: aiosqlite.Connection
    ) -> None:
        self.folder = folder
        self.session = session
        """The random mark of this opening of the database."""
        self.writer = writer
        self.reader = reader
        self._lock_file = lock
        self._writing = asyncio.Lock()
        self._closed = False

    @contextlib.asynccontextmanager
    async def write(self) -> AsyncIterator[aiosqlite.Connection]:
        """One write transaction at a time. It is on disk when this block has ended; any error leaves nothing behind."""
        async with self._writing:
            with saying_what_went_wrong(self.folder):
                await self.writer.execute("BEGIN IMMEDIATE")
                try:
                    yield self.writer
                    await self.writer.commit()
                except BaseException:
                    with contextlib.suppress(sqlite3.Error):
                        await self.writer.rollback()
                    raise

    async def close(self) -> None:
        """Close both connections and let go of the data directory."""
        if self._closed:
            return
        self._closed = True
        await self.reader.close()
        await self.writer.close()
        self._lock_file.close()


async def open_store(folder: Path) -> Store:
    """Open (or begin) the database in a folder.

    Raises: StoreError where another server holds the folder, the file is damaged or foreign, or made by a newer version.
    """
    with saying_what_went_wrong(folder):
        folder.mkdir(parents=True, exist_ok=True, mode=0o700)
        lock = _hold(folder)
        path = (folder / FILE).absolute()
        try:
            session = prepare(path)
            writer = await aiosqlite.connect(path, isolation_level=None)
            await writer.execute(f"PRAGMA busy_timeout = {BUSY_MS}")
            await writer.execute("PRAGMA journal_mode = WAL")
            await writer.execute("PRAGMA synchronous = FULL")
            reader = await aiosqlite.connect(f"{path.as_uri()}?mode=ro", uri=True, isolation_level=None)
            await reader.execute(f"PRAGMA busy_timeout = {BUSY_MS}")
            writer.text_factory = reader.text_factory = as_far_as_it_is_text
        except BaseException:
            lock.close()
            raise
        log.info("%s", await settings_of(writer))
    return Store(folder, lock, session, writer, reader)


async def settings_of(db: aiosqlite.Connection) -> str:
    """Which SQLite this is and how it keeps what is written, as the live connection tells: for whoever looks into a loss."""
    found = {}
    for name in ("journal_mode", "synchronous", "busy_timeout", "mmap_size", "wal_autocheckpoint"):
        rows = [str(value) for (value, *_) in await db.execute_fetchall(f"PRAGMA {name}")]
        found[name] = rows[0] if rows else "none"
    return f"SQLite {sqlite3.sqlite_version}: " + ", ".join(f"{name} {value}" for name, value in found.items())


def prepare(path: Path) -> str:
    """Check a database file and bring its schema forward; makes it where there is none. Gives the mark of a new session."""
    session = secrets.token_hex(16)
    _begin_or_keep(path)
    with contextlib.closing(sqlite3.connect(path, isolation_level=None)) as db:
        db.execute(f"PRAGMA busy_timeout = {BUSY_MS}")
        db.text_factory = as_far_as_it_is_text
        check_ours(db, path)
        check = str(db.execute("PRAGMA quick_check(1)").fetchone()[0])
        if check != "ok":
            raise _damaged(path, check)
        db.execute("PRAGMA journal_mode = WAL")
        db.execute("PRAGMA synchronous = FULL")
        version = int(db.execute("PRAGMA user_version").fetchone()[0])
        if 0 < version < newest():
            back_up(path.parent, f"before-schema-{newest()}.db")
        migrate(db)
        db.execute("INSERT INTO sessions (mark, began) SELECT ?, coalesce(max(seq), 0) FROM records", (session,))
    return session


def _begin_or_keep(path: Path) -> None:
    """Make an empty database where none ever was; readable by its owner alone, as the folder that holds nothing else.

    Raises StoreError where a household must have been here: a lost database is never begun anew without a word.
    """
    folder = path.parent
    for torn in folder.glob(f".{FILE}.*.new"):  # of a copy that was broken off while it was put back
        torn.unlink(missing_ok=True)
    if not path.exists() or not path.stat().st_size:
        copy = newest_copy(folder) or next(iter(sorted(folder.glob(f"{FILE}.before-*[0-9]"))), None)
        if copy is not None or (folder / f"{FILE}-wal").exists():
            raise _lost(path, copy)
        path.touch(mode=0o600)
    with contextlib.suppress(PermissionError):
        path.chmod(0o600)
        if all(OURS.match(entry.name) for entry in folder.iterdir()):
            folder.chmod(0o700)


def _lost(path: Path, copy: Path | None) -> StoreError:
    mend = f"Put the copy {copy.name} back with: mudproof restore --data {path.parent} {copy}" if copy else "Put it back."
    return StoreError(
        f"The database {path.name} is gone or empty, though there was a household here. {mend} "
        f"(To begin another household, give --data another folder.)",
        f"{path}: missing or 0 bytes, beside {copy}",
    )


def check_ours(db: sqlite3.Connection, path: Path) -> None:
    """Raises StoreError for a database of another program, or of a newer Mudproof."""
    version = int(db.execute("PRAGMA user_version").fetchone()[0])
    mark = int(db.execute("PRAGMA application_id").fetchone()[0])
    tables = int(db.execute("SELECT count(*) FROM sqlite_master").fetchone()[0])
    if tables and mark != APPLICATION_ID:
        raise StoreError(
            f"{path.name} is not a Mudproof database. Start with another folder, or move that file away.",
            f"{path}: application_id={mark:#x}, expected {APPLICATION_ID:#x}",
        )
    if version > newest():
        raise StoreError(
            "This database was written by a newer Mudproof. Update this one, then start it again.",
            f"{path}: schema {version}, newest known {newest()}",
        )


@contextlib.contextmanager
def read_only(folder: Path) -> Iterator[sqlite3.Connection]:
    """A plain read-only connection for the command line, beside a running server too."""
    path = (folder / FILE).absolute()
    with saying_what_went_wrong(folder):
        if not path.exists():
            raise StoreError(
                f"There is no Mudproof database in {folder}. Check --data, or begin one with: mudproof serve --data {folder}",
                f"{path} does not exist",
            )
        with contextlib.closing(sqlite3.connect(f"{path.as_uri()}?mode=ro", uri=True)) as db:
            db.execute(f"PRAGMA busy_timeout = {BUSY_MS}")
            db.text_factory = as_far_as_it_is_text
            check_ours(db, path)
            yield db


def as_far_as_it_is_text(stored: bytes) -> str:
    """Text out of the database: a damaged letter of one row must not stop the reading of the others."""
    return stored.decode("utf-8", "replace")


@contextlib.contextmanager
def held_alone(folder: Path) -> Iterator[None]:
    """A data directory that nobody serves, for as long as this block lasts. Raises StoreError where somebody does."""
    with contextlib.closing(_hold(folder)):
        yield


def _hold(folder: Path) -> IO[str]:
    lock = open(folder / LOCK, "a")  # noqa: SIM115 (held open for as long as the server runs; whoever is refused empties nothing)
    try:
        fcntl.flock(lock, fcntl.LOCK_EX | fcntl.LOCK_NB)
    except OSError:
        lock.close()
        raise StoreError(
            f"Another Mudproof server is already using {folder}. Use that one, or stop it first.",
            f"{folder / LOCK} is locked",
        ) from None
    lock.truncate(0)
    lock.write(f"{os.getpid()}\n")
    lock.flush()
    return lock


def _damaged(path: Path, what: str) -> StoreError:
    copy = newest_copy(path.parent)
    mend = (
        f"The newest copy is {copy.name}; put it back with: mudproof restore --data {path.parent}"
        if copy
        else "There is no copy beside it. A phone that joins an empty server brings back what it holds."
    )
    return StoreError(f"The database file {path.name} is damaged. {mend}", f"{path}: {what}")


@contextlib.contextmanager
def saying_what_went_wrong(folder: Path) -> Iterator[None]:
    """Turn the database's and the disk's errors into ours."""
    try:
        yield
    except sqlite3.Error as error:
        name = getattr(error, "sqlite_errorname", "") or ""
        if name.startswith("SQLITE_FULL") or "disk is full" in str(error):
            raise _full(folder, str(error)) from error
        if name.startswith(("SQLITE_CORRUPT", "SQLITE_NOTADB")) or (
            isinstance(error, sqlite3.DatabaseError) and ("malformed" in str(error) or "not a database" in str(error))
        ):
            raise _damaged(folder / FILE, str(error)) from error
        raise StoreError(
            "The database could not be used just now. Nothing was lost; try again in a moment.",
            f"{folder / FILE}: {name} {error}",
        ) from error
    except OSError as error:
        if error.errno == errno.ENOSPC:
            raise _full(folder, str(error)) from error
        raise StoreError(
            f"The folder {folder} cannot be used. Check that it may be written to.", f"{folder}: {error}"
        ) from error


def _full(folder: Path, what: str) -> DiskFull:
    return DiskFull(
        "The server's disk is full, so nothing was written there. Your phone keeps everything; make room on the server.",
        f"{folder}: {what}",
    )
