"""Soil temperature: the year of the air above, damped and late with depth; when ground is warm enough for what is put in it.

A yearly wave of period P dies away by e in the damping depth sqrt(P D / pi) and comes as much later, D the soil's thermal
diffusivity (heat conduction in a half-space; Kusuda and Achenbach 1965; textbooks of soil physics). The year of the air is
taken apart into its yearly wave and three overtones.
"""

from __future__ import annotations

import functools
import math

from server.season.climate import DAYS, Curve

DIFFUSIVITY_M2_S = 0.5e-6
"""Of moist loam. [m2/s] Textbooks of soil physics give 0.2 to 0.9e-6; from memory."""
DAY_S = 86_400.0
YEAR_S = 365.25 * DAY_S
OVERTONES = 4
DEPTH_CM = 5.0
"""Where seed and young roots lie."""


def damping_depth_m(period_s: float, diffusivity_m2_s: float = DIFFUSIVITY_M2_S) -> float:
    """Depth at which a wave of temperature is 1/e of what it is at the surface. [m]"""
    return math.sqrt(period_s * diffusivity_m2_s / math.pi)


@functools.lru_cache(maxsize=64)
def soil_year(nights_c: Curve, days_c: Curve, depth_cm: float = DEPTH_CM) -> Curve:
    """Mean soil temperature of each day of a leap year, under air of these nights and days. [°C]"""
    air = [(night + day) / 2 for night, day in zip(nights_c, days_c, strict=True)]
    mean = sum(air) / DAYS
    year = [mean] * DAYS
    for overtone in range(1, OVERTONES + 1):
        turn = 2 * math.pi * overtone / DAYS
        cosine = 2 / DAYS * sum(value * math.cos(turn * day) for day, value in enumerate(air))
        sine = 2 / DAYS * sum(value * math.sin(turn * day) for day, value in enumerate(air))
        depths = depth_cm / 100 / damping_depth_m(YEAR_S / overtone)
        damped = math.exp(-depths)
        for day in range(DAYS):
            angle = turn * day - depths
            year[day] += damped * (cosine * math.cos(angle) + sine * math.sin(angle))
    return tuple(year)


@functools.lru_cache(maxsize=512)
def warm_enough(
    nights_c: Curve, days_c: Curve, order: tuple[int, ...], least_c: float, depth_cm: float = DEPTH_CM
) -> tuple[int, int] | None:
    """Places of the growing year between which soil holds at or above a temperature, about its warmest; None where never."""
    soil = soil_year(nights_c, days_c, depth_cm)
    warmest = max(range(DAYS), key=lambda place: soil[order[place]])
    if soil[order[warmest]] < least_c:
        return None
    first = last = warmest
    while first > 0 and soil[order[first - 1]] >= least_c:
        first -= 1
    while last < DAYS - 1 and soil[order[last + 1]] >= least_c:
        last += 1
    return first, last
