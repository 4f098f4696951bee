"""Chance of air frost through the year, and the day from which nights are warm enough with a stated certainty.

Days are places in a leap year, 0 (1 January) to 365, in and out, in both hemispheres.
"""

from __future__ import annotations

from statistics import NormalDist

from server.season.climate import DAYS, Site
from server.season.constants import FROST_SPREAD_C
from server.season.house import House, gain_c, house_night_c, keeps_frost_out

LATE_YEARS = 0.1
"""Share of years in which frost comes later than a household's last frost day (or earlier than its first): such days are
told as safe days, not as averages. Source: daily English series 1991-2021, minima brought down by 2 °C to a garden's: nine
last frosts in ten by 11 May, where growing guides say mid May."""

FROST_DAY_SPREAD_D = 14.0
"""Standard deviation of the day of the last (first) frost between years. [d] Source: the same series, 20 days between the
middle year and the ninth in ten (16 d); 10 to 12 d in inland North America, Thom & Shaw 1958, from memory."""

HALF_SPELL_D = 20
"""Days on either side over which the warming of nights is measured. [d]"""

LEAST_CHANGE_C = 0.04
"""Slowest warming reckoned with, so that a degree never counts for more than 25 days. [°C a day]
From memory, of mild coasts."""

COLDEST_OF_FORTNIGHT = 1.703
"""Expected largest of 14 standard normal values. Source: tables of normal order statistics."""

NIGHT_SPREAD_C = FROST_SPREAD_C / COLDEST_OF_FORTNIGHT
"""Standard deviation of night minima about their mean at one season, as the coldest of a fortnight implies. [°C]"""


def frost_chance(site: Site, day: int, house: House | None = None) -> float:
    """Chance, 0 to 1, that a season's frosts still reach this day.

    Before midsummer: that a frost comes on this day or later. After it: that one has come by this day. Winter is near 1.
    A house that gains has its last frost earlier by as many days as nights take to warm by that gain: a tunnel's one degree
    brings spring forward by a week or two and keeps no winter frost out. 0 only where a heater keeps frost out while it runs.
    """
    if house is not None and keeps_frost_out(house):
        return 0.0
    gain = 0.0 if house is None else gain_c(house)
    safe = NormalDist().inv_cdf(1 - LATE_YEARS) * FROST_DAY_SPREAD_D
    place, last, first = (site.order.index(at) for at in (day, site.last_frost, site.first_frost))
    if place <= site.warmest:
        return 1 - NormalDist(last - safe - gain / _change_c(site, last), FROST_DAY_SPREAD_D).cdf(place - 0.5)
    return NormalDist(first + safe + gain / _change_c(site, first), FROST_DAY_SPREAD_D).cdf(place + 0.5)


TOLD_SHARES = {"half": 0.5, "tenth": 0.1, "fiftieth": 0.02}
"""Shares of years in which frost still comes, as a household is told of them."""


def frost_days(site: Site, house: House | None = None) -> dict[str, tuple[int, int]] | None:
    """For each of TOLD_SHARES the last day of spring and the first of autumn which frost reaches in so many years.

    Places in a leap year. None where a heater keeps frost out, or where summer itself is not free of it.
    """
    if house is not None and keeps_frost_out(house):
        return None
    chances = [frost_chance(site, site.order[place], house) for place in range(DAYS)]
    if chances[site.warmest] >= min(TOLD_SHARES.values()):
        return None
    found = {}
    for name, share in TOLD_SHARES.items():
        spring = max((place for place in range(site.warmest) if chances[place] >= share), default=0)
        autumn = min((place for place in range(site.warmest, DAYS) if chances[place] >= share), default=DAYS - 1)
        found[name] = (site.order[spring], site.order[autumn])
    return found


def _change_c(site: Site, place: int) -> float:
    """How fast nights warm or cool about a place in the growing year. [°C a day, positive]"""
    before, after = max(0, place - HALF_SPELL_D), min(DAYS - 1, place + HALF_SPELL_D)
    change = abs(site.nights_c[site.order[after]] - site.nights_c[site.order[before]]) / (after - before)
    return max(LEAST_CHANGE_C, change)


def nights_hold_from(site: Site, house: House, threshold_c: float, sure: float, spread_c: float = NIGHT_SPREAD_C) -> int | None:
    """First day from which each night until midsummer is at or above a threshold with this certainty; None if none is.

    threshold_c: °C in the house. sure: 0 < p < 1 for each single night, 0.5 for the mean night. spread_c: standard deviation
    of nights outside about their mean, °C; a heater takes it away. Raises ValueError for a certainty outside 0..1.
    """
    if not 0 < sure < 1:
        raise ValueError(f"sure={sure}, expected 0 < p < 1")
    colder = NormalDist().inv_cdf(sure) * spread_c

    def holds(place: int) -> bool:
        return house_night_c(site, house, site.order[place], colder) >= threshold_c

    place = site.warmest
    if not holds(place):
        return None
    while place > 0 and holds(place - 1):
        place -= 1
    return site.order[place]
