"""Warmth read off the rulebook: days until so many degree-days have come, and the mean under a cover on a day.

Heat is in tenths of a degree-day, so that both kernels count in whole numbers. A series has one entry for each day of a
leap year and repeats; 29 February adds nothing in a plain year because that day does not come.
"""

from __future__ import annotations

from typing import Any

from server.kernel.read.days import leap_index, parse

LONGEST_WAIT_DAYS = 1100
"""Heat that has not come in three years will not come."""

LONGEST_UP_DAYS = 120
"""Seed that has not come up by then will not."""

UP = 10_000
"""What the days from sowing to coming up come to, each its part: in whole numbers, exact for up to 100 days."""

Read = tuple[int, list[int]]
"""The first day that a thermometer read, and the heat of each from there on. [tenths of a degree-day]"""

UNREAD: Read = (0, [])
"""No thermometer."""

NO_SPELL = (0, 0)
"""As warm as usual."""


class Heat:
    """The heat and warmth of one rulebook."""

    def __init__(self, rulebook: dict[str, Any]) -> None:
        self._series: dict[str, list[int]] = rulebook.get("heat") or {}
        self._warmth: dict[str, list[int]] = rulebook.get("warmth") or {}
        self._read = {name: (parse(it["from"]), it["days"]) for name, it in (rulebook.get("heat_read") or {}).items()}
        self._spell: int = rulebook.get("spell") or 0
        self._reached: dict[tuple[str, int, int, int, int, int], int | None] = {}

    def day_reached(self, series: str, start: int, tenths: int) -> int | None:
        """First day by whose end `tenths` have come since `start`; None where it never comes or there is no series.

        Days that a thermometer read count with what it read, the others with the typical year's.
        """
        return self._reach(series, start, tenths, self._read.get(series, UNREAD), NO_SPELL)

    def knows(self, series: str) -> bool:
        """Whether there is such a series."""
        return series in self._series

    def was_read(self, series: str, start: int) -> bool:
        """Whether a thermometer read some of the days since `start`."""
        first, days = self._read.get(series, UNREAD)
        return first + len(days) > start + 1

    def day_usually_reached(self, series: str, start: int, tenths: int) -> int | None:
        """The same in a typical year, whatever was read."""
        return self._reach(series, start, tenths, UNREAD, NO_SPELL)

    def band(self, series: str, start: int, tenths: int, today: int) -> tuple[int, int] | None:
        """The early and the late day: what is still to come a warm spell's or a cold spell's worth away from the typical."""
        if self._spell == 0:
            return None
        read = self._read.get(series, UNREAD)
        early = self._reach(series, start, tenths, read, (self._spell, today))
        late = self._reach(series, start, tenths, read, (-self._spell, today))
        return None if early is None or late is None else (early, late)

    def _reach(self, series: str, start: int, tenths: int, read: Read, spell: tuple[int, int]) -> int | None:
        key = (series, start, tenths, read[0], *spell)
        if key not in self._reached:
            self._reached[key] = self._count_up(series, start, tenths, read, spell)
        return self._reached[key]

    def _count_up(self, series: str, start: int, tenths: int, read: Read, spell: tuple[int, int]) -> int | None:
        """spell: how much warmer each day after a day is than usual [tenths of a degree-day], and that day."""
        off, today = spell
        daily = self._series.get(series)
        first, days = read
        end = first + len(days)
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
            if first <= day < end:
                total += days[day - first]
            elif off != 0 and day > today and daily[index] > 0:
                total += max(0, daily[index] + off)
            else:
                total += daily[index]
            if total >= tenths:
                return day
        return None

    def mean_c(self, cover: str, day: int) -> int | None:
        """Typical mean under a cover on a day. [whole °C]"""
        daily = self._warmth.get(cover)
        return daily[leap_index(day)] if daily is not None else None

    def days_to_come_up(self, table: dict[str, int], cover: str, since: int) -> int | None:
        """Days from sowing until the first are up, as warm as days usually are there; None where none are in their time.

        table: whole °C to the days it takes at that temperature; at one that is not in it nothing comes.
        """
        daily = self._warmth.get(cover)
        if daily is None:
            return None
        done = 0
        for day in range(since, since + LONGEST_UP_DAYS):
            days = table.get(str(daily[leap_index(day)]))
            if days is not None:
                done += -(-UP // days)
                if done >= UP:
                    return day + 1 - since
        return None
