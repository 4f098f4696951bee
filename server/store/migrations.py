"""Schema changes: named functions, each applied once, each noted in the same transaction.

Append only. A change that has been released is never edited; a test walks every old schema forward.
"""

from __future__ import annotations

import re
import sqlite3
from collections.abc import Callable

STAMP = re.compile(r"[0-9a-f]{12}-[0-9a-f]{4}-[a-z2-7]{8}")
Migration = Callable[[sqlite3.Connection], None]


def records_and_history(db: sqlite3.Connection) -> None:
    """Records by id with the number they got at commit, and older values that lost to another device's."""
    db.execute(
        "CREATE TABLE records (id TEXT PRIMARY KEY, kind TEXT NOT NULL, body TEXT NOT NULL, "
        "seq INTEGER NOT NULL UNIQUE, season INTEGER NOT NULL) STRICT, WITHOUT ROWID"
    )
    db.execute("CREATE INDEX records_by_season ON records (season DESC, seq)")
    db.execute(
        "CREATE TABLE history (id TEXT NOT NULL, field TEXT NOT NULL, value TEXT NOT NULL, stamp TEXT NOT NULL, "
        "lost_to TEXT NOT NULL, PRIMARY KEY (id, field, stamp)) STRICT, WITHOUT ROWID"
    )


def meta_for_epoch(db: sqlite3.Connection) -> None:
    """Facts about the database itself: its epoch, so that phones notice a restored copy."""
    db.execute("CREATE TABLE meta (name TEXT PRIMARY KEY, value TEXT NOT NULL) STRICT, WITHOUT ROWID")


def stamps_brought_down(db: sqlite3.Connection) -> None:
    """Stamps from a clock far ahead and what they were brought down to, so that a repeated push gets the same answer."""
    db.execute("CREATE TABLE restamps (given TEXT PRIMARY KEY, made TEXT NOT NULL) STRICT, WITHOUT ROWID")


def sessions(db: sqlite3.Connection) -> None:
    """The number at which each opening of the database began, so that a database put back from an older copy is noticed
    by what it can no longer have said. The old epoch counts as the first session."""
    db.execute("CREATE TABLE sessions (number INTEGER PRIMARY KEY, mark TEXT NOT NULL UNIQUE, began INTEGER NOT NULL) STRICT")
    db.execute("INSERT INTO sessions (mark, began) SELECT value, 0 FROM meta WHERE name = 'epoch'")
    db.execute("DELETE FROM meta WHERE name = 'epoch'")


def latest_of_each_device(db: sqlite3.Connection) -> None:
    """The latest stamp of each device that was not behind the server's clock when it came, so that one brought down still
    comes after what the device wrote before."""
    db.execute("CREATE TABLE heard (device TEXT PRIMARY KEY, latest TEXT NOT NULL) STRICT, WITHOUT ROWID")


def joined_devices(db: sqlite3.Connection) -> None:
    """Phones that joined the household; of a token only its SHA-256."""
    db.execute(
        "CREATE TABLE devices (id TEXT PRIMARY KEY, token TEXT NOT NULL UNIQUE, name TEXT NOT NULL, person TEXT, "
        "made_ms INTEGER NOT NULL, seen_ms INTEGER NOT NULL, renewed_ms INTEGER NOT NULL, gone_ms INTEGER) "
        "STRICT, WITHOUT ROWID"
    )


def guests(db: sqlite3.Connection) -> None:
    """What a guest's phone is given: the places, as a list, and the last day."""
    db.execute("ALTER TABLE devices ADD COLUMN guest_places TEXT NOT NULL DEFAULT '[]'")
    db.execute("ALTER TABLE devices ADD COLUMN guest_until TEXT")


def latest_reading(db: sqlite3.Connection) -> None:
    """The latest reading ever taken, in place of one for each device: what is brought down comes after all that was taken."""
    bodies = db.execute("SELECT body FROM records")
    latest = max((stamp[:17] for (body,) in bodies for stamp in STAMP.findall(body)), default=None)
    if latest is not None:
        db.execute("INSERT OR REPLACE INTO meta VALUES ('latest', ?)", (latest,))
    db.execute("DROP TABLE heard")


MIGRATIONS: tuple[Migration, ...] = (
    records_and_history,
    meta_for_epoch,
    stamps_brought_down,
    sessions,
    latest_of_each_device,
    joined_devices,
    guests,
    latest_reading,
)
APPLICATION_ID = 0x4D554450  # "MUDP"


def migrate(db: sqlite3.Connection, upto: int | None = None) -> None:
    """Bring a database forward to the newest schema (or to an older one, for tests)."""
    have = int(db.execute("PRAGMA user_version").fetchone()[0])
    for number, migration in enumerate(MIGRATIONS[:upto], start=1):
        if number <= have:
            continue
        db.execute("BEGIN IMMEDIATE")
        try:
            migration(db)
            db.execute(f"PRAGMA user_version = {number}")
            db.execute(f"PRAGMA application_id = {APPLICATION_ID}")
        except BaseException:
            db.execute("ROLLBACK")
            raise
        db.execute("COMMIT")


def newest() -> int:
    """The schema this program writes."""
    return len(MIGRATIONS)
