"""Records in the database: the only SQL that reads or writes them."""

from __future__ import annotations

import json
import sqlite3
from dataclasses import dataclass, field
from typing import Any

from server.kernel.read.merge import Record, field_stamps, merge_record
from server.kernel.read.stamps import device_of
from server.store.connection import Store

ALWAYS = 9999
"""The season of what is needed in any season: places, batches, people. It is loaded first."""
TOP = "(SELECT coalesce(max(seq), 0) FROM records)"
_ENCODER = json.JSONEncoder(ensure_ascii=False, separators=(",", ":"))
IS_DEMO = "SELECT 1 FROM meta WHERE name = 'demo'"
MOST_KEYS = 500
"""So many are asked for at once."""
MOST_FIELDS = 256
"""A record that many changes have added to holds no more than this."""


@dataclass
class Page:
    """Some records and the cursor after them. `more` says that another page waits."""

    records: list[Record]
    upto: int
    more: bool


@dataclass
class Stored:
    """What became of some changes: the number of the last record stored (0 for none), and what could not be taken."""

    last: int = 0
    refused: dict[int, str] = field(default_factory=dict)
    """Why, by the change's place among those given."""


async def put(
    store: Store, changes: list[Record], restamped: dict[str, str] | None = None, ahead: dict[str, str] | None = None
) -> Stored:
    """Merge changes in one transaction. When this returns, everything that was not refused is on disk.

    restamped: stamps that were brought down for these changes, remembered with them. ahead: the latest stamp of each device
    that is not behind the server's clock, remembered so that what is brought down later comes after it.
    A change that alters nothing takes no new number, so that repeating a push is harmless.
    """
    stored = Stored()
    async with store.write() as db:
        held, top = await _held(db, sorted({change["id"] for change in changes}))
        merged: dict[str, Record] = {}
        lost: list[tuple[str, str, str, str, str]] = []
        for at, change in enumerate(changes):
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
            if mine is not None:
                lost.extend(_losers(mine, change))
            merged[change["id"]] = after
        rows = [
            (id_, record["kind"], encode(record), number, season_of(record))
            for number, (id_, record) in enumerate(merged.items(), start=top + 1)
        ]
        if rows:
            await db.executemany("INSERT OR REPLACE INTO records VALUES (?, ?, ?, ?, ?)", rows)
            stored.last = rows[-1][3]
        if ahead:
            await db.executemany(
                "INSERT INTO heard VALUES (?, ?) ON CONFLICT DO UPDATE SET latest = max(latest, excluded.latest)",
                sorted(ahead.items()),
            )
        if restamped:
            await db.executemany("INSERT OR IGNORE INTO restamps VALUES (?, ?)", sorted(restamped.items()))
        if lost:
            await db.executemany("INSERT OR IGNORE INTO history VALUES (?, ?, ?, ?, ?)", lost)
    return stored


async def _held(db: Any, ids: list[str]) -> tuple[dict[str, Record], int]:
    """Records by id, and the highest number given so far: one question, because each costs a turn of another thread."""
    found: dict[str, Record] = {}
    top = 0
    for start in range(0, max(len(ids), 1), MOST_KEYS):
        part = ids[start : start + MOST_KEYS]
        query = f"SELECT id, body, 0 FROM records WHERE id IN ({','.join('?' * len(part))}) UNION ALL SELECT '', '', {TOP}"
        for id_, body, number in await db.execute_fetchall(query, part):
            top = max(top, int(number))
            if id_:
                found[id_] = json.loads(body)
    return found, top


def _losers(mine: Record, change: Record) -> list[tuple[str, str, str, str, str]]:
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


async def page_since(store: Store, since: int, limit: int) -> Page:
    """Records that got a number after `since`, in order of number."""
    query = "SELECT seq, body FROM records WHERE seq > ? ORDER BY seq LIMIT ?"
    found = [(int(seq), body) for seq, body in await store.reader.execute_fetchall(query, (since, limit + 1))]
    more = len(found) > limit
    found = found[:limit]
    return Page([json.loads(body) for _, body in found], found[-1][0] if found else since, more)


async def page_newest_first(store: Store, upto: int, after: tuple[int, int], limit: int) -> tuple[list[Record], Any]:
    """A page of a first load: newest season first, up to a number fixed at its beginning.

    after: (season, seq) of the last record already given. Returns records and the next `after`, None at the end.
    """
    query = (
        "SELECT season, seq, body FROM records WHERE seq <= ? AND (season < ? OR (season = ? AND seq > ?)) "
        "ORDER BY season DESC, seq LIMIT ?"
    )
    season, seq = after
    rows = await store.reader.execute_fetchall(query, (upto, season, season, seq, limit + 1))
    found = [(int(a), int(b), body) for a, b, body in rows]
    more = len(found) > limit
    found = found[:limit]
    records = [json.loads(body) for _, _, body in found]
    return records, ((found[-1][0], found[-1][1]) if more else None)


async def newest_seq(store: Store) -> int:
    """The highest number given so far."""
    ((top,),) = await store.reader.execute_fetchall(f"SELECT {TOP}")
    return int(top)


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


async def all_records(store: Store) -> list[Record]:
    """Every record, deleted ones too, in order of number."""
    return [json.loads(body) for (body,) in await store.reader.execute_fetchall("SELECT body FROM records ORDER BY seq")]


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
        f"SELECT body FROM records WHERE kind IN ({','.join('?' * len(KNOWLEDGE))}) "
        "OR (kind = 'diary' AND body LIKE '%\"did\":\"measure\"%') ORDER BY seq",
        KNOWLEDGE,
    )
    return [json.loads(body) for (body,) in rows]


def all_records_plain(db: sqlite3.Connection) -> list[Record]:
    """The same over a plain connection, for the command line."""
    return [json.loads(body) for (body,) in db.execute("SELECT body FROM records ORDER BY seq")]


def all_bodies_plain(db: sqlite3.Connection) -> list[tuple[str, str]]:
    """Ids and records as they are stored, for looking whether they can be read at all."""
    return [(str(id_), str(body)) for id_, body in db.execute("SELECT id, body FROM records ORDER BY seq")]


async def latest_stamps(store: Store, devices: list[str]) -> dict[str, str]:
    """The latest stamp taken from each of these devices that was not behind the server's clock when it came."""
    return await _pairs(store, "SELECT device, latest FROM heard WHERE device IN", devices)


async def known_restamps(store: Store, given: list[str]) -> dict[str, str]:
    """What these stamps were brought down to when they came before."""
    return await _pairs(store, "SELECT given, made FROM restamps WHERE given IN", given)


async def _pairs(store: Store, query: str, keys: list[str]) -> dict[str, str]:
    """Two columns of text for some keys, asked for in parts that the database takes."""
    found: dict[str, str] = {}
    for start in range(0, len(keys), MOST_KEYS):
        part = keys[start : start + MOST_KEYS]
        rows = await store.reader.execute_fetchall(f"{query} ({','.join('?' * len(part))})", part)
        found.update((str(key), str(value)) for key, value in rows)
    return found
