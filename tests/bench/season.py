"""An invented season of the target size: the made-up household with every batch of the year grown many times over.

The first telling is the household itself, ids and all. Each further one has the same batches under other names, and
diary records with ids and stamps as a phone makes them, so that sizes on the wire are those of a real household.
"""

from __future__ import annotations

import functools
import random
from typing import Any

import seed_scenario
from server.calendars.read import read_calendars
from server.season.rulebook import make_rulebook

Record = dict[str, Any]
ON = "2031-08-10"
"""The day the season is looked at: most of it stands, and about a thousand jobs are open."""
RECORDS = 5000
SORTED = "234567abcdefghijklmnopqrstuvwxyz"


def season() -> list[Record]:
    """One season of 5,000 records as of `ON`."""
    return list(_season(int(ON[:4]), ON))


def seasons(count: int) -> list[Record]:
    """So many seasons, each of 5,000 records, the newest as of `ON`. What an old one left standing was cleared."""
    newest = int(ON[:4])
    records = season()
    for year in range(newest - 1, newest - count, -1):
        old = [record for record in _season(year, f"{year}-12-31") if _of_the_year(record, year)]
        records += old[:RECORDS] + _cleared(old[:RECORDS], year)
    told: dict[str, Record] = {}
    for record in records:
        told.setdefault(record["id"], record)
    return list(told.values())


@functools.lru_cache(maxsize=1)
def rulebook() -> dict[str, Any]:
    """The household's rulebook."""
    return make_rulebook(read_calendars(), season())


@functools.lru_cache(maxsize=16)
def _season(year: int, on: str) -> tuple[Record, ...]:
    base = seed_scenario.load(on)
    grown = {record["id"] for record in base if record["kind"] == "batch" and record["fields"]["year"] == year}
    again = [record for record in base if record["id"] in grown or record["fields"].get("batch") in grown]
    made = list(base)
    telling = 0
    chance = random.Random(year)
    while len(made) < RECORDS:
        telling += 1
        made += [_told_again(record, grown, telling, chance) for record in again]
    return tuple(made[:RECORDS])


def _told_again(record: Record, grown: set[str], telling: int, chance: random.Random) -> Record:
    fields = dict(record["fields"])
    for name in ("batch", "follows", "near"):
        if fields.get(name) in grown:
            fields[name] = f"{fields[name]}_{telling}"
    if fields.get("job"):
        fields["job"] = _job(fields["job"], record["fields"].get("batch"), telling)
    ms = int(record["stamp"][:12], 16) + chance.randrange(60_000)
    stamp = f"{ms:012x}-0000-{record['stamp'][-8:]}"
    id_ = f"{record['id']}_{telling}" if record["kind"] == "batch" else _phone_id(ms, chance)
    return {"id": id_, "kind": record["kind"], "stamp": stamp, "fields": fields}


def _job(job: str, batch: str | None, telling: int) -> str:
    if batch is not None and job.startswith(batch + "."):
        return f"{batch}_{telling}{job[len(batch) :]}"
    return job


def _phone_id(ms: int, chance: random.Random) -> str:
    """48 bits of milliseconds and 82 of chance in base 32, as `web/scripts/lib/ids.js` makes them."""
    bits = ms << 82 | chance.getrandbits(82)
    return "".join(SORTED[bits >> shift & 31] for shift in range(125, -1, -5))


def _of_the_year(record: Record, year: int) -> bool:
    """Batches of a season and what was written down about them or about places, in that year."""
    fields = record["fields"]
    if record["kind"] == "batch":
        return bool(fields["year"] == year)
    if record["kind"] != "diary" or not fields["on"].startswith(f"{year}-"):
        return False
    return fields.get("batch") is None or fields["batch"].startswith(f"batch.{year}.")


def _cleared(records: list[Record], year: int) -> list[Record]:
    """A clearing of each batch on the last day of its year."""
    return [
        {"id": f"diary.{year}.cleared.{record['id']}", "kind": "diary", "stamp": record["stamp"],
         "fields": {"on": f"{year}-12-31", "at": "23:00", "did": "clear", "batch": record["id"]}}
        for record in records
        if record["kind"] == "batch"
    ]  # fmt: skip
