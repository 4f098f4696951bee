"""`mudproof demo`: serve the made-up household, nothing to set up."""

from __future__ import annotations

import argparse
import asyncio
import datetime
import os
import shutil
from pathlib import Path

import seed_scenario
from server.commands.serving import run_server
from server.errors import SettingsError
from server.settings import Settings
from server.store import records
from server.store.connection import open_store
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
    if args.fresh and args.data is None and folder.exists():
        shutil.rmtree(folder)
    asyncio.run(fill(folder, today))
    run_server(settings, demo=True)


async def fill(folder: Path, today: str) -> None:
    """Put the household's records in; what is there already stays as it is."""
    store = await open_store(folder)
    try:
        changes = seed_scenario.load(today)
        held = {record["id"] for record in await records.all_records(store)}
        await records.put(store, [change for change in changes if change["id"] not in held])
    finally:
        await store.close()
