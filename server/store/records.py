"""Records in the database: the only SQL that reads or writes them."""

from __future__ import annotations

import asyncio
import json
import logging
import sqlite3
from collections.abc import AsyncIterator, Callable, Iterable
from dataclasses import dataclass, field
from typing import Any

from server.kernel.read.merge import Record, field_stamps, merge_record
from server.kernel.read.stamps import Reading, as_text, device_of, read, valid
from server.store.connection import Store

log = logging.getLogger("mudproof")

ALWAYS = 9999
"""The season of what is needed in any season: places, batches, people. It is loaded first."""
LATEST = "latest"
"""The name under which the latest reading ever taken is kept: whatever is brought down comes after it."""
TOP = "(SELECT coalesce(max(seq), 0) FROM records)"
_ENCODER = json.JSONEncoder(ensure_ascii=False, separators=(",", ":"))
IS_DEMO = "SELECT 1 FROM meta WHERE name = 'demo'"
MOST_KEYS = 500
"""So many are asked for at once."""
MOST_FIELDS = 256
"""A record that many changes have added to holds no more than this."""
MOST_RECORD_BYTES = 4 * 1024 * 1024
"""Nor does it grow beyond this. [bytes]"""
FEW = 200
"""So many records are read in passing: more of them would hold up everybody's sharing."""
MOST_PAGE_LETTERS = 8 * 1024 * 1024
"""A page ends after the record that passes this."""


@dataclass
class Page:
    """Some records and the cursor after them. `more`: another page waits; `unread`: ids of rows that can be no records."""

    records: list[Record]
    upto: int
    more: bool
    unread: list[str] = field(default_factory=list)


@dataclass
class BroughtDown:
    """Changes as they are to be stored, and which of their stamps became which."""

    changes: list[Record]
    restamped: dict[str, str] = field(default_factory=dict)


BEGINNING = Reading(0, 0)
Loser = tuple[str, str, str, str, str]
"""A value that another device's took the place of: id, field, value, its stamp, the winner's."""
Bring = Callable[[list[Record], dict[str, str], Reading], BroughtDown]
"""From changes, what stamps became when they came before, and the latest reading taken: the changes as they are stored."""


@dataclass
class Stored:
    """What became of some changes, all of it read in the transaction that wrote them."""

    last: int = 0
    """The number of the last record stored; 0 for none."""
    refused: dict[int, str] = field(default_factory=dict)
    """Why, by the change's place among those given."""
    changes: list[Record] = field(default_factory=list)
    """As they were stored."""
    restamped: dict[str, str] = field(default_factory=dict)
    winners: list[Record] = field(default_factory=list)
    """Records of which a change did not win every field it named: whoever gave it lacks what won."""


async def put(store: Store, changes: list[Record], bring: Bring | None = None, heard: Reading = BEGINNING) -> Stored:
    """Merge changes in one transaction. When this returns, everything that was not refused is on disk.

    bring: brings stamps down by what is known inside the transaction; without it they stay as they are. heard: the latest
    reading that whoever gave them was ever told here: a database put back from a copy learns from it what it has forgotten.
    A change that alters nothing takes no new number, so that repeating a push is harmless.
    """
    given = sorted({stamp for change in changes for stamp in _stamps(change)}) if bring else []
    async with store.write() as db:
        held = await _held(db, sorted({change["id"] for change in changes}), given)
        down = bring(changes, held.restamps, max(held.latest, heard)) if bring else BroughtDown(changes)
        stored, merged, lost = _merge(down, held.records)
        rows = [
            (id_, record["kind"], encode(record), number, season_of(record))
            for number, (id_, record) in enumerate(merged.items(), start=held.top + 1)
        ]
        if rows:
            await db.executemany("INSERT OR REPLACE INTO records VALUES (?, ?, ?, ?, ?)", rows)
            stored.last = rows[-1][3]
        latest = max([held.latest, heard, *(read(stamp) for change in down.changes for stamp in _stamps(change))])
        if latest > held.latest:
            await db.executemany("INSERT OR REPLACE INTO meta VALUES (?, ?)", [(LATEST, as_text(latest))])
        if stored.restamped:
            await db.executemany("INSERT OR IGNORE INTO restamps VALUES (?, ?)", sorted(stored.restamped.items()))
        if lost:
            await db.executemany("INSERT OR IGNORE INTO history VALUES (?, ?, ?, ?, ?)", lost)
    return stored


