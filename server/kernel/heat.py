"""Warmth read off the rulebook: days until so many degree-days have come, and the mean under a cover on a day.

Heat is in tenths of a degree-day, so that both kernels count in whole numbers. A series has one entry for each day of a
leap year and repeats; 29 February adds nothing in a plain year because that day does not come.
"""

from __future__ import annotations

from typing import Any

from server.kernel.days import leap_index

LONGEST_WAIT_DAYS = 1100
"""Heat that has not come in three years will not come."""


class Heat:
    """The heat and warmth of one rulebook."""

    def __init__(self, rulebook: dict[str, Any]) -> None:
        self._series: dict[str, list[int]] = rulebook.get("heat") or {}
        self._warmth: dict[str, list[int]] = rulebook.get("warmth") or {}

    def day_reached(self, series: str, start: int, tenths: int) -> int | None:
        """First day by whose end `tenths` have come since `start`; None where it never comes or there is no series."""
        daily = self._series.get(series)
        if daily is None:
            return None
        if tenths <= 0:
            return start
        total = 0
        index = leap_index(start)
        for day in range(start + 1, start + LONGEST_WAIT_DAYS):
            index += 1
            if index == 59:  # 29 February, if there is one
                index = leap_index(day)
            elif index == 366:
                index = 0
            total += daily[index]
            if total >= tenths:
                return day
        return None

    def mean_c(self, cover: str, day: int) -> int | None:
        """Typical mean under a cover on a day. [whole °C]"""
        daily = self._warmth.get(cover)
        return daily[leap_index(day)] if daily is not None else None
