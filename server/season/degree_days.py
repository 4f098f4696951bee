"""Degree-days of one day from its minimum and maximum."""

from __future__ import annotations

import math


def single_sine(tmin_c: float, tmax_c: float, lower_c: float, upper_c: float | None = None) -> float:
    """Heat above a threshold, horizontal cut-off above the upper one. [°C d]

    tmin_c, tmax_c: of the day, tmin <= tmax. Raises ValueError where they are the wrong way round.
    Source: Baskerville & Emin 1969, Ecology 50:514-517; cut-off as defined by UC IPM (development goes on at its full
    rate above the upper threshold).
    """
    if tmin_c > tmax_c:
        raise ValueError(f"tmin_c={tmin_c} > tmax_c={tmax_c}")
    above = _above(tmin_c, tmax_c, lower_c)
    return above if upper_c is None else above - _above(tmin_c, tmax_c, upper_c)


def _above(tmin_c: float, tmax_c: float, threshold_c: float) -> float:
    mean, half = (tmin_c + tmax_c) / 2, (tmax_c - tmin_c) / 2
    if tmin_c >= threshold_c:
        return mean - threshold_c
    if tmax_c <= threshold_c:
        return 0.0
    turn = math.asin((threshold_c - mean) / half)
    return ((mean - threshold_c) * (math.pi / 2 - turn) + half * math.cos(turn)) / math.pi
