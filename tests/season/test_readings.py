"""Thermometer files as loggers and people write them: read, asked about, or refused with a reason."""

from __future__ import annotations

import csv
import datetime
import io
import re

import pytest
from hypothesis import given
from hypothesis import strategies as st

from server.season.day_words import ORDERS, moment, order_of
from server.season.readings import CELSIUS, FAHRENHEIT, ReadingsFile, read_readings
from server.season.table_text import MOST_BYTES, MOST_ROWS, number

TZ = "Europe/London"
DAYS = st.dates(datetime.date(2020, 1, 1), datetime.date(2031, 12, 31))
D = datetime.date


def read(text: str, answers: dict[str, str] | None = None, today: D | None = None) -> ReadingsFile:
    return read_readings(text.encode(), TZ, answers, today)


def test_a_plain_file_of_minima_and_maxima() -> None:
    found = read("Date,Min °C,Max °C\n2026-05-03,4.5,17\n2026-05-04,-1,12.25\n")
    assert found == ReadingsFile({D(2026, 5, 3): (4.5, 17.0), D(2026, 5, 4): (-1.0, 12.25)})


@pytest.mark.parametrize(
    "text",
    [
        "MAX TEMP (C);date;Min Temp (C)\n17;2026-05-03;4,5\n",
        "Datum\tTmin °C\tTmax °C\n03.05.2026\t4,5\t17,0\n",
        '"Date","Low °C","High °C"\n"3 May 2026","4.5 °C","17 °C"\n',
        "logger 4711, shed\nserial,99\n\nday,minimum celsius,maximum celsius,humidity min %\n2026/5/3,4.5,17,80\n",
        'date,min °C,max °C\r\n2026-05-03 23:59,"4,5","17,0"\r\n',
        "\ufeffdate,lowest °C,highest °C\nMay 3, 2026,4.5,17\n".replace("May 3, 2026", '"May 3, 2026"'),
        "date;min;max\n2026-05-03;4,5 °C;17 °C\n",
        "date,min °F,max °F\n2026-05-03,40.1,62.6\n",
        "date,min °C,max °F\n2026-05-03,4.5,62.6\n",
    ],
)
def test_the_same_day_in_many_hands(text: str) -> None:
    assert read(text) == ReadingsFile({D(2026, 5, 3): (4.5, 17.0)})


def test_other_encodings_are_read() -> None:
    for encoding in ("cp1252", "utf-16", "utf-8-sig"):
        assert read_readings("date,min °C,max °C\n2026-05-03,4.5,17\n".encode(encoding), TZ).days == {D(2026, 5, 3): (4.5, 17)}


def test_single_temperatures_are_gathered_into_days() -> None:
    rows = "".join(f"2026-05-03 {hour:02d}:00,{10 + 6 * (hour == 15) - 5 * (hour == 5)}\n" for hour in range(24))
    assert read("Timestamp,Temperature (°C)\n" + rows).days == {D(2026, 5, 3): (5.0, 16.0)}


def test_date_and_time_in_two_columns_with_am_and_pm() -> None:
    found = read("time,temp f,date\n5:10 AM,41,05/13/2026\n2:30 pm,68,05/13/2026\n")
    assert found.days == {D(2026, 5, 13): (5.0, 20.0)}


def test_a_day_without_its_afternoon_has_no_maximum() -> None:
    found = read("date,time,temp °C\n2026-05-03,05:00,4\n2026-05-03,14:00,15\n2026-05-04,05:00,3\n2026-05-04,08:00,7\n")
    assert found.days == {D(2026, 5, 3): (4.0, 15.0)}
    assert [row.line for row in found.bad] == [4] and "afternoon" in found.bad[0].why


def test_times_with_an_offset_come_to_the_sites_own_date() -> None:
    """13:00 UTC on 2 January is 02:00 on 3 January in New Zealand, which is 13 hours ahead in summer."""
    text = "timestamp,temp °C\n2026-01-02T13:00:00Z,9\n2026-01-03T01:00:00+00:00,21\n"
    assert read_readings(text.encode(), "Pacific/Auckland").days == {D(2026, 1, 3): (9.0, 21.0)}


