"""The typical year at a site: daily night and day temperatures from monthly normals, outside and under cover.

Days are places in a leap year, 0 (1 January) to 365, as in the rulebook.
"""

from __future__ import annotations

import datetime
import functools
import operator
from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Any

from server.season.constants import (
    DAY_GAIN_C,
    DEFAULT_NORMALS,
    DEFAULT_SITE,
    FROST_REACH_C,
    FROST_REACH_OF_NIGHT,
    FROST_REACH_OF_YEAR,
    INDOORS_C,
    NIGHT_GAIN_C,
)
from server.season.degree_days import single_sine

DAYS = 366
MONTH_DAYS = (31, 29, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31)
MONTH_START = tuple(sum(MONTH_DAYS[:month]) for month in range(12))
COVERS = ("open", "frame", "tunnel", "glass", "indoors")
_ROUNDS = 40
Curve = tuple[float, ...]
"""One temperature for each day of a leap year. [°C]"""


@dataclass(frozen=True)
class Site:
    """Where the household is, as far as the season needs it. Frost days are places in a leap year."""

    south: bool
    nights_c: tuple[float, ...]
    days_c: tuple[float, ...]
    last_frost: int
    first_frost: int
    order: tuple[int, ...]
    """The days from midwinter to midwinter."""
    warmest: int
    """Place in that order of the warmest night."""
    known: bool
    """Whether the household said where it is; otherwise a stated stand-in is used."""
    lat: float = DEFAULT_SITE["lat"]  # type: ignore[assignment]
    own: Mapping[str, tuple[Curve, Curve]] = field(default_factory=dict)
    """Night and day of every day of the year in houses that have a climate of their own, by its name. [°C]"""


def daily_curve(monthly: list[float]) -> Curve:
    """A smooth curve over the year, its end joined to its beginning, whose monthly means are the given ones. [°C]

    Twelve mid-month points joined by cubics (Catmull-Rom), the points moved until each month's mean is right.
    """
    return tuple(sum(map(operator.mul, monthly, shares)) for shares in _month_shares())


@functools.lru_cache(maxsize=1)
def _month_shares() -> tuple[Curve, ...]:
    """For each day what each month's mean adds to it: all of it is linear, so it is worked out for one degree in each month."""
    ones = [[1.0 if other == month else 0.0 for other in range(12)] for month in range(12)]
    curves = [_through(points) for points in ones]
    by_day = list(zip(*curves, strict=True))
    means = [
        [sum(curve[start : start + length]) / length for curve in curves]
        for start, length in zip(MONTH_START, MONTH_DAYS, strict=True)
    ]  # of each month, by the point that was raised
    moved = [_moved_to_means(one, means) for one in ones]
    return tuple(tuple(sum(map(operator.mul, day, points)) for points in moved) for day in by_day)


def _moved_to_means(monthly: list[float], means: list[list[float]]) -> list[float]:
    """The twelve points moved until the curve through them has these monthly means."""
    points = list(monthly)
    for _ in range(_ROUNDS):
        off = [mean - sum(map(operator.mul, row, points)) for mean, row in zip(monthly, means, strict=True)]
        points = list(map(operator.add, points, off))
    return points


def _through(points: list[float]) -> list[float]:
    middles = [MONTH_START[month] + MONTH_DAYS[month] / 2 for month in range(12)]
    curve: list[float] = []
    for day in range(DAYS):
        at = day + 0.5
        month = max((m for m in range(12) if middles[m] <= at), default=-1)
        left = middles[month] if month >= 0 else middles[11] - DAYS
        right = middles[month + 1] if month < 11 else middles[0] + DAYS
        share = (at - left) / (right - left)
        before, here, after, beyond = (points[(month + step) % 12] for step in (-1, 0, 1, 2))
        curve.append(
            here
            + 0.5
            * share
            * (
                after
                - before
                + share * (2 * before - 5 * here + 4 * after - beyond + share * (3 * (here - after) + beyond - before))
            )
        )
    return curve


def read_site(fields: dict[str, Any] | None, own_nights_c: Curve | None = None, own_days_c: Curve | None = None) -> Site:
    """The site from its record; a lowland site at 53 N where there is none.

    own_nights_c, own_days_c: the garden's own year by its thermometer, in place of that from the normals. [°C]
    """
    fields = fields or {}
    lat = fields.get("lat") if fields.get("lat") is not None else DEFAULT_SITE["lat"]
    stand_in = _stand_in(float(lat) < 0)  # type: ignore[arg-type]
    normals = fields.get("normals") or stand_in.normals
    nights = own_nights_c or daily_curve([float(pair[0]) for pair in normals])
    days = own_days_c or daily_curve([float(pair[1]) for pair in normals])
    south = float(lat) < 0  # type: ignore[arg-type]
    order = in_growing_order(south)
    warmest = max(range(DAYS), key=lambda place: nights[order[place]])
    spring, autumn = _frosts(nights, days, order, warmest)
    known = bool(fields)
    last = fields.get("last_frost") or (None if fields.get("normals") else stand_in.last_frost)
    first = fields.get("first_frost") or (None if fields.get("normals") else stand_in.first_frost)
    return Site(
        south=south,
        nights_c=nights,
        days_c=tuple(max(day, night) for day, night in zip(days, nights, strict=True)),
        last_frost=_leap_day(str(last)) if last else spring,
        first_frost=_leap_day(str(first)) if first else autumn,
        order=order,
        warmest=warmest,
        known=known,
        lat=float(lat),  # type: ignore[arg-type]
    )


