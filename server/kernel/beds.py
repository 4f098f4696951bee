"""Beds: which stretch of a bed each batch takes, and where each of its plants stands. All lengths in whole millimetres.

A bed is measured from its door end. Who says where it begins stands there; the others follow each other from that end, each in
the first stretch that is long enough. A batch takes the whole width or, where that was said, a strip along the bed beside which
others stand. Half the spacing is kept free at both ends of a stretch, so that plants of two kinds stand at least half of the
sum of their spacings apart.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import dataclass, field, replace
from itertools import pairwise

from server.kernel.layouts import STAGGERED, Bed, Layout, along, closest_rows, count_of, places, shifted

FOOT_MM = 200
"""What is trained up a string or cane takes so much room at its foot. Source: our own rule, a hand's breadth round its stem."""
CLOSEST_MM = 20
"""No plants are drawn closer than this."""
FOOT_STEP_MM = 50
"""Places between other plants are looked for on a grid as fine as this."""

Strip = tuple[int, int]
"""A part of a bed's width: how far from the left edge it begins, and how wide it is."""


@dataclass(frozen=True, slots=True)
class Taker:
    """A batch that takes part of a bed."""

    batch: str
    count: int | None
    """Plants; None where nobody counts: drills, which share what the others leave."""
    spacing: int
    row: int
    pattern: str = ""
    """`square`, `staggered` or `rows`; empty: in a square or in rows, as its spacings say."""
    turned: bool = False
    """Whether its rows run across the bed."""
    rows: int | None = None
    """At most so many rows along the bed."""
    at: int | None = None
    """Where its stretch begins, if that was said."""
    run: int | None = None
    """How long its stretch is, if that was said."""
    foot_of: str | None = None
    """The batch at whose foot it stands."""
    trained: bool = False
    """Whether it is trained upwards, so that others can stand at its foot."""
    stands: bool = False
    """Whether it stands there already, however close that is."""
    end: int | None = None
    """Kept free at each of its edges, if that was said; else half its spacing."""
    left: int | None = None
    """How far from the left edge its strip begins, if it does not take the bed's whole width."""
    wide: int | None = None
    """How wide its strip is, if that was said; else as far as the other edge."""


@dataclass(slots=True)
class Stretch:
    """What a batch takes: from where, how much, and each plant's place along the bed and across it."""

    batch: str
    at: int
    run: int
    left: int
    """From the left edge."""
    wide: int
    plants: list[tuple[int, int]] = field(default_factory=list)
    gaps: list[tuple[int, int]] = field(default_factory=list)
    """Places that stay empty because there are fewer plants."""
    drills: list[int] = field(default_factory=list)
    """Distances from the long edge of the rows of what nobody counts."""
    without: int = 0
    """Plants that found no room."""
    row: int = 0
    """Between its rows, as they are spread."""


def arrange(length: int, width: int, takers: Iterable[Taker]) -> list[Stretch]:
    """The stretches of a bed, in the order given.

    Who says where goes first, then what is counted, then drills, and last who stands at the foot of another.
    """
    given = list(takers)
    names = {one.batch for one in given}
    ground = [one for one in given if one.foot_of not in names or one.foot_of == one.batch]
    made: dict[str, Stretch] = {}
    for one in sorted(ground, key=lambda one: (one.at is None, one.count is None and one.run is None)):
        if one.at is None and one.count is None and one.run is None:
            continue
        made[one.batch] = _take(length, width, one, made.values())
    drills = [one for one in ground if one.batch not in made]
    for at, one in enumerate(drills):
        sharers = sum(_meet(strip_of(width, one), strip_of(width, other)) for other in drills[at:])
        made[one.batch] = _take_rest(length, width, one, made.values(), sharers)
    for one in given:
        if one.batch not in made:
            made[one.batch] = _at_foot(one, given, made)
    return [made[one.batch] for one in given]


def strip_of(width: int, taker: Taker) -> Strip:
    """The part of the width it takes: all of it, if nothing was said."""
    left = min(taker.left or 0, max(0, width - 1))
    return left, width - left if taker.wide is None else min(max(1, taker.wide), width - left)


def _meet(one: Strip, other: Strip) -> bool:
    return one[0] < other[0] + other[1] and other[0] < one[0] + one[1]


