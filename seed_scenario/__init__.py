"""Withy End, the made-up household of the demo: a season in progress on whatever day it is looked at.

The files beside this one are written for a model season (year 0) and the years before it (-1, -2). `load` moves them so
that year 0 is the calendar year of the day that is shown, and leaves out what has not happened by then.
"""

from __future__ import annotations

import csv
import datetime
import tomllib
from importlib.resources import files
from typing import Any

Record = dict[str, Any]
WHOLE = ("count", "spacing_cm", "weight_g")
REAL = ("pot_l", "tmin", "tmax")
BEGUN = "01-01"
"""Month and day on which places, people and batches of a season were put down."""


def load(today: str) -> list[Record]:
    """Every record of the household as of a day (`YYYY-MM-DD`), each a whole change with its stamp."""
    year = int(today[0:4])
    site = _table("site.toml")
    people = {person["key"]: person for person in site["people"]}
    stamps = _Stamps()
    made = [_record("site", "site", stamps.at(f"{year - 2}-{BEGUN}", "00:00", "hazelaaa"), site["site"])]
    for key, person in people.items():
        made.append(_record("person", f"person.{key}", stamps.at(f"{year - 2}-{BEGUN}", "00:01", "hazelaaa"), {"name": person["name"]}))
    for place in _table("places.toml")["places"]:
        made.append(_plain("place", place, ("within",), stamps, year))
    for fixture in _table("fixtures.toml")["fixtures"]:
        made.append(_plain("fixture", fixture, ("place",), stamps, year))
    for variety in _table("varieties.toml")["varieties"]:
        fields = {"name": variety["name"], "crop": variety["crop"]}
        made.append(_record("variety", f"variety.{variety['id']}", stamps.at(f"{year - 2}-{BEGUN}", "00:04", "hazelaaa"), fields))
    years: dict[str, int] = {}
    for batch in _table("batches.toml")["batches"]:
        years[batch["key"]] = year + batch["year"]
    for batch in _table("batches.toml")["batches"]:
        made.append(_batch(batch, years, stamps))
    number = 0
    for name in ("diary_last_years.csv", "diary_this_year.csv"):
        for row in _rows(name):
            number += 1
            on = _date(year + int(row["year"]), row["on"])
            if on <= today:
                made.append(_deed(row, on, number, years, people, stamps))
    return made


class _Stamps:
    """Stamps that never repeat, from the day and time a thing was written down."""

    def __init__(self) -> None:
        self._used: set[str] = set()

    def at(self, on: str, at: str, device: str) -> str:
        moment = datetime.datetime.fromisoformat(f"{on}T{at}:00+00:00")
        ms = int(moment.timestamp() * 1000)
        for counter in range(0x10000):
            stamp = f"{ms:012x}-{counter:04x}-{device}"
            if stamp not in self._used:
                self._used.add(stamp)
                return stamp
        raise ValueError(f"more than 65,536 entries at {on} {at}")


def _table(name: str) -> dict[str, Any]:
    return tomllib.loads(files(__name__).joinpath(name).read_text(encoding="utf-8"))


def _rows(name: str) -> list[dict[str, str]]:
    return list(csv.DictReader(files(__name__).joinpath(name).read_text(encoding="utf-8").splitlines()))


def _record(kind: str, id_: str, stamp: str, fields: dict[str, Any]) -> Record:
    return {"id": id_, "kind": kind, "stamp": stamp, "fields": {name: fields[name] for name in sorted(fields)}}


def _place(key: str) -> str:
    """The id of a place, or of a fixture that plants stand on (written with a # before it)."""
    return f"fixture.{key[1:]}" if key.startswith("#") else f"place.{key}"


def _plain(kind: str, given: dict[str, Any], references: tuple[str, ...], stamps: _Stamps, year: int) -> Record:
    fields = {name: _place(value) if name in references else value for name, value in given.items() if name != "key"}
    return _record(kind, f"{kind}.{given['key']}", stamps.at(f"{year - 2}-{BEGUN}", "00:02", "hazelaaa"), fields)


def _batch_id(key: str, years: dict[str, int]) -> str:
    return f"batch.{years[key]}.{key}"


def _batch(given: dict[str, Any], years: dict[str, int], stamps: _Stamps) -> Record:
    year = years[given["key"]]
    fields: dict[str, Any] = {"variety": f"variety.{given['variety']}", "year": year}
    for name in ("want", "spacing_cm", "rows", "pot_l"):
        if name in given:
            fields[name] = given[name]
    fields["for_place"] = _place(given["for_place"])
    if "sow_on" in given:
        fields["sow_on"] = _date(year, given["sow_on"])
    for name in ("follows", "near"):
        if name in given:
            fields[name] = _batch_id(given[name], years)
    return _record("batch", _batch_id(given["key"], years), stamps.at(f"{year}-{BEGUN}", "00:05", "hazelaaa"), fields)


def _deed(
    row: dict[str, str],
    on: str,
    number: int,
    years: dict[str, int],
    people: dict[str, dict[str, Any]],
    stamps: _Stamps,
) -> Record:
    fields: dict[str, Any] = {"on": on, "at": row["at"], "did": row["did"], "by": f"person.{row['by']}"}
    if row["batch"]:
        fields["batch"] = _batch_id(row["batch"], years)
    for name in ("place", "to_place"):
        if row[name]:
            fields[name] = _place(row[name])
    if row["fixture"]:
        fields["fixture"] = f"fixture.{row['fixture']}"
    if row["step"]:
        fields |= {"job": f"{fields['batch']}.{row['step']}", "part": 1}
    for name in WHOLE:
        if row[name]:
            fields[name] = int(row[name])
    for name in REAL:
        if row[name]:
            value = float(row[name])
            fields[name] = int(value) if value.is_integer() else value
    for name in ("found", "level", "condition", "note"):
        if row[name]:
            fields[name] = row[name]
    stamp = stamps.at(on, row["at"], people[row["by"]]["device"])
    return _record("diary", f"deed.{on[0:4]}.{number:04d}", stamp, fields)


def _date(year: int, month_day: str) -> str:
    """A day of a year; 29 February becomes 28 in a plain year."""
    try:
        return datetime.date.fromisoformat(f"{year:04d}-{month_day}").isoformat()
    except ValueError:
        return f"{year:04d}-02-28"
