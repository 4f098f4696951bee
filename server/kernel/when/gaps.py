"""Gaps: from the day one thing is done to the days on which the next may, should and must be."""

from __future__ import annotations

from server.kernel.read.words import days_words
from server.kernel.when.heat import LONGEST_WAIT_DAYS, Heat
from server.kernel.when.work import Link

Days = tuple[int, int | None, int | None]
NOT_MOVED = (0, 0, 0)
UNKNOWN_UP_DAYS = 7
"""Days to coming up of what has no table."""
UNKNOWN_C = 15
"""As warm as a place is taken to be where nothing is known of it. [°C]"""


def gap_words(link: Link, done: str, days: int, sooner: int) -> str:
    """`pricked out 24 March + 21 days (first true leaves)`. sooner: days that heat read by a thermometer brought it forward."""
    why = f" ({link.why.replace('{days}', days_words(days))})" if link.why else ""
    words = f"{done}{why}" if days == 0 else f"{done} + {days_words(days)}{why}"
    if sooner == 0:
        return words
    return f"{words}, {days_words(abs(sooner))} {'sooner' if sooner > 0 else 'later'} than usual by the heat read there"


def read_sooner(link: Link, since: int, days: Days, heat: Heat) -> tuple[int, int, int]:
    """For each day of a gap, how many days sooner it is than in a typical year, because of what a thermometer read."""
    if link.heat is None or not heat.was_read(link.heat, since):
        return NOT_MOVED
    moved = [0, 0, 0]
    for at, tenths in enumerate((link.min, link.aim, link.max)):
        usual = heat.day_usually_reached(link.heat, since, tenths) if tenths is not None else None
        day = days[at]
        if usual is not None and day is not None:
            moved[at] = max(usual, since + link.least) - day
    return moved[0], moved[1], moved[2]


def heat_band(link: Link, since: int, aim: int | None, today: int, heat: Heat) -> tuple[int, int] | None:
    """The days between which heat that is still to come will most likely bring the best day; None where nothing is open."""
    if link.heat is None or link.aim is None or aim is None or aim <= today:
        return None
    band = heat.band(link.heat, since, link.aim, today)
    soonest = since + link.least
    if band is None or band[0] >= soonest:
        return band
    return (soonest, band[1]) if band[1] > soonest else None


def gap(link: Link, since: int, heat: Heat) -> Days:
    """First, best and last day of what follows something done on a day."""
    first, aim, last = _gap(link, since, heat)
    if last is None and link.keeps is not None and aim is not None:
        last = aim + link.keeps
    return first, aim, last


def _gap(link: Link, since: int, heat: Heat) -> Days:
    if link.emergence is not None:
        days = emergence_days(link.emergence, link.heated_to_c, link.cover, since, heat)
        return since + days[0], since + days[1], since + days[2]
    if link.heat is not None:
        first = heat.day_reached(link.heat, since, link.min)
        aim = heat.day_reached(link.heat, since, link.aim) if link.aim is not None else None
        last = heat.day_reached(link.heat, since, link.max) if link.max is not None else None
        if first is None:  # never warm enough, or nothing known of this heat
            first = since + (LONGEST_WAIT_DAYS if heat.knows(link.heat) else 0)
        first = max(first, since + link.least)
        return first, None if aim is None else max(aim, first), None if last is None else max(last, first)
    return (
        since + link.min,
        since + link.aim if link.aim is not None else None,
        since + link.max if link.max is not None else None,
    )


def emergence_days(table: dict[str, int], heated_to_c: int | None, cover: str, since: int, heat: Heat) -> tuple[int, int, int]:
    """Days from sowing until the first, most and all that will have come up.

    Where heat is kept up, the days at that temperature (at the nearest the table has). Elsewhere each day does its part, as
    warm as it usually is there: one at which the table has nothing does none, so seed in cold ground waits for the warmth.
    """
    days = heat.days_to_come_up(table, cover, since) if table and heated_to_c is None else None
    if days is None:
        days = _nearest(table, heated_to_c if heated_to_c is not None else heat.mean_c(cover, since))
    return days, days + 2, days * 3 // 2 + 3


def nearest_degree(table: dict[str, int], temp_c: int) -> int:
    """The temperature in a table that lies nearest; the cooler of two. [whole °C] table: not empty."""
    return min((int(key) for key in table), key=lambda degree: (abs(degree - temp_c), degree))


def _nearest(table: dict[str, int], temp_c: int | None) -> int:
    if not table:
        return UNKNOWN_UP_DAYS
    return table[str(nearest_degree(table, UNKNOWN_C if temp_c is None else temp_c))]
