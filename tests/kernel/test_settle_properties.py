"""What holds for any household at all."""

from __future__ import annotations

import json
import random
from typing import Any

from hypothesis import given
from hypothesis import strategies as st

from server.kernel.rest import resting
from server.kernel.settle import Settled, settle
from tests.kernel.strategies import cases


@given(cases, st.randoms(use_true_random=False))
def test_any_order_of_records_gives_the_same_list(case: dict[str, Any], chance: random.Random) -> None:
    shuffled = list(case["records"])
    chance.shuffle(shuffled)
    first = settle(case["rulebook"], case["records"], case["today"])
    assert json.dumps(settle(case["rulebook"], shuffled, case["today"])) == json.dumps(first)


@given(cases, st.integers(2032, 2036))
def test_the_list_without_resting_records_is_the_same_list(case: dict[str, Any], year: int) -> None:
    today = f"{year}{case['today'][4:]}".replace("-02-29", "-02-28")
    asleep = set(resting(case["rulebook"], case["records"], today))
    awake = [record for record in case["records"] if record["id"] not in asleep]
    assert settle(case["rulebook"], awake, today) == settle(case["rulebook"], case["records"], today)


@given(cases)
def test_nothing_is_believed_done_on_a_day_to_come(case: dict[str, Any]) -> None:
    know = Settled(case["rulebook"], case["records"], case["today"]).know
    for state in know.states.values():
        assert all(deed.on <= know.today for deed, _ in state.deeds if deed.believed)


@given(cases)
def test_each_open_job_says_dates_that_hold_together(case: dict[str, Any]) -> None:
    jobs = settle(case["rulebook"], case["records"], case["today"])
    open_ids = [job["id"] for job in jobs if job["state"] not in ("done",)]
    assert len(open_ids) == len(set(open_ids))
    for job in jobs:
        assert job["from"] <= job["aim"]
        assert (job["by"] is None) == (job["leeway"] is None)
        if job["by"] is not None and job["by"] >= job["from"]:
            assert job["aim"] <= job["by"]
        if job["state"] == "waiting":
            assert job["in_the_way"]
        assert job["title"] and 0 < job["lead"] <= len(job["title"])
