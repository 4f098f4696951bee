"""Heat gathered in a house day by day, from what a thermometer read where it did, from the typical year elsewhere; and the
day a sum of heat is reached, as an early, a likely and a late day."""

from __future__ import annotations

import datetime
from collections.abc import Mapping
from dataclasses import dataclass
from statistics import NormalDist

from server.season.climate import MONTH_START, Site
from server.season.degree_days import single_sine
from server.season.house import House, house_day_c, house_night_c

Readings = Mapping[datetime.date, tuple[float, float]]
"""Minimum and maximum of a day in a house. [°C]"""

SPELL_SPREAD_C = 1.3
"""Standard deviation of a growing month's mean temperature between years. [°C] From memory, of the order of the Central
England series, April to September."""

CERTAIN_BAND = 0.8
"""Share of years between the early and the late day."""

LONGEST_D = 500
"""A sum not reached within so many days is said not to come. [d]"""


@dataclass(frozen=True)
class Forecast:
    """When a sum of heat is reached. A day is None where the sum does not come within LONGEST_D days."""

    early: datetime.date | None
    likely: datetime.date | None
    late: datetime.date | None


def leap_place(on: datetime.date) -> int:
    """Place of a date's month and day in a leap year, 0 to 365; 1 March is always 60."""
    return MONTH_START[on.month - 1] + on.day - 1


def day_heat(
    site: Site,
    house: House,
    on: datetime.date,
    base_c: float,
    upper_c: float | None = None,
    readings: Readings | None = None,
    warmer_c: float = 0.0,
) -> float:
    """Degree-days of one day in a house. [°C d]

    The day's own reading if there is one; else the typical day, so much warmer (°C). A heater keeps its degrees either way.
    """
    if readings and on in readings:
        low, high = readings[on]
        return single_sine(min(low, high), max(low, high), base_c, upper_c)
    place = leap_place(on)
    night = house_night_c(site, house, place, -warmer_c)
    return single_sine(night, max(night, house_day_c(site, house, place) + warmer_c), base_c, upper_c)


def running_heat(
    site: Site,
    house: House,
    first: datetime.date,
    last: datetime.date,
    base_c: float,
    upper_c: float | None = None,
    readings: Readings | None = None,
) -> list[float]:
    """Degree-days gathered by the end of each day from first to last, both counted. [°C d] Empty if last is before first."""
    total, totals = 0.0, []
    for step in range((last - first).days + 1):
        total += day_heat(site, house, first + datetime.timedelta(days=step), base_c, upper_c, readings)
        totals.append(total)
    return totals


def forecast(
    site: Site,
    house: House,
    first: datetime.date,
    wanted: float,
    base_c: float,
    upper_c: float | None = None,
    readings: Readings | None = None,
    spread_c: float = SPELL_SPREAD_C,
    band: float = CERTAIN_BAND,
) -> Forecast:
    """The day by whose end a sum of heat is gathered, counting from the morning of `first`.

    wanted: °C d. spread_c: standard deviation of the spell's mean temperature between years, °C. band: share of years between
    early and late, 0.8 for the tenth to the ninetieth of a hundred. Days with a reading are certain, all others run warmer
    or cooler by the band's share of the spread, as seasons do. Raises ValueError for a band outside 0..1 or a negative spread.
    """
    if not 0 < band < 1 or spread_c < 0:
        raise ValueError(f"band={band}, spread_c={spread_c}, expected 0 < band < 1 and spread_c >= 0")
    off_c = NormalDist().inv_cdf(0.5 + band / 2) * spread_c
    early, likely, late = (
        _reached(site, house, first, wanted, base_c, upper_c, readings, warmer_c) for warmer_c in (off_c, 0.0, -off_c)
    )
    return Forecast(early, likely, late)


def _reached(
    site: Site,
    house: House,
    first: datetime.date,
    wanted: float,
    base_c: float,
    upper_c: float | None,
    readings: Readings | None,
    warmer_c: float,
) -> datetime.date | None:
    total = 0.0
    for step in range(LONGEST_D):
        on = first + datetime.timedelta(days=step)
        total += day_heat(site, house, on, base_c, upper_c, readings, warmer_c)
        if total >= wanted:
            return on
    return None