def _merge(down: BroughtDown, held: dict[str, Record]) -> tuple[Stored, dict[str, Record], list[Loser]]:
    """What becomes of changes, the records that they alter, and the values that lose."""
    stored = Stored(changes=down.changes, restamped=down.restamped)
    merged: dict[str, Record] = {}
    lost: list[Loser] = []
    for at, change in enumerate(down.changes):
        mine = merged.get(change["id"]) or held.get(change["id"])
        if mine is not None and mine["kind"] != change["kind"]:
            stored.refused[at] = f"This entry's name already belongs to a {mine['kind']}, not a {change['kind']}."
            continue
        after = merge_record(mine, change)
        if after == mine:
            continue
        if mine is not None and len(after["fields"]) > MOST_FIELDS and len(after["fields"]) > len(mine["fields"]):
            stored.refused[at] = f"This entry would say more than {MOST_FIELDS} things."
            continue
        if mine is not None and too_long(after) and not too_long(mine):
            stored.refused[at] = f"This entry would grow past {MOST_RECORD_BYTES:,} bytes. Write what is new into another one."
            continue
        if mine is not None:
            lost.extend(_losers(mine, change))
        merged[change["id"]] = after
    behind = {}
    for at, change in enumerate(down.changes):
        now = merged.get(change["id"]) or held.get(change["id"])
        if at not in stored.refused and now is not None and not _won(change, now):
            behind[now["id"]] = now
    stored.winners = list(behind.values())
    return stored, merged, lost


def too_long(record: Record) -> bool:
    """Whether a record has grown past what is kept. Looked at in earnest only where there is enough of it."""
    letters = sum(len(str(value)) for value in record["fields"].values())
    return letters * 4 > MOST_RECORD_BYTES and len(encode(record).encode()) > MOST_RECORD_BYTES


def _won(change: Record, record: Record) -> bool:
    """Whether a record says of every field what a change says of it."""
    now, said = field_stamps(record), field_stamps(change)
    return all(now.get(name) == stamp and record["fields"][name] == change["fields"][name] for name, stamp in said.items())


def _stamps(change: Record) -> list[str]:
    return [change["stamp"], *field_stamps(change).values()]


@dataclass
class _Held:
    """What a transaction finds before it writes."""

    records: dict[str, Record] = field(default_factory=dict)
    restamps: dict[str, str] = field(default_factory=dict)
    """What stamps were brought down to when they came before."""
    top: int = 0
    """The highest number given so far."""
    latest: Reading = BEGINNING


async def _held(db: Any, ids: list[str], stamps: list[str]) -> _Held:
    """All of it in as few questions as there can be, because each costs a turn of another thread."""
    found = _Held()
    for start in range(0, max(len(ids), len(stamps), 1), MOST_KEYS):
        part, given = ids[start : start + MOST_KEYS], stamps[start : start + MOST_KEYS]
        query = (
            f"SELECT 'record', id, body FROM records WHERE id IN ({','.join('?' * len(part))}) "
            f"UNION ALL SELECT 'restamp', given, made FROM restamps WHERE given IN ({','.join('?' * len(given))}) "
            f"UNION ALL SELECT 'top', '', {TOP} UNION ALL SELECT 'latest', '', value FROM meta WHERE name = '{LATEST}'"
        )
        for sort, key, value in await db.execute_fetchall(query, (*part, *given)):
            if sort == "record":
                record = decode(str(key), value)  # one that cannot be read is begun anew by whoever writes to it
                if record is not None:
                    found.records[str(key)] = record
            elif sort == "restamp":
                found.restamps[str(key)] = str(value)
            elif sort == "top":
                found.top = int(value)
            else:
                found.latest = read(str(value))
    return found


def _losers(mine: Record, change: Record) -> list[Loser]:
    """Values of two devices for one field: the older is kept where somebody can look it up."""
    found = []
    held = field_stamps(mine)
    for name, stamp in field_stamps(change).items():
        other = held.get(name)
        if other is None or other == stamp or device_of(other) == device_of(stamp):
            continue
        theirs, ours = change["fields"][name], mine["fields"][name]
        if theirs == ours:
            continue
        value, at, winner = (ours, other, stamp) if stamp > other else (theirs, stamp, other)
        found.append((mine["id"], name, json.dumps(value, ensure_ascii=False), at, winner))
    return found


