"""A bed as it is: the stretch of each batch and each plant's place; both halves alike, and by what must hold of any bed."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import combinations
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from playwright.sync_api import Browser, Page

from server.kernel.beds import Stretch, Taker, arrange, free_of, run_for
from server.kernel.layouts import Bed, best_count, layouts
from tests.kernel.browser_kernel import kernel_page

BOTH = """async ([length, width, takers]) => {
  const { arrange, freeOf } = await import("/scripts/kernel/beds.js");
  const found = arrange(length, width, takers);
  const where = (one) => [one.batch, one.at, one.run, one.left, one.wide];
  const plain = (one) => [...where(one), one.plants, one.gaps, one.drills, one.without, one.row];
  return [found.map(plain), freeOf(length, width, found)];
}"""


def taker(batch: str, count: int | None, spacing: int, row: int | None = None, **more: Any) -> Taker:
    return Taker(batch, count, spacing, spacing if row is None else row, **more)


def only(length: int, width: int, one: Taker) -> Stretch:
    return arrange(length, width, [one])[0]


def far_enough(points: list[tuple[int, int]], apart: int) -> bool:
    return all((a - c) ** 2 + (b - d) ** 2 >= apart**2 for (a, b), (c, d) in combinations(points, 2))


def test_fourteen_tomatoes_stand_in_two_rows_of_seven_as_in_the_picture() -> None:
    """3.71 m of a bed 1.2 m wide, 53 cm apart in two rows: seven plants each, 60 cm between rows, all used. Worked by hand:
    7 x 53 cm = 371 cm, and the width in two halves."""
    found = only(4000, 1200, taker("t", 14, 530, 750, rows=2))
    assert (found.at, found.run, found.row) == (0, 3710, 600)
    assert len(found.plants) == 14 and not found.gaps and not found.without
    assert {y for _, y in found.plants} == {300, 900}
    assert sorted({x for x, _ in found.plants}) == [265 + 530 * at for at in range(7)]


def test_sixty_garlic_take_the_stretch_they_need_and_leave_the_rest_free() -> None:
    """15 cm by 30 cm in a bed 1.2 m wide: four rows, so fifteen along: 15 x 15 cm."""
    found = only(5000, 1200, taker("g", 60, 150, 300))
    assert found.run == 15 * 150 and not found.gaps
    assert free_of(5000, 1200, [found]) == [(2250, 5000, 0, 1200)]


def test_too_many_are_told_and_a_gap_is_where_there_are_fewer() -> None:
    assert only(1000, 1200, taker("t", 14, 530, rows=2)).without == 14 - 2
    assert len(only(4000, 1200, taker("t", 13, 530, rows=2)).gaps) == 1


def test_a_bed_narrower_than_a_plant_needs_holds_one_row_along_its_middle() -> None:
    """20 m by 0.3 m with courgettes at 90 cm: one row."""
    found = only(20_000, 300, taker("c", 30, 900))
    assert len(found.plants) == 22 and {y for _, y in found.plants} == {150} and found.without == 8


def test_what_is_kept_free_at_the_edges_decides_how_many_fit() -> None:
    """The counted table: a bed of 120 by 450 cm at 45 cm with 20 cm kept free holds 20 in a square, with half of 45 cm 18."""
    assert len(only(4500, 1200, taker("t", 99, 450, end=200)).plants) == 20
    assert len(only(4500, 1200, taker("t", 99, 450)).plants) == 18 + 2  # ten of 45 cm in 450, two rows
    assert len(only(4450, 1200, taker("t", 99, 450)).plants) == 18


def test_who_says_where_stands_there_and_the_others_fill_what_is_left() -> None:
    found = arrange(4000, 1200, [taker("a", 8, 400), taker("b", 6, 400, at=1000)])
    a, b = found
    assert (b.at, b.run) == (1000, 800) and a.at == 1800
    one, two = arrange(4000, 1200, [taker("a", None, 50, 200), taker("b", None, 50, 200)])
    assert (one.run, two.run) == (2000, 2000) and one.drills and not one.plants


def test_basil_stands_at_the_foot_of_what_is_trained_upwards() -> None:
    """Mixed kinds stand half the sum of what they take apart; a trained crop takes its foot alone."""
    host = taker("c", 4, 750, trained=True)
    found = arrange(4000, 1200, [host, taker("b", 8, 250, foot_of="c")])
    assert len(found[1].plants) == 8
    assert all((a - x) ** 2 + (b - y) ** 2 >= 225**2 for a, b in found[0].plants for x, y in found[1].plants)
    assert free_of(4000, 1200, found) == free_of(4000, 1200, found[:1])


def test_a_strip_of_its_own_leaves_the_rest_of_the_width_to_others() -> None:
    """Lettuce in one row beside two rows of leeks over the same metres. A bed 1.2 m wide: the strip of 40 cm at its left edge
    holds one row at 30 cm, along its middle; the other 80 cm hold two rows 40 cm apart."""
    lettuce, leeks = arrange(3000, 1200, [taker("l", 10, 300, wide=400), taker("p", 40, 150, 300, rows=2, left=400)])
    assert (lettuce.at, lettuce.run, lettuce.left, lettuce.wide) == (0, 3000, 0, 400)
    assert (leeks.at, leeks.run, leeks.left, leeks.wide) == (0, 3000, 400, 800)
    assert {y for _, y in lettuce.plants} == {200} and {y for _, y in leeks.plants} == {600, 1000}
    assert not lettuce.without and not leeks.without and free_of(3000, 1200, [lettuce, leeks]) == []
    assert free_of(3000, 1200, [lettuce]) == [(0, 3000, 400, 800)]


def test_drills_share_only_the_strip_they_stand_in() -> None:
    left, whole, right = arrange(
        2000, 1200, [taker("l", None, 50, 200, wide=600), taker("w", 4, 400, at=0), taker("r", None, 50, 200, left=600)]
    )
    assert (whole.at, whole.run) == (0, 800)
    assert (left.at, left.run) == (right.at, right.run) == (800, 1200), "each has the rest of its own strip"
    assert max(left.drills) <= 600 <= min(right.drills)
    one, two = arrange(2000, 1200, [taker("a", None, 50, 200, wide=700), taker("b", None, 50, 200, left=600)])
    assert (one.at, one.run, two.at, two.run) == (0, 1000, 1000, 1000), "strips that meet are shared"


def test_what_stands_at_a_foot_keeps_to_the_strip_of_its_host() -> None:
    host, foot = arrange(4000, 1200, [taker("c", 4, 750, trained=True, left=400), taker("b", 8, 250, foot_of="c")])
    assert len(foot.plants) == 8 and min(y for _, y in foot.plants) >= 400 + 125
    assert (foot.left, foot.wide) == (host.left, host.wide) == (400, 800)


def test_batches_at_each_others_foot_never_hang() -> None:
    found = arrange(
        4000, 1200, [taker("a", 4, 400, foot_of="b"), taker("b", 4, 400, foot_of="a"), taker("c", 1, 400, foot_of="c")]
    )
    assert [one.without for one in found] == [4, 4, 0]


def test_what_stands_there_already_stands_closer_than_the_calendar_has_it() -> None:
    """Twelve tomatoes in 4 m of a bed 1.2 m wide do not fit at 50 by 75 cm; they were planted all the same, in two rows."""
    planned = taker("t", 12, 500, 750)
    assert only(4000, 1200, planned).without == 4
    found = only(4000, 1200, taker("t", 12, 500, 750, stands=True))
    assert found.without == 0 and len({y for _, y in found.plants}) == 2
    assert only(1000, 200, taker("t", 100, 500, stands=True)).without == 0


TAKERS = st.builds(
    Taker,
    batch=st.just(""),
    count=st.one_of(st.none(), st.integers(0, 60)),
    spacing=st.integers(30, 1000),
    row=st.integers(30, 1200),
    pattern=st.sampled_from(["", "staggered", "rows", "square"]),
    turned=st.booleans(),
    rows=st.one_of(st.none(), st.integers(1, 6)),
    at=st.one_of(st.none(), st.none(), st.integers(0, 6000)),
    run=st.one_of(st.none(), st.none(), st.integers(0, 6000)),
    foot_of=st.sampled_from([None, None, None, "0", "1", "9"]),
    trained=st.booleans(),
    stands=st.booleans(),
    end=st.sampled_from([None, None, None, 0, 150]),
    left=st.sampled_from([None, None, 0, 300, 700, 3000]),
    wide=st.sampled_from([None, None, 1, 300, 900]),
)
BEDS = st.tuples(st.integers(100, 6000), st.integers(100, 2500))


def named(takers: list[Taker]) -> list[Taker]:
    return [
        Taker(**{**{name: getattr(one, name) for name in Taker.__slots__}, "batch": str(at)}) for at, one in enumerate(takers)
    ]


@given(BEDS, st.lists(TAKERS, max_size=4))
def test_nothing_overlaps_or_stands_outside(bed: tuple[int, int], given_: list[Taker]) -> None:
    length, width = bed
    takers = named(given_)
    found = arrange(length, width, takers)
    assert [one.batch for one in found] == [one.batch for one in takers]
    own = [
        (one, it)
        for one, it in zip(takers, found, strict=True)
        if one.foot_of not in {t.batch for t in takers} or one.foot_of == one.batch
    ]
    for one, it in zip(takers, found, strict=True):
        assert 0 <= it.at <= length and it.at + it.run <= length
        assert 0 <= it.left <= width and it.left + it.wide <= width
        for x, y in it.plants + it.gaps:
            assert it.at <= x <= it.at + it.run and it.left <= y <= it.left + it.wide
        if one.row >= one.spacing or one.pattern != "staggered":
            wide = max(it.wide, one.spacing if one.end is None else 2 * one.end)
            nearest = one.row if one.rows is None or one.turned else min(one.row, wide // one.rows)
            if not one.stands:
                assert far_enough(it.plants + it.gaps, min(one.spacing, nearest))
        if one.count is not None:
            assert len(it.plants) + it.without == one.count
            assert not (it.gaps and it.without)
    for (one, it), (other, at) in combinations(own, 2):
        if not beside(it, at):
            continue
        if one.at is other.at is None:
            assert it.at + it.run <= at.at or at.at + at.run <= it.at or it.run == 0 or at.run == 0
        apart = one.spacing // 2 + other.spacing // 2
        if one.at is other.at is one.run is other.run is one.end is other.end is None and not one.stands and not other.stands:
            assert all(abs(a - b) >= apart for a, _ in it.plants for b, _ in at.plants), "half the sum of their spacings"


def beside(one: Stretch, other: Stretch) -> bool:
    """Whether they share any of the bed's width."""
    return one.left < other.left + other.wide and other.left < one.left + one.wide


