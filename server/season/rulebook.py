"""The rulebook: all growing knowledge for one household, worked out as data for the kernel on every phone."""

from __future__ import annotations

import datetime
import hashlib
import json
from collections.abc import Callable
from functools import partial
from statistics import NormalDist
from typing import Any, Protocol

from server.kernel.read.merge import Record, visible
from server.season.climate import COVERS, DAYS, Site, heat, month_and_day, warmth
from server.season.crop_calendar import Table
from server.season.crop_knowledge import make_crop
from server.season.frost import frost_days
from server.season.heat_sums import CERTAIN_BAND, SPELL_SPREAD_C
from server.season.house import House
from server.season.houses import Climates, climate_mark, climates_of, heat_read
from server.season.my_way import household_tables
from server.season.quantities import kept_together
from server.season.seed_quantity import seed_tables
from server.season.sun import sun_day
from server.season.thermometers import is_reading
from server.season.upkeep import upkeep_of
from server.season.windows import cover_of

FORMAT = 1
DARK_ALL_DAY = -100_000
"""In place of civil dusk, where there is no day to end."""
LEAP_YEAR_START = datetime.date(2028, 1, 1)
MATTERS = {
    "variety": ("crop", "overrides"),
    "place": ("name", "sort", "cover", "within", "heated_to_c", "night_gain_c"),
    "diary": ("did", "place", "on", "tmin", "tmax"),
}
"""Of some kinds only these fields bear on the rulebook."""


class CalendarSet(Protocol):
    """What is read from the calendars' folder."""

    @property
    def crops(self) -> dict[str, Table]:
        """Crop tables by id."""

    @property
    def care(self) -> Table:
        """Troubles by id."""

    @property
    def cautions(self) -> Table:
        """Cautions by id."""

    @property
    def standing(self) -> Table:
        """The standing jobs' intervals."""

    @property
    def upkeep(self) -> Table:
        """Work that no crop asks for, by its name."""

    @property
    def vessels(self) -> Table:
        """Pots, trays and bags as they are sold."""

    @property
    def rotation(self) -> Table:
        """What is risked where a family comes back too soon."""

    @property
    def wrong(self) -> dict[str, str]:
        """Why a file or a part of one was left out, by the file's name."""


def rulebook_inputs(records: list[Record]) -> list[Record]:
    """The records a rulebook depends on, in order of id."""
    return sorted(
        (
            record
            for record in records
            if visible(record)
            and (
                record["kind"] in ("site", "crop")
                or (record["kind"] == "place" and not record["fields"].get("gone"))
                or is_reading(record)
                or (record["kind"] == "variety" and (record["fields"].get("overrides") or record["fields"].get("crop")))
                or (record["kind"] == "lesson" and record["fields"].get("taken") is True)
            )
        ),
        key=lambda record: str(record["id"]),
    )


def fingerprint(records: list[Record]) -> str:
    """A mark that changes exactly when something the rulebook depends on does."""
    parts = []
    for record in rulebook_inputs(records):
        fields = record["fields"]
        wanted = MATTERS.get(record["kind"])
        if wanted is not None:
            fields = {name: fields.get(name) for name in wanted}
        parts.append([record["id"], record["kind"], fields])
    return hashlib.sha256(_canonical(parts)).hexdigest()


def _canonical(data: Any) -> bytes:
    return json.dumps(data, sort_keys=True, ensure_ascii=False, separators=(",", ":")).encode()


