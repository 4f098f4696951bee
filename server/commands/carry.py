"""`mudproof export`, `import` and `check`: everything out as one file, in again, and whether all is sound."""

from __future__ import annotations

import argparse
import asyncio
import datetime
import json
import sys
from pathlib import Path

from server.commands.reading import read_records, read_rulebook
from server.errors import MudproofError, SettingsError
from server.kernel.merge import Record, canonical, field_stamps
from server.kernel.settle import settle
from server.store import records
from server.store.connection import open_store, read_only
from server.sync.messages import check_change, tidy

COPY = 1


def export(args: argparse.Namespace) -> None:
    """Every record as one JSON file, to a path or to standard output."""
    found = read_records(args.data)
    copy = {"mudproof": COPY, "saved": datetime.datetime.now(datetime.UTC).isoformat(timespec="seconds"), "records": found}
    text = json.dumps(copy, ensure_ascii=False, indent=1)
    if args.file is None:
        print(text)
    else:
        args.file.write_text(text, encoding="utf-8")
        print(f"Saved {len(found)} records in {args.file}")


def bring(args: argparse.Namespace) -> None:
    """Merge a saved copy into a data directory; twice is the same as once."""
    good, bad = read_copy(args.file)
    before, after = asyncio.run(_bring(args.data, good))
    print(f"Read {len(good)} records; {after - before} are new here, the rest were merged.")
    for line in bad[:20]:
        print(f"Left out: {line}")


def read_copy(path: Path) -> tuple[list[Record], list[str]]:
    """Sound records of a saved copy, and a line for each that is not."""
    try:
        given = json.loads(path.read_text(encoding="utf-8"))
    except (OSError, ValueError) as error:
        raise SettingsError(f"{path} cannot be read as a saved copy. Choose the file that export made.", str(error)) from error
    if not isinstance(given, dict) or given.get("mudproof") != COPY or not isinstance(given.get("records"), list):
        raise SettingsError(f"{path} is not a saved copy of Mudproof. Choose the file that export made.")
    good: list[Record] = []
    bad: list[str] = []
    for record in given["records"]:
        wrong = check_change(record)
        if wrong:
            bad.append(f"{wrong[0].id or '?'}: {wrong[0].why}")
        else:
            good.append(tidy(record))
    return good, bad


async def _bring(folder: Path, good: list[Record]) -> tuple[int, int]:
    store = await open_store(folder)
    try:
        before = len(await records.all_records(store))
        await records.put(store, good)
        return before, len(await records.all_records(store))
    finally:
        await store.close()


def check(args: argparse.Namespace) -> None:
    """Database, calendars, rulebook and list: says what is wrong, exits with 1 if anything is."""
    wrong: list[str] = []
    with read_only(args.data) as db:
        wrong += [str(row[0]) for row in db.execute("PRAGMA integrity_check") if row[0] != "ok"]
        found = records.all_records_plain(db)
    for record in found:
        stamps = field_stamps(record)
        if canonical(record["id"], record["kind"], record["fields"], stamps, record["stamp"]) != record:
            wrong.append(f"record {record['id']} is not in its proper form")
        wrong += [f"record {record['id']}: {refusal.why}" for refusal in check_change(record)]
    try:
        rulebook = read_rulebook(found)
        wrong += list(rulebook["left_out"])
        settle(rulebook, found, datetime.date.today().isoformat())
    except MudproofError as error:
        wrong.append(error.say)
    for line in wrong:
        print(line)
    print(f"{len(found)} records, {len(wrong)} things to mend." if wrong else f"All is sound: {len(found)} records.")
    if wrong:
        sys.exit(1)
