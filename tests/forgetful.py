"""Households that do the work and write down only a share of it: `python -m tests.forgetful`.

A grower of our own invention does each job on its best day, as the list of a household that writes everything down says; of
those deeds a share is told to the app. What the list then says is measured day by day: rows past their last day, rows in all,
and sentences that something failed though nobody looked.

    python -m tests.forgetful            every calendar, three years, 100, 60, 30 and 0 in a hundred told
    python -m tests.forgetful --seed 7   other forgetting
"""

from __future__ import annotations

import argparse
import random
import statistics
import sys
from collections.abc import Iterator
from typing import Any

from server.kernel.read.days import iso, parse
from server.kernel.settle import settle
from tests.builders import FIRST_STAMP, site_record, withy_end_rulebook

Record = dict[str, Any]
Job = dict[str, Any]
FIRST_YEAR = 2031
SHARES = (100, 60, 30, 0)
FAILED = ("none up", "only ", "Sow again", "killed", "dead")
"""Words by which the list says that something failed."""
ROUND = ("ready", "waiting")


def record(kind: str, id_: str, **fields: Any) -> Record:
    """A record as the server keeps it."""
    return {"id": id_, "kind": kind, "stamp": FIRST_STAMP, "fields": {"name": id_} | fields}


def household(crops: list[str], years: int) -> list[Record]:
    """Places, varieties, and each year a batch of each crop where it can be grown."""
    records = [
        site_record(),
        record("place", "house", sort="house", cover="glass", walk=1),
        record("place", "bench", sort="propagator", within="house", heated_to_c=20, walk=1),
        record("place", "tunnel", sort="house", cover="tunnel", walk=2),
        record("place", "beds", sort="bed", cover="open", walk=3),
    ]
    for at, crop in enumerate(crops):
        records.append(record("variety", f"v.{crop}", crop=crop))
        place = ("beds", "tunnel", "house")[at % 3]
        for year in range(FIRST_YEAR, FIRST_YEAR + years):
            fields = {"variety": f"v.{crop}", "want": 10 + at % 7, "for_place": place, "year": year}
            records.append(record("batch", f"b{year}.{crop}", **fields))
    return records


def days(years: int, step: int = 1) -> Iterator[str]:
    """Every `step`th day of the years lived."""
    for day in range(parse(f"{FIRST_YEAR}-01-01"), parse(f"{FIRST_YEAR + years}-01-01"), step):
        yield iso(day)


def deeds_of(job: Job, on: str) -> list[Record]:
    """What a grower who does a job writes down."""
    if job["ways"] and job["verb"] == "decide":
        told = job["ways"][0]["tells"]
    else:
        told = [job["writes"] | ({} if job["count"] is None else {"count": job["count"]})]
    fields = {"on": on, "job": job["id"], "part": job["part"]}
    return [record("diary", f"d.{on}.{job['id']}.{at}"[-150:], **(one | fields)) for at, one in enumerate(told)]


def lives(rulebook: dict[str, Any], records: list[Record], years: int, step: int = 1) -> list[Record]:
    """Deeds of a grower who does every job of the list on its best day."""
    done: list[Record] = []
    for today in days(years, step):
        for job in settle(rulebook, records + done, today):
            if job["state"] == "ready" and job["aim"] <= today and not job["title"].startswith("Too late"):
                done += deeds_of(job, today)
    return done


def told(deeds: list[Record], share: int, seed: int) -> list[Record]:
    """Those of the deeds that were written down: so many in a hundred, by chance."""
    chance = random.Random(seed)
    return [deed for deed in deeds if chance.randrange(100) < share]


def past(jobs: list[Job]) -> list[Job]:
    """Rows of the Round that are past their last day."""
    return [job for job in jobs if job["state"] in ROUND and job["leeway"] is not None and job["leeway"] < 0]


def blames(jobs: list[Job]) -> list[str]:
    """Sentences that say that something failed."""
    return [job["title"] for job in jobs if any(word in job["title"] for word in FAILED)]


def main() -> int:
    """Print rows a day and rows past their day, by share told and year."""
    asked = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    asked.add_argument("--seed", type=int, default=1)
    asked.add_argument("--years", type=int, default=3)
    asked.add_argument("--crops", default="", help="names, with commas; all where none are given")
    asked.add_argument("--rows", action="store_true", help="print the rows that are past on the worst day")
    given = asked.parse_args()
    rulebook = withy_end_rulebook()
    crops = given.crops.split(",") if given.crops else sorted(rulebook["crops"])
    records = household(crops, given.years)
    deeds = lives(rulebook, records, given.years, 2)
    print(f"{len(crops)} crops, {given.years} years, {len(deeds)} deeds")
    print(f"{'told':>5} {'year':>5} {'rows, middle':>13} {'highest':>8} {'past, middle':>13} {'highest':>8} {'blames':>7}")
    for share in SHARES:
        kept = told(deeds, share, given.seed)
        for year in range(given.years):
            rows, late, blamed, worst = [], [], 0, []
            for today in list(days(given.years, 7))[year * 52 : (year + 1) * 52]:
                jobs = settle(rulebook, records + kept, today)
                rows.append(sum(job["state"] in ROUND for job in jobs))
                over = past(jobs)
                worst = over if len(over) > max(late, default=0) else worst
                late.append(len(over))
                blamed += len(blames(jobs))
            middle = (round(statistics.median(one)) for one in (rows, late))
            first, second = middle
            print(f"{share:>5} {year + 1:>5} {first:>13} {max(rows):>8} {second:>13} {max(late):>8} {blamed:>7}")
            if given.rows:
                for job in sorted(worst, key=lambda job: job["leeway"])[:40]:
                    print("      ", job["id"], job["title"], job["state"], job["by"], job["leeway"])
    return 0


if __name__ == "__main__":
    sys.exit(main())
