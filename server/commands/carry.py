"""`mudproof export`, `import` and `check`: carrying everything out and in, and looking whether it is sound."""

from __future__ import annotations

import argparse
import asyncio
import datetime
import errno
import json
import sqlite3
import sys
import time
from functools import partial
from pathlib import Path
from typing import Any

from server.calendars.read import read_calendars
from server.calendars.read_climates import read_climates
from server.commands.reading import read_records, read_rulebook
from server.errors import MudproofError, SettingsError
from server.kernel.read import stamps
from server.kernel.read.merge import Record, canonical, field_stamps
from server.kernel.settle import settle
from server.season.my_way import household_tables
from server.season.named_climates import site_fields
from server.season.rulebook import make_rulebook, rulebook_inputs
from server.season.soundness import unsound, unsound_at
from server.store import records
from server.store.backups import FOLDER
from server.store.connection import open_store, read_only
from server.store.photos import Photos
from server.sync.exchange import bring_down
from server.sync.messages import check_field, check_form, read_json, tidy
from server.whole_file import beside

COPY = 1


def export(args: argparse.Namespace) -> None:
    """Every record as one JSON file, to a path or to standard output."""
    found = read_records(args.data)
    copy = {"mudproof": COPY, "saved": datetime.datetime.now(datetime.UTC).isoformat(timespec="seconds"), "records": found}
    text = json.dumps(copy, ensure_ascii=False, indent=1)
    if args.file is None:
        print(text)
        return
    write_out(args.file, text)
    print(f"Saved {len(found)} records in {args.file}")


def write_out(file: Path, text: str) -> None:
    """A file of one's own, whole or not at all: an older one of that name stands until this one is on the disk."""
    try:
        with beside(file, 0o644) as temporary:
            temporary.write_text(text, encoding="utf-8", newline="")
    except OSError as error:
        why = "There is no room for it" if error.errno == errno.ENOSPC else "Give a file in a folder that is there"
        raise SettingsError(f"{file} cannot be written, and what was there is as it was. {why}.", str(error)) from error


def bring(args: argparse.Namespace) -> None:
    """Merge a saved copy into a data directory; twice is the same as once."""
    good, bad = read_copy(args.file)
    new, clashes = asyncio.run(_bring(args.data, good))
    print(f"Read {len(good)} records; {new} are new here, the rest were merged.")
    for line in (bad + clashes)[:20]:
        print(f"Left out: {line}")


def read_copy(path: Path) -> tuple[list[Record], list[str]]:
    """Sound records of a saved copy, and a line for each record or part of one that is not."""
    try:
        given = read_json(path.read_text(encoding="utf-8"))
    except (OSError, ValueError) as error:
        raise SettingsError(f"{path} cannot be read as a saved copy. Choose the file that export made.", str(error)) from error
    if not isinstance(given, dict) or given.get("mudproof") != COPY or not isinstance(given.get("records"), list):
        raise SettingsError(f"{path} is not a saved copy of Mudproof. Choose the file that export made.")
    good: list[Record] = []
    bad: list[str] = []
    for record in given["records"]:
        refusals = check_form(record, most_fields=records.MOST_FIELDS, most_bytes=records.MOST_RECORD_BYTES)
        if refusals:
            bad.append(f"{refusals[0].id or '?'}: {refusals[0].why}")
            continue
        sound, refused = _sound_fields(record)
        bad += refused
        if sound:
            good.append(sound)
    return good, bad


def _sound_fields(record: dict[str, Any]) -> tuple[Record | None, list[str]]:
    """The record with only those of its fields that can be kept, and a line for each other."""
    kept: dict[str, Any] = {}
    bad: list[str] = []
    for name, value in record["fields"].items():
        refusals = check_field(record, name, value)
        bad += [f"{record['id']}: {refusal.why}" for refusal in refusals]
        if not refusals:
            kept[name] = value
    if not kept:
        return None, bad
    exceptions = {name: stamp for name, stamp in record.get("stamps", {}).items() if name in kept}
    return tidy({**record, "fields": kept, "stamps": exceptions}), bad