def test_units_that_are_nowhere_said_are_asked_for() -> None:
    text = "date,min,max\n2026-05-03,40,62\n"
    found = read(text)
    assert found.days == {} and [(q.id, q.choices) for q in found.questions] == [("units", (CELSIUS, FAHRENHEIT))]
    assert read(text, {"units": FAHRENHEIT}).days == {D(2026, 5, 3): (4.44, 16.67)}
    assert read(text, {"units": CELSIUS}).days == {D(2026, 5, 3): (40.0, 62.0)}
    assert read(text, {"units": "K"}).questions == found.questions


def test_day_or_month_first_is_asked_and_never_guessed() -> None:
    text = "date,min °C,max °C\n03/05/2026,4,17\n04/05/2026,5,18\n"
    found = read(text)
    assert found.days == {} and [(q.id, q.choices) for q in found.questions] == [("order", ORDERS)]
    assert "03/05/2026" in found.questions[0].ask
    assert list(read(text, {"order": "day first"}).days) == [D(2026, 5, 3), D(2026, 5, 4)]
    assert list(read(text, {"order": "month first"}).days) == [D(2026, 3, 5), D(2026, 4, 5)]


def test_one_date_that_fits_only_one_order_settles_the_file() -> None:
    assert list(read("date,min °C,max °C\n03/05/2026,4,17\n13/05/2026,5,18\n").days) == [D(2026, 5, 3), D(2026, 5, 13)]
    assert list(read("date,min °C,max °C\n03/05/2026,4,17\n03/15/2026,5,18\n").days) == [D(2026, 3, 5), D(2026, 3, 15)]
    mixed = read("date,min °C,max °C\n13/05/2026,4,17\n03/15/2026,5,18\n")
    assert [q.id for q in mixed.questions] == ["order"]
    answered = read("date,min °C,max °C\n13/05/2026,4,17\n03/15/2026,5,18\n", {"order": "day first"})
    assert list(answered.days) == [D(2026, 5, 13)] and [row.line for row in answered.bad] == [3]


def test_two_temperature_columns_are_asked_about() -> None:
    text = "date,time,Temp tunnel °C,Temp outside °C\n2026-05-03,05:00,4,1\n2026-05-03,14:00,25,15\n"
    (question,) = read(text).questions
    assert (question.id, question.choices) == ("temp", ("Temp tunnel °C", "Temp outside °C"))
    assert read(text, {"temp": "Temp outside °C"}).days == {D(2026, 5, 3): (1.0, 15.0)}


BAD = [
    ("soon,4,17", "no date"), ("2026-02-30,4,17", "no date"), ("2026-05-09,,17", "missing"),
    ("2026-05-09,cold,17", "not a number"),
    ("2026-05-09,19,17", "above the maximum"), ("2026-05-09,4,99", "no thermometer"), ("2026-05-09,4", "missing"),
    ("2026-05-09,4,5,17,5", "decimal comma"), ("2026-05-03,3,17", "there already"), ("2027-05-03,3,17", "still to come"),
    ("2026-05-09,nan,17", "not a number"), ("2026-05-09,1e3,17", "not a number"),
]  # fmt: skip


@pytest.mark.parametrize(("row", "why"), BAD)
def test_bad_rows_are_left_out_with_line_and_reason(row: str, why: str) -> None:
    found = read(f"date,min °C,max °C\n2026-05-03,4,17\n{row}\n2026-05-05,6,18\n", today=D(2026, 6, 1))
    assert list(found.days) == [D(2026, 5, 3), D(2026, 5, 5)] and found.problem is None
    assert [bad.line for bad in found.bad] == [3] and why in found.bad[0].why


def test_the_same_day_twice_with_the_same_readings_is_one_day() -> None:
    assert read("date,min °C,max °C\n2026-05-03,4,17\n2026-05-03,4,17\n") == ReadingsFile({D(2026, 5, 3): (4.0, 17.0)})


