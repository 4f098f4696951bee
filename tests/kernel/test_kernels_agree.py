"""The two halves of the kernel answer alike, letter for letter, on thousands of invented households."""

from __future__ import annotations

import copy
import json
from typing import Any

import pytest
from hypothesis import Phase, given, settings
from hypothesis import strategies as st
from playwright.sync_api import Browser, Page

from server.calendars.read import read_calendars
from server.season.rulebook import make_rulebook
from tests.builders import FIRST_STAMP, site_record
from tests.cases import cases_times
from tests.kernel.browser_kernel import ask, kernel_page
from tests.kernel.odd_records import odd_changes
from tests.kernel.python_kernel import answer
from tests.kernel.small import holding, rulebook
from tests.kernel.strategies import cases, dates
from tests.vector_tellings import bell

pytestmark = pytest.mark.browser
A_CALL = 100


@pytest.fixture(scope="module")
def page(browser: Browser) -> Any:
    """One page for the whole file."""
    with kernel_page(browser) as made:
        yield made


def compare(page: Page, some: list[dict[str, Any]]) -> None:
    asked = [case | {"door": door} for case in some for door in ("settle", "stand", "fit", "resting", "catch_up", "room")]
    for case, theirs in zip(asked, ask(page, asked), strict=True):
        ours = json.loads(json.dumps(answer(case)))
        assert theirs == ours, f"{case['door']} on {case['today']}"


def test_both_halves_settle_alike(page: Page) -> None:
    """Thousands of answers: cases are invented first, then asked of the browser a hundred at a time."""
    some: list[dict[str, Any]] = []

    @settings(max_examples=cases_times(5), phases=[Phase.generate], database=None)
    @given(cases)
    def invent(case: dict[str, Any]) -> None:
        some.append(case)

    invent()
    assert len(some) >= cases_times(2)
    for start in range(0, len(some), A_CALL):
        compare(page, some[start : start + A_CALL])


@given(cases)
def test_one_household_at_a_time_shrinks_to_what_differs(page: Page, case: dict[str, Any]) -> None:
    compare(page, [case])


def test_what_lapses_does_so_on_the_day_it_lapsed_though_nights_still_hold_it_back(page: Page) -> None:
    """Planting that paid until 20 May and that cold nights hold back until 10 June is over on the 28th of May; what hangs on it
    counts from the 20th, not from a day to come."""
    book = copy.deepcopy(rulebook())
    plant_out = next(one for one in book["crops"]["bellfruit"]["steps"] if one["id"] == "plant_out")
    plant_out["missed"], plant_out["window"]["*"]["last"] = ["lapses", 21], "0-05-20"
    early = bell(holding(), for_place="field.bed1")
    early.did("2030-07-01", "sow", batch="b.bell", place="prop", count=16)
    case = {"rulebook": book, "records": early.records, "today": "2031-05-28", "minutes": 45}
    compare(page, [case])
    (string,) = (job for job in answer(case | {"door": "settle"}) if job["id"] == "b.bell.string")
    assert (string["from"], string["by"]) == ("2031-05-23", "2031-06-03")


WORKED: dict[str, Any] = {}


@st.composite
def real_cases(draw: st.DrawFn) -> dict[str, Any]:
    """A household in the real calendars, its records of any kinds with any values that the server takes."""
    odd = {change["id"]: change for change in draw(st.lists(odd_changes(), min_size=2, max_size=12))}
    crop, place = draw(st.sampled_from(sorted(read_calendars().crops))), draw(st.sampled_from(["a", "b", "c"]))
    sound = {"v": ("variety", {"crop": crop, "name": "constructor"})}
    sound["b1"] = ("batch", {"variety": "v", "year": 2031, "want": draw(st.integers(0, 40)), "for_place": place})
    made = {id_: {"id": id_, "kind": kind, "stamp": FIRST_STAMP, "fields": it} for id_, (kind, it) in sound.items()}
    records = list(({"site": site_record()} | made | odd).values())
    rulebook = make_rulebook(read_calendars(), records, WORKED)
    return {"rulebook": rulebook, "records": records, "today": draw(dates), "minutes": draw(st.sampled_from([0, 20, 90]))}


def test_both_halves_agree_on_real_calendars_and_whatever_the_server_takes(page: Page) -> None:
    some: list[dict[str, Any]] = []

    @settings(max_examples=cases_times(1), phases=[Phase.generate], database=None)
    @given(real_cases())
    def invent(case: dict[str, Any]) -> None:
        some.append(case)

    invent()
    for start in range(0, len(some), 10):
        compare(page, some[start : start + 10])
