"""Turns: the times of a year at which a crop can be set into its ground and be picked while it is fit to be.

Where summers are cool and winters cold that is the calendar's own window. Where summers are too hot for a crop it is cut at
the heat, and autumn (or, where winters are mild, autumn to spring) is a turn of its own; where nothing is left that is said.
Worked out day by day from the path to the first picking, the site's typical year and the temperature classes of the crop.
"""

from __future__ import annotations

from typing import Final, Literal

from server.season.climate import DAYS, Site
from server.season.constants import FROST_SPREAD_C, WINTER_SPREAD_C
from server.season.crop_calendar import Table
from server.season.last_days import first_pick, ripens
from server.season.windows import Days, Line, daylight_at
from server.season.years import unfit_for_years

EVERY_D = 3
"""Only each third day is tried. [d]"""
MILD_WINTER_C = 7.2
"""Daily mean from which winter is a time to grow in. [°C] The lower end of the cool-season class in Knott's Handbook, 45 °F."""
WINTER_LIGHT_H = 9.0
"""Length of midwinter's day from which, where it is mild too, winter is a time to grow in. [h] From memory: the south of Europe
and northern New Zealand have it, Britain under glass does not."""
SETTING_C = 4.0
"""By how much it may be hotter when a crop is set out than when it is picked. [°C] From memory: autumn's crops of warm
countries are set out in late summer."""
BEFORE_PICKING_D, PICKED_D = 28, 7
"""Days before the first picking in which heads, roots or fruit are made, and after it in which they are taken: the month whose
mean the temperature classes are of. [d]"""
HARDY_C = 2.0
"""By how much hardy plants stand more than the cold at which harm to them begins. [°C] From memory."""
LONGEST_D = 240
"""What takes longer to its first picking is not worked back: it goes by its own calendar. [d]"""
QUICK_D = 120
"""What takes longer has one turn a year: begun at another time it meets a winter, and runs to seed. [d] From memory."""
LEAST_D = 21
"""A turn shorter than this is none. [d] From memory."""
LEAST_BESIDE_D = 60
"""What is left of a time right beside the calendar's own window is a turn only if it is so long. [d] From memory."""
COVER_D = 28
"""How much longer than in the open it is between the frosts under a cover. [d] Source: common practice: tunnels gain three to
four weeks at either end."""
MOST_TURNS = 3

Unfit = Literal["short", "hot", "cold", "days", "winter", "mild", "cool"]
TOO_SHORT: Final = "short"
TOO_HOT: Final = "hot"
TOO_COLD: Final = "cold"
SHORT_DAYS: Final = "days"


def lines_of(site: Site, table: Table, cover: str) -> list[Line]:
    """A line of days for each turn of the year, the calendar's own (or what heat leaves of it) first; at least one."""
    plain = Line(site, table, cover)
    own = plain.window(plain.setting)
    if own is None or not _may_turn(plain, own):
        return [plain]
    runs = good_runs(plain)
    if not runs:
        return [plain]
    main, cut = _main(own, runs)
    first = plain if main == own else Line(site, table, cover, main)
    picked = first_pick(plain, plain.setting, main[1])
    if picked is None or picked - main[1] > QUICK_D:
        return [first]
    steady = good_runs(plain, bolting=True) if "bolts_h" in table["numbers"] else runs
    rests = sorted(rest for run in steady for rest in _without(run, main, beside=cut is not None and _meet(run, cut)))
    return [first, *(Line(site, table, cover, _with_best(rest)) for rest in rests[: MOST_TURNS - 1])]


def unfit(line: Line, step: str) -> Unfit | None:
    """Why what is begun on a step's best day will not be picked in a usual year; None where it will."""
    window, own = line.window(step), line.window(line.setting)
    if window is None or own is None:
        return None
    bulbs = line.table["numbers"].get("bulb_h")
    if bulbs is not None and max(daylight_at(line.site.lat, line.order)) < bulbs["value"]:
        return SHORT_DAYS
    if line.turn is None and not ripens(line, step):  # other turns are such that it does
        return TOO_SHORT
    for_years = unfit_for_years(line)
    if for_years is not None:
        return for_years
    picked = first_pick(line, line.setting, own[1])
    if picked is None or _pick(line.table).get("season"):
        return None
    if _killed(line, own[1], picked):
        return TOO_COLD
    return TOO_HOT if _too_hot(line, own[1], picked) and not good_runs(line) else None


