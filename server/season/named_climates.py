"""Named climates to choose from: their shape, every way in which one can be wrong, and the site each makes."""

from __future__ import annotations

import datetime
import math
from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from server.season.climate import in_growing_order
from server.season.heat_sums import leap_place
from server.season.sun import zone
from server.season.table_schema import Fault

KEYS = ("name", "lat", "lon", "tz", "min_c", "max_c", "source", "last_frost", "first_frost", "frost_source")
COLDEST_C, WARMEST_C = -40.0, 45.0
"""No month of a place where households grow food has a mean minimum or maximum outside. [°C]"""
EARTH_KM = 6371.0


@dataclass(frozen=True)
class NamedClimate:
    """A region's typical year."""

    id: str
    name: str
    lat: float
    lon: float
    tz: str
    normals: tuple[tuple[float, float], ...]
    """Mean minimum and maximum of January to December. [°C]"""
    last_frost: str
    """MM-DD after which frost is not looked for nine years in ten."""
    first_frost: str
    """MM-DD before which frost is not looked for nine years in ten."""
    source: str
    frost_source: str


def climate_faults(tables: Mapping[str, Any], file: str) -> list[Fault]:
    """Everything that is wrong with a file of climates; an empty list for a sound one."""
    found: list[Fault] = []
    for id_, table in tables.items():
        place = f"[{id_}]"
        if not isinstance(table, dict):
            found.append(Fault(file, place, f"is {table!r}", "Write it as a table with its keys below"))
            continue
        found += [Fault(file, place, what, mend) for what, mend in _wrong(table)]
    return found


def _wrong(table: Mapping[str, Any]) -> list[tuple[str, str]]:
    """What is wrong with one climate, and how to mend it."""
    wrong = [(f"{key} is missing", f"Add {key}") for key in KEYS if key not in table]
    wrong += [(f"{key} is not known", f"Known are {', '.join(KEYS)}") for key in sorted(set(table) - set(KEYS))]
    if wrong:
        return wrong
    for key in ("name", "source", "frost_source"):
        if not isinstance(table[key], str) or not table[key].strip():
            wrong.append((f"{key} is {table[key]!r}", "Give it in words; a source may be 'from memory'"))
    for key, most in (("lat", 66.0), ("lon", 180.0)):
        if not _number(table[key], -most, most):
            wrong.append((f"{key} is {table[key]!r}", f"Give degrees from {-most:g} to {most:g}"))
    try:
        zone(str(table["tz"]))
    except ValueError as error:
        wrong.append((f"tz is {table['tz']!r}", str(error)))
    for key in ("min_c", "max_c"):
        if not _year_of_numbers(table[key]):
            wrong.append((f"{key} is {table[key]!r}", f"Give twelve numbers from {COLDEST_C:g} to {WARMEST_C:g}"))
    for key in ("last_frost", "first_frost"):
        if _month_day(table[key]) is None:
            wrong.append((f"{key} is {table[key]!r}", "Give month and day as MM-DD"))
    return wrong or _unlikely(table)


def _unlikely(table: Mapping[str, Any]) -> list[tuple[str, str]]:
    """Numbers that are sound each by itself and wrong together."""
    wrong: list[tuple[str, str]] = []
    for month, (low, high) in enumerate(zip(table["min_c"], table["max_c"], strict=True), start=1):
        if low >= high:
            wrong.append((f"the minimum of month {month} is {low:g} and its maximum {high:g}", "Mend whichever is wrong"))
    south = table["lat"] < 0
    warm, cold = (table["max_c"][0], table["max_c"][6]) if south else (table["max_c"][6], table["max_c"][0])
    if warm <= cold:
        wrong.append(("its winter is warmer than its summer", "Mend lat, or turn the months by half a year"))
    order = in_growing_order(south)
    last, first = (order.index(leap_place(_known_day(table[key]))) for key in ("last_frost", "first_frost"))
    if last >= first:
        wrong.append(("its last frost comes after its first", "Swap them, or mend lat"))
    return wrong


def _number(value: Any, low: float, high: float) -> bool:
    return isinstance(value, int | float) and not isinstance(value, bool) and low <= value <= high


def _year_of_numbers(value: Any) -> bool:
    return isinstance(value, list) and len(value) == 12 and all(_number(item, COLDEST_C, WARMEST_C) for item in value)


def _month_day(value: Any) -> datetime.date | None:
    if not isinstance(value, str) or len(value) != 5:
        return None
    try:
        return datetime.date.fromisoformat(f"2024-{value}")
    except ValueError:
        return None


def _known_day(value: str) -> datetime.date:
    return datetime.date.fromisoformat(f"2024-{value}")


def named_climates(tables: Mapping[str, Any]) -> dict[str, NamedClimate]:
    """The climates of a sound file, by id. The tables have been checked by climate_faults."""
    return {
        id_: NamedClimate(
            id=id_,
            name=table["name"],
            lat=float(table["lat"]),
            lon=float(table["lon"]),
            tz=table["tz"],
            normals=tuple(zip(map(float, table["min_c"]), map(float, table["max_c"]), strict=True)),
            last_frost=table["last_frost"],
            first_frost=table["first_frost"],
            source=table["source"],
            frost_source=table["frost_source"],
        )
        for id_, table in tables.items()
    }


def site_fields(climate: NamedClimate) -> dict[str, Any]:
    """The fields of a site record for a household in this climate."""
    return {
        "lat": climate.lat,
        "lon": climate.lon,
        "tz": climate.tz,
        "normals": [list(pair) for pair in climate.normals],
        "last_frost": climate.last_frost,
        "first_frost": climate.first_frost,
    }


def nearest(climates: Mapping[str, NamedClimate], lat: float, lon: float, most: int = 3) -> list[tuple[NamedClimate, float]]:
    """The climates nearest to a place with their distances, nearest first. [km along a great circle]"""
    with_km = [(climate, _km(lat, lon, climate.lat, climate.lon)) for climate in climates.values()]
    return sorted(with_km, key=lambda pair: (pair[1], pair[0].id))[:most]


def _km(lat: float, lon: float, to_lat: float, to_lon: float) -> float:
    """Haversine distance on a sphere. [km]"""
    here, there = math.radians(lat), math.radians(to_lat)
    half = math.sin((there - here) / 2) ** 2
    half += math.cos(here) * math.cos(there) * math.sin(math.radians(to_lon - lon) / 2) ** 2
    return 2 * EARTH_KM * math.asin(math.sqrt(min(1.0, half)))
