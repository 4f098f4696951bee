"""What the rulebook says of a step's days under every cover: window, gate, last day of a repeat, weeks of the year."""

from __future__ import annotations

import calendar
import math
from collections.abc import Iterator
from typing import Any

from server.season.calendar_schema import COVERS
from server.season.climate import DAYS, Site, month_and_day
from server.season.crop_calendar import Table
from server.season.frost import nights_hold_from
from server.season.house import House
from server.season.last_days import last_that_pays
from server.season.turns import lines_of, unfit, winter_kills
from server.season.windows import SURE_NIGHTS, Line

TURNED = "the heat and the cold that are usual here"


def spoken(site: Site, day: int) -> str:
    """`12 May`."""
    month, date = month_and_day(day)
    return f"{date} {calendar.month_name[month]}"


def weeks_words(weeks: float, before: str, after: str, at: str) -> str:
    """`2 weeks after the last frost`, `at the last frost`, `8 weeks before planting`."""
    if weeks == 0:
        return at
    number = abs(weeks)
    words = "1 week" if number == 1 else f"{number:g} weeks"
    return f"{words} {before if weeks < 0 else after}"


WHENCE = {"waking": "growth wakes", "spring": "spring warmth", "bulbing": "bulbs begin", "leaf_fall": "leaves fall"}


def why_words(line: Line, entry: Table) -> str:
    """Where a window comes from, in words."""
    site = line.site
    weeks = entry["weeks"]["aim"]
    if entry["of"] == "last_frost":
        when = f"the last frost, about {spoken(site, site.last_frost)}"
        return weeks_words(weeks, f"before {when}", f"after {when}", f"at {when}")
    if entry["of"] == "first_frost":
        when = f"the first frost, about {spoken(site, site.first_frost)}"
        return weeks_words(weeks, f"before {when}", f"after {when}", f"at {when}")
    if entry["of"] in WHENCE:
        when = f"{WHENCE[entry['of']]}, about {spoken(site, site.order[line.anchor(entry['of']) % DAYS])}"
        return weeks_words(weeks, f"before {when}", f"after {when}", f"at {when}")
    if entry["of"] == "gate":
        return weeks_words(
            weeks, "before nights are warm enough", "after nights are warm enough", "when nights are warm enough"
        )
    return weeks_words(-weeks, "before planting", "after planting", "at planting")


Lines = dict[str, Line]
"""A crop's line of days under every cover and in every house of its own."""


def turns_of(site: Site, table: Table) -> list[Lines]:
    """The lines of each turn of the year; where a cover has fewer turns than another its first one stands in."""
    found = {climate: lines_of(site, table, climate) for climate in (*COVERS, *site.own)}
    most = max(map(len, found.values()))
    return [{name: (lines[turn] if turn < len(lines) else lines[0]) for name, lines in found.items()} for turn in range(most)]


def windows_of(lines: Lines, step: Table) -> dict[str, Any] | None:
    """A step's window under every cover that differs, `*` for the rest; None where it has none."""
    found: dict[str, Any] = {}
    for name, line in lines.items():
        window, entry = line.window(step["id"]), line.entry(step["id"])
        if window is not None and entry is not None:
            found[name] = _window(line, step["id"], window) | {"why": _why(line, step["id"], entry)}
    folded = _folded({cover: found[cover] for cover in COVERS if cover in found})
    for name in found.keys() - set(COVERS):
        if folded is not None and found[name] != folded.get(lines[name].cover, folded["*"]):
            folded[name] = found[name]
    return folded


def _why(line: Line, step: str, entry: Table) -> str:
    """Where a window comes from; heat's and winter's own turns say so."""
    if line.turn is not None and step == line.setting:
        return TURNED
    return why_words(line, entry)


def _window(line: Line, step: str, window: tuple[int, int, int]) -> dict[str, Any]:
    """From when, best, and by when as dates; `last` is the last day on which it still pays, where that is later; `unfit` says
    why it will hardly be picked."""
    made: dict[str, Any] = dict(zip(("from", "aim", "by"), map(line.date, window), strict=True))
    last = last_that_pays(line, step)
    if last is not None and last > window[2]:
        made["last"] = line.date(last)
    ids = [one["id"] for one in line.table["steps"]]
    trouble = unfit(line, step) if ids.index(step) <= ids.index(line.setting) else None
    if trouble is not None:
        made["unfit"] = trouble
    return made


def untils_of(lines: Lines, step: Table) -> dict[str, str] | str | None:
    """The last day of a repeating step, or that on which winter ends what it kills; by cover where they differ."""
    found: dict[str, str] = {}
    for cover in COVERS:
        line = lines[cover]
        if "until" in step:
            found[cover] = line.until(step["until"])
        elif step["verb"] == "pick" and (killed := winter_kills(line)) is not None:
            found[cover] = line.date(killed)
    if len(set(found.values())) == 1 and len(found) == len(COVERS):
        return next(iter(found.values()))
    return found or None


def seasons_of(site: Site, table: Table, step: Table) -> dict[str, str] | None:
    """The weeks of each year within which alone a step is done, `from` and `to` as `MM-DD`; None for one of any time."""
    if "season" not in step:
        return None
    return Line(site, table, "open").season(step["season"])


def gates_of(site: Site, table: Table, lines: Lines, step: Table) -> dict[str, Any] | None:
    """A step's gate under every cover, None where it has none."""
    gate = (table.get("gates") or {}).get(step["id"])
    if gate is None:
        return None
    night = gate["night_c"]["value"]
    at: dict[str, str] = {}
    for name, line in lines.items():  # covers first, then houses of their own
        opens = line.gate(step["id"])
        if opens is not None and (name in COVERS or line.date(opens) != at.get(line.cover)):
            at[name] = line.date(opens)
    least = math.floor(night - gate["allow_c"]["value"])
    sure = {cover: lines[cover].date(lines[cover].place_of[day]) for cover, day in _sure_nights(site, least)}
    return {"night_c": int(night), "at": at, "least_c": least, "sure": sure, "text": f"nights hold above {night:g} °C"}


def _sure_nights(site: Site, night_c: float) -> Iterator[tuple[str, int]]:
    """From which day nine single nights in ten hold, under each cover where they ever do."""
    for cover in COVERS:
        day = None if cover == "indoors" else nights_hold_from(site, House(cover), night_c, SURE_NIGHTS)
        if day is not None:
            yield cover, day


def _folded(by_cover: dict[str, Any]) -> dict[str, Any] | None:
    """The commonest entry under `*`, the others by name."""
    if not by_cover:
        return None
    values = list(by_cover.values())
    common = max(values, key=values.count)
    return {"*": common} | {cover: entry for cover, entry in by_cover.items() if entry != common}