def free_of(length: int, width: int, stretches: Iterable[Stretch]) -> list[tuple[int, int, int, int]]:
    """What no stretch takes: from where to where along the bed, in which strip of it (from the left edge, and how wide).

    Strips side by side that are free in the same stretches are told as one.
    """
    given = list(stretches)
    edges = sorted({0, width, *(one.left for one in given), *(one.left + one.wide for one in given)})
    bands: list[tuple[int, int, list[tuple[int, int]]]] = []
    for left, right in pairwise(edges):
        free = free_in(length, (left, right - left), given)
        if bands and bands[-1][2] == free:
            left = bands.pop()[0]
        bands.append((left, right, free))
    return [(since, until, left, right - left) for left, right, free in bands for since, until in free]


def free_in(length: int, strip: Strip, stretches: Iterable[Stretch]) -> list[tuple[int, int]]:
    """What no stretch takes over the whole width of a strip: from where to where along the bed, in order."""
    free, at = [], 0
    for one in sorted((one for one in stretches if _meet(strip, (one.left, one.wide))), key=lambda one: (one.at, one.run)):
        if one.at > at:
            free.append((at, one.at))
        at = max(at, one.at + one.run)
    if at < length:
        free.append((at, length))
    return free


def run_for(width: int, taker: Taker, count: int, longest: int) -> int:
    """The shortest stretch that holds so many plants; the whole of the longest one where none does."""
    low, high = 0, longest
    while low < high:
        middle = (low + high) // 2
        if _holds(middle, width, taker) >= count:
            high = middle
        else:
            low = middle + 1
    return low


