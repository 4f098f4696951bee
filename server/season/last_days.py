"""The last day on which a sowing or planting still pays: what grows from it is picked before cold, dark or frost ends it.

Worked out from the crop's own path and the site's typical year; a calendar's own last day always stands.
"""

from __future__ import annotations

import bisect
import functools
import math

from server.season.climate import DAYS, Curve
from server.season.constants import GROWTH_C
from server.season.crop_calendar import Table
from server.season.emergence import days_at
from server.season.sun import daylight_hours
from server.season.windows import LIGHT_H, Line

LATEST_D = 42
"""No day later than so long after the calendar's own last one is worked out: heat alone is no proof beyond. [d] From memory."""
WORTH_PICKING_D = 28
"""What is picked over and over must give for so long to be worth its bed. [d] From memory."""
WORTH_LIFTING_D = 10
"""What is taken whole must be ready so long before the end. [d] From memory."""
ROOM_C = 18.0
"""Where a calendar gives no temperature to raise at. [°C] From memory: a propagator's usual setting."""


def last_that_pays(line: Line, step: str) -> int | None:
    """Place of the last day a step with a window of its own is still of use; None where it has none.

    Never earlier than the window's own end, nor more than LATEST_D days later.
    """
    window = line.window(step)
    if window is None:
        return None
    if line.turn is not None:
        return window[2]  # heat ends it, or the next turn begins
    end = _end(line, window[1])
    if end is None:
        return window[2]
    pick = next(step for step in line.table["steps"] if step["verb"] == "pick")
    worth = WORTH_LIFTING_D if pick.get("whole_plant") or "every" not in pick else WORTH_PICKING_D
    pays, too_late = window[2], window[2] + LATEST_D + 1
    while too_late - pays > 1:  # the later it is begun, the later it is picked
        middle = (pays + too_late) // 2
        picked = first_pick(line, step, middle)
        if picked is None or picked + worth > end:
            too_late = middle
        else:
            pays = middle
    return pays


def ripens(line: Line, step: str) -> bool:
    """Whether what is begun on a window's best day is ready before cold, dark or frost ends it, in a usual year."""
    window = line.window(step)
    pick: Table = next((one for one in line.table["steps"] if one["verb"] == "pick"), {})
    if window is None or ("until" not in pick and line.table["hardiness"] != "tender"):
        return True  # what stands the winter has another spring
    end = _end(line, window[1])
    if end is None:
        return True
    picked = first_pick(line, step, window[1])
    return picked is not None and picked <= end


def _end(line: Line, aim: int) -> int | None:
    """Place of the day that ends what stands: its own last picking, else frost for what frost kills, else the end of growth."""
    table = line.table
    pick = next((step for step in table["steps"] if step["verb"] == "pick"), None)
    if pick is None or "season" in pick:
        return None
    if "until" in pick:
        place = line.anchor(pick["until"]["of"]) + round(7 * float(pick["until"].get("weeks", 0)))
    elif table["hardiness"] == "tender":
        place = line.anchor("first_frost")
    else:
        place = _growth_ends(line.site.lat, line.order, line.site.warmest, line.mean_c)
    while place < aim:
        place += DAYS
    return place


@functools.lru_cache(maxsize=32)
def _growth_ends(lat: float, order: tuple[int, ...], warmest: int, mean_c: Curve) -> int:
    """Place of the first day after the warmest that is too cold or too short for anything to grow on."""
    for place in range(warmest, DAYS):
        day = order[place]
        if mean_c[place] < GROWTH_C or daylight_hours(lat, day + 1) < LIGHT_H:
            return place
    return DAYS - 1


def first_pick(line: Line, step: str, place: int) -> int | None:
    """Place of the first picking of what is sown or planted on a day; None where its heat never comes."""
    path = line.to_picking(step)
    if path is None:
        return None
    done = {step: place}
    for later, links in path:
        days = [_after(line, link, done[link["step"]]) for link in links]
        on = [day for day in days if day is not None]
        if len(on) < len(days):
            return None
        done[later] = place = max(on)
    return place


def _after(line: Line, link: Table, since: int) -> int | None:
    if link.get("days") == "emergence":
        took = _emergence_d(line, since)
        return None if took is None else since + math.ceil(took)
    gap = link.get("heat") or link["days"]
    wanted = float(gap.get("aim", gap["min"]))
    if "heat" not in link:
        return since + round(wanted)
    sums, start = line.heat_sums, since % DAYS
    reached = bisect.bisect_left(sums, sums[start] + wanted, start)
    warm = since + reached - start
    return max(warm, since + round(gap.get("least_days") or 0)) if reached < 2 * DAYS else None


def _emergence_d(line: Line, since: int) -> float | None:
    """Days until seedlings of a day's sowing come up; None at a temperature at which none do. [d]"""
    rows = [(float(row["temp_c"]), row.get("days")) for row in line.table["emergence"]]
    if line.table["start"] != "raised":
        return days_at(rows, line.mean_c[since % DAYS])
    return days_at(rows, float(line.table["numbers"].get("raise_c", {"value": ROOM_C})["value"]))
