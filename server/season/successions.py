"""Sowings one after another, so that something can be picked on every day wanted: worked back from the picking.

A planting is ready when it has had the crop's heat (or its days); each is picked as long as one plant goes on. Where the
site's own windows, frost or cold leave a day that no planting can serve, that is said as a gap.
"""

from __future__ import annotations

import datetime
import math
from collections.abc import Iterable
from dataclasses import dataclass

from server.season.climate import DAYS, Site, day_c, night_c
from server.season.constants import FROST_SPREAD_C
from server.season.crop_calendar import Table
from server.season.degree_days import single_sine
from server.season.emergence import days_at
from server.season.heat_sums import day_heat, leap_place
from server.season.house import House, house_night_c, keeps_frost_out
from server.season.seed_quantity import expected_pct, seeds_to_sow
from server.season.turns import lines_of

LONGEST_D = 400
"""A planting that is not ready within so many days does not count. [d]"""
LONGEST_PICKING_D = 740
"""Two years of picking at most are worked out at once. [d]"""
USUAL_PICKING_D = 183
"""Picking that is proposed where nobody has said from when to when. [d]"""
ROOM_C = 18.0
"""Where a calendar gives no temperature to raise at. [°C] From memory: a propagator's usual setting."""
_DAY = datetime.timedelta(days=1)
USUAL_BASE_C = {"hardy": 4.4, "tender": 10.0}
"""Above which degree-days are counted of a crop whose calendar counts none. [°C] From memory: 40 °F for cool-season vegetables,
50 °F for warm-season ones, as in extension degree-day tables."""


@dataclass(frozen=True)
class Sowing:
    """One sowing of the row of them."""

    sow: datetime.date
    plant: datetime.date
    """Day it goes to its final place; the sowing day itself where it is sown there."""
    pick_from: datetime.date
    pick_to: datetime.date
    plants: int
    seeds: int
    """To sow, so that the plants come in 95 of 100 sowings."""


@dataclass(frozen=True)
class Gap:
    """Days wanted on which nothing can be picked, first and last, and why."""

    first: datetime.date
    last: datetime.date
    why: str


@dataclass(frozen=True)
class Successions:
    """Sowings in order of day, and what they leave open."""

    sowings: list[Sowing]
    gaps: list[Gap]