def _layout(width: int, taker: Taker) -> Layout:
    """How it is planted. Who says how many rows has them, closer than usual where the width asks for it."""
    close = closest_rows(taker.spacing) if taker.pattern == STAGGERED and taker.row == taker.spacing else taker.row
    if taker.rows is not None and not taker.turned:
        close = max(1, min(close, _wide(width, taker) // taker.rows))
    pattern = taker.pattern or ("square" if taker.row == taker.spacing else "rows")
    return Layout(pattern, taker.turned, 0, taker.spacing, close, 0)


def _bed(run: int, width: int, taker: Taker) -> Bed:
    """Its stretch as a bed of its own. A bed narrower than the plants need holds one row, which leans over its edges."""
    return Bed(run, _wide(width, taker), _end(taker))


def _end(taker: Taker) -> int:
    return taker.spacing // 2 if taker.end is None else taker.end


def _wide(width: int, taker: Taker) -> int:
    """The width it is planted in: at least that of one row with what is kept free beside it."""
    return max(width, 2 * _end(taker))


def _lines(width: int, taker: Taker) -> int:
    """Rows along the bed."""
    lines = along(_wide(width, taker), _end(taker), _layout(width, taker).row)
    return lines if taker.rows is None else min(lines, taker.rows)


def _holds(run: int, width: int, taker: Taker) -> int:
    return count_of(_bed(run, width, taker), _layout(width, taker), None if taker.turned else _lines(width, taker))


def _take(length: int, width: int, taker: Taker, taken: Iterable[Stretch]) -> Stretch:
    """A stretch where it is said to begin, else the first free one that is long enough, else the longest."""
    left, wide = strip_of(width, taker)
    wanted = taker.run if taker.run is not None else run_for(wide, taker, taker.count or 0, length)
    if taker.at is not None:
        at = min(taker.at, max(0, length - 1))
        return _fill(Stretch(taker.batch, at, max(0, min(wanted, length - at)), left, wide), taker)
    free = free_in(length, (left, wide), taken)
    for since, until in free:
        if until - since >= wanted:
            return _fill(Stretch(taker.batch, since, wanted, left, wide), _closer(taker, wanted, wide))
    since, until = _longest(free)
    return _fill(Stretch(taker.batch, since, until - since, left, wide), _closer(taker, until - since, wide))


def _longest(free: list[tuple[int, int]]) -> tuple[int, int]:
    """The longest of some stretches, the first of several."""
    return max(free, key=lambda one: (one[1] - one[0], -one[0]), default=(0, 0))


def _closer(taker: Taker, run: int, width: int) -> Taker:
    """What stands there already stands closer than the calendar has it: its rows first, then all of it."""
    if not taker.stands or taker.count is None or run <= 0 or _holds(run, width, taker) >= taker.count:
        return taker
    row = min(taker.row, taker.spacing)
    for spacing in range(taker.spacing, CLOSEST_MM - 1, -max(1, taker.spacing // 20)):
        tried = replace(taker, spacing=spacing, row=min(row, spacing), rows=None)
        if _holds(run, width, tried) >= taker.count:
            return tried
    return taker


def _take_rest(length: int, width: int, taker: Taker, taken: Iterable[Stretch], shared_by: int) -> Stretch:
    """A share of the longest free stretch for what nobody counts."""
    left, wide = strip_of(width, taker)
    since, until = _longest(free_in(length, (left, wide), taken))
    return _fill(Stretch(taker.batch, since, (until - since) // shared_by, left, wide), taker)


def _fill(stretch: Stretch, taker: Taker) -> Stretch:
    """Put its plants into a stretch, row for row from the door end."""
    width = stretch.wide
    layout, bed = _layout(width, taker), _bed(stretch.run, width, taker)
    lines = None if taker.turned else _lines(width, taker)
    within, stretch.row = _spread(width, bed, layout, lines)

    def across(y: int) -> int:
        return stretch.left + within(y)

    if taker.count is None:
        stretch.drills = sorted(across(bed.end + line * layout.row) for line in range(lines if lines is not None else 1))
        return stretch
    spots = [(stretch.at + x, across(y)) for x, y in places(bed, layout, lines)]
    spots.sort()
    stretch.plants, stretch.gaps = spots[: taker.count], spots[taker.count :]
    stretch.without = max(0, taker.count - len(spots))
    return stretch


def _spread(width: int, bed: Bed, layout: Layout, lines: int | None) -> tuple[Callable[[int], int], int]:
    """Where across a strip what the layout puts at some distance from its edge stands: evenly spread, or in the middle. And how
    far its rows are apart so."""
    if layout.turned:
        held = along(bed.width, bed.end, layout.spacing)
        used = max(0, held - 1) * layout.spacing
        if layout.pattern == STAGGERED:
            between = shifted(bed.width, bed.end, layout.spacing)
            used = max(used, -(-layout.spacing // 2) + max(0, between - 1) * layout.spacing if between else 0)
    else:
        held = lines or 0
        used = max(0, held - 1) * layout.row
    even = width // held if held else width
    if not layout.turned and layout.pattern != STAGGERED and even > layout.row:
        return (lambda y: even // 2 + (y - bed.end) // layout.row * even), even
    shift = (width - used) // 2 - bed.end
    return (lambda y: y + shift), layout.row


def _at_foot(taker: Taker, given: list[Taker], made: dict[str, Stretch]) -> Stretch:
    """Between the plants of another batch: each as far from both kinds as half the sum of what they take there."""
    host = next((one for one in given if one.batch == taker.foot_of), None)
    stretch = made.get(taker.foot_of or "")
    if host is None or stretch is None or not stretch.run:  # its host stands at another's foot itself, or found no room
        return Stretch(taker.batch, 0, 0, 0, 0, without=taker.count or 0)
    apart = (min(host.spacing, FOOT_MM) if host.trained else host.spacing) // 2 + taker.spacing // 2
    left, wide = stretch.left, stretch.wide
    ends, edge = taker.spacing // 2, min(taker.spacing // 2, wide // 2)
    found: list[tuple[int, int]] = []
    for x in range(stretch.at + ends, stretch.at + stretch.run - ends + 1, FOOT_STEP_MM):
        for y in range(left + edge, left + wide - edge + 1, FOOT_STEP_MM):
            beside_drills = all(abs(y - drill) >= apart for drill in stretch.drills)
            if beside_drills and _clear(x, y, stretch.plants, apart) and _clear(x, y, found, taker.spacing):
                found.append((x, y))
    wanted = len(found) if taker.count is None else min(taker.count, len(found))
    chosen = [found[at * len(found) // wanted] for at in range(wanted)]  # spread over all there is
    missing = 0 if taker.count is None else taker.count - wanted
    return Stretch(taker.batch, stretch.at, stretch.run, left, wide, chosen, without=missing, row=taker.row)


def _clear(x: int, y: int, others: list[tuple[int, int]], apart: int) -> bool:
    return all((x - a) ** 2 + (y - b) ** 2 >= apart**2 for a, b in others)