def make_rulebook(calendars: CalendarSet, records: list[Record], worked: dict[str, Any] | None = None) -> dict[str, Any]:
    """The rulebook for these records, as DEVELOPERS.md section 5 describes it.

    worked: what was worked out last time, by a mark of what it came from; changed in place, so that only what has changed is
    worked out again.
    """
    last = dict(worked or {})
    now: dict[str, Any] = worked if worked is not None else {}
    now.clear()

    def once(mark: Any, work: Callable[[], Any]) -> Any:
        key = hashlib.sha256(_canonical(mark)).hexdigest()
        now[key] = last[key] if key in last else work()
        return now[key]

    inputs = rulebook_inputs(records)
    site_fields = next((record["fields"] for record in inputs if record["kind"] == "site"), None)
    climates: Climates = once(["climates", climate_mark(inputs)], lambda: climates_of(inputs))
    site = climates.site
    site_mark = hashlib.sha256(_canonical([site.__dict__ | {"own": dict(site.own)}])).hexdigest()
    household = household_tables(calendars.crops, inputs)
    tables = household.crops
    left_out = {**calendars.wrong, **household.wrong}

    missed = calendars.standing["missed"]

    def grown(found: dict[str, Table]) -> dict[str, Any]:
        made = {}
        for name, table in found.items():
            try:
                made[name] = once([site_mark, table, missed], partial(make_crop, site, table, missed))
            except (ArithmeticError, LookupError, TypeError, ValueError) as error:  # one crop never takes the others with it
                many = table["many"].capitalize()
                left_out[name] = f"{many} could not be worked out for this site and were left out ({error!r})."
        return made

    crops, varieties = grown(dict(sorted(tables.items()))), grown(household.varieties)
    known = [*crops.values(), *varieties.values()]
    book: dict[str, Any] = {
        "format": FORMAT,
        "site_known": site.known,
        "crops": crops,
        "varieties": varieties,
        "seeds": seed_tables(int(crop["seeds_for"]) for crop in known),
        "heat": {
            f"{climate}|{name}": once([site_mark, climate, name], partial(heat, site, climate, *_bounds(name)))
            for name in _series_of(known)
            for climate in (*COVERS, *site.own)
        },
        "heat_read": _heat_read(climates, _series_of(known)),
        "spell": round(10 * SPELL_SPREAD_C * NormalDist().inv_cdf((1 + CERTAIN_BAND) / 2)),
        "warmth": {climate: warmth(site, climate) for climate in (*COVERS, *site.own)},
        "frost": once(["frost", climate_mark(inputs)], lambda: _frost(climates)),
        "houses": climates.houses,
        "house_says": climates.says,
        "learned": climates.learned,
        "care": kept_together(_care(calendars.care, tables)),
        "standing": _standing(calendars.standing, site),
        "upkeep": once([site_mark, calendars.upkeep], lambda: upkeep_of(site, calendars.upkeep)),
        "vessels": _vessels(calendars.vessels),
        "rotation": [
            {
                "name": risk["name"],
                "families": risk.get("families", []),
                "crops": risk.get("crops", []),
                "years": risk.get("years"),
            }
            for risk in calendars.rotation.get("risks", [])
        ],
        "cautions": {
            name: {"title": it["title"], "say": kept_together(it["say"])} for name, it in sorted(calendars.cautions.items())
        },
        "slack": dict(calendars.standing["slack"]),
        "dusk": _dusk(site_fields or {}),
        "left_out": left_out,
    }
    book["version"] = hashlib.sha256(_canonical(book)).hexdigest()[:16]
    return book


def _vessels(table: Table) -> dict[str, Any]:
    """Pots and trays in whole millimetres and millilitres; nothing where the table could not be read."""
    if not table:
        return {}

    def thousandths(value: float) -> int:
        return round(1000 * value)

    tray, seeds = table["trays"], table["seeds"]
    return {
        "pots": sorted([thousandths(pot["litres"]), round(10 * pot["cm"])] for pot in table["pots"]),
        "tray": [round(10 * tray["length_cm"]), round(10 * tray["width_cm"]), thousandths(tray["litres"])],
        "cells": sorted([cells["count"], thousandths(cells["litres"])] for cells in table["cells"]),
        "seeds": [seeds["pot"], seeds["half"], seeds["full"], thousandths(seeds["pot_litres"])],
        "tools": sorted(table["tools"]["words"]),
        "lasts": sorted(table["lasts"]["words"]),
        "bags": [sorted(table["bags"]["litres"]), table["bags"]["usual"]],
    }


