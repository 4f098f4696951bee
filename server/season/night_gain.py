"""How much warmer one house's nights are than the nights outside, learned from nights on which both were read."""

from __future__ import annotations

from dataclasses import dataclass
from statistics import median

from server.season.heat_sums import Readings

LEAST_NIGHTS = 7
"""Fewer nights than this teach nothing: one windy week is weather, not the house. From memory."""

PRIOR_NIGHTS = 10
"""How many nights the usual gain of the cover counts for against the house's own. From memory."""


@dataclass(frozen=True)
class NightGain:
    """A house's gain. [°C over the night outside]"""

    gain_c: float
    nights: int
    """Nights read both inside and outside."""
    learned: bool
    """False where there were too few nights, and the cover's usual gain stands."""
    spread_c: float | None
    """Half of the nights lie within so much of their median; None where nothing was learned. [°C]"""


def night_gain(
    inside: Readings, outside: Readings, prior_c: float, least: int = LEAST_NIGHTS, prior_nights: float = PRIOR_NIGHTS
) -> NightGain:
    """The median difference of paired night minima, drawn towards the cover's usual gain while nights are few.

    inside, outside: minimum and maximum by date, °C. prior_c: the cover's usual gain, °C. least: nights needed. The median
    stands a fifth of the nights being wrong (a door left open, a heater lit, a sensor in the sun). n nights weigh n against
    prior_nights. Heated nights do not belong in `inside`. Raises ValueError for least < 1 or prior_nights < 0.
    """
    if least < 1 or prior_nights < 0:
        raise ValueError(f"least={least}, prior_nights={prior_nights}, expected at least 1 and 0")
    gains = [inside[on][0] - outside[on][0] for on in sorted(inside.keys() & outside.keys())]
    nights = len(gains)
    if nights < least:
        return NightGain(prior_c, nights, False, None)
    middle = median(gains)
    drawn = (nights * middle + prior_nights * prior_c) / (nights + prior_nights)
    return NightGain(drawn, nights, True, median(abs(gain - middle) for gain in gains))
