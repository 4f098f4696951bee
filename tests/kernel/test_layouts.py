"""How many fit: counted in both halves, held against counted and published tables, and by what must hold of any bed."""

from __future__ import annotations

import csv
import math
from collections.abc import Iterator
from itertools import combinations
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from playwright.sync_api import Browser, Page

from server.kernel.layouts import Bed, Layout, along, best_count, layouts, nearest_miss, places
from tests.kernel.browser_kernel import kernel_page

# Counted by hand and by drawing: width, length, spacing, end gap; square, staggered along, staggered across. [cm]
COUNTED = [
    (120, 300, 30, 15, 40, 38, 39), (90, 300, 40, 20, 14, 14, 12), (75, 200, 53, 15, 4, 4, 4),
    (120, 300, 15, 7.5, 160, 176, 165),
    (120, 240, 25, 12.5, 36, 45, 40), (120, 450, 45, 20, 20, 29, 22), (1000, 1000, 20, 10, 2500, 2822, 2822),
]  # fmt: skip
# Bailey, Farm and Garden Rule-Book (public domain): plants per acre of 43,560 ft2 by row and spacing in inches.
ACRE = """12,1,522720
12,3,174240
24,24,10890
36,36,4840
48,48,2722
60,60,1742
"""
BOTH = """async ([bed, spacing, row]) => {
  const { layouts, places, nearestMiss } = await import("/scripts/kernel/layouts.js");
  const found = layouts(bed, spacing, row);
  return [found.map((one) => [one.pattern, one.turned, one.count, one.spacing, one.row, one.leftOver]), found.map((one) => places(bed, one)), nearestMiss(bed, spacing, row)];
}"""  # noqa: E501


def mm(cm: float) -> int:
    return round(10 * cm)


def bed_of(length_cm: float, width_cm: float, end_cm: float) -> Bed:
    return Bed(mm(length_cm), mm(width_cm), mm(end_cm))


@pytest.mark.parametrize(("width", "length", "spacing", "end", "square", "staggered", "across"), COUNTED)
def test_counts_are_those_of_the_counted_table(
    width: float, length: float, spacing: float, end: float, square: int, staggered: int, across: int
) -> None:
    found = {(one.pattern, one.turned): one.count for one in layouts(bed_of(length, width, end), mm(spacing))}
    assert found[("square", False)] == square
    assert found.get(("staggered", False)) in (staggered, None)
    assert found.get(("staggered", True), across) == across


def test_rows_are_counted_as_in_the_table() -> None:
    rows = [one for one in layouts(bed_of(300, 120, 10), mm(15), mm(45)) if one.pattern == "rows" and not one.turned]
    assert [one.count for one in rows] == [57]


@pytest.mark.parametrize(("row", "spacing", "plants"), [tuple(map(int, line)) for line in csv.reader(ACRE.splitlines())])
def test_a_square_acre_holds_what_the_rule_book_says(row: int, spacing: int, plants: int) -> None:
    """Edges are half a spacing, so that each plant has its whole share: the book's quotient lies between the whole rows of a
    square acre and one more each way."""
    side, inch = round(math.sqrt(43_560) * 304.8), 25.4
    rows, plants_in = (along(side, round(apart * inch / 2), round(apart * inch)) for apart in (row, spacing))
    assert rows * plants_in <= plants * 1.02 and plants <= (rows + 1) * (plants_in + 1)


beds = st.builds(Bed, st.integers(100, 3000), st.integers(100, 1500), st.integers(0, 300))
small_beds = st.builds(Bed, st.integers(100, 900), st.integers(100, 600), st.integers(0, 150))
apart = st.integers(60, 600)


@given(small_beds, apart, st.one_of(st.none(), st.integers(60, 600)))
def test_nothing_stands_out_of_the_bed_or_too_near_and_the_count_is_what_stands(
    bed: Bed, spacing: int, row: int | None
) -> None:
    for layout in layouts(bed, spacing, row):
        found = places(bed, layout)
        assert len(found) == len(set(found)) == layout.count
        for x, y in found:
            assert bed.end <= x <= bed.length - bed.end and bed.end <= y <= bed.width - bed.end
        least = spacing if row is None or row == spacing else min(spacing, row)
        if layout.count <= 150:
            assert all(math.dist(one, other) >= least - 1 for one, other in combinations(found, 2))


def greatest(bed: Bed, layout: Layout) -> int:
    """By trying every number of lines and of plants on a line."""
    run, across = (bed.width, bed.length) if layout.turned else (bed.length, bed.width)
    lines = max((n for n in range(1, 200) if 2 * bed.end + (n - 1) * layout.row <= across), default=0)

    def on_a_line(shift: int) -> int:
        return max((n for n in range(1, 400) if 2 * bed.end + shift + (n - 1) * layout.spacing <= run), default=0)

    half = -(-layout.spacing // 2) if layout.pattern == "staggered" else 0
    return sum(on_a_line(half if line % 2 else 0) for line in range(lines))


@given(beds, apart, st.one_of(st.none(), st.integers(60, 600)))
def test_the_count_is_the_greatest_for_its_pattern(bed: Bed, spacing: int, row: int | None) -> None:
    for layout in layouts(bed, spacing, row):
        assert layout.count == greatest(bed, layout)


@given(beds, apart)
def test_the_best_comes_first_and_the_nearest_miss_is_the_nearest(bed: Bed, spacing: int) -> None:
    counts = [layout.count for layout in layouts(bed, spacing)]
    assert counts == sorted(counts, reverse=True)
    miss = nearest_miss(bed, spacing)
    if miss is not None:
        less, more = miss
        assert best_count(bed, spacing - less) == more > best_count(bed, spacing)
        assert all(best_count(bed, spacing - step) <= best_count(bed, spacing) for step in range(10, less, 10))


@pytest.fixture(scope="module")
def page(browser: Browser) -> Iterator[Page]:
    with kernel_page(browser) as made:
        yield made


CASES: list[tuple[Bed, int, int | None]] = [
    (bed_of(300, 120, 15), 300, None), (bed_of(440, 120, 20), 400, None), (bed_of(300, 120, 10), 150, 450),
    (bed_of(1000, 1000, 10), 200, None), (bed_of(2000, 30, 10), 250, None), (bed_of(60, 40, 40), 300, None),
    (bed_of(439.4, 121.9, 15.3), 533, 701),
]  # fmt: skip


@pytest.mark.parametrize(("bed", "spacing", "row"), CASES)
def test_both_halves_count_and_place_alike(page: Page, bed: Bed, spacing: int, row: int | None) -> None:
    given_: list[Any] = [bed._asdict(), spacing, row]
    told, stands, miss = page.evaluate(BOTH, given_)
    found = layouts(bed, spacing, row)
    assert told == [[one.pattern, one.turned, one.count, one.spacing, one.row, one.left_over] for one in found]
    assert stands == [[list(place) for place in places(bed, one)] for one in found]
    assert miss == (None if (near := nearest_miss(bed, spacing, row)) is None else list(near))


@settings(max_examples=25)
@given(cases=st.lists(st.tuples(beds, apart, st.one_of(st.none(), apart)), min_size=8, max_size=8))
def test_both_halves_agree_on_any_bed(page: Page, cases: list[tuple[Bed, int, int | None]]) -> None:
    for bed, spacing, row in cases:
        told, _, _ = page.evaluate(BOTH, [bed._asdict(), spacing, row])
        assert [one[2] for one in told] == [one.count for one in layouts(bed, spacing, row)]