def season_of(record: Record) -> int:
    """The year a diary record belongs to; `ALWAYS` for everything else."""
    on = record["fields"].get("on") if record["kind"] == "diary" else None
    return int(on[0:4]) if isinstance(on, str) and on[0:4].isdigit() else ALWAYS


def encode(record: Record) -> str:
    """The record as it is stored."""
    return _ENCODER.encode(record)


def decode(id_: str, body: str) -> Record | None:
    """A stored record; None for a row that can be no record, which the log names. It takes nothing else away."""
    try:
        record = json.loads(body, parse_constant=_no_number)
    except (ValueError, RecursionError):
        record = None
    if isinstance(record, dict) and record.get("id") == id_ and _in_shape(record):
        return record
    log.error("record %s cannot be read and is left out: %.300r", id_, body)
    return None


def _no_number(name: str) -> Any:
    raise ValueError(f"{name} is no number that a phone could read")


def _in_shape(record: Record) -> bool:
    """Whether kernel, merge and phones can work with it. Looked at for every row of every reading, so no more than that."""
    fields, named = record.get("fields"), record.get("stamps", {})
    return (
        isinstance(record.get("kind"), str)
        and isinstance(fields, dict)
        and isinstance(named, dict)
        and all(name in fields for name in named)
        and all(valid(stamp) for stamp in (record.get("stamp"), *named.values()))
    )


def _unread(rows: list[Any], found: list[Record]) -> list[str]:
    """Ids of rows of which no record was made."""
    if len(found) == len(rows):
        return []
    return sorted({str(row[0]) for row in rows} - {record["id"] for record in found})


async def _decoded_beside(rows: list[Any]) -> list[Record]:
    """The same; many of them beside the loop."""
    return await asyncio.to_thread(_decoded, rows) if len(rows) > FEW else _decoded(rows)


def _decoded(rows: Iterable[Any]) -> list[Record]:
    """Records of rows that begin with id and body."""
    return [record for id_, body, *_ in rows if (record := decode(str(id_), body)) is not None]


async def page_since(store: Store, since: int, limit: int) -> Page:
    """Records that got a number after `since`, in order of number."""
    query = "SELECT id, body, seq FROM records WHERE seq > ? ORDER BY seq LIMIT ?"
    rows, more = _one_page(list(await store.reader.execute_fetchall(query, (since, limit + 1))), limit)
    found = await _decoded_beside(rows)
    return Page(found, int(rows[-1][2]) if rows else since, more, _unread(rows, found))


async def pages_since(store: Store, since: int, limit: int) -> AsyncIterator[Page]:
    """The same, page after page to the newest; at least one, which may be empty."""
    more = True
    while more:
        page = await page_since(store, since, limit)
        since, more = page.upto, page.more
        yield page


def _one_page(rows: list[Any], limit: int) -> tuple[list[Any], bool]:
    """So many rows of id, body and more as one reply holds, and whether others wait. At least one, however long."""
    letters = 0
    for at, (_, body, *_) in enumerate(rows[:limit], start=1):
        letters += len(body)
        if letters > MOST_PAGE_LETTERS:
            return rows[:at], at < len(rows)
    return rows[:limit], len(rows) > limit


async def page_newest_first(store: Store, upto: int, after: tuple[int, int], limit: int) -> tuple[Page, Any]:
    """A page of a first load: newest season first, up to a number fixed at its beginning.

    after: (season, seq) of the last record already given. Returns a page and the next `after`, None at the end.
    """
    query = (
        "SELECT id, body, season, seq FROM records WHERE seq <= ? AND (season < ? OR (season = ? AND seq > ?)) "
        "ORDER BY season DESC, seq LIMIT ?"
    )
    season, seq = after
    found = await store.reader.execute_fetchall(query, (upto, season, season, seq, limit + 1))
    rows, more = _one_page(list(found), limit)
    records = await _decoded_beside(rows)
    return Page(records, upto, more, _unread(rows, records)), ((int(rows[-1][2]), int(rows[-1][3])) if more else None)


