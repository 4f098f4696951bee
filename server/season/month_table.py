"""Mean night and day of each month out of a CSV: a table of twelve months, or a year and more of daily readings."""

from __future__ import annotations

import calendar
import datetime
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field

from server.season.readings import CELSIUS, COLDEST_C, FAHRENHEIT, HOTTEST_C, read_readings
from server.season.table_text import BadRow, NotATable, Question, Sheet, number, read_sheet, words_of

LEAST_DAYS = 20
"""A month of daily readings needs so many days, in all its years together. [d]"""
WANTED = "month, and mean minimum and maximum"
_MONTH = {"month", "months", "monat", "mois"}
_MIN = {"min", "minimum", "low", "tmin", "night"}
_MAX = {"max", "maximum", "high", "tmax", "day"}
_NAMES = {
    name.lower(): number for names in (calendar.month_name, calendar.month_abbr) for number, name in enumerate(names) if name
}


@dataclass(frozen=True)
class MonthTable:
    """What was found. `normals` is None while there is a question or a problem."""

    normals: list[tuple[float, float]] | None = None
    """Mean minimum and maximum of January to December. [°C]"""
    bad: list[BadRow] = field(default_factory=list)
    questions: list[Question] = field(default_factory=list)
    problem: str | None = None


def read_months(
    data: bytes, tz: str, answers: Mapping[str, str] | None = None, today: datetime.date | None = None
) -> MonthTable:
    """The twelve months in a file. Arguments as of `read_readings`. Never raises for what is in the file."""
    try:
        sheet = read_sheet(data, _is_header, WANTED)
    except NotATable:
        return _from_days(data, tz, answers, today)
    return _from_months(sheet, answers or {})


def _column(header: Sequence[str], known: set[str]) -> int | None:
    return next((at for at, cell in enumerate(header) if set(words_of(cell)) & known), None)


def _is_header(cells: Sequence[str]) -> bool:
    return None not in (_column(cells, _MONTH), _column(cells, _MIN), _column(cells, _MAX))


def _from_months(sheet: Sheet, answers: Mapping[str, str]) -> MonthTable:
    month, low, high = (_column(sheet.header, known) or 0 for known in (_MONTH, _MIN, _MAX))
    words = {word for at in (low, high) for word in words_of(sheet.header[at])}
    unit = answers.get("unit") or (CELSIUS if words & {"°c", "c", "celsius"} else None)
    unit = unit or (FAHRENHEIT if words & {"°f", "f", "fahrenheit"} else None)
    if unit not in (CELSIUS, FAHRENHEIT):
        return MonthTable(
            questions=[Question("unit", "The columns do not say their unit. Which is it?", (CELSIUS, FAHRENHEIT))]
        )
    found: dict[int, tuple[float, float]] = {}
    bad = list(sheet.bad)
    for line, cells in sheet.rows:
        which = _month(cells[month] if month < len(cells) else "")
        ends = [number(cells[at]) if at < len(cells) else None for at in (low, high)]
        if which is None or None in ends:
            bad.append(BadRow(line, "is no month with two numbers"))
            continue
        night, day = (_celsius(end, unit) for end in ends if end is not None)
        why = _why(night, day) or (f"gives {calendar.month_name[which]} twice" if which in found else None)
        if why:
            bad.append(BadRow(line, why))
        else:
            found[which] = (night, day)
    return _whole(found, bad)


def _month(cell: str) -> int | None:
    word = cell.strip().lower().rstrip(".")
    if word.isdecimal() and 1 <= int(word) <= 12:
        return int(word)
    return _NAMES.get("sep" if word == "sept" else word)


def _celsius(value: float, unit: str) -> float:
    return round(value if unit == CELSIUS else (value - 32) / 1.8, 1)


def _why(night: float, day: float) -> str | None:
    if not COLDEST_C <= night <= HOTTEST_C or not COLDEST_C <= day <= HOTTEST_C:
        return f"holds {night:g} and {day:g} °C, which no month has"
    return f"has a night of {night:g} °C above its day of {day:g} °C" if night > day else None


def _from_days(data: bytes, tz: str, answers: Mapping[str, str] | None, today: datetime.date | None) -> MonthTable:
    """Means of daily readings, month by month over all the years there are."""
    read = read_readings(data, tz, answers, today)
    if read.problem or read.questions:
        return MonthTable(bad=read.bad, questions=read.questions, problem=read.problem)
    months: dict[int, list[tuple[float, float]]] = {}
    for day, pair in read.days.items():
        months.setdefault(day.month, []).append(pair)
    found = {
        month: (round(sum(low for low, _ in pairs) / len(pairs), 1), round(sum(high for _, high in pairs) / len(pairs), 1))
        for month, pairs in months.items()
        if len(pairs) >= LEAST_DAYS
    }
    return _whole(found, read.bad)


def _whole(found: dict[int, tuple[float, float]], bad: list[BadRow]) -> MonthTable:
    bad = sorted(bad, key=lambda row: row.line)
    missing = [calendar.month_name[month] for month in range(1, 13) if month not in found]
    if missing:
        reason = f" Line {bad[0].line} {bad[0].why}." if bad else ""
        return MonthTable(bad=bad, problem=f"All twelve months are needed; {', '.join(missing)} cannot be read.{reason}")
    return MonthTable([found[month] for month in range(1, 13)], bad)
