"""The typical year of one house, corrected by what its thermometer read."""

from __future__ import annotations

import math
from dataclasses import dataclass

from server.season.climate import DAYS, Site
from server.season.heat_sums import Readings, leap_place
from server.season.house import House, house_day_c, house_night_c

REACH_D = 15.0
"""How far a reading speaks for the season around it: standard deviation of its weight in days. [d] From memory."""

PRIOR_DAYS = 10.0
"""How many readings the normals count for at any season. From memory: one cold fortnight must not rewrite a spring."""


@dataclass(frozen=True)
class HouseYear:
    """Mean night minimum and day maximum of every day of a leap year in a house. [°C]"""

    nights_c: tuple[float, ...]
    days_c: tuple[float, ...]


def house_year(
    site: Site, house: House, readings: Readings | None = None, reach_d: float = REACH_D, prior_days: float = PRIOR_DAYS
) -> HouseYear:
    """The house's year from normals, moved towards its readings where there are any.

    readings: minimum and maximum in the house by date, °C, of any number of years. Each reading's difference from the typical
    day speaks for the days around it, less the farther they are, round the year's end too; the normals count for prior_days
    readings everywhere. Without readings it is the normals' year. Days stay at or above their nights.
    Raises ValueError for reach_d <= 0 or prior_days <= 0.
    """
    if reach_d <= 0 or prior_days <= 0:
        raise ValueError(f"reach_d={reach_d}, prior_days={prior_days}, expected more than 0")
    nights = [house_night_c(site, house, day) for day in range(DAYS)]
    days = [house_day_c(site, house, day) for day in range(DAYS)]
    counts, low_off, high_off = [0] * DAYS, [0.0] * DAYS, [0.0] * DAYS
    for on, (low, high) in (readings or {}).items():
        place = leap_place(on)
        counts[place] += 1
        low_off[place] += low - nights[place]
        high_off[place] += high - days[place]
    weights = [math.exp(-0.5 * (min(step, DAYS - step) / reach_d) ** 2) for step in range(DAYS)]
    read = [place for place in range(DAYS) if counts[place]]
    moved_nights, moved_days = [], []
    for day in range(DAYS):
        weight = sum(weights[abs(day - place)] * counts[place] for place in read) + prior_days
        night = nights[day] + sum(weights[abs(day - place)] * low_off[place] for place in read) / weight
        moved_nights.append(night)
        moved_days.append(max(night, days[day] + sum(weights[abs(day - place)] * high_off[place] for place in read) / weight))
    return HouseYear(tuple(moved_nights), tuple(moved_days))
