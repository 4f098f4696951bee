"""Calendar days as whole numbers, so that both kernels count alike.

A day is an integer: days since 1970-01-01 in the proleptic Gregorian calendar. No time zone, no clock: the site's
calendar date is handed in as text.
"""

from __future__ import annotations

import functools

MONTHS = (
    "January", "February", "March", "April", "May", "June",
    "July", "August", "September", "October", "November", "December",
)  # fmt: skip
KEPT = 4096
"""Answers kept of each function here: a season has the same few hundred days again and again."""
_BEFORE_MONTH = (0, 31, 60, 91, 121, 152, 182, 213, 244, 274, 305, 335)  # of a leap year


def day_number(year: int, month: int, day: int) -> int:
    """Days since 1970-01-01. Source: the civil-calendar arithmetic of 400-year eras (146,097 days each)."""
    year -= month <= 2
    era = year // 400
    year_of_era = year - era * 400
    day_of_year = (153 * (month + (-3 if month > 2 else 9)) + 2) // 5 + day - 1
    day_of_era = year_of_era * 365 + year_of_era // 4 - year_of_era // 100 + day_of_year
    return era * 146097 + day_of_era - 719468


@functools.lru_cache(maxsize=KEPT)
def civil(day: int) -> tuple[int, int, int]:
    """(year, month, day of month) of a day number."""
    day += 719468
    era = day // 146097
    day_of_era = day - era * 146097
    year_of_era = (day_of_era - day_of_era // 1460 + day_of_era // 36524 - day_of_era // 146096) // 365
    day_of_year = day_of_era - (365 * year_of_era + year_of_era // 4 - year_of_era // 100)
    month_from_march = (5 * day_of_year + 2) // 153
    month = month_from_march + (3 if month_from_march < 10 else -9)
    return (
        year_of_era + era * 400 + (month <= 2),
        month,
        day_of_year - (153 * month_from_march + 2) // 5 + 1,
    )


@functools.lru_cache(maxsize=KEPT)
def parse(text: str) -> int:
    """Day number of `YYYY-MM-DD`. The text has been checked where it came in."""
    return day_number(int(text[0:4]), int(text[5:7]), int(text[8:10]))


@functools.lru_cache(maxsize=KEPT)
def iso(day: int) -> str:
    """`YYYY-MM-DD` of a day number."""
    year, month, date = civil(day)
    return f"{year:04d}-{month:02d}-{date:02d}"


def year_of(day: int) -> int:
    """The calendar year a day lies in."""
    return civil(day)[0]


@functools.lru_cache(maxsize=KEPT)
def in_season(text: str, year: int) -> int:
    """Day number of a rulebook date `Y-MM-DD`, Y years after `year`. 29 February becomes 28 in a plain year."""
    return _clamped(year + int(text[0]), int(text[2:4]), int(text[5:7]))


def season_at(season: dict[str, str], day: int) -> tuple[int, int]:
    """First and last day of the season a day lies in, or of the next. season: `from`, `to` as `MM-DD`, over new year too."""
    turns = season["to"] < season["from"]
    for year in (year_of(day) - 1, year_of(day)):
        closes = in_season(f"0-{season['to']}", year + turns)
        if day <= closes:
            return in_season(f"0-{season['from']}", year), closes
    following = year_of(day) + 1
    return in_season(f"0-{season['from']}", following), in_season(f"0-{season['to']}", following + turns)


def _clamped(year: int, month: int, date: int) -> int:
    if month == 2 and date == 29 and not _leap(year):
        date = 28
    return day_number(year, month, date)


def _leap(year: int) -> bool:
    return year % 4 == 0 and (year % 100 != 0 or year % 400 == 0)


@functools.lru_cache(maxsize=KEPT)
def leap_index(day: int) -> int:
    """0 to 365: place of a day's month and date in a leap year. 1 March is always 60."""
    _, month, date = civil(day)
    return _BEFORE_MONTH[month - 1] + date - 1


@functools.lru_cache(maxsize=KEPT)
def spoken(day: int) -> str:
    """`12 March`: a day as it is said in a reason."""
    _, month, date = civil(day)
    return f"{date} {MONTHS[month - 1]}"