class Planting:
    """A crop at a site in one house: which days it may be planted, when it is then ready, how long it is picked.

    climate: the name of the house's own climate, where the site has one for it. Raises ValueError for a crop that is not
    picked or has no time of planting.
    """

    def __init__(self, site: Site, table: Table, house: House, climate: str | None = None) -> None:
        steps = {step["id"]: step for step in table["steps"]}
        if "pick" not in steps:
            raise ValueError(f"{table['id']} has no picking to plan for")
        self.site, self.table, self.house = site, table, house
        self.climate = climate if climate in site.own else None
        lines = lines_of(site, table, self.climate or house.cover)
        self.line = lines[0]
        self.anchor, self.days, self.wanted = self._way(steps)
        gap = (steps["pick"].get("after") or {}).get("heat") or {}
        self.least_days = round(gap.get("least_days") or 0)
        """However warm it is, no sooner after the step before."""
        window = self.line.window(self.anchor)
        if window is None:
            raise ValueError(f"{table['id']} has no time of planting in its calendar")
        self.times = [times for line in lines if (times := line.window(self.anchor)) is not None]
        """First, best and last place of each time of the year at which it may be planted."""
        sowing = self.line.window(table["steps"][0]["id"])
        self.raise_days = 0 if sowing is None or self.anchor == table["steps"][0]["id"] else window[1] - sowing[1]
        pick = steps["pick"]
        self.span = int(pick["span"]["value"]) if "span" in pick else DAYS
        self.every = int(pick["every"]["value"]) if "every" in pick else 1
        self.whole = bool(pick.get("whole_plant"))
        """Whether a plant is taken when it is picked (lettuce, radish), or picked over again (beans)."""
        until = pick.get("until")
        self.until_place = None if until is None else self.line.anchor(until["of"]) + round(7 * until.get("weeks", 0))
        numbers = table["numbers"]
        usual = USUAL_BASE_C["tender" if table["hardiness"] == "tender" else "hardy"]
        self.base_c = float(numbers["base_c"]["value"]) if "base_c" in numbers else usual
        self.upper_c = float(numbers["upper_c"]["value"]) if "upper_c" in numbers else None
        kills = numbers.get("frost_kills_c")
        self.kills_c = None if kills is None or keeps_frost_out(house) else float(kills["value"])
        self._heat = self._heat_in(house, self.climate)

    def _heat_in(self, house: House, climate: str | None = None) -> list[float]:
        if climate is not None:
            days = ((night_c(self.site, climate, day), day_c(self.site, climate, day)) for day in range(DAYS))
            return [single_sine(night, max(night, day), self.base_c, self.upper_c) for night, day in days]
        leap_year = (datetime.date(2024, 1, 1) + day * _DAY for day in range(DAYS))
        return [day_heat(self.site, house, on, self.base_c, self.upper_c) for on in leap_year]

    def _way(self, steps: dict[str, Table]) -> tuple[str, int, float | None]:
        """From picking back to a step with a time of its own: that step, the days between, and the heat between if any."""
        days, heat, name = 0, None, "pick"
        while name not in (self.table.get("windows") or {}) and "after" in steps[name]:
            link = steps[name]["after"]
            gap = link.get("days", link.get("heat"))
            if gap == "emergence":
                rows = [(float(row["temp_c"]), row.get("days")) for row in self.table["emergence"]]
                raised = self.table["numbers"].get("raise_c", {"value": ROOM_C})
                days += math.ceil(days_at(rows, float(raised["value"])) or 0)
            elif "heat" in link:
                heat = (heat or 0.0) + float(gap.get("aim", gap["min"]))
            else:
                days += round(gap.get("aim", gap["min"]))
            name = link["step"]
        return name, days, heat

    def may_plant(self, on: datetime.date) -> bool:
        """Whether the calendar lets it be planted that day, in this house."""
        place = self.line.place_of[leap_place(on)]
        return any((place - first) % DAYS <= last - first for first, _, last in self.times)

    def ready(self, planted: datetime.date) -> datetime.date | None:
        """First day of picking; None where it would take longer than LONGEST_D days."""
        on = planted + self.days * _DAY
        if self.wanted is None:
            return on
        total = 0.0
        for step in range(LONGEST_D):
            total += self._heat[leap_place(on + step * _DAY)]
            if total >= self.wanted and step >= self.least_days:
                return on + step * _DAY
        return None

    def stands(self, on: datetime.date) -> bool:
        """Whether the crop is alive to be picked: before its own end, and while the fortnight's coldest night spares it."""
        place = leap_place(on)
        if self.until_place is not None and self.line.place_of[place] > self.until_place:
            return False
        return self.kills_c is None or self._coldest(place) > self.kills_c

    def _coldest(self, place: int) -> float:
        if self.climate is None:
            return house_night_c(self.site, self.house, place, FROST_SPREAD_C)
        night = night_c(self.site, self.climate, place) - FROST_SPREAD_C
        return night if self.house.heated_to_c is None else max(self.house.heated_to_c, night)

    def last_standing(self, since: datetime.date) -> datetime.date:
        """Last day of picking of a planting that is ready on a day on which it stands."""
        end = since
        while end + _DAY < since + self.span * _DAY and self.stands(end + _DAY):
            end += _DAY
        return end

    def sowing(self, planted: datetime.date, first: datetime.date, last: datetime.date, plants: int) -> Sowing:
        """The sowing for a planting that is picked from first to last."""
        seeds = seeds_to_sow(plants, expected_pct(self.table) / 100)
        return Sowing(planted - self.raise_days * _DAY, planted, first, last, plants, seeds)


def for_picking(
    planting: Planting,
    first: datetime.date,
    last: datetime.date,
    a_day: float,
    whole: bool = True,
    not_before: datetime.date | None = None,
) -> Successions:
    """The fewest sowings that give picking on every day from first to last that the climate permits.

    a_day: plants picked a day. whole: the plant is taken when picked (lettuce, radish); otherwise it is picked over again as
    often as its calendar says, and so many plants stand at a time. not_before: the first day on which anything can still be
    sown. Raises ValueError for a_day <= 0, a last day before the first, or more than LONGEST_PICKING_D days.
    """
    if a_day <= 0 or not 0 <= (last - first).days <= LONGEST_PICKING_D:
        raise ValueError(f"a_day={a_day}, {first} to {last}, expected more than 0 and up to {LONGEST_PICKING_D} days")
    all_ready = _ready_in(planting, first - (LONGEST_D + planting.span) * _DAY, last)
    ready = [pair for pair in all_ready if not_before is None or pair[0] - planting.raise_days * _DAY >= not_before]
    sowings: list[Sowing] = []
    open_days: list[datetime.date] = []
    day = first
    while day <= last:
        # The latest planting that is ready by then lasts longest.
        planted, since = next((pair for pair in reversed(ready) if pair[1] <= day), (None, day))
        if planted is None or since + planting.span * _DAY <= day or not planting.stands(day):
            open_days.append(day)
            day += _DAY
            continue
        end = day
        while end < last and end + _DAY < since + planting.span * _DAY and planting.stands(end + _DAY):
            end += _DAY
        plants = math.ceil(a_day * ((end - day).days + 1 if whole else planting.every) - 1e-9)
        sowings.append(planting.sowing(planted, day, end, plants))
        day = end + _DAY
    return Successions(sowings, _gaps(planting, open_days, all_ready, not_before))


