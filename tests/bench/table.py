"""The table: rows of work against a floor, and how they are timed and printed."""

from __future__ import annotations

import statistics
import time
from collections.abc import Callable
from dataclasses import dataclass
from typing import Any

HEADS = ("work", "floor", "ours", "ratio", "target", "kept?")


@dataclass(frozen=True)
class Limit:
    """What is asked of a row: at most so much of the floor (or at least, for a rate), or an amount of its own."""

    words: str
    holds: Callable[[float, float], bool]
    """Given floor and ours."""


def at_most(times: float) -> Limit:
    """No more than so many times the floor."""
    return Limit(f"{times:g}x", lambda floor, ours: ours <= times * floor)


def at_least(times: float) -> Limit:
    """For a rate: no less than so much of the floor."""
    return Limit(f"{times:g}x or more", lambda floor, ours: ours >= times * floor)


def under(amount: float, unit: str) -> Limit:
    """An amount of its own, whatever the floor is."""
    return Limit(f"{amount:g} {unit}", lambda floor, ours: ours <= amount)


def both(one: Limit, other: Limit) -> Limit:
    """Two limits at once."""
    return Limit(f"{one.words}, {other.words}", lambda floor, ours: one.holds(floor, ours) and other.holds(floor, ours))


@dataclass(frozen=True)
class Row:
    """One line: floor and ours in the same unit, and the limit (None: shown for comparison only)."""

    work: str
    floor: float
    ours: float
    unit: str
    limit: Limit | None = None

    def cells(self) -> tuple[str, ...]:
        """The line as text."""
        target = self.limit.words if self.limit else "-"
        kept = "-" if self.limit is None else "yes" if self.limit.holds(self.floor, self.ours) else "NO"
        ratio = f"{self.ours / self.floor:.2f}x"
        return (self.work, amount(self.floor, self.unit), amount(self.ours, self.unit), ratio, target, kept)


def amount(value: float, unit: str) -> str:
    """A number with three figures that mean something."""
    shown = f"{value:,.0f}" if value >= 100 else f"{value:.1f}" if value >= 10 else f"{value:.2f}"
    return f"{shown} {unit}"


def print_table(rows: list[Row]) -> None:
    """All lines under their heads, columns aligned."""
    lines = [HEADS, *(row.cells() for row in rows)]
    widths = [max(len(line[at]) for line in lines) for at in range(len(HEADS))]
    lines.insert(1, tuple("-" * width for width in widths))
    for line in lines:
        print(" | ".join(cell.ljust(width) for cell, width in zip(line, widths, strict=True)).rstrip())


def median(values: list[float]) -> float:
    """The middle of some measurements."""
    return statistics.median(values)


def timed_ms(work: Callable[[], Any]) -> float:
    """Wall time of one call. [ms]"""
    start = time.perf_counter()
    work()
    return (time.perf_counter() - start) * 1000


def in_turn(repeats: int, floor: Callable[[], float], ours: Callable[[], float]) -> tuple[float, float]:
    """Medians of two measurements taken in turn, so that whatever else the machine does falls on both."""
    pairs = [(floor(), ours()) for _ in range(repeats)]
    return median([one for one, _ in pairs]), median([other for _, other in pairs])
