"""Withy End, the made-up household of the demo: a season in progress on whatever day it is looked at.

The files beside this one are written for a model season (year 0) and the years before it (-1, -2), for a person to read
and edit. `load` moves them so that year 0 is the calendar year of the day that is shown, and leaves out what has not
happened by then. What a plain key in a file becomes as an id is in `_Household`.
"""

from __future__ import annotations

import csv
import datetime
import tomllib
from importlib.resources import files
from typing import Any

Record = dict[str, Any]
"""A record change in its canonical form: id, kind, stamp, fields."""

DIARIES = ("diary_last_years.csv", "diary_this_year.csv")
WHOLE = ("count", "spacing_cm", "weight_g")
REAL = ("pot_l", "tmin", "tmax")
TEXT = ("answer", "found", "level", "condition", "product", "rate", "note")
FIRST_YEAR = -2
"""The season, counted from the one that is shown, at whose start the household wrote down its places."""
UPKEEP_CHOSEN = "10-02"
"""The day of the year before on which they sat down and chose what else is to be done."""
SEASON_BEGINS = "01-01"
"""The day of its year on which a batch is planned."""


def load(today: str) -> list[Record]:
    """Every record of the household as of a day (`YYYY-MM-DD`), in the order in which it was written down."""
    household = _Household(int(today[0:4]))
    records = [
        *household.ground(),
        *household.batches(),
        *household.upkeep(),
        *(record for record in household.diary() if record["fields"]["on"] <= today),
        *(record for record, written in household.jobs() if written <= today),
    ]
    return sorted(records, key=lambda record: (record["stamp"], record["id"]))


