"""Layouts: how many plants fit a bed, and where each stands: in a square, staggered, or in rows, both ways round.

Always counted, never by a factor: on a narrow bed the odd row decides. All lengths in whole millimetres.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import NamedTuple

SQUARE, STAGGERED, ROWS = "square", "staggered", "rows"
TIGHTEST_PER_MILLION = 866_025
"""Rows of a staggered square lie this many millionths of the spacing apart: the height of an equal triangle, sqrt(3)/2."""
MILLION = 1_000_000
MOST_MM = 10_000_000
MISS_MM = 50
"""A layout that just does not fit is told when so much less between plants would let more in."""


class Bed(NamedTuple):
    """A bed and the gap kept free at each of its edges. [mm]"""

    length: int
    width: int
    end: int


@dataclass(frozen=True, slots=True)
class Layout:
    """One way of planting. `spacing` in the row, `row` between rows; `turned`: rows run across the bed. [mm]"""

    pattern: str
    turned: bool
    count: int
    spacing: int
    row: int
    left_over: int
    """Free at the end of the rows beyond the gap that is kept there. [mm]"""


def along(length: int, end: int, apart: int) -> int:
    """Plants on a line with a gap at each end: n = floor((length - 2 end) / apart) + 1, none where the gaps meet."""
    free = length - 2 * end
    return 0 if free < 0 else free // apart + 1


def layouts(bed: Bed, spacing: int, row: int | None = None) -> list[Layout]:
    """Every way of planting a bed at a spacing, the most plants first. row: between rows; None for as far as in the row.

    What holds nothing is left out, and so is what is another way of saying the same: a square turned, one staggered row.
    """
    between = spacing if row is None else row
    close = closest_rows(spacing) if between == spacing else between
    made = []
    for turned in (False, True):
        if turned and bed.length == bed.width:
            continue
        run, across = (bed.width, bed.length) if turned else (bed.length, bed.width)
        left_over = max(0, run - 2 * bed.end) % spacing
        pattern = SQUARE if between == spacing else ROWS
        if not turned or pattern != SQUARE:
            made.append(Layout(pattern, turned, 0, spacing, between, left_over))
        if along(across, bed.end, close) > 1:
            made.append(Layout(STAGGERED, turned, 0, spacing, close, left_over))
    made = [replace(one, count=count_of(bed, one)) for one in made]
    return sorted((one for one in made if one.count > 0), key=lambda one: (-one.count, one.pattern == STAGGERED, one.turned))


def closest_rows(spacing: int) -> int:
    """How close staggered rows can lie so that no two plants are nearer than the spacing. [mm]"""
    return -(-spacing * TIGHTEST_PER_MILLION // MILLION)


def count_of(bed: Bed, layout: Layout, lines: int | None = None) -> int:
    """How many plants a bed holds so; lines: rows, where fewer are planted than fit."""
    run, across = (bed.width, bed.length) if layout.turned else (bed.length, bed.width)
    rows = along(across, bed.end, layout.row) if lines is None else lines
    full = along(run, bed.end, layout.spacing)
    if layout.pattern != STAGGERED:
        return rows * full
    return -(-rows // 2) * full + rows // 2 * shifted(run, bed.end, layout.spacing)


def shifted(length: int, end: int, apart: int) -> int:
    """Plants on a line that begins half a step in."""
    free = length - 2 * end - -(-apart // 2)
    return 0 if free < 0 else free // apart + 1


def places(bed: Bed, layout: Layout, lines: int | None = None) -> list[tuple[int, int]]:
    """Where each plant stands: along the bed and across it, from one corner. [mm] lines: rows, where fewer are planted."""
    run, across = (bed.width, bed.length) if layout.turned else (bed.length, bed.width)
    found = []
    for line in range(along(across, bed.end, layout.row) if lines is None else lines):
        shift = -(-layout.spacing // 2) if layout.pattern == STAGGERED and line % 2 else 0
        many = shifted(run, bed.end, layout.spacing) if shift else along(run, bed.end, layout.spacing)
        y = bed.end + line * layout.row
        found += [(bed.end + shift + at * layout.spacing, y) for at in range(many)]
    return [(y, x) for x, y in found] if layout.turned else found


def nearest_miss(bed: Bed, spacing: int, row: int | None = None) -> tuple[int, int] | None:
    """How much less between plants [mm, whole centimetres] would let how many in; None where five centimetres would not."""
    now = best_count(bed, spacing, row)
    for less in range(10, min(MISS_MM, spacing - 10) + 1, 10):
        more = best_count(bed, spacing - less, None if row is None else row - less if row > less else row)
        if more > now:
            return less, more
    return None


def best_count(bed: Bed, spacing: int, row: int | None = None) -> int:
    """The most plants that any way of planting holds."""
    return max((one.count for one in layouts(bed, spacing, row)), default=0)