def _dusk(site: dict[str, Any]) -> list[int | None] | None:
    """Civil dusk on each seventh day of a leap year from 1 January, in minutes after midnight UTC (over 1440 where that
    falls on the next day there); None for nights that stay light, DARK_ALL_DAY for days that never get light. Without a
    place on the globe there is no dusk."""
    if site.get("lat") is None or site.get("lon") is None:
        return None
    minutes: list[int | None] = []
    for place in range(0, DAYS, 7):
        on = LEAP_YEAR_START + datetime.timedelta(days=place)
        sun = sun_day(float(site["lat"]), float(site["lon"]), on, _solar_zone(float(site["lon"])))
        dark = sun.dusk
        midnight = datetime.datetime(on.year, on.month, on.day, tzinfo=datetime.UTC)
        if dark is None:
            minutes.append(DARK_ALL_DAY if sun.polar == "night" else None)
        else:
            minutes.append(round((dark - midnight).total_seconds() / 60))
    return minutes


def _solar_zone(lon: float) -> str:
    """A zone whose days are the sun's there, whatever the clocks say, so that each date has its own dusk."""
    hours = round(lon / 15)
    return f"Etc/GMT{-hours:+d}" if hours else "UTC"


def _series_of(known: list[dict[str, Any]]) -> list[str]:
    """The heat series that some path counts by, as `base|upper`."""
    return sorted({link["heat"] for crop in known for step in crop["steps"] for link in step["after"] if "heat" in link})


def _bounds(name: str) -> tuple[float, float | None]:
    base, upper = name.split("|")
    return float(base), float(upper) if upper else None


def _frost(climates: Climates) -> dict[str, Any]:
    """For each cover and each house of its own the days of spring and autumn that frost reaches in a share of years."""
    made = {}
    for climate in (*(cover for cover in COVERS if cover != "indoors"), *climates.site.own):
        found = frost_days(climates.site, climates.house_of.get(climate) or House(cover_of(climate)))
        if found is not None:
            made[climate] = {
                name: [f"{month:02d}-{day:02d}" for month, day in map(month_and_day, ends)] for name, ends in found.items()
            }
    return made


def _heat_read(climates: Climates, series: list[str]) -> dict[str, Any]:
    """Heat of the days that thermometers read, for each climate one of them speaks for."""
    made = {}
    for climate in sorted(climates.read):
        for name in series:
            found = heat_read(climates, climate, *_bounds(name))
            if found is not None:
                made[f"{climate}|{name}"] = found
    return made


def _care(care: Table, tables: dict[str, Table]) -> dict[str, Any]:
    return {
        name: {
            "name": it["name"],
            "hosts": _hosts(it, tables),
            "steps": [
                {"say": step["say"], "cautions": list(step.get("cautions", [])), "minutes": step.get("minutes", 10)}
                for step in it["steps"]
            ],
            "recheck": list(it["recheck"]),
            "watch_days": it["watch_days"],
            "clear_looks": it["clear_looks"],
            "clear_gap": it["clear_gap"],
        }
        for name, it in sorted(care.items())
    }


def _hosts(trouble: Table, tables: dict[str, Table]) -> list[str]:
    """Crops that a trouble goes for: by name, like one of these, or by family."""
    named, families = trouble["hosts"], trouble.get("host_families", [])
    own = [crop for crop, table in sorted(tables.items()) if table.get("like") in named or table["family"] in families]
    return [crop for crop in named if crop in tables] + [crop for crop in own if crop not in named]


def _standing(standing: Table, site: Site) -> dict[str, Any]:
    """The standing jobs' intervals; months are written for the north and turned by half a year in the south."""
    made = {key: value for key, value in standing.items() if key not in ("slack", "missed", "source", "water_every")}
    by_cover = {cover: list(months) for cover, months in standing["water_every"].items() if cover != "source"}
    if site.south:
        by_cover = {cover: months[6:] + months[:6] for cover, months in by_cover.items()}
    made["water_every"] = by_cover
    return made
