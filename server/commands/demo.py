"""`mudproof demo`: serve the made-up household, nothing to set up."""

from __future__ import annotations

import argparse
import asyncio
import contextlib
import datetime
import os
import sqlite3
import time
from pathlib import Path

import seed_scenario
from server.commands.serving import run_server
from server.errors import SettingsError
from server.kernel.read import stamps
from server.kernel.read.merge import Record
from server.settings import Settings
from server.store import records
from server.store.backups import FILE, FOLDER
from server.store.connection import open_store, read_only
from server.sync.fields import date


def demo_folder() -> Path:
    """Where the demo's data lies when nobody says: the user's own data folder."""
    base = os.environ.get("XDG_DATA_HOME") or str(Path.home() / ".local" / "share")
    return Path(base) / "mudproof-demo"


def run(args: argparse.Namespace) -> None:
    """Load the household into its folder and serve it."""
    if args.on is not None and date(args.on):
        raise SettingsError(f"The day {date(args.on)}.", f"--on {args.on!r}")
    today = args.on or datetime.date.today().isoformat()
    folder = args.data or demo_folder()
    settings = Settings(folder, args.host, args.port, args.on)
    if args.fresh:
        throw_away(folder)
    until = "24:00" if args.on else f"{datetime.datetime.now():%H:%M}"
    asyncio.run(fill(folder, today, time.time_ns() // 1_000_000, until))
    run_server(settings, demo=True)


def throw_away(folder: Path) -> None:
    """Delete a demo's database and its copies, and nothing else.

    Raises SettingsError where the folder holds a household of one's own.
    """
    if (folder / FILE).exists():
        with read_only(folder) as db:
            if not records.is_demo_plain(db):
                raise SettingsError(
                    f"{folder} holds a household of your own, so --fresh leaves it alone. Give --data another folder.",
                    f"{folder / FILE} is not marked as a demo",
                )
    for name in (FILE, f"{FILE}-wal", f"{FILE}-shm"):
        (folder / name).unlink(missing_ok=True)
    for copy in (folder / FOLDER).glob("*.db"):
        with contextlib.suppress(sqlite3.Error), contextlib.closing(sqlite3.connect(copy)) as db:
            if records.is_demo_plain(db):
                copy.unlink()


async def fill(folder: Path, today: str, now_ms: int, until: str = "24:00") -> None:
    """Put the household's records in; what is there already stays as it is. until: the time of today at which it is shown.

    Raises SettingsError where the folder holds a household of one's own.
    """
    store = await open_store(folder)
    try:
        held = await records.ids(store)
        if held and not await records.is_demo(store):
            raise SettingsError(
                f"{folder} holds a household of your own; the demo is not mixed in. Give --data another folder.",
                f"{folder / FILE} is not marked as a demo",
            )
        await records.mark_as_demo(store)
        changes = written_by(done_by(seed_scenario.load(today), today, until), now_ms)
        await records.put(store, [change for change in changes if change["id"] not in held])
    finally:
        await store.close()


def done_by(changes: list[Record], today: str, until: str) -> list[Record]:
    """The same changes; what was done today was done by then at the latest."""
    return [
        change | {"fields": change["fields"] | {"at": until}}
        if change["fields"].get("on") == today and change["fields"].get("at", "") > until
        else change
        for change in changes
    ]


def written_by(changes: list[Record], now_ms: int) -> list[Record]:
    """The same changes, none stamped later than now: a demo of another day must not outrank what is written in it."""
    ahead = max((stamps.read(change["stamp"]).ms for change in changes), default=now_ms) - now_ms
    if ahead <= 0:
        return changes
    moved = []
    for change in changes:
        reading = stamps.read(change["stamp"])
        earlier = stamps.Reading(max(0, reading.ms - ahead), reading.counter)
        moved.append(change | {"stamp": stamps.write(earlier, stamps.device_of(change["stamp"]))})
    return moved
