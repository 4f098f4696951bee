"""What lives for years: whether a place's winters and summers are such that it lives, flowers and ripens.

A tree or bush is not fitted into one year: winter may kill it at rest, be too mild to break the rest of its buds, or summer may
be too cool to ripen what it bears, or too hot for it.
"""

from __future__ import annotations

import math
from typing import Final, Literal

from server.season.climate import Curve
from server.season.constants import WINTER_SPREAD_C
from server.season.windows import Line

CHILL_C = 7.2
"""Hours below this count as winter's cold for buds. [°C] Source: 45 °F of Weinberger (1950), as growers' tables count it."""
OVER_DAYS = 7
"""Each so many days one is reckoned with. [d]"""
DAY_SPREAD_C = 3.0
"""Standard deviation of winter days about the typical one. [°C] From memory, of the order of lowland series."""
SPELLS = ((-math.sqrt(3) * DAY_SPREAD_C, 1 / 6), (0.0, 2 / 3), (math.sqrt(3) * DAY_SPREAD_C, 1 / 6))
"""How far spells lie from the typical day [°C] and their share of days: three points of a normal one's mean and spread."""
HOTTEST_D = 30
"""The warmest month. [d]"""

UnfitForYears = Literal["winter", "mild", "cool", "hot"]
KILLED: Final = "winter"
TOO_MILD: Final = "mild"
TOO_COOL: Final = "cool"
TOO_HOT: Final = "hot"


def unfit_for_years(line: Line) -> UnfitForYears | None:
    """Why what lives for years will not do under a cover in usual years; None where it will, or the crop says nothing of it."""
    numbers = line.table["numbers"]
    coldest_c = min(line.covered[0]) - WINTER_SPREAD_C
    if "rest_kills_c" in numbers and line.cover != "indoors" and coldest_c < numbers["rest_kills_c"]["value"]:
        return KILLED
    if "chill_h" in numbers and chill_hours(*line.covered) < numbers["chill_h"]["value"]:
        return TOO_MILD
    if "year_heat" in numbers and line.heat_sums[len(line.order)] < numbers["year_heat"]["value"]:
        return TOO_COOL
    if "chill_h" in numbers and "hot_c" in numbers and warmest_month_c(line.mean_c) > numbers["hot_c"]["value"]:
        return TOO_HOT
    return None


def chill_hours(nights_c: Curve, days_c: Curve) -> float:
    """Hours of a typical year below CHILL_C, day and night going up and down as a sine, in usual, cold and warm spells. [h]"""
    rows = list(zip(nights_c, days_c, strict=True))[::OVER_DAYS]
    return OVER_DAYS * sum(
        share * _hours_below(night + off_c, max(night, day) + off_c) for night, day in rows for off_c, share in SPELLS
    )


def _hours_below(night_c: float, day_c: float) -> float:
    """Hours of one day below CHILL_C. [h]"""
    if day_c <= CHILL_C:
        return 24.0
    if night_c >= CHILL_C:
        return 0.0
    mean, reach = (day_c + night_c) / 2, (day_c - night_c) / 2
    return 24 * math.acos((mean - CHILL_C) / reach) / math.pi if reach else 0.0


def warmest_month_c(mean_c: Curve) -> float:
    """Mean of the warmest thirty days. [°C]"""
    around = [*mean_c, *mean_c]
    return max(sum(around[at : at + HOTTEST_D]) / HOTTEST_D for at in range(0, len(mean_c), OVER_DAYS))