WRONG = [
    (b"PK\x03\x04rest", "spreadsheet"), (b"\xd0\xcf\x11\xe0", "spreadsheet"), (b"%PDF-1.7", "PDF"), (b"\x89PNG\r\n", "picture"),
    (b"", "empty"), (b"   \n\n", "empty"), (b"<html>", "web page"), (b'{"a": 1}', "data file"), (b"a\x00b", "not text"),
    (b"date,min,max\n", "no rows follow"), (b"plant,colour\nrose,red\n", "names its columns"),
    (b"date,min C,max C\nsoon,1,2\n", "Line 2"), (b"x" * (MOST_BYTES + 1), "at most 8 MB"),
    (b"date,min C,max C\n" + b"1\n" * (MOST_ROWS + 1), "more than 120,000"),
]  # fmt: skip


@pytest.mark.parametrize(("data", "says"), WRONG, ids=[says for _, says in WRONG])
def test_a_file_that_cannot_be_read_is_said_plainly(data: bytes, says: str) -> None:
    found = read_readings(data, TZ)
    assert found.days == {} and found.questions == [] and found.problem is not None and says in found.problem


@given(st.binary(max_size=400))
def test_no_bytes_make_it_fail(data: bytes) -> None:
    found = read_readings(data, TZ)
    assert found.problem or found.questions or found.days


@given(st.text(alphabet="0123456789/-.,;:°CF\"' \n\tabcm", max_size=300))
def test_no_rows_make_it_fail(rows: str) -> None:
    found = read("date,min °C,max °C\n" + rows)
    assert found.problem or found.questions or found.days
    assert all(low <= high for low, high in found.days.values())


SPAN = st.dictionaries(DAYS, st.tuples(st.integers(-200, 300), st.integers(0, 250)), min_size=1, max_size=20)
DATE_FORMATS = st.sampled_from(["%Y-%m-%d", "%d.%m.%Y", "%d %b %Y", "%Y/%m/%d"])


@given(SPAN, st.sampled_from(",;\t"), st.booleans(), DATE_FORMATS, st.permutations(["date", "min °C", "max °C"]))
def test_what_the_standard_writer_writes_is_read_back(
    days: dict[D, tuple[int, int]], separator: str, comma: bool, form: str, order: list[str]
) -> None:
    """Written by the standard library's csv writer and strftime; tenths of a degree."""
    out = io.StringIO()
    writer = csv.writer(out, delimiter=separator)
    writer.writerow(order)
    expected = {}
    for on, (low, spread) in days.items():
        expected[on] = (low / 10, (low + spread) / 10)
        cells = {"date": on.strftime(form), "min °C": f"{low / 10:.1f}", "max °C": f"{(low + spread) / 10:.1f}"}
        if comma:
            cells |= {name: text.replace(".", ",") for name, text in cells.items() if name != "date"}
        writer.writerow([cells[name] for name in order])
    assert read(out.getvalue()) == ReadingsFile(dict(sorted(expected.items())))


@given(st.lists(DAYS, min_size=1, max_size=12))
def test_the_order_is_only_told_where_the_dates_tell_it(days: list[D]) -> None:
    found = order_of([on.strftime("%d/%m/%Y") for on in days])
    assert found == (ORDERS[0] if any(on.day > 12 for on in days) else None)
    found = order_of([on.strftime("%m/%d/%Y") for on in days])
    assert found == (ORDERS[1] if any(on.day > 12 for on in days) else None)


@pytest.mark.parametrize(
    "text", ["2026-13-01", "2026-05-03 25:00", "31/4/2026", "3 Foo 2026", "", "2026-05-03 12:61", "13:00 pm"]
)
def test_no_date_is_no_date(text: str) -> None:
    assert moment(text, ORDERS[0]) is None


def test_midnight_written_as_24_is_the_next_day() -> None:
    found = moment("2026-12-31 24:00", ORDERS[0])
    assert found is not None and (found.on, found.at) == (D(2027, 1, 1), datetime.time(0))


@pytest.mark.parametrize(
    ("text", "value"), [("4,5", 4.5), ("−3.5", -3.5), ("+2", 2.0), (".5", 0.5), ("12 °C", 12.0), ("1.234,5", None), ("", None)]
)
def test_numbers_with_point_or_comma(text: str, value: float | None) -> None:
    assert number(text) == value


def test_no_reason_shows_the_insides() -> None:
    for row, _ in BAD:
        found = read(f"date,min °C,max °C\n2026-05-03,4,17\n{row}\n")
        assert not any(re.search(r"[A-Z]\w+Error|None|\bself\b", bad.why) for bad in found.bad)
