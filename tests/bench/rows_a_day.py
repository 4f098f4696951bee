"""Rows of the Round a day, by how much of what is done is written down, against a household that writes everything."""

from __future__ import annotations

import statistics
from collections.abc import Iterator

from server.kernel.settle import settle
from tests.bench.table import Row
from tests.bench.tools import Tools
from tests.builders import withy_end_rulebook
from tests.forgetful import ROUND, SHARES, days, household, lives, past, told

YEARS = 2
EVERY_D = 7


def rows(tools: Tools) -> Iterator[Row]:
    """Middle and highest number of rows, and of those past their last day; all calendars."""
    rulebook = withy_end_rulebook()
    records = household(sorted(rulebook["crops"]), YEARS)
    deeds = lives(rulebook, records, YEARS, EVERY_D)
    whole: tuple[list[int], list[int]] | None = None
    for share in SHARES:
        kept = told(deeds, share, seed=1)
        lists = [settle(rulebook, records + kept, today) for today in days(YEARS, EVERY_D)]
        found = ([sum(job["state"] in ROUND for job in jobs) for jobs in lists], [len(past(jobs)) for jobs in lists])
        whole = whole or found
        for name, mine, all_told in zip(("rows a day", "  of them past"), found, whole, strict=True):
            for what, of in (("middle", statistics.median), ("highest", max)):
                floor = float(of(all_told))
                yield Row(f"{name}, {share} in a hundred told, {what}", max(floor, 1), float(of(mine)), "")
