"""The line of days of a crop at a site: the days on which a step may, should and must be done.

Days are counted on one line from midwinter to midwinter and beyond (`place`), so that spring comes before autumn in both
hemispheres; only at the end do they become dates `Y-MM-DD`, Y years after the calendar year of the crop's first step.
"""

from __future__ import annotations

from functools import cached_property, lru_cache
from itertools import accumulate

from server.season.climate import DAYS, MONTH_START, Curve, Site, covered_year, month_and_day, nights_hold
from server.season.crop_calendar import Table, counts_down, links_of
from server.season.degree_days import single_sine
from server.season.soil import soil_year, warm_enough
from server.season.sun import daylight_hours

MOST_YEARS = 2
SURE_NIGHTS = 0.9
"""Share of single nights that hold from the day a list tells beside the day on which nights hold in the mean."""


LIGHT_H = 10.0
"""Below ten hours of day growth nearly stops, however warm the house: no warm crop is planted there earlier. [h] Source:
common practice of winter growers under glass."""


AUTUMN_AT_LATEST_D = 60
"""Where frost comes late or never, what is counted from autumn's first frost is counted from so long before the end of the
growing year, two months before midwinter's middle. [d] From memory: garlic and winter salads of mild coasts."""

LEAST_WINDOW_D = 14
"""What nights or cold soil put off is planted within so many days all the same, as its raising hangs on it. [d] From memory."""
LEAST_SEASON_D, MOST_SEASON_D, SHORT_SEASON_D = 14, 340, 21
"""What is done in its weeks of each year has so many days at least and at most, else the third number of them. [d]"""

Days = tuple[int, int, int]
"""Places of the first, best and last day."""


def setting_step(table: Table) -> str:
    """The step that brings a crop into its final ground at a time of its own."""
    return "plant_out" if "plant_out" in (table.get("windows") or {}) else str(table["steps"][0]["id"])


def cover_of(climate: str) -> str:
    """What is overhead in a climate: `tunnel` of `tunnel.<place>`, and of `tunnel`."""
    return climate.split(".", 1)[0]


WARMTHS = {"waking": (5.0, 10.0), "spring": (10.0, 12.0)}
"""Mean of day and night [°C] and length of day [h] from which roots and buds wake, and from which shoots, flowers and bulbs are
made. Source: the growing season of meteorological services (5 °C) and ten hours of winter growers; 10 °C and 12 h from memory,
set by when asparagus and strawberries come and garlic is lifted from Vermont to Auckland."""

LEAF_FALL = (8.0, 9.5)
"""Mean of day and night [°C] or length of day [h] below which leaves are down and wood is at rest, whichever comes first.
Source: common practice: bare wood is pruned and planted from November on in England, from December where autumns are warm."""


@lru_cache(maxsize=32)
def daylight_at(lat: float, order: tuple[int, ...]) -> tuple[float, ...]:
    """Length of the day at each place of the growing year. [h]"""
    return tuple(daylight_hours(lat, day + 1) for day in order)


