"""A list that is kept and takes records in one by one is the list worked out anew, after every single record."""

from __future__ import annotations

import json
import random
from typing import Any

import pytest
from hypothesis import Phase, given, settings
from hypothesis import strategies as st
from playwright.sync_api import Browser

from server.kernel.read.merge import merge_record
from server.kernel.settle import Settled, settle
from server.kernel.stand import stand, stand_of
from tests.cases import cases_times
from tests.kernel.browser_kernel import ask, kernel_page
from tests.kernel.small import rulebook
from tests.kernel.strategies import cases, deeds, job_records
from tests.write_vectors import FOLDER

Record = dict[str, Any]


@st.composite
def tellings(draw: st.DrawFn) -> dict[str, Any]:
    """A household, and then one change after another: what was not told yet, edits, undos, and takings back."""
    case: dict[str, Any] = draw(cases)
    chance: random.Random = draw(st.randoms(use_true_random=False))
    records = {record["id"]: record for record in case["records"]}
    later = [record for record in case["records"] if chance.random() < 0.5]
    chance.shuffle(later)
    begun = {id_: record for id_, record in records.items() if record not in later}
    told: list[list[Record]] = [[record] for record in later]
    known = dict(records)
    for number in range(draw(st.integers(1, 8))):
        stamp = f"{1000 + number:012x}-0000-cccccccc"
        id_ = draw(st.sampled_from(sorted(known)))
        kind = known[id_]["kind"]
        sort = draw(st.integers(0, 3))
        fields: dict[str, Any] = {"gone": draw(st.booleans())}
        if sort == 1 and kind == "diary":
            fields = draw(deeds())
        elif sort == 2:
            kind, id_, fields = draw(st.sampled_from(draw(job_records())))
        elif sort == 3 or id_ not in known:
            kind, id_, fields = "diary", f"new{number}", draw(deeds())
        change = {"id": id_, "kind": kind, "stamp": stamp, "fields": fields}
        known[id_] = merge_record(known.get(id_), change)
        told.append([known[id_]])
    return {**case, "records": list(begun.values()), "told": told}


@given(tellings())
def test_taking_one_record_after_another_gives_the_list_worked_out_anew(case: dict[str, Any]) -> None:
    kept = Settled(case["rulebook"], case["records"], case["today"])
    records = {record["id"]: record for record in case["records"]}
    for told in case["told"]:
        kept.take(told)
        records |= {record["id"]: record for record in told}
        anew = settle(case["rulebook"], list(records.values()), case["today"])
        assert json.dumps(kept.jobs()) == json.dumps(anew)
    assert stand_of(kept) == stand(case["rulebook"], list(records.values()), case["today"])


def test_a_batch_told_of_after_the_frost_that_took_it_is_asked_about() -> None:
    """Its deeds came first: over, and yet there is work in its place."""
    (case,) = (one for one in json.loads((FOLDER / "settle_frost.json").read_text()) if one["name"] == "all lost")
    batches = [record for record in case["records"] if record["kind"] == "batch"]
    kept = Settled(rulebook(), [record for record in case["records"] if record["kind"] != "batch"], case["today"])
    kept.take(batches)
    assert json.dumps(kept.jobs()) == json.dumps(settle(rulebook(), case["records"], case["today"]))
    assert any(".again." in job["id"] for job in kept.jobs())


@pytest.mark.browser
def test_the_browser_half_takes_records_as_the_python_half_does(browser: Browser) -> None:
    some: list[dict[str, Any]] = []

    @settings(max_examples=cases_times(2), phases=[Phase.generate], database=None)
    @given(tellings())
    def invent(case: dict[str, Any]) -> None:
        some.append(case)

    invent()
    with kernel_page(browser) as page:
        for start in range(0, len(some), 50):
            part = some[start : start + 50]
            for case, theirs in zip(part, ask(page, [case | {"door": "taking"} for case in part]), strict=True):
                assert not isinstance(theirs, str), theirs
                lists, jobs, stands = theirs
                assert all(same for same, _ in lists), lists
                kept = Settled(case["rulebook"], case["records"], case["today"])
                for told in case["told"]:
                    kept.take(told)
                assert json.loads(json.dumps([kept.jobs(), stand_of(kept)])) == [jobs, stands]
