"""Layouts: how many plants fit a bed, and where each stands: in a square, staggered, or in rows, both ways round.

Always counted, never by a factor: on a narrow bed the odd row decides. All lengths in whole millimetres.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any, NamedTuple

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
    close = -(-spacing * TIGHTEST_PER_MILLION // MILLION) if between == spacing else between
    made = []
    for turned in (False, True):
        if turned and bed.length == bed.width:
            continue
        run, across = (bed.width, bed.length) if turned else (bed.length, bed.width)
        pattern = SQUARE if between == spacing else ROWS
        full = along(run, bed.end, spacing)
        if not turned or pattern != SQUARE:
            made.append(_layout(pattern, turned, along(across, bed.end, between) * full, (run, bed.end), spacing, between))
        lines = along(across, bed.end, close)
        if lines > 1:
            count = -(-lines // 2) * full + lines // 2 * _shifted(run, bed.end, spacing)
            made.append(_layout(STAGGERED, turned, count, (run, bed.end), spacing, close))
    return sorted((one for one in made if one.count > 0), key=lambda one: (-one.count, one.pattern == STAGGERED, one.turned))


def _layout(pattern: str, turned: bool, count: int, run: tuple[int, int], spacing: int, row: int) -> Layout:
    length, end = run
    free = length - 2 * end
    return Layout(pattern, turned, count, spacing, row, max(0, free) % spacing if count else 0)


def _shifted(length: int, end: int, apart: int) -> int:
    """Plants on a line that begins half a step in."""
    free = length - 2 * end - -(-apart // 2)
    return 0 if free < 0 else free // apart + 1


def places(bed: Bed, layout: Layout) -> list[tuple[int, int]]:
    """Where each plant stands: along the bed and across it, from one corner. [mm]"""
    run, across = (bed.width, bed.length) if layout.turned else (bed.length, bed.width)
    found = []
    for line in range(along(across, bed.end, layout.row)):
        shift = -(-layout.spacing // 2) if layout.pattern == STAGGERED and line % 2 else 0
        many = _shifted(run, bed.end, layout.spacing) if shift else along(run, bed.end, layout.spacing)
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


def as_told(layout: Layout) -> dict[str, Any]:
    """A layout as the door tells it, in centimetres; whole ones are whole numbers."""
    return {
        "pattern": layout.pattern,
        "turned": layout.turned,
        "count": layout.count,
        "spacing_cm": _cm(layout.spacing),
        "row_cm": _cm(layout.row),
        "left_over": _cm(layout.left_over),
    }


def _cm(mm: int) -> int | float:
    return mm // 10 if mm % 10 == 0 else mm / 10
