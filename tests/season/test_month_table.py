"""Twelve months out of a file: a table of months, or days that are averaged."""

from __future__ import annotations

import datetime

import pytest

from server.season.month_table import read_months

NIGHTS = [1.7, 1.6, 2.8, 4.2, 7.0, 9.9, 12.0, 11.9, 9.9, 7.3, 4.2, 2.0]
DAYS = [7.4, 8.0, 10.6, 13.7, 17.0, 19.9, 22.3, 22.0, 19.0, 14.7, 10.5, 7.8]
NAMES = ["Jan", "Feb", "Mar", "Apr", "May", "Jun", "Jul", "Aug", "Sep", "Oct", "Nov", "Dec"]


def table(head: str = "Month,Min °C,Max °C", rows: list[str] | None = None) -> bytes:
    made = rows or [f"{name},{night},{day}" for name, night, day in zip(NAMES, NIGHTS, DAYS, strict=True)]
    return "\n".join([head, *made]).encode()


def test_a_table_of_months_is_read_in_any_order_with_names_or_numbers() -> None:
    expected = list(zip(NIGHTS, DAYS, strict=True))
    assert read_months(table(), "UTC").normals == expected
    numbered = [f"{DAYS[at]};{NIGHTS[at]};{at + 1}" for at in reversed(range(12))]
    assert read_months(table("tmax (°C);tmin (°C);month", numbered), "UTC").normals == expected


def test_fahrenheit_is_turned_and_an_unnamed_unit_is_asked_for() -> None:
    """32 °F is 0 °C and 50 °F is 10 °C: by definition of the scale."""
    rows = [f"{name},32,50" for name in NAMES]
    asked = read_months(table("Month,Min,Max", rows), "UTC")
    (question,) = asked.questions
    assert asked.normals is None and question.choices == ("°C", "°F")
    assert read_months(table("Month,Min,Max", rows), "UTC", {"unit": "°F"}).normals == [(0.0, 10.0)] * 12
    assert read_months(table("Month,Min F,Max F", rows), "UTC").normals == [(0.0, 10.0)] * 12


def test_daily_readings_of_a_year_become_their_months_means() -> None:
    day, rows = datetime.date(2023, 1, 1), []
    while day.year == 2023:
        wave = 2 if day.day % 2 else -2
        rows.append(f"{day},{NIGHTS[day.month - 1] + wave},{DAYS[day.month - 1] + wave}")
        day += datetime.timedelta(days=1)
    found = read_months(table("Date,Min °C,Max °C", rows), "UTC").normals
    assert found is not None
    for (night, high), usual, warm in zip(found, NIGHTS, DAYS, strict=True):
        assert abs(night - usual) <= 0.15 and abs(high - warm) <= 0.15
    few = read_months(table("Date,Min °C,Max °C", rows[:300]), "UTC")
    assert few.normals is None and few.problem is not None and "November, December" in few.problem


@pytest.mark.parametrize(
    ("data", "says"),
    [
        (b"", "empty"),
        (table(rows=["Jan,1,5"]), "All twelve months are needed; February"),
        (table(rows=[f"{name},9,5" for name in NAMES]), "has a night of 9 °C above its day of 5 °C"),
        (table(rows=[f"{name},900,950" for name in NAMES]), "which no month has"),
        (table(rows=["Jan,1,5", "Jan,2,6"]), "gives January twice"),
        (table(rows=["Maybe,1,5"]), "is no month with two numbers"),
        (b"PK\x03\x04", "a spreadsheet"),
    ],
)
def test_what_makes_no_sense_is_said_and_nothing_half_taken(data: bytes, says: str) -> None:
    found = read_months(data, "UTC")
    assert found.normals is None and found.problem is not None and says in found.problem