async def newest(store: Store) -> tuple[int, Reading]:
    """The highest number given so far, and the latest reading taken."""
    query = f"SELECT {TOP}, (SELECT value FROM meta WHERE name = ?)"
    ((top, latest),) = await store.reader.execute_fetchall(query, (LATEST,))
    return int(top), read(latest) if latest else Reading(0, 0)


async def mark_as_demo(store: Store) -> None:
    """Remember that this database holds the made-up household, and may be thrown away."""
    async with store.write() as db:
        await db.execute("INSERT OR REPLACE INTO meta VALUES ('demo', 'yes')")


async def is_demo(store: Store) -> bool:
    """Whether this database was begun as a demo."""
    return bool(await store.reader.execute_fetchall(IS_DEMO))


def is_demo_plain(db: sqlite3.Connection) -> bool:
    """The same over a plain connection."""
    return db.execute(IS_DEMO).fetchone() is not None


async def try_writing(store: Store) -> None:
    """Write something small for good. Raises StoreError or DiskFull where the database does not take writes."""
    async with store.write() as db:
        await db.execute("INSERT OR REPLACE INTO meta VALUES ('last_tried', strftime('%Y-%m-%dT%H:%M:%fZ'))")


async def session_end(store: Store, mark: str) -> int | None:
    """The highest number that a session can have told anybody: where the next one began, or the newest for this one.

    None for a mark that this database does not know: what was told under it is not (or no longer) in here.
    """
    rows = await store.reader.execute_fetchall(
        "SELECT coalesce((SELECT later.began FROM sessions AS later WHERE later.number > sessions.number "
        "ORDER BY later.number LIMIT 1), (SELECT coalesce(max(seq), 0) FROM records)) FROM sessions WHERE mark = ?",
        (mark,),
    )
    return next((int(end) for (end,) in rows), None)


async def ids(store: Store) -> set[str]:
    """Ids of all rows, of damaged ones too."""
    return {str(id_) for (id_,) in await store.reader.execute_fetchall("SELECT id FROM records")}


async def all_records(store: Store) -> list[Record]:
    """Every record, deleted ones too, in order of number."""
    return await _decoded_beside(list(await store.reader.execute_fetchall("SELECT id, body FROM records ORDER BY seq")))


async def by_ids(store: Store, wanted: list[str]) -> dict[str, Record]:
    """The records of some ids that are here."""
    found: dict[str, Record] = {}
    for start in range(0, len(wanted), MOST_KEYS):
        part = wanted[start : start + MOST_KEYS]
        query = f"SELECT id, body FROM records WHERE id IN ({','.join('?' * len(part))})"
        found |= {record["id"]: record for record in _decoded(await store.reader.execute_fetchall(query, part))}
    return found


async def history(store: Store, id_: str) -> list[tuple[str, Any, str]]:
    """Values of a record that another device's later ones took the place of: field, value and stamp, the newest first."""
    rows = await store.reader.execute_fetchall(
        "SELECT field, value, stamp FROM history WHERE id = ? ORDER BY stamp DESC", (id_,)
    )
    return [(str(field), json.loads(value), str(stamp)) for field, value, stamp in rows]


KNOWLEDGE = ("site", "place", "crop", "variety", "lesson", "readings")
"""Kinds that growing knowledge is worked out from; and thermometers read on the round."""


async def knowledge_records(store: Store) -> list[Record]:
    """The few records that the rulebook may depend on, however many seasons there are, in order of number."""
    rows = await store.reader.execute_fetchall(
        f"SELECT id, body FROM records WHERE kind IN ({','.join('?' * len(KNOWLEDGE))}) "
        "OR (kind = 'diary' AND body LIKE '%\"did\":\"measure\"%') ORDER BY seq",
        KNOWLEDGE,
    )
    return await _decoded_beside(list(rows))


def all_records_plain(db: sqlite3.Connection) -> list[Record]:
    """The same over a plain connection, for the command line."""
    return _decoded(db.execute("SELECT id, body FROM records ORDER BY seq"))


def all_bodies_plain(db: sqlite3.Connection) -> list[tuple[str, str]]:
    """Ids and records as they are stored, for looking whether they can be read at all."""
    return [(str(id_), str(body)) for id_, body in db.execute("SELECT id, body FROM records ORDER BY seq")]