@dataclass(frozen=True)
class _StandIn:
    """What stands for a site that has not said how warm it is."""

    normals: tuple[tuple[float, float], ...]
    last_frost: str
    first_frost: str


def _stand_in(south: bool) -> _StandIn:
    """The lowland site at 53 degrees; in the south its months are turned by half a year, or winter would fall into summer."""
    last, first = str(DEFAULT_SITE["last_frost"]), str(DEFAULT_SITE["first_frost"])
    if not south:
        return _StandIn(DEFAULT_NORMALS, last, first)
    return _StandIn((*DEFAULT_NORMALS[6:], *DEFAULT_NORMALS[:6]), _half_a_year_on(last), _half_a_year_on(first))


def _half_a_year_on(month_day: str) -> str:
    return f"{(int(month_day[:2]) + 5) % 12 + 1:02d}{month_day[2:]}"


def _frosts(nights: Curve, days: Curve, order: tuple[int, ...], warmest: int) -> tuple[int, int]:
    """Last and first frost from normals alone, as a household tells of them: passed in about one year in ten."""
    mean = [(night + day) / 2 for night, day in zip(nights, days, strict=True)]
    reach = FROST_REACH_C + FROST_REACH_OF_NIGHT * max(nights) + FROST_REACH_OF_YEAR * (max(mean) - min(mean))
    spring = [place for place in range(warmest) if nights[order[place]] < reach]
    autumn = [place for place in range(warmest, DAYS) if nights[order[place]] < reach]
    return order[spring[-1] if spring else 0], order[autumn[0] if autumn else DAYS - 1]


def in_growing_order(south: bool) -> tuple[int, ...]:
    """The days of a year from midwinter to midwinter: from 1 January in the north, from 1 July in the south."""
    start = MONTH_START[6] if south else 0
    return tuple((start + place) % DAYS for place in range(DAYS))


def _leap_day(month_day: str) -> int:
    return MONTH_START[int(month_day[0:2]) - 1] + int(month_day[3:5]) - 1


def night_c(site: Site, cover: str, day: int) -> float:
    """Mean night minimum under a cover, or in a house with a climate of its own. [°C]"""
    if cover in site.own:
        return site.own[cover][0][day]
    if cover == "indoors":
        return max(INDOORS_C[0], site.nights_c[day])
    return site.nights_c[day] + NIGHT_GAIN_C[cover]


def day_c(site: Site, cover: str, day: int) -> float:
    """Mean day maximum under a cover, or in a house with a climate of its own. [°C]"""
    if cover in site.own:
        return site.own[cover][1][day]
    if cover == "indoors":
        return max(INDOORS_C[1], site.days_c[day])
    return site.days_c[day] + DAY_GAIN_C[cover]


def covered_year(site: Site, cover: str) -> tuple[Curve, Curve]:
    """Nights and days of the whole year under a cover, or in a house with a climate of its own. [°C]"""
    if cover in site.own:
        return site.own[cover]
    gains = night_c(site, cover, 0) - site.nights_c[0], day_c(site, cover, 0) - site.days_c[0]
    return _covered(site.nights_c, site.days_c, *gains)


@functools.lru_cache(maxsize=16)
def _covered(nights_c: Curve, days_c: Curve, night_gain_c: float, day_gain_c: float) -> tuple[Curve, Curve]:
    return tuple(night + night_gain_c for night in nights_c), tuple(day + day_gain_c for day in days_c)


def warmth(site: Site, cover: str) -> list[int]:
    """Mean temperature of each day under a cover. [whole °C]"""
    return [round((night_c(site, cover, day) + day_c(site, cover, day)) / 2) for day in range(DAYS)]


def heat(site: Site, cover: str, base_c: float, upper_c: float | None) -> list[int]:
    """Degree-days of each day under a cover. [tenths of °C d]"""
    return [round(10 * single_sine(night_c(site, cover, day), day_c(site, cover, day), base_c, upper_c)) for day in range(DAYS)]


def nights_hold(site: Site, cover: str, threshold_c: float) -> tuple[int, bool]:
    """Place in the growing year of the day from which mean nights stay at or above a threshold until midsummer, and
    whether they ever do; where they never do it is the warmest day."""
    if night_c(site, cover, site.order[site.warmest]) < threshold_c:
        return site.warmest, False
    for place in range(site.warmest, -1, -1):
        if night_c(site, cover, site.order[place]) < threshold_c:
            return place + 1, True
    return 0, True


def month_and_day(day: int) -> tuple[int, int]:
    """Month and day of a place in a leap year."""
    date = datetime.date(2024, 1, 1) + datetime.timedelta(days=day)
    return date.month, date.day