@given(BEDS, st.lists(TAKERS, max_size=4))
def test_each_spot_of_a_bed_is_either_free_or_taken(bed: tuple[int, int], given_: list[Taker]) -> None:
    """Looked at point by point, which the code does not."""
    length, width = bed
    found = arrange(length, width, named(given_))
    free = free_of(length, width, found)
    steps = ((length * (2 * at + 1) // 22, width * (2 * over + 1) // 14) for at in range(11) for over in range(7))
    for x, y in steps:
        taken = any(it.at <= x < it.at + it.run and it.left <= y < it.left + it.wide for it in found)
        told = [1 for since, until, left, wide in free if since <= x < until and left <= y < left + wide]
        assert len(told) == (0 if taken else 1)


@given(st.integers(200, 2000), TAKERS, st.integers(1, 40))
def test_a_stretch_is_the_shortest_that_holds_them(width: int, one: Taker, count: int) -> None:
    run = run_for(width, one, count, 50_000)

    def held(length: int) -> int:
        asked = Taker("", count, one.spacing, one.row, one.pattern, one.turned, one.rows, end=one.end)
        return len(arrange(length, width, [asked])[0].plants)

    if run < 50_000:
        assert held(run) == count and (run == 0 or held(run - 1) < count)


@given(st.integers(300, 4000), st.integers(300, 2000), st.integers(100, 900))
def test_a_whole_bed_holds_what_its_layouts_count(length: int, width: int, spacing: int) -> None:
    spacing -= spacing % 2
    best = best_count(Bed(length, width, spacing // 2), spacing)
    ways = [(one.pattern, one.turned) for one in layouts(Bed(length, width, spacing // 2), spacing)]
    counts = [only(length, width, taker("t", 10_000, spacing, pattern=pattern, turned=turned)) for pattern, turned in ways]
    assert not counts or max(len(one.plants) for one in counts) == best


@pytest.fixture(scope="module")
def page(browser: Browser) -> Iterator[Page]:
    with kernel_page(browser) as made:
        yield made


def plain(stretch: Stretch) -> list[Any]:
    spots = [[list(spot) for spot in part] for part in (stretch.plants, stretch.gaps)]
    across = (stretch.left, stretch.wide)
    return [stretch.batch, stretch.at, stretch.run, *across, *spots, stretch.drills, stretch.without, stretch.row]


@settings(max_examples=12)
@given(st.lists(st.tuples(BEDS, st.lists(TAKERS, max_size=4)), min_size=20, max_size=40))
def test_both_halves_arrange_alike(page: Page, cases: list[tuple[tuple[int, int], list[Taker]]]) -> None:
    for (length, width), given_ in cases:
        takers = named(given_)
        found = arrange(length, width, takers)
        asked = [
            {name: getattr(one, name) for name in Taker.__slots__ if name != "foot_of"} | {"footOf": one.foot_of}
            for one in takers
        ]
        told, free = page.evaluate(BOTH, [length, width, asked])
        assert told == [plain(it) for it in found]
        assert free == [list(ends) for ends in free_of(length, width, found)]
