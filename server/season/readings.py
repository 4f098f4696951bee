"""Minimum and maximum of each day out of a thermometer's CSV file.

Columns are known by words in their names, in any order and case: date and time; min and max, or one temperature a row, which
is gathered into days. What the file does not say (units, whether day or month comes first, which of two columns) comes back
as a question and nothing is read until it is answered. A row that makes no sense is left out and listed.
"""

from __future__ import annotations

import datetime
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field

from server.season.day_words import ORDERS, Moment, moment, order_of
from server.season.table_text import BadRow, NotATable, Question, Sheet, number, read_sheet, words_of

COLDEST_C, HOTTEST_C = -60.0, 70.0
"""Readings outside are no air temperature. [°C] The limits of a diary record."""
MORNING = datetime.time(9)
NOON, EVENING = datetime.time(12), datetime.time(18)
"""A day gathered from single readings needs one before nine (the night) and one between noon and six (the warmest)."""
LEAST_A_DAY = 2
"""Readings without a time that make a day."""
WANTED = "a date, and min and max or a temperature"
CELSIUS, FAHRENHEIT = "°C", "°F"
_DATE = {"date", "day", "datum", "datetime", "timestamp"}
_TIME = {"time", "hour", "zeit", "uhrzeit"}
_MIN = {"min", "minimum", "low", "lowest", "coldest", "tmin", "mintemp"}
_MAX = {"max", "maximum", "high", "highest", "warmest", "tmax", "maxtemp"}
_TEMP = {"temp", "temperature", "temperatur", "celsius", "fahrenheit", "°c", "°f"}
_OTHER = {"humidity", "rh", "%", "dew", "dewpoint", "pressure", "battery", "rain", "wind", "light", "lux", "soil"}
_UNITS = {"°c": CELSIUS, "c": CELSIUS, "celsius": CELSIUS, "°f": FAHRENHEIT, "f": FAHRENHEIT, "fahrenheit": FAHRENHEIT}


@dataclass(frozen=True)
class ReadingsFile:
    """What was found. `days` is empty while there is a question or a problem."""

    days: dict[datetime.date, tuple[float, float]] = field(default_factory=dict)
    """Minimum and maximum of each day. [°C]"""
    bad: list[BadRow] = field(default_factory=list)
    questions: list[Question] = field(default_factory=list)
    problem: str | None = None


@dataclass(frozen=True)
class _Columns:
    date: int
    time: int | None
    temps: tuple[int, ...]
    """One column of single temperatures, or the minimum's and the maximum's."""
    units: tuple[str, ...]
    order: str


def read_readings(
    data: bytes, tz: str, answers: Mapping[str, str] | None = None, today: datetime.date | None = None
) -> ReadingsFile:
    """The days in a file.

    tz: the site's zone, for times written with an offset from UTC. answers: question id to choice, from an earlier try.
    today: at the site; later days are left out where it is given. Never raises for what is in the file.
    """
    try:
        sheet = read_sheet(data, _is_header, WANTED)
    except NotATable as problem:
        return ReadingsFile(problem=str(problem))
    columns, questions = _columns(sheet, answers or {})
    if columns is None:
        return ReadingsFile(questions=questions)
    rows, bad = _values(sheet, columns, tz, today)
    bad += sheet.bad
    days, left_out = _pairs(rows) if len(columns.temps) == 2 else _gathered(rows)
    if not days:
        reason = f" Line {bad[0].line}: {bad[0].why}." if bad else ""
        return ReadingsFile(bad=sorted([*bad, *left_out], key=_line), problem=f"No day could be read.{reason}")
    return ReadingsFile(dict(sorted(days.items())), sorted([*bad, *left_out], key=_line))


def _line(row: BadRow) -> int:
    return row.line


def _roles(header: Sequence[str]) -> dict[str, list[int]]:
    """Columns that could be date, time, min, max or temp."""
    roles: dict[str, list[int]] = {"date": [], "time": [], "min": [], "max": [], "temp": []}
    for at, cell in enumerate(header):
        words = set(words_of(cell))
        if words & _OTHER:
            continue
        for role, known in (("min", _MIN), ("max", _MAX), ("date", _DATE), ("time", _TIME), ("temp", _TEMP)):
            if words & known:
                roles[role].append(at)
                break
    if not roles["date"] and roles["time"]:
        roles["date"], roles["time"] = roles["time"][:1], roles["time"][1:]
    return roles


def _is_header(cells: Sequence[str]) -> bool:
    roles = _roles(cells)
    return bool(roles["date"] and (roles["temp"] or (roles["min"] and roles["max"])))


