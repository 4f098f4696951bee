"""Whatever has happened to a grower's file on its way, it is read or said: no answer but rows, faults and sentences.

Files of every sort that the server reads are harmed byte by byte: thermometers, months, lists of seeds, saved copies.
(Calendars: tests/calendars/test_any_value.py; archives and photos: test_keeping_badly.py and test_photos.py in tests/server.)
"""

from __future__ import annotations

import dataclasses
import datetime
import json
import tempfile
from pathlib import Path
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from server.calendars.read import read_calendars
from server.commands.carry import read_copy
from server.errors import SettingsError
from server.season.month_table import read_months
from server.season.readings import read_readings
from server.season.seed_list import read_seed_list
from server.season.table_text import LONGEST_CELL, MOST_LONG
from tests.server.conftest import change

TODAY = datetime.date(2031, 5, 19)
CROPS = read_calendars().crops
READINGS = "date,min °C,max °C\n" + "".join(f"2031-04-{day:02d},{day / 3:.1f},{day + 9}.5\n" for day in range(1, 29))
MONTHS = "month;min °C;max °C\n" + "".join(f"{month};{month},5;{month + 9}\n" for month in range(1, 13))
SEEDS = "crop,variety,germination %,seeds\n" + "".join(
    f'{crop},"Red, {n}",{60 + n},{n + 10}\n' for n, crop in enumerate(sorted(CROPS)[:20])
)
COPY = json.dumps({"mudproof": 1, "records": [change(f"d{n}", note="x", count=n) for n in range(4)]})
NASTY = [
    b'"', b"\n", b"\r", b";", b",", b"\t", b"\x00", b"\xff", b"\xfe\xff", b"\xe2\x80\xae", b"=cmd|", b"1e999", b"-", b"9" * 400,
    b"NaN", b"x" * (LONGEST_CELL + 1), b"\xef\xbb\xbf", b"{", b"[" * 3000, b"\\ud800", b"__proto__", b"null",
]  # fmt: skip


@st.composite
def harmed(draw: st.DrawFn, whole: bytes) -> bytes:
    """The file with a few pieces of it put in, changed, doubled or taken out; or cut short."""
    data = bytearray(whole)
    for _ in range(draw(st.integers(1, 5))):
        at, size = draw(st.integers(0, len(data))), draw(st.integers(0, 30))
        piece = draw(st.sampled_from(NASTY) | st.binary(max_size=12) | st.just(bytes(data[at : at + size])))
        data[at : at + draw(st.sampled_from([0, 0, 1, size]))] = piece
    return bytes(data[: draw(st.integers(0, len(data)))] if draw(st.integers(0, 9)) == 0 else data)


def said_well(found: Any) -> None:
    """Faults name their line; all of it can travel to a phone."""
    lines = [bad.line for bad in found.bad]
    assert all(line > 0 for line in lines) and lines == sorted(lines)
    json.dumps(dataclasses.asdict(found), default=str, allow_nan=False).encode("utf-8", "surrogatepass")


@given(harmed(READINGS.encode()) | harmed(MONTHS.encode()))
def test_any_readings(data: bytes) -> None:
    found = read_readings(data, "Europe/London", {}, TODAY)
    said_well(dataclasses.replace(found, days={}))
    assert all(-60 <= low <= high <= 70 for low, high in found.days.values())
    said_well(read_months(data, "Europe/London", {}, TODAY))


@given(harmed(SEEDS.encode()))
def test_any_list_of_seeds(data: bytes) -> None:
    found = read_seed_list(data, CROPS)
    said_well(found)
    assert all(len(row.variety) <= LONGEST_CELL for row in found.good)


@given(harmed(COPY.encode()))
def test_any_saved_copy(data: bytes) -> None:
    with tempfile.NamedTemporaryFile(suffix=".json") as file:
        file.write(data)
        file.flush()
        try:
            good, bad = read_copy(Path(file.name))
            assert all(line.endswith(".") for line in bad)
            json.dumps(good, allow_nan=False).encode()
        except SettingsError as error:
            assert "saved copy" in error.say


def test_a_cell_of_any_length_is_its_rows_fault() -> None:
    """A quotation mark that nobody closed takes its own row, not the rest of the file. RFC 4180 sets a cell no length."""
    lines = READINGS.splitlines(keepends=True)
    for long in ("y" * 200_000, '"' + "y" * 200_000 + '"'):
        found = read_readings("".join([*lines[:5], f"2031-05-01,{long},3\n", *lines[5:]]).encode(), "UTC", {}, TODAY)
        assert len(found.days) == 28 and [(bad.line, "200,000" in bad.why) for bad in found.bad] == [(6, True)]
    torn = SEEDS.splitlines(keepends=True)
    torn[3] = torn[3].replace('2"', "2")
    packets = read_seed_list(("".join(torn) + "# " + "z" * LONGEST_CELL).encode(), CROPS)
    assert len(packets.good) >= 17 and packets.bad[0].line == 4


@pytest.mark.parametrize("mark", ['"', "'"])
def test_many_such_rows_are_no_table(mark: str) -> None:
    data = "crop,variety\n" + f"leek,{mark}{'y' * 2000}\n" * (MOST_LONG + 5)
    found = read_seed_list(data.encode(), CROPS)
    assert found.problem and "cell of" in found.problem and found.problem.endswith("anew.")
