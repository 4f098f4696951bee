"""Records in the database: the only SQL that reads or writes them."""

from __future__ import annotations

import json
import sqlite3
from dataclasses import dataclass
from typing import Any

from server.kernel.merge import Record, field_stamps, merge_record
from server.kernel.stamps import device_of
from server.store.connection import Store

ALWAYS = 9999
"""The season of what is needed in any season: places, batches, people. It is loaded first."""


@dataclass
class Page:
    """Some records and the cursor after them. `more` says that another page waits."""

    records: list[Record]
    upto: int
    more: bool


async def put(store: Store, changes: list[Record], restamped: dict[str, str] | None = None) -> int:
    """Merge changes in one transaction and give the number of the last one stored (0 for none).

    restamped: stamps that were brought down for these changes, remembered with them.
    A change that alters nothing takes no new number, so that repeating a push is harmless.
    """
    last = 0
    async with store.write() as db:
        held = await _bodies(db, sorted({change["id"] for change in changes}))
        top = await _top(db)
        merged: dict[str, Record] = {}
        lost: list[tuple[str, str, str, str, str]] = []
        for change in changes:
            mine = merged.get(change["id"]) or held.get(change["id"])
            if mine is not None:
                lost.extend(_losers(mine, change))
            after = merge_record(mine, change)
            if after != mine:
                merged[change["id"]] = after
        rows = [
            (id_, record["kind"], encode(record), top + number, season_of(record))
            for number, (id_, record) in enumerate(merged.items(), start=1)
            if held.get(id_) != record
        ]
        rows = [(id_, kind, body, top + number, season) for number, (id_, kind, body, _, season) in enumerate(rows, 1)]
        if rows:
            await db.executemany("INSERT OR REPLACE INTO records VALUES (?, ?, ?, ?, ?)", rows)
            last = rows[-1][3]
        if restamped:
            await db.executemany("INSERT OR IGNORE INTO restamps VALUES (?, ?)", sorted(restamped.items()))
        if lost:
            await db.executemany("INSERT OR IGNORE INTO history VALUES (?, ?, ?, ?, ?)", lost)
    return last


async def _bodies(db: Any, ids: list[str]) -> dict[str, Record]:
    found: dict[str, Record] = {}
    for start in range(0, len(ids), 500):
        part = ids[start : start + 500]
        marks = ",".join("?" * len(part))
        async with db.execute(f"SELECT id, body FROM records WHERE id IN ({marks})", part) as rows:
            async for id_, body in rows:
                found[id_] = json.loads(body)
    return found


async def _top(db: Any) -> int:
    async with db.execute("SELECT coalesce(max(seq), 0) FROM records") as rows:
        row = await rows.fetchone()
    return int(row[0])


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
    return json.dumps(record, ensure_ascii=False, separators=(",", ":"))


async def page_since(store: Store, since: int, limit: int) -> Page:
    """Records that got a number after `since`, in order of number."""
    query = "SELECT seq, body FROM records WHERE seq > ? ORDER BY seq LIMIT ?"
    async with store.reader.execute(query, (since, limit + 1)) as rows:
        found = [(int(seq), body) async for seq, body in rows]
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
    async with store.reader.execute(query, (upto, season, season, seq, limit + 1)) as rows:
        found = [(int(a), int(b), body) async for a, b, body in rows]
    more = len(found) > limit
    found = found[:limit]
    records = [json.loads(body) for _, _, body in found]
    return records, ((found[-1][0], found[-1][1]) if more else None)


async def newest_seq(store: Store) -> int:
    """The highest number given so far."""
    return await _top(store.reader)


async def epoch(store: Store) -> str:
    """The random mark of this very database."""
    async with store.reader.execute("SELECT value FROM meta WHERE name = 'epoch'") as rows:
        row = await rows.fetchone()
    return str(row[0]) if row else ""


async def all_records(store: Store) -> list[Record]:
    """Every record, deleted ones too, in order of number."""
    async with store.reader.execute("SELECT body FROM records ORDER BY seq") as rows:
        return [json.loads(body) async for (body,) in rows]


def all_records_plain(db: sqlite3.Connection) -> list[Record]:
    """The same over a plain connection, for the command line."""
    return [json.loads(body) for (body,) in db.execute("SELECT body FROM records ORDER BY seq")]


async def known_restamps(store: Store, given: list[str]) -> dict[str, str]:
    """What these stamps were brought down to when they came before."""
    marks = ",".join("?" * len(given))
    async with store.reader.execute(f"SELECT given, made FROM restamps WHERE given IN ({marks})", given) as rows:
        return {str(old): str(new) async for old, new in rows}