def _columns(sheet: Sheet, answers: Mapping[str, str]) -> tuple[_Columns | None, list[Question]]:
    roles, questions = _roles(sheet.header), []
    names = ("min", "max") if roles["min"] and roles["max"] else ("temp",)
    temps: list[int] = []
    for role in names:
        choices = {sheet.header[at]: at for at in roles[role]}
        chosen = answers.get(role) if len(choices) > 1 else next(iter(choices))
        if chosen in choices:
            temps.append(choices[chosen])
        else:
            what = {"min": "the minimum", "max": "the maximum", "temp": "the temperature"}[role]
            questions.append(Question(role, f"Which column is {what} of this place?", tuple(choices)))
    units = [_unit(sheet, at) or answers.get("units") for at in temps]
    if any(unit not in (CELSIUS, FAHRENHEIT) for unit in units):
        sample = next((row[temps[0]] for _, row in sheet.rows if len(row) > temps[0] and row[temps[0]]), "")
        questions.append(Question("units", f"Is {sample} in °C or in °F? The file does not say.", (CELSIUS, FAHRENHEIT)))
    date = roles["date"][0]
    dates = [row[date] for _, row in sheet.rows if len(row) > date]
    order = order_of(dates) or answers.get("order")
    if order not in ORDERS:
        sample = next((text for text in dates if order_of([text]) is None), dates[0] if dates else "")
        questions.append(Question("order", f"In {sample}, does the day or the month come first?", ORDERS))
    if questions or order is None:
        return None, questions
    time = next((at for at in roles["time"] if at != date), None)
    return _Columns(date, time, tuple(temps), tuple(str(unit) for unit in units), order), []


def _unit(sheet: Sheet, at: int) -> str | None:
    """A column's unit by its own name, or by what stands behind its first reading."""
    named = [_UNITS[word] for word in words_of(sheet.header[at]) if word in _UNITS]
    first = next((row[at] for _, row in sheet.rows if len(row) > at and row[at]), "")
    behind = [_UNITS[word] for word in words_of(first) if word in _UNITS]
    return next(iter([*named, *behind]), None)


@dataclass(frozen=True)
class _Row:
    line: int
    when: Moment
    temps: tuple[float, ...]


def _values(sheet: Sheet, columns: _Columns, tz: str, today: datetime.date | None) -> tuple[list[_Row], list[BadRow]]:
    rows: list[_Row] = []
    bad: list[BadRow] = []
    for line, cells in sheet.rows:
        found = _row(sheet, columns, tz, line, cells)
        if isinstance(found, _Row) and today is not None and found.when.on > today:
            found = f"{found.when.on.isoformat()} is still to come"
        if isinstance(found, str):
            bad.append(BadRow(line, found))
        else:
            rows.append(found)
    return rows, bad


def _row(sheet: Sheet, columns: _Columns, tz: str, line: int, cells: list[str]) -> _Row | str:
    """A row's values, or why it has none."""
    if len(cells) > len(sheet.header) and any(cells[len(sheet.header) :]):
        return f"has {len(cells)} fields where {len(sheet.header)} are named; a decimal comma may want quotation marks"
    cells = cells + [""] * (len(sheet.header) - len(cells))
    time_text = cells[columns.time] if columns.time is not None else ""
    when = moment(cells[columns.date], columns.order, time_text, tz)
    if when is None:
        return f"{' '.join((cells[columns.date], time_text)).strip() or 'nothing'!r} is no date"
    temps: list[float] = []
    for at, unit in zip(columns.temps, columns.units, strict=True):
        value = number(cells[at])
        if value is None:
            return f"{sheet.header[at]} is {cells[at]!r}, not a number" if cells[at] else f"{sheet.header[at]} is missing"
        temp_c = value if unit == CELSIUS else (value - 32) / 1.8
        if not COLDEST_C <= temp_c <= HOTTEST_C:
            return f"{sheet.header[at]} is {cells[at]}, which no thermometer in a house reads"
        temps.append(round(temp_c, 2))
    return _Row(line, when, tuple(temps))


def _pairs(rows: list[_Row]) -> tuple[dict[datetime.date, tuple[float, float]], list[BadRow]]:
    days: dict[datetime.date, tuple[float, float]] = {}
    bad: list[BadRow] = []
    for row in rows:
        low, high = row.temps
        if low > high:
            bad.append(BadRow(row.line, f"the minimum {low:g} °C is above the maximum {high:g} °C"))
        elif days.setdefault(row.when.on, (low, high)) != (low, high):
            bad.append(BadRow(row.line, f"{row.when.on.isoformat()} is there already with other readings; the first was kept"))
    return days, bad


def _gathered(rows: list[_Row]) -> tuple[dict[datetime.date, tuple[float, float]], list[BadRow]]:
    """Lowest and highest of each day's readings; a day that lacks its night or its afternoon is left out."""
    by_day: dict[datetime.date, list[_Row]] = {}
    for row in rows:
        by_day.setdefault(row.when.on, []).append(row)
    days: dict[datetime.date, tuple[float, float]] = {}
    bad: list[BadRow] = []
    for on, found in by_day.items():
        times = [row.when.at for row in found if row.when.at is not None]
        if times:
            whole = any(at < MORNING for at in times) and any(NOON <= at <= EVENING for at in times)
        else:
            whole = len(found) >= LEAST_A_DAY
        if whole:
            temps = [row.temps[0] for row in found]
            days[on] = (min(temps), max(temps))
        else:
            bad.append(BadRow(found[0].line, f"{on.isoformat()} lacks its night or its afternoon, so it has no min and max"))
    return days, bad
