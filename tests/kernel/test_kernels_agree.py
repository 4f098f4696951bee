"""The two halves of the kernel answer alike, letter for letter, on thousands of invented households."""

from __future__ import annotations

import json
from typing import Any

import pytest
from hypothesis import Phase, given, settings
from playwright.sync_api import Browser, Page

from tests.cases import cases_times
from tests.kernel.browser_kernel import ask, kernel_page
from tests.kernel.python_kernel import answer
from tests.kernel.strategies import cases

pytestmark = pytest.mark.browser
A_CALL = 100


@pytest.fixture(scope="module")
def page(browser: Browser) -> Any:
    """One page for the whole file."""
    with kernel_page(browser) as made:
        yield made


def compare(page: Page, some: list[dict[str, Any]]) -> None:
    asked = [case | {"door": door} for case in some for door in ("settle", "stand", "fit", "resting")]
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