def _ready_in(planting: Planting, first: datetime.date, last: datetime.date) -> list[tuple[datetime.date, datetime.date]]:
    """Each day from first to last on which it may be planted, with the day it is then ready, in order."""
    days = (first + step * _DAY for step in range((last - first).days + 1))
    return [(planted, on) for planted in days if planting.may_plant(planted) and (on := planting.ready(planted)) is not None]


def every_days(
    planting: Planting, first_sowing: datetime.date, last_sowing: datetime.date, every: int, plants: int
) -> Successions:
    """Sowings every so many days, what each gives, and the days between the first and the last picking that none serves.

    every: days between sowings. plants: of each. Sowings whose planting falls outside the calendar's time are left out.
    Raises ValueError for every < 1 or plants < 1.
    """
    _check(every, plants)
    chosen = {first_sowing + step * _DAY for step in range(0, (last_sowing - first_sowing).days + 1, every)}
    wait = planting.raise_days * _DAY
    pairs = _ready_in(planting, first_sowing + wait, last_sowing + wait)
    return _row_of(planting, [pair for pair in pairs if pair[0] - wait in chosen], plants)


def by_heat(
    planting: Planting, first_sowing: datetime.date, last_sowing: datetime.date, every: int, plants: int
) -> Successions:
    """Sowings so far apart in heat that their pickings begin every so many days: far apart in spring, close in summer.

    every: days between the pickings. plants: of each. The next is sown when so much heat has come since the last as comes in
    `every` days at its picking. Raises ValueError for every < 1 or plants < 1. Source: heat units as processors of peas
    schedule their sowings by them (Katz 1952; from memory).
    """
    _check(every, plants)
    wait = planting.raise_days * _DAY
    chosen: list[tuple[datetime.date, datetime.date]] = []
    for pair in _ready_in(planting, first_sowing + wait, last_sowing + wait):
        if planting.stands(pair[1]) and (not chosen or pair[1] >= chosen[-1][1] + every * _DAY):
            chosen.append(pair)
    return _row_of(planting, chosen, plants)


def _check(every: int, plants: int) -> None:
    if every < 1 or plants < 1:
        raise ValueError(f"every={every}, plants={plants}, expected at least 1")


def _row_of(planting: Planting, pairs: list[tuple[datetime.date, datetime.date]], plants: int) -> Successions:
    """What plantings with their first days of picking give."""
    sowings = [
        planting.sowing(planted, since, planting.last_standing(since), plants)
        for planted, since in pairs
        if planting.stands(since)
    ]
    picked = {
        sowing.pick_from + step * _DAY for sowing in sowings for step in range((sowing.pick_to - sowing.pick_from).days + 1)
    }
    spread = (min(picked) + step * _DAY for step in range((max(picked) - min(picked)).days)) if picked else ()
    return Successions(sowings, _gaps(planting, [day for day in spread if day not in picked], [], None))


def _gaps(
    planting: Planting,
    open_days: Iterable[datetime.date],
    ready: list[tuple[datetime.date, datetime.date]],
    not_before: datetime.date | None,
) -> list[Gap]:
    gaps: list[Gap] = []
    for day in open_days:
        why = _why(planting, day, ready, not_before)
        if gaps and gaps[-1].last == day - _DAY and gaps[-1].why == why:
            gaps[-1] = Gap(gaps[-1].first, day, why)
        else:
            gaps.append(Gap(day, day, why))
    return gaps


def _why(
    planting: Planting,
    day: datetime.date,
    ready: list[tuple[datetime.date, datetime.date]],
    not_before: datetime.date | None,
) -> str:
    many = planting.table["many"]
    if not planting.stands(day):
        return f"it is too cold for {many} to stand"
    if not ready:
        return f"no sowing of {many} is being picked"
    if not_before is not None and any(on <= day < on + planting.span * _DAY for _, on in ready):
        return f"{many} for then would have had to be sown by now"
    return f"no {many} planted in their time are ready then"


def usual_days(planting: Planting, today: datetime.date) -> tuple[datetime.date, datetime.date] | None:
    """The first half-year of picking that sowings from today on can give; None where none comes within LONGEST_D days."""
    wait = planting.raise_days * _DAY
    pairs = [pair for pair in _ready_in(planting, today + wait, today + LONGEST_D * _DAY) if planting.stands(pair[1])]
    if not pairs:
        return None
    first = min(on for _, on in pairs)
    ends = [planting.last_standing(on) for _, on in pairs if (on - first).days <= USUAL_PICKING_D]
    return first, min(max(ends), first + USUAL_PICKING_D * _DAY)
