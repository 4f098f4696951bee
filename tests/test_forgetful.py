"""Households that write down only a share of what they do: the list stays short and true (`tests.forgetful`)."""

from __future__ import annotations

from typing import Any

import pytest

from server.kernel.catch_up import catch_up
from server.kernel.read.days import iso, parse
from server.kernel.settle import settle
from tests.builders import withy_end_rulebook
from tests.cases import sampled
from tests.forgetful import FIRST_YEAR, ROUND, blames, days, household, lives, past, told

CROPS = ["basil", "carrot", "cucumber", "french_bean", "garlic", "leek", "lettuce", "potato", "squash", "strawberry", "tomato"]
YEARS = 3
STEP = 6
"""Every so many days the list is looked at, and every second time of these by day. Whole years of all calendars are
`python -m tests.forgetful`."""


@pytest.fixture(scope="module")
def lived() -> tuple[list[dict[str, Any]], list[dict[str, Any]]]:
    """The household's records, and the deeds of a grower who does everything on its best day."""
    records = household(CROPS, YEARS)
    return records, lives(withy_end_rulebook(), records, YEARS, 4)


def test_silence_is_never_failure_and_never_grows(lived: Any) -> None:
    records, deeds = lived
    for share in sampled((60, 100, 0, 30), 2):
        kept = told(deeds, share, seed=share)
        late: list[list[int]] = [[] for _ in range(YEARS)]
        for today in sampled(days(YEARS, STEP), 2):
            jobs = settle(withy_end_rulebook(), records + kept, today)
            assert not blames(jobs), (share, today)
            over = past(jobs)
            late[int(today[:4]) - FIRST_YEAR].append(len(over))
            assert len(over) <= len(CROPS), (share, [(job["title"], job["leeway"]) for job in over])
            assert all(job["leeway"] >= -60 for job in over), (share, [(job["title"], job["leeway"]) for job in over])
            old = [job["title"] for job in jobs if job["state"] in ROUND and _of_an_earlier_season(job, today)]
            assert not old, (share, today, old)
        assert max(late[2]) <= max(late[0]) + 2, f"no more in the third year than in the first, told {share} %"


def _of_an_earlier_season(job: dict[str, Any], today: str) -> bool:
    """Annuals are over by the summer after; what stands for years stays."""
    batch = job["batch"] or ""
    long_lived = any(name in batch for name in ("strawberry", "leek", "garlic"))
    return bool(batch) and not long_lived and int(today[:4]) - int(batch[1:5]) >= 1 and today[5:] > "04-30"


def test_told_only_planting_and_picking_the_rest_is_the_same_from_there(lived: Any) -> None:
    """From planting on the same jobs, with windows within a week."""
    records, deeds = lived
    few = [deed for deed in deeds if deed["fields"]["did"] in ("plant_out", "pick")]
    raised = ("tomato", "cucumber", "french_bean", "squash")
    seen = 0
    for deed in few:
        crop = str(deed["fields"].get("batch", "")).split(".")[-1]
        if deed["fields"]["did"] != "plant_out" or crop not in raised:
            continue
        today = iso(parse(deed["fields"]["on"]) + 2)
        mine, theirs = (
            {
                job["id"]: job
                for job in settle(withy_end_rulebook(), records + some, today)
                if job["batch"] == deed["fields"]["batch"]
            }
            for some in (few, deeds)
        )
        after = {
            id_
            for id_, job in theirs.items()
            if job["state"] in ("ready", "waiting", "early", "later") and job["verb"] != "decide"
        }
        assert after <= set(mine), (deed["id"], after - set(mine))
        for id_ in after:
            for end in ("from", "aim"):
                assert abs(parse(mine[id_][end]) - parse(theirs[id_][end])) <= 7, (id_, end, mine[id_][end], theirs[id_][end])
            seen += 1
    assert seen > 30


def test_after_catching_up_the_list_is_the_diligent_households(lived: Any) -> None:
    """Five weeks of May and June are not told; with one tap a line the same jobs are open, but for days that were guessed."""
    records, deeds = lived
    first, today = f"{FIRST_YEAR + 1}-05-22", f"{FIRST_YEAR + 1}-06-28"
    before = [deed for deed in deeds if deed["fields"]["on"] < first]
    whole = [deed for deed in deeds if deed["fields"]["on"] <= today]
    caught = catch_up(withy_end_rulebook(), records + before, today)
    assert caught["due"] and len({line["batch"] for line in caught["lines"]}) == len(caught["lines"])
    tapped = list(before)
    for line in caught["lines"]:
        for at, tell in enumerate(line["ways"][0]["tells"]):
            tapped.append(
                {"id": f"c.{line['batch']}.{at}", "kind": "diary", "stamp": "000000000002-0000-aaaaaaaa", "fields": tell}
            )
    mine, theirs = (
        {
            job["id"].split(f".{FIRST_YEAR + 1}-")[0]
            for job in settle(withy_end_rulebook(), records + some, today)
            if job["state"] in (*ROUND, "early", "later") and job["batch"] and not job["low"] and job["verb"] != "decide"
        }
        for some in (tapped, whole)
    )
    same = len(mine & theirs) / len(mine | theirs)
    assert same > 0.9, (sorted(mine - theirs), sorted(theirs - mine))