def good_runs(line: Line, bolting: bool = False) -> list[tuple[int, int]]:
    """First and last place of each stretch of days on which the setting step leads to a picking; the last may lie beyond the
    year's end. In order of first place. bolting: with days that are too long for it reckoned in."""
    good = [_good(line, place, bolting) for place in range(0, DAYS, EVERY_D)]
    if all(good):
        return [(0, DAYS - 1)]
    runs: list[tuple[int, int]] = []
    start = good.index(False)
    for step in range(start, start + len(good)):
        if not good[step % len(good)]:
            continue
        place = step * EVERY_D if step < len(good) else DAYS + (step - len(good)) * EVERY_D
        if runs and place - runs[-1][1] <= EVERY_D:
            runs[-1] = (runs[-1][0], place)
        else:
            runs.append((place, place))
    return [run for run in runs if run[1] - run[0] >= LEAST_D]


def _may_turn(line: Line, own: Days) -> bool:
    """Whether a crop and a climate are such that heat or a mild winter bear on when it is grown."""
    numbers = line.table["numbers"]
    if line.cover == "indoors" or "hot_c" not in numbers or _pick(line.table).get("season") or "bulb_h" in numbers:
        return False
    if line.table["hardiness"] == "hardy" and (line.entry(line.setting) or {}).get("of") == "first_frost":
        return False  # it is grown to stand the winter
    picked = first_pick(line, line.setting, own[1])
    if picked is not None and picked - own[1] > LONGEST_D:
        return False
    mean = line.mean_c
    light = min(daylight_at(line.site.lat, line.order))
    mild = light >= WINTER_LIGHT_H and min(mean) >= max(MILD_WINTER_C, numbers["cool_c"]["value"])
    return mild or max(mean) > float(numbers["hot_c"]["value"])


def _good(line: Line, place: int, bolting: bool) -> bool:
    picked = first_pick(line, line.setting, place)
    if picked is None or picked - place > LONGEST_D or _too_hot(line, place, picked) or _killed(line, place, picked):
        return False
    numbers = line.table["numbers"]
    bolts = numbers["bolts_h"]["value"] if bolting else 24
    if daylight_at(line.site.lat, line.order)[picked % DAYS] > bolts:
        return False
    cool, least = numbers["cool_c"]["value"], numbers.get("soil_c")
    if least is not None and line.soil_c[place] < least["value"]:
        return False
    if line.table["hardiness"] != "tender":
        return all(line.mean_c[day % DAYS] >= cool for day in range(place, picked, 7))
    gate = (line.table.get("gates") or {}).get(line.setting)
    if gate is not None:
        night = line.covered[0][line.order[place]]
        if night < gate["night_c"]["value"] - gate["allow_c"]["value"]:
            return False
    in_time = not _has_frosts(line) or _between_frosts(line, place, picked)
    return bool(in_time and _month_c(line, picked) >= cool)


def _has_frosts(line: Line) -> bool:
    return line.anchor("first_frost") < DAYS - 1


def _between_frosts(line: Line, place: int, picked: int) -> bool:
    """Whether it stands only where no frost is looked for, or frost only cuts it back; under cover that is four weeks more at
    either end."""
    more = 0 if line.cover == "open" else COVER_D
    began_after = line.anchor("last_frost") - more <= place or line.table.get("frost", "kills") != "kills"
    return began_after and picked <= line.anchor("first_frost") + more


def _too_hot(line: Line, place: int, picked: int) -> bool:
    """Whether it is set into heat, or makes what is picked in heat."""
    hot = line.table["numbers"].get("hot_c")
    if hot is None:
        return False
    return bool(line.mean_c[place % DAYS] > hot["value"] + SETTING_C or _month_c(line, picked) > hot["value"])


