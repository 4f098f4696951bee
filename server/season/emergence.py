"""Days from sowing to emergence against temperature."""

from __future__ import annotations

import itertools

COOLEST_C, WARMEST_C = 3, 38
STEP_PCT, FULL_PCT = 5, 90


def days_at(table: list[tuple[float, float | None]], temp_c: float) -> float | None:
    """Days to emergence, interpolated as a rate. [d] None where nothing comes up.

    table: (temperature in °C, days or None for no emergence), any order. Between two points the rate 1/days is linear:
    interpolating days themselves is badly wrong at the cool end. A point without emergence has rate 0. Outside the
    points nothing is promised more than 2 °C beyond the last that came up.
    Source: thermal-time germination (rate linear in temperature below the best), e.g. Bierhuizen & Wagenvoort 1974.
    """
    points = sorted((temp, 0.0 if days is None else 1.0 / days) for temp, days in table)
    if not points:
        return None
    if temp_c <= points[0][0]:
        rate = points[0][1] if points[0][0] - temp_c <= 2 else 0.0
    elif temp_c >= points[-1][0]:
        rate = points[-1][1] if temp_c - points[-1][0] <= 2 else 0.0
    else:
        rate = _between(points, temp_c)
    return 1.0 / rate if rate > 1e-9 else None


def _between(points: list[tuple[float, float]], temp_c: float) -> float:
    for (cool, slow), (warm, fast) in itertools.pairwise(points):
        if cool <= temp_c <= warm:
            share = (temp_c - cool) / (warm - cool)
            return slow + (fast - slow) * share
    raise ValueError(f"temp_c={temp_c} outside {points[0][0]}..{points[-1][0]}")


def whole_degrees(table: list[tuple[float, float | None]]) -> dict[str, int]:
    """Whole °C to whole days (rounded up), only where seed comes up within 90 days: what travels in the rulebook."""
    found: dict[str, int] = {}
    for temp_c in range(COOLEST_C, WARMEST_C + 1):
        days = days_at(table, temp_c)
        if days is not None and days <= 90:
            found[str(temp_c)] = max(1, -(-int(days * 1000) // 1000))
    return found


def whole_shares(table: list[tuple[float, float | None]], degrees: dict[str, int]) -> dict[str, int]:
    """Whole °C to how many seedlings come there of each hundred that come at the best temperature, where that is fewer. [%]

    table: (temperature in °C, normal seedlings of a hundred seeds or None where nobody counted). degrees: where any come up.
    In steps of STEP_PCT, rounded to the nearest and never none; from FULL_PCT on it is as good as all.
    """
    counted = sorted((temp, pct) for temp, pct in table if pct is not None)
    if not counted:
        return {}
    best = max(pct for _, pct in counted)
    found: dict[str, int] = {}
    for degree in degrees:
        temp_c = min(max(float(degree), counted[0][0]), counted[-1][0])
        share = 100 * _between(counted, temp_c) / best if len(counted) > 1 else 100
        if share < FULL_PCT:
            found[degree] = max(STEP_PCT, round(share / STEP_PCT) * STEP_PCT)
    return found