class _Household:
    """The files read for one season: keys become ids, and model years become calendar years."""

    def __init__(self, season: int) -> None:
        self._season = season
        self._people: dict[str, dict[str, Any]] = {person["key"]: person for person in _table("people.toml")}
        self._batch_years: dict[str, int] = {row["key"]: season + row["year"] for row in _table("batches.toml")}
        self._counters: dict[int, int] = {}

    def ground(self) -> list[Record]:
        """The site, and what has no season: people, places, fixtures, varieties."""
        start = f"{self._season + FIRST_YEAR:04d}-{SEASON_BEGINS}"
        first = next(iter(self._people))
        site = tomllib.loads(_text("site.toml"))
        made = [self._record("site", "site", start, "09:00", first, site)]
        for key, person in self._people.items():
            made.append(self._record("person", _person(key), start, "09:01", first, {"name": person["name"]}))
        for kind, name, references in (
            ("place", "places.toml", ("within",)),
            ("fixture", "fixtures.toml", ("place",)),
            ("variety", "varieties.toml", ()),
        ):
            for row in _table(name):
                fields = {field: _place(value) if field in references else value for field, value in row.items()}
                if "seeds_on" in fields:
                    fields["seeds_on"] = f"{self._season:04d}-{fields['seeds_on']}"
                made.append(self._record(kind, f"{kind}.{fields.pop('key')}", start, "09:02", first, fields))
        return made

    def batches(self) -> list[Record]:
        """What was and is to be grown, a record a batch."""
        made = []
        first = next(iter(self._people))
        for row in _table("batches.toml"):
            fields = dict(row)
            year = self._batch_years[fields.pop("key")]
            fields["year"] = year
            fields["variety"] = f"variety.{fields['variety']}"
            fields["for_place"] = _place(fields["for_place"])
            if "sow_on" in fields:
                fields["sow_on"] = f"{year:04d}-{fields['sow_on']}"
            for name in ("follows", "near"):
                if name in fields:
                    fields[name] = self._batch(fields[name])
            begun = f"{year:04d}-{SEASON_BEGINS}"
            made.append(self._record("batch", self._batch(row["key"]), begun, "09:03", first, fields))
        return made

    def upkeep(self) -> list[Record]:
        """The other work they chose, a record for each place."""
        made = []
        first, since = next(iter(self._people)), f"{self._season - 1:04d}-{UPKEEP_CHOSEN}"
        for row in _table("upkeep.toml"):
            fields = dict(row)
            for place in fields.pop("places", [None]):
                where = {} if place is None else {"place": _place(place)}
                id_ = ".".join(["upkeep", fields["work"], *where.values()])
                made.append(self._record("upkeep", id_, since, "20:30", first, {**fields, **where, "since": since}))
        return made

    def diary(self) -> list[Record]:
        """What was done and seen, the whole of every year there is."""
        made: list[Record] = []
        told: dict[str, int] = {}
        for name in DIARIES:
            for row in _rows(name):
                on = f"{self._season + int(row.get('year') or 0):04d}-{row['on']}"
                about = row["batch"] or row["fixture"] or row["job"] or row["place"]
                id_ = f"diary.{on}.{row['did']}.{about}"
                told[id_] = told.get(id_, 0) + 1
                if told[id_] > 1:
                    id_ = f"{id_}.{told[id_]}"
                made.append(self._record("diary", id_, on, row["at"], row["by"], self._deed(row, on)))
        return made

    def jobs(self) -> list[tuple[Record, str]]:
        """Jobs by hand, each with the day on which it was written down."""
        made = []
        for row in _table("jobs.toml"):
            fields = dict(row)
            written, by = f"{self._season:04d}-{fields.pop('written')}", fields.pop("by")
            id_ = f"job.{self._season:04d}.{fields.pop('key')}"
            fields["hand"] = True
            for name in ("from", "by_day"):
                if name in fields:
                    fields[name] = f"{self._season:04d}-{fields[name]}"
            if "place" in fields:
                fields["place"] = _place(fields["place"])
            if "for" in fields:
                fields["for"] = _person(fields["for"])
            made.append((self._record("job", id_, written, "20:00", by, fields), written))
        return made

    def _deed(self, row: dict[str, str], on: str) -> dict[str, Any]:
        fields: dict[str, Any] = {"on": on, "at": row["at"], "did": row["did"], "by": _person(row["by"])}
        if row["batch"]:
            fields["batch"] = self._batch(row["batch"])
        if row["step"]:
            fields["job"] = f"{fields['batch']}.{row['step']}"
        if row["job"]:
            fields["job"] = row["job"] if row["job"].startswith("upkeep.") else f"job.{self._season:04d}.{row['job']}"
        if row["fixture"]:
            fields["fixture"] = f"fixture.{row['fixture']}"
        for name in ("place", "to_place"):
            if row[name]:
                fields[name] = _place(row[name])
        for name in WHOLE:
            if row[name]:
                fields[name] = int(row[name])
        for name in REAL:
            if row[name]:
                value = float(row[name])
                fields[name] = int(value) if value.is_integer() else value
        fields.update({name: row[name] for name in TEXT if row[name]})
        return fields

    def _batch(self, key: str) -> str:
        return f"batch.{self._batch_years[key]}.{key}"

    def _record(self, kind: str, id_: str, on: str, at: str, by: str, fields: dict[str, Any]) -> Record:
        """A change stamped with its own day and time, taken as UTC; what falls on one minute is counted up."""
        moment = datetime.datetime.fromisoformat(f"{on}T{at}:00+00:00")
        ms = int(moment.timestamp()) * 1000
        counter = self._counters.get(ms, 0)
        self._counters[ms] = counter + 1
        stamp = f"{ms:012x}-{counter:04x}-{self._people[by]['device']}"
        return {"id": id_, "kind": kind, "stamp": stamp, "fields": dict(sorted(fields.items()))}


def _place(key: str) -> str:
    """The id of a place, or of a fixture that plants stand on (written with a # before it)."""
    return f"fixture.{key[1:]}" if key.startswith("#") else f"place.{key}"


def _person(key: str) -> str:
    return f"person.{key}"


def _text(name: str) -> str:
    return files(__name__).joinpath(name).read_text(encoding="utf-8")


def _rows(name: str) -> list[dict[str, str]]:
    """The rows of a diary. Raises ValueError for a row that has not just the columns of the first line."""
    lines = csv.DictReader(_text(name).splitlines())
    rows = []
    for row in lines:
        if None in row or None in row.values():
            raise ValueError(f"{name}, line {lines.line_num}: more or fewer columns than the first line has: {row}")
        rows.append(row)
    return rows


def _table(name: str) -> list[dict[str, Any]]:
    """The rows of a file that holds one list, named as the file is."""
    rows: list[dict[str, Any]] = tomllib.loads(_text(name))[name.removesuffix(".toml")]
    return rows
