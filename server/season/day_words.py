"""Dates and times as people and loggers write them. Which of two numbers is the month is never guessed."""

from __future__ import annotations

import datetime
import re
from collections.abc import Iterable
from dataclasses import dataclass
from zoneinfo import ZoneInfo

ORDERS = ("day first", "month first")
_MONTHS = ("jan", "feb", "mar", "apr", "may", "jun", "jul", "aug", "sep", "oct", "nov", "dec")
_ISO = re.compile(r"(\d{4})[-/.](\d{1,2})[-/.](\d{1,2})", re.ASCII)
_NUMBERS = re.compile(r"(\d{1,2})([-/.])(\d{1,2})\2(\d{4}|\d{2})", re.ASCII)
_NAMED = re.compile(r"(\d{1,2})[-/. ]+([a-z]{3,9})\.?[-/., ]+(\d{4}|\d{2})", re.ASCII | re.IGNORECASE)
_NAMED_FIRST = re.compile(r"([a-z]{3,9})\.? +(\d{1,2}),? +(\d{4})", re.ASCII | re.IGNORECASE)
_TIME = re.compile(
    r"(\d{1,2})[:.](\d{2})(?:[:.](\d{2})(?:[.,]\d+)?)?\s*([ap])?\.?(?:m\.?)?\s*(z|utc|[+-]\d{2}:?\d{2})?",
    re.ASCII | re.IGNORECASE,
)


@dataclass(frozen=True)
class Moment:
    """A day, and the time on it where one was written."""

    on: datetime.date
    at: datetime.time | None


def order_of(texts: Iterable[str]) -> str | None:
    """Whether day or month comes first in dates such as 3/4/2026, judged over a whole column.

    `day first` or `month first` where some date allows only that one, or none needs it; None where nothing tells, or where
    both are found. A date with full stops has its day first, everywhere.
    """
    asks = day_first = month_first = False
    for text in texts:
        found = _NUMBERS.match(text.strip())
        if found is None or _ISO.match(text.strip()) or found[2] == ".":
            continue
        asks = True
        day_first |= int(found[1]) > 12
        month_first |= int(found[3]) > 12
    if not asks:
        return ORDERS[0]
    if day_first == month_first:
        return None
    return ORDERS[0] if day_first else ORDERS[1]


def moment(text: str, order: str, time_text: str = "", tz: str | None = None) -> Moment | None:
    """The day and time written in one cell, or in two; None where it is none.

    order: one of ORDERS, for dates that need it. A time with an offset from UTC is brought to the zone tz, so that it lies on
    the site's own date; times without one are the site's own already.
    """
    found = _date(text.strip(), order)
    if found is None:
        return None
    on, rest = found
    rest = rest.strip().removeprefix("T").removeprefix(",").strip() or time_text.strip()
    if not rest:
        return Moment(on, None)
    clock = _TIME.fullmatch(rest)
    return None if clock is None else _timed(on, clock, tz)


def _date(text: str, order: str) -> tuple[datetime.date, str] | None:
    if found := _ISO.match(text):
        year, month, day = found[1], found[2], found[3]
    elif found := _NUMBERS.match(text):
        day, month, year = found[1], found[3], found[4]
        if order == ORDERS[1] and found[2] != ".":
            day, month = month, day
    elif found := _NAMED.match(text):
        day, month, year = found[1], _month(found[2]), found[3]
    elif found := _NAMED_FIRST.match(text):
        day, month, year = found[2], _month(found[1]), found[3]
    else:
        return None
    try:
        on = datetime.date(int(year) + (2000 if len(year) == 2 else 0), int(month), int(day))
    except ValueError:
        return None
    return on, text[found.end() :]


def _month(name: str) -> str:
    short = name[:3].lower()
    return str(_MONTHS.index(short) + 1) if short in _MONTHS else "0"


def _timed(on: datetime.date, clock: re.Match[str], tz: str | None) -> Moment | None:
    hour, minute, second = int(clock[1]), int(clock[2]), int(clock[3] or 0)
    if clock[4]:
        if not 1 <= hour <= 12:
            return None
        hour = hour % 12 + (12 if clock[4].lower() == "p" else 0)
    if (hour, minute, second) == (24, 0, 0):
        on, hour = on + datetime.timedelta(days=1), 0
    try:
        at = datetime.time(hour, minute, second)
        offset = _offset(clock[5])
    except ValueError:
        return None
    if offset is None or tz is None:
        return Moment(on, at)
    there = datetime.datetime.combine(on, at, offset).astimezone(ZoneInfo(tz))
    return Moment(there.date(), there.time())


def _offset(text: str | None) -> datetime.timezone | None:
    if not text:
        return None
    if text.lower() in ("z", "utc"):
        return datetime.UTC
    away = datetime.timedelta(hours=int(text[1:3]), minutes=int(text[-2:]))
    return datetime.timezone(-away if text[0] == "-" else away)