def _month_c(line: Line, picked: int) -> float:
    """Mean of the month in which what is picked is made. [°C]"""
    days = range(picked - BEFORE_PICKING_D, picked + PICKED_D + 1, 7)
    return sum(line.mean_c[day % DAYS] for day in days) / len(days)


def winter_kills(line: Line) -> int | None:
    """Place of the first day after the first picking on which a usual winter kills what still stands; None where none does, or
    where the crop's own calendar ends it."""
    own, pick, kills_c = line.window(line.setting), _pick(line.table), _kills_c(line)
    if own is None or kills_c is None or "season" in pick or "until" in pick:
        return None
    picked = first_pick(line, line.setting, own[1])
    if picked is None or _killed(line, own[1], picked):
        return None
    nights, least = line.covered[0], kills_c + FROST_SPREAD_C
    return next((day for day in range(picked, picked + DAYS) if nights[line.order[day % DAYS]] < least), None)


def _killed(line: Line, place: int, picked: int) -> bool:
    """Whether the coldest night until the picking kills it, in a usual year."""
    kills_c = _kills_c(line)
    if kills_c is None:
        return False
    nights, order = line.covered[0], line.order
    coldest = min([nights[order[day % DAYS]] for day in range(place, picked + 1, 3)])
    return coldest < kills_c + (WINTER_SPREAD_C if place < DAYS < picked else FROST_SPREAD_C)


def _kills_c(line: Line) -> float | None:
    """The night that kills what stands there, as a usual year has it; None where none does. [°C]"""
    kills = line.table["numbers"].get("frost_kills_c")
    if kills is None or line.cover == "indoors" or line.table.get("frost", "kills") != "kills":
        return None
    return float(kills["value"]) - (HARDY_C if line.table["hardiness"] == "hardy" else 0.0)


def _main(own: Days, runs: list[tuple[int, int]]) -> tuple[Days, tuple[int, int] | None]:
    """The calendar's own days as far as a run has them, the nearest to its best day, and that run; the longest run where none
    has enough of them."""
    enough = min(LEAST_D, (own[2] - own[0]) / 2)
    shared = [(max(own[0], run[0] + turned), min(own[2], run[1] + turned), run) for run in runs for turned in (0, -DAYS, DAYS)]
    shared = [(first, last, run) for first, last, run in shared if last - first >= enough]
    if not shared:
        return _with_best(max(runs, key=lambda run: run[1] - run[0])), None
    first, last, run = min(shared, key=lambda one: (max(one[0] - own[1], own[1] - one[1], 0), one[0] - one[1]))
    if own[2] - last <= EVERY_D and first - own[0] <= EVERY_D:
        return own, run
    latest = last if own[2] - last <= EVERY_D else (first + last) // 2  # the sooner, the surer, where heat comes
    soonest = first if first - own[0] <= EVERY_D else first + 7  # what leads up to it needs some room
    return (first, min(max(own[1], soonest), latest), last), run


def _meet(run: tuple[int, int], other: tuple[int, int]) -> bool:
    return any(run[0] + turned <= other[1] and other[0] <= run[1] + turned for turned in (0, -DAYS, DAYS))


def _with_best(run: tuple[int, int]) -> Days:
    """A run's best day is a third into it: later ones are for stragglers."""
    return run[0], run[0] + (run[1] - run[0]) // 3, run[1]


def _without(run: tuple[int, int], main: Days, beside: bool) -> list[tuple[int, int]]:
    """What is left of a run without the main turn's days."""
    least = LEAST_BESIDE_D if beside else LEAST_D
    left = [run]
    for turned in (0, -DAYS, DAYS):
        first, last = main[0] + turned, main[2] + turned
        left = (
            [
                piece
                for start, end in left
                for piece in ((start, min(end, first - 1)), (max(start, last + 1), end))
                if piece[1] >= piece[0]
            ]
            if any(start <= last and first <= end for start, end in left)
            else left
        )
    return sorted({piece for piece in left if piece[1] - piece[0] >= least})


def _pick(table: Table) -> Table:
    return next((step for step in table["steps"] if step["verb"] == "pick"), {})