async def _bring(folder: Path, good: list[Record]) -> tuple[int, list[str]]:
    """How many of these were new, and a line for each that clashed. Stamps from the future are brought down as in sync."""
    store = await open_store(folder)
    try:
        before = len(await records.ids(store))
        now_ms = time.time_ns() // 1_000_000
        stored = await records.put(store, good, partial(bring_down, now_ms=now_ms))
        clashes = [f"{good[at]['id']}: {why}" for at, why in stored.refused.items()]
        return len(await records.ids(store)) - before, clashes
    finally:
        await store.close()


def check(args: argparse.Namespace) -> None:
    """Database, photos, calendars, rulebook and list: says what is wrong, exits with 1 if anything is."""
    wrong: list[str] = []
    found: list[Record] = []
    with read_only(args.data) as db:
        try:
            wrong += [str(row[0]) for row in db.execute("PRAGMA integrity_check") if row[0] != "ok"]
        except sqlite3.DatabaseError as error:
            wrong.append(f"the database file is damaged: {error}")
        bodies = records.all_bodies_plain(db)
    for id_, body in bodies:
        record, faults = _read_body(id_, body)
        wrong += faults
        if record is not None:
            found.append(record)
    wrong += _what_the_list_lacks(found)
    if args.everywhere:
        wrong += unsound_everywhere()
    wrong += [
        f"the photo {file.relative_to(args.data)} is damaged; copy {FOLDER}/{file.relative_to(args.data)} over it"
        for file in Photos(args.data).damaged()
    ]
    for line in wrong:
        print(line)
    things = "1 thing" if len(wrong) == 1 else f"{len(wrong)} things"
    print(f"{len(found)} records, {things} to mend." if wrong else f"All is sound: {len(found)} records.")
    if wrong:
        sys.exit(1)


def _what_the_list_lacks(found: list[Record]) -> list[str]:
    """What is wrong with calendars, rulebook and list, as far as they can be worked out."""
    try:
        damaged = read_calendars().wrong
        rulebook = read_rulebook(found)
        settle(rulebook, found, datetime.date.today().isoformat())
        own = [f"record {id_}: {why}" for id_, why in rulebook["left_out"].items() if id_ not in damaged]
        return [*damaged.values(), *unsound_calendars(found), *own]
    except MudproofError as error:
        return [error.say]


def unsound_calendars(found: list[Record]) -> list[str]:
    """What cannot be grown anywhere, of the calendars and of the household's own way with them."""
    calendars, climates = read_calendars(), read_climates()
    own = [record for record in rulebook_inputs(found) if record["kind"] == "crop"]
    crops = household_tables(calendars.crops, own).crops
    sites = (
        {"id": "site", "kind": "site", "stamp": stamps.write(stamps.Reading(0, 0), "aaaaaaaa"), "fields": site_fields(climate)}
        for climate in climates.values()
    )
    return unsound(crops, (make_rulebook(calendars, [site, *own]) for site in sites))


def unsound_everywhere() -> list[str]:
    """What does not come out in some named climate under some cover, of the calendars as they come."""
    calendars = read_calendars()
    told = []
    for name, climate in read_climates().items():
        site = {
            "id": "site",
            "kind": "site",
            "stamp": stamps.write(stamps.Reading(0, 0), "aaaaaaaa"),
            "fields": site_fields(climate),
        }
        told += [f"{name}: {trouble}" for trouble in unsound_at(make_rulebook(calendars, [site]))]
    return told


def _read_body(id_: str, body: str) -> tuple[Record | None, list[str]]:
    """A stored record if it can be used, and what is wrong with it."""
    try:
        record = json.loads(body)
    except (ValueError, RecursionError):
        return None, [f"record {id_} cannot be read"]
    refusals = check_form(record, most_fields=records.MOST_FIELDS, most_bytes=records.MOST_RECORD_BYTES)
    if refusals:
        return None, [f"record {id_}: {refusals[0].why}"]
    faults = [
        f"record {id_}: {refusal.why}"
        for name, value in record["fields"].items()
        for refusal in check_field(record, name, value)
    ]
    proper = canonical(record["id"], record["kind"], record["fields"], field_stamps(record), record["stamp"])
    if proper != record or record["id"] != id_ or not stamps.valid(record["stamp"]):
        faults.append(f"record {id_} is not in its proper form")
    return record, faults
