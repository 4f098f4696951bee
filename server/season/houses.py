"""Houses with a climate of their own: by a heater, by a gain over outside, or by what their thermometer read.

Outside readings first correct the garden's own year, which every cover then builds on. A place that differs from what is
usual under its cover gets a climate named `<cover>.<place id>`.
"""

from __future__ import annotations

import datetime
from dataclasses import dataclass, field, replace
from typing import Any

from server.kernel.read.merge import Record
from server.season.climate import COVERS, Site, day_c, night_c, read_site
from server.season.constants import DAY_GAIN_C, NIGHT_GAIN_C
from server.season.degree_days import single_sine
from server.season.heat_sums import leap_place
from server.season.house import House, gain_c
from server.season.night_gain import LEAST_NIGHTS, NightGain, night_gain
from server.season.own_climate import house_year
from server.season.thermometers import Pair, Read, is_reading, thermometers

READ_DAYS = 300
"""So many days up to the last reading travel to the phone: a growing season and what led to it. [d]"""
WARMING_SORTS = ("propagator",)
"""Places that are warm for raising only: no batch ends there, so they need no year of their own."""


@dataclass
class Climates:
    """The household's climates."""

    site: Site
    """With the garden's own year, and that of each house which has one."""
    houses: dict[str, str] = field(default_factory=dict)
    """Climate by place."""
    says: dict[str, str] = field(default_factory=dict)
    """What makes each climate, in words for the list."""
    house_of: dict[str, House] = field(default_factory=dict)
    """The house behind each climate of its own, with what it learned."""
    learned: dict[str, dict[str, Any]] = field(default_factory=dict)
    """What each thermometer taught, by place; degrees in tenths."""
    read: dict[str, dict[datetime.date, Pair]] = field(default_factory=dict)
    """The days each climate was read, its own thermometer first, else from the one outside. [°C]"""


def household_climates(site_fields: dict[str, Any] | None, places: list[Record], readings: list[Record]) -> Climates:
    """The climates of a household's places. places, readings: visible records."""
    raw = {str(record["id"]): record["fields"] for record in places}
    by_root: dict[str, Read] = {}
    for place, read in sorted(thermometers(readings).items()):
        if place in raw:
            held = by_root.setdefault(_root(place, raw), Read())
            for on, pair in read.points.items():
                held.points.setdefault(on, pair)
            for on, pair in read.days.items():
                held.days.setdefault(on, pair)
    outside = Read()
    for root, read in by_root.items():
        if _house(root, raw).cover == "open":
            outside.points |= read.points
            outside.days |= read.days
    site = read_site(site_fields)
    if len(outside.points) >= LEAST_NIGHTS:
        year = house_year(site, House("open"), outside.points)
        site = read_site(site_fields, year.nights_c, year.days_c)
    made = Climates(site)
    covers = sorted({_house(place, raw).cover for place in raw} | {"open"})
    for cover in covers if outside.days else []:
        if cover != "indoors":
            made.read[cover] = _from_outside(outside.days, House(cover))
    own: dict[str, tuple[tuple[float, ...], tuple[float, ...]]] = {}
    for root in sorted(raw):
        if _root(root, raw) == root and raw[root].get("sort") not in WARMING_SORTS:
            _own(made, own, root, raw, by_root.get(root, Read()), outside)
    made.site = replace(made.site, own=own)
    return made


def climates_of(records: list[Record]) -> Climates:
    """The same from all the visible records of a household."""
    site = next((record["fields"] for record in records if record["kind"] == "site"), None)
    places = [record for record in records if record["kind"] == "place"]
    return household_climates(site, places, [record for record in records if is_reading(record)])


def climate_mark(records: list[Record]) -> list[Any]:
    """All that the climates depend on."""
    bearing = [record for record in records if record["kind"] in ("site", "place") or is_reading(record)]
    return [[record["id"], record["fields"]] for record in bearing]


def _own(made: Climates, own: dict[str, Any], root: str, raw: dict[str, dict[str, Any]], read: Read, outside: Read) -> None:
    """One house's climate, if it has one of its own, laid into the others."""
    house = _house(root, raw)
    enough = len(read.points) >= LEAST_NIGHTS
    if read.days:
        made.learned[root] = _learned(house, read, None)
    if house.cover == "open" and house.heated_to_c is None:
        return
    gain: NightGain | None = None
    if enough and house.night_gain_c is None and house.heated_to_c is None and house.cover != "indoors":
        gain = night_gain(read.points, outside.points, NIGHT_GAIN_C[house.cover])
        made.learned[root] = _learned(house, read, gain)
        if gain.learned:
            house = replace(house, night_gain_c=gain.gain_c)
    if house.heated_to_c is None and house.night_gain_c is None and not enough:
        return
    climate = f"{house.cover}.{root}"
    year = house_year(made.site, house, read.points)
    own[climate] = (year.nights_c, year.days_c)
    made.houses[root] = climate
    made.house_of[climate] = house
    made.says[climate] = _says(str(raw[root].get("name") or "it"), house, read, gain)
    if read.days:
        made.read[climate] = read.days
    elif outside.days and house.cover != "indoors":
        made.read[climate] = _from_outside(outside.days, house)


