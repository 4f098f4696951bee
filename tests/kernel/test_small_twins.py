"""Stamps, merging and days in both halves, on thousands of invented values, and against what is known outside.

The clock's rules: Kulkarni et al. 2014, "Logical Physical Clocks". Days: Python's own calendar.
"""

from __future__ import annotations

import datetime
import itertools
from typing import Any

import pytest
from hypothesis import Phase, assume, given, settings
from hypothesis import strategies as st
from playwright.sync_api import Browser

from server.kernel.read.days import civil, day_number, leap_index
from server.kernel.read.merge import merge_record
from server.kernel.read.stamps import Reading, hear, tick
from tests.cases import cases_times
from tests.kernel.browser_kernel import ask, kernel_page
from tests.kernel.python_kernel import answer

EPOCH = datetime.date(1970, 1, 1)
SMALL = st.integers(0, 6)
readings = st.builds(lambda ms, counter: {"ms": ms, "counter": counter}, st.integers(0, 8), st.sampled_from([0, 1, 2, 0xFFFF]))
values = st.one_of(
    st.none(),
    st.booleans(),
    SMALL,
    st.sampled_from(["", "a", "é", "a\u0301", "\uff21", "\U0001f345"]),
    st.lists(SMALL, max_size=2),
)
changes = st.builds(
    lambda ms, device, fields: {"id": "x", "kind": "batch", "stamp": f"{ms:012x}-0000-{device * 8}", "fields": fields},
    SMALL,
    st.sampled_from("ab"),
    st.dictionaries(st.sampled_from(["want", "notes", "gone"]), values, min_size=1),
)
questions = st.one_of(
    st.builds(lambda last, now: {"door": "tick", "last": last, "now": now}, readings, st.integers(0, 8)),
    st.builds(lambda last, heard, now: {"door": "hear", "last": last, "heard": heard, "now": now},
              readings, readings | st.just({"ms": 10**12, "counter": 3}), st.integers(0, 8)),
    st.builds(lambda made: {"door": "merge", "changes": made}, st.lists(changes, min_size=1, max_size=5)),
    st.builds(lambda year, day: {"door": "season", "year": year, "text": f"{day % 2}-{civil(day)[1]:02d}-{civil(day)[2]:02d}"},
              st.integers(1900, 2200), st.integers(0, 40_000)),
)  # fmt: skip


@pytest.mark.browser
def test_both_halves_answer_alike(browser: Browser) -> None:
    asked: list[dict[str, Any]] = []

    @settings(max_examples=cases_times(10), phases=[Phase.generate], database=None)
    @given(st.lists(questions, min_size=4, max_size=8))
    def invent(some: list[dict[str, Any]]) -> None:
        asked.extend(some)

    invent()
    days = [{"door": "civil", "day": day} for day in range(-26_000, 85_000, 37)]
    with kernel_page(browser) as page:
        for question, theirs in zip(asked, ask(page, asked), strict=True):
            assert theirs == answer(question), question
        for question, theirs in zip(days, ask(page, days), strict=True):
            real = EPOCH + datetime.timedelta(days=question["day"])  # type: ignore[arg-type]
            leap = datetime.date(2024, real.month, real.day).timetuple().tm_yday - 1
            assert theirs == [real.year, real.month, real.day, question["day"], leap]


@given(st.dates(datetime.date(1850, 1, 1), datetime.date(2250, 12, 31)))
def test_days_are_those_of_the_calendar(real: datetime.date) -> None:
    number = (real - EPOCH).days
    assert day_number(real.year, real.month, real.day) == number
    assert civil(number) == (real.year, real.month, real.day)
    assert leap_index(number) == datetime.date(2024, real.month, real.day).timetuple().tm_yday - 1


@given(st.lists(changes, min_size=1, max_size=4))
def test_merging_knows_no_order_and_no_repeats(some: list[dict[str, Any]]) -> None:
    def merged(made: tuple[dict[str, Any], ...]) -> Any:
        record = None
        for change in made:
            record = merge_record(record, change)
        return record

    whole = merged(tuple(some))
    for order in itertools.permutations(some):
        assert merged(order) == whole
        assert merged((*order, *order)) == whole
    assert merge_record(merged(tuple(some[: len(some) // 2])), whole) == whole


@given(readings, readings, st.integers(0, 8))
def test_a_clock_only_goes_forward_and_past_what_it_heard(last: dict[str, int], heard: dict[str, int], now: int) -> None:
    after = hear(Reading(**last), Reading(**heard), now)
    assert after > Reading(**last) and after > Reading(**heard) and after.ms >= now
    assert tick(Reading(**last), now) > Reading(**last)


def as_published(last: Reading, heard: Reading, now: int) -> Reading:
    """Receipt of a message, as in figure 5 of Kulkarni and others 2014, "Logical Physical Clocks": l is `ms`, c the counter,
    pt the wall clock. From memory. There c has no end; here it is carried into `ms` after 65,535."""
    ms = max(last.ms, heard.ms, now)
    if ms == last.ms == heard.ms:
        return Reading(ms, max(last.counter, heard.counter) + 1)
    if ms == last.ms:
        return Reading(ms, last.counter + 1)
    if ms == heard.ms:
        return Reading(ms, heard.counter + 1)
    return Reading(ms, 0)


@given(readings, readings, st.integers(0, 10**12))
def test_a_clock_hears_as_published(last: dict[str, int], heard: dict[str, int], now: int) -> None:
    assume(max(last["counter"], heard["counter"]) < 0xFFFF)
    assert hear(Reading(**last), Reading(**heard), now) == as_published(Reading(**last), Reading(**heard), now)