def light_enough(site: Site) -> int:
    """Place of the first day after midwinter that is ten hours long."""
    hours = daylight_at(site.lat, site.order)
    return next((place for place in range(DAYS // 2) if hours[place] >= LIGHT_H), DAYS // 2)


@lru_cache(maxsize=256)
def _heat_sums(
    nights_c: Curve, days_c: Curve, order: tuple[int, ...], base_c: float, upper_c: float | None
) -> tuple[float, ...]:
    """Degree-days gathered before each place of three years. [°C d]"""
    day_heat = [single_sine(nights_c[day], max(nights_c[day], days_c[day]), base_c, upper_c) for day in order]
    return tuple(accumulate(day_heat * 3, initial=0.0))


@lru_cache(maxsize=64)
def _mean_c(nights_c: Curve, days_c: Curve, order: tuple[int, ...]) -> Curve:
    """Mean of day and night at each place. [°C]"""
    return tuple((nights_c[day] + max(nights_c[day], days_c[day])) / 2 for day in order)


@lru_cache(maxsize=32)
def _place_of(order: tuple[int, ...]) -> dict[int, int]:
    """The place of each day of the year in the growing year."""
    return {day: place for place, day in enumerate(order)}


class Line:
    """The line of days at a site, for one crop under one cover or in one house with a climate of its own.

    turn: the days of its setting step (`setting_step`) where they are not the calendar's own but one of the times of the year
    that heat and cold leave; what leads up to it moves with it.
    """

    def __init__(self, site: Site, table: Table, cover: str, turn: Days | None = None) -> None:
        self.turn = turn
        self.setting = setting_step(table)
        self._plain = None if turn is None else Line(site, table, cover)
        self.site = site
        self.table = table
        self.climate = "glass" if cover == "indoors" else cover
        self.cover = cover_of(self.climate)
        self.order = site.order
        self.place_of = _place_of(self.order)
        self._gates: dict[str, int | None] = {}
        self._to_picking: dict[str, list[tuple[str, list[Table]]] | None] = {}
        self._windows: dict[str, Days | None] = {}
        self.begins: int | None = None
        """Place of the first step's first day; nothing later may lie before it."""
        self.base = 0
        first = table["steps"][0]["id"]
        window = self.window(first)
        if window is not None:
            self.begins = window[0]
            self.base = self.year(window[1])
        self._windows.clear()  # those before it was known when it begins

    @cached_property
    def covered(self) -> tuple[Curve, Curve]:
        """Nights and days of the year here. [°C]"""
        return covered_year(self.site, self.climate)

    @cached_property
    def mean_c(self) -> Curve:
        """Mean of day and night at each place. [°C]"""
        return _mean_c(*self.covered, self.order)

    @cached_property
    def soil_c(self) -> Curve:
        """Temperature of the soil where seed lies, at each place. [°C]"""
        soil = soil_year(*self.covered)
        return tuple(soil[day] for day in self.order)

    @cached_property
    def heat_sums(self) -> tuple[float, ...]:
        """Degree-days gathered before each place of three years, in the crop's own bounds. [°C d]"""
        numbers = self.table["numbers"]
        upper = float(numbers["upper_c"]["value"]) if "upper_c" in numbers else None
        return _heat_sums(*self.covered, self.order, float(numbers["base_c"]["value"]), upper)

    def year(self, place: int) -> int:
        """Calendar years after that of midwinter's start."""
        around, day = divmod(place, DAYS)
        return around + (1 if self.site.south and self.order[day] < MONTH_START[6] else 0)

    def gate(self, step: str) -> int | None:
        """Place of the day a step's nights hold (the warmest day where they never do); None where it has no gate."""
        if step not in self._gates:
            self._gates[step] = self._gate(step)
        return self._gates[step]

    def _gate(self, step: str) -> int | None:
        gate = (self.table.get("gates") or {}).get(step)
        if gate is None:
            return None
        if self.turn is not None and step == self.setting:
            return self.turn[0]
        threshold = gate["night_c"]["value"] - gate["allow_c"]["value"]
        opens = nights_hold(self.site, self.climate, threshold)[0]
        return max(opens, light_enough(self.site)) if self.climate in self.site.own else opens

    def anchor(self, of: str) -> int:
        """Place of what weeks are counted from."""
        if of == "last_frost":
            return self.place_of[self.site.last_frost]
        if of == "first_frost":
            return self.place_of[self.site.first_frost]
        if of in WARMTHS:
            return self._since(*WARMTHS[of])
        if of == "leaf_fall":
            return self._leaves_fall()
        if of == "bulbing":
            return self._since(WARMTHS["spring"][0], self.table["numbers"].get("bulb_h", {"value": LIGHT_H})["value"])
        if of == "autumn":
            return min(self.place_of[self.site.first_frost], DAYS - AUTUMN_AT_LATEST_D)
        if of == "gate":
            gate = self.gate("plant_out")
            return gate if gate is not None else self.place_of[self.site.last_frost]
        window = self.window("plant_out")
        return window[1] if window is not None else self.place_of[self.site.last_frost]

    def _since(self, mean_c: float, day_h: float) -> int:
        """Place of the first day after midwinter that is so warm and so long; the longest where none is."""
        hours = daylight_at(self.site.lat, self.order)
        return next((at for at in range(DAYS) if self.mean_c[at] >= mean_c and hours[at] >= day_h), DAYS // 2)

    def _leaves_fall(self) -> int:
        """Place of the first day after the warmest on which wood goes to rest; the end of the growing year where none does."""
        hours = daylight_at(self.site.lat, self.order)
        at_rest = (at for at in range(DAYS // 2 + 31, DAYS) if self.mean_c[at] <= LEAF_FALL[0] or hours[at] <= LEAF_FALL[1])
        return next(at_rest, DAYS - 1)

    def to_picking(self, step: str) -> list[tuple[str, list[Table]]] | None:
        """The steps that hang on one, to the first picking, each with what of these it comes after; None for no picking."""
        if step not in self._to_picking:
            self._to_picking[step] = self._hanging_on(step)
        return self._to_picking[step]

    def _hanging_on(self, step: str) -> list[tuple[str, list[Table]]] | None:
        known, found = {step}, list[tuple[str, list[Table]]]()
        for later in self.table["steps"]:
            if later["id"] in known or self.cover not in later.get("covers", [self.cover]):
                continue
            links = [link for link in links_of(later) if link["step"] in known]
            if links:
                found.append((later["id"], links))
                known.add(later["id"])
            if later["verb"] == "pick":
                return found if links else None
        return None

    def window(self, step: str) -> Days | None:
        """Places of the first, best and last day of a step's own window."""
        if step not in self._windows:
            self._windows[step] = self._window(step)
        return self._windows[step]

    def _window(self, step: str) -> Days | None:
        entry = self.entry(step)
        if entry is None:
            return None
        if self.turn is not None and step == self.setting:
            return self._after_beginning(*self.turn)
        if self.turn is not None and self._leads_up(step, entry):
            return self._moved(step)
        weeks = [round(7 * entry["weeks"][key]) for key in ("from", "aim", "by")]
        planting = self.window("plant_out") if entry["of"] == "planting" else None
        if planting is not None:
            first, aim, last = (place - days for place, days in zip(planting, weeks, strict=True))
        else:
            sign = -1 if counts_down(entry["of"]) else 1
            of = "autumn" if entry["of"] == "first_frost" else entry["of"]
            first, aim, last = (self.anchor(of) + sign * days for days in weeks)
        gate = self.gate(step)
        width = min(LEAST_WINDOW_D, last - aim)
        if gate is not None:
            first, aim = max(first, gate), max(aim, gate)
            last = max(last, aim + width)
        days = self._after_beginning(*self._in_warm_soil(step, (first, aim, last), width))
        return self._after_setting(step, days)

    def _leads_up(self, step: str, entry: Table) -> bool:
        """Whether a step has a time of its own by the seasons and comes before the setting step."""
        ids = [one["id"] for one in self.table["steps"]]
        return not counts_down(entry["of"]) and ids.index(step) < ids.index(self.setting)

    def _moved(self, step: str) -> Days | None:
        """A step's own days, moved by as much as the setting step is."""
        own, set_out = (self._plain.window(one) if self._plain else None for one in (step, self.setting))
        if own is None or set_out is None or self.turn is None:
            return own
        first, aim, last = (day + to - by for day, to, by in zip(own, self.turn, set_out, strict=True))
        return self._after_beginning(first, aim, last)

    def _in_warm_soil(self, step: str, days: Days, width: int) -> Days:
        """What goes into the ground waits in spring until its soil is warm enough, and is in by autumn before it is not.

        width: days from the best to the last that it keeps at least, however late it is warm enough.
        """
        first, aim, last = days
        least = self.table["numbers"].get("soil_c")
        if least is None or not any(one["id"] == step and one["where"] == "final" for one in self.table["steps"]):
            return first, aim, last
        warm = warm_enough(*self.covered, self.order, float(least["value"]))
        if not 0 <= aim < DAYS:
            return first, aim, last
        thaws, freezes = warm or (self.site.warmest, DAYS - 1)  # where it never is, the warmest day, as with nights
        first = max(first, thaws)
        if aim < self.site.warmest:
            aim = max(aim, thaws)
            return first, aim, max(last, aim + width)
        if freezes == DAYS - 1:
            return first, aim, last  # no winter to be in before
        latest = max(min(last, freezes), first)
        return first, min(aim, latest), latest

    def _after_setting(self, step: str, days: Days) -> Days:
        """What is lifted so many days after it was set is not lifted in the weeks in which it is set, but a year on."""
        table = next(one for one in self.table["steps"] if one["id"] == step)
        link, own = table.get("after") or {}, self.window(self.setting) if step != self.setting else None
        if own is None or link.get("step") != self.setting or not isinstance(link.get("days"), dict):
            return days
        first, aim, last = days
        while aim < own[1] + link["days"]["min"] // 2:
            first, aim, last = first + DAYS, aim + DAYS, last + DAYS
        return first, aim, last

    def _after_beginning(self, first: int, aim: int, last: int) -> Days:
        while self.begins is not None and aim < self.begins:
            first, aim, last = first + DAYS, aim + DAYS, last + DAYS
        return first, aim, last

    def entry(self, step: str) -> Table | None:
        """A step's window as the calendar gives it for this cover."""
        window = (self.table.get("windows") or {}).get(step)
        if window is None:
            return None
        covers = window.get("covers")
        found: Table | None = window if covers is None else covers.get(self.cover, covers.get("*"))
        return found

    def season(self, season: Table) -> dict[str, str]:
        """The weeks of each year from one anchor to another, as `MM-DD`; three weeks where a short winter or summer leaves
        fewer between them, or ends them before they begin."""
        first, last = (self.anchor(season[end]["of"]) + round(7 * float(season[end].get("weeks", 0))) for end in ("from", "to"))
        if not LEAST_SEASON_D <= (last - first) % DAYS <= MOST_SEASON_D:
            last = first + SHORT_SEASON_D
        return {"from": self.month_day(first), "to": self.month_day(last)}

    def until(self, entry: Table) -> str:
        """The last day of something that repeats."""
        place = self.anchor(entry["of"]) + round(7 * entry.get("weeks", 0))
        return self.date(self._after_beginning(place, place, place)[0])

    def date(self, place: int) -> str:
        """A place on the line as `Y-MM-DD`."""
        years = self.year(place) - self.base
        if years < 0:
            return "0-01-01"
        return f"{min(years, MOST_YEARS)}-{self.month_day(place)}"

    def month_day(self, place: int) -> str:
        """A place on the line as `MM-DD`."""
        month, day = month_and_day(self.order[place % DAYS])
        return f"{month:02d}-{day:02d}"