def house_at(climates: Climates, place: str, places: list[Record]) -> tuple[House, str | None]:
    """The house a place lies in, and the name of the climate it has of its own, if any. Open ground for an unknown place."""
    raw = {str(record["id"]): record["fields"] for record in places}
    if place not in raw:
        return House("open"), None
    root = _root(place, raw)
    return _house(root, raw), climates.houses.get(root)


def _root(place: str, raw: dict[str, dict[str, Any]]) -> str:
    """The place whose air it shares: the nearest outwards that says a cover, a heater or a gain, else the outermost."""
    path = _path(place, raw)
    for step in path:
        if raw[step].get("cover") or raw[step].get("heated_to_c") is not None or raw[step].get("night_gain_c") is not None:
            return step
    return path[-1]


def _path(place: str, raw: dict[str, dict[str, Any]]) -> list[str]:
    path = [place]
    while (outer := raw[path[-1]].get("within")) in raw and outer not in path:
        path.append(str(outer))
    return path


def _house(place: str, raw: dict[str, dict[str, Any]]) -> House:
    """Cover, heater and gain, each the nearest that is said outwards; a heater or gain beyond the cover is another's."""
    cover, heated, gain = "open", None, None
    for step in _path(place, raw):
        fields = raw[step]
        heated = heated if heated is not None else fields.get("heated_to_c")
        gain = gain if gain is not None else fields.get("night_gain_c")
        if fields.get("cover"):
            cover = fields["cover"] if fields["cover"] in COVERS else "open"
            break
    return House(cover, None if gain is None else float(gain), None if heated is None else float(heated))


def _from_outside(days: dict[datetime.date, Pair], house: House) -> dict[datetime.date, Pair]:
    """What a house was like on the days that were read outside only."""
    by_night, by_day = gain_c(house), DAY_GAIN_C.get(house.cover, 0.0)
    floor = house.heated_to_c if house.heated_to_c is not None else -100.0
    made = {}
    for on, (low, high) in days.items():
        night = max(floor, low + by_night)
        made[on] = (night, max(night, high + by_day))
    return made


def _learned(house: House, read: Read, gain: NightGain | None) -> dict[str, Any]:
    return {
        "gain_c": round(10 * gain.gain_c) if gain is not None and gain.learned else None,
        "nights": gain.nights if gain is not None else 0,
        "usual_c": round(10 * NIGHT_GAIN_C.get(house.cover, 0.0)),
        "read_from": min(read.days).isoformat(),
        "read_to": max(read.days).isoformat(),
        "days": len(read.days),
    }


def _says(name: str, house: House, read: Read, gain: NightGain | None) -> str:
    if house.heated_to_c is not None:
        return f"{name} is kept at {house.heated_to_c:g}\u00a0°C"
    if gain is not None and gain.learned:
        return f"nights in {name} run {gain.gain_c:.1f}\u00a0°C above those outside, by {gain.nights} read in both"
    if len(read.points) >= LEAST_NIGHTS:
        return f"by what the thermometer in {name} read {len(read.points)} times"
    return f"nights in {name} run {gain_c(house):g}\u00a0°C above those outside"


def heat_read(climates: Climates, climate: str, base_c: float, upper_c: float | None) -> dict[str, Any] | None:
    """Degree-days of each day up to the last that was read in a climate, typical days in the gaps. [tenths of °C d]"""
    days = climates.read.get(climate)
    if not days:
        return None
    last = max(days)
    first = max(min(days), last - datetime.timedelta(days=READ_DAYS))
    heat = []
    for step in range((last - first).days + 1):
        on = first + datetime.timedelta(days=step)
        place = leap_place(on)
        low, high = days.get(on) or (night_c(climates.site, climate, place), day_c(climates.site, climate, place))
        heat.append(round(10 * single_sine(min(low, high), max(low, high), base_c, upper_c)))
    return {"from": first.isoformat(), "days": heat}
