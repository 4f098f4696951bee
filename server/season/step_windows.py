"""What the rulebook says of a step's days under every cover: window, gate, last day of a repeat, weeks of the year."""

from __future__ import annotations

import calendar
import math
from collections.abc import Iterator
from typing import Any

from server.season.calendar_schema import COVERS
from server.season.climate import Site, month_and_day
from server.season.crop_calendar import Table
from server.season.frost import nights_hold_from
from server.season.house import House
from server.season.last_days import last_that_pays, ripens
from server.season.windows import SURE_NIGHTS, Line


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


def why_words(site: Site, entry: Table) -> str:
    """Where a window comes from, in words."""
    weeks = entry["weeks"]["aim"]
    if entry["of"] == "last_frost":
        when = f"the last frost, about {spoken(site, site.last_frost)}"
        return weeks_words(weeks, f"before {when}", f"after {when}", f"at {when}")
    if entry["of"] == "first_frost":
        when = f"the first frost, about {spoken(site, site.first_frost)}"
        return weeks_words(weeks, f"before {when}", f"after {when}", f"at {when}")
    if entry["of"] == "gate":
        return weeks_words(
            weeks, "before nights are warm enough", "after nights are warm enough", "when nights are warm enough"
        )
    return weeks_words(-weeks, "before planting", "after planting", "at planting")


def windows_of(site: Site, table: Table, step: Table) -> dict[str, Any] | None:
    """A step's window under every cover that differs, `*` for the rest; None where it has none."""
    if step["id"] not in (table.get("windows") or {}):
        return None
    found: dict[str, Any] = {}
    for cover in COVERS:
        line = Line(site, table, cover)
        window, entry = line.window(step["id"]), line.entry(step["id"])
        if window is not None and entry is not None:
            found[cover] = _window(line, step["id"], window) | {"why": why_words(site, entry)}
    folded = _folded(found)
    for climate in site.own:
        line = Line(site, table, climate)
        window, entry = line.window(step["id"]), line.entry(step["id"])
        if window is not None and entry is not None and folded is not None:
            own = _window(line, step["id"], window) | {"why": why_words(site, entry)}
            if own != folded.get(line.cover, folded["*"]):
                folded[climate] = own
    return folded


def _window(line: Line, step: str, window: tuple[int, int, int]) -> dict[str, Any]:
    """From when, best, and by when as dates; `last` is the last day on which it still pays, where that is later; `short` is
    there where the season is too short for it."""
    made: dict[str, Any] = dict(zip(("from", "aim", "by"), map(line.date, window), strict=True))
    last = last_that_pays(line, step)
    if last is not None and last > window[2]:
        made["last"] = line.date(last)
    if not ripens(line, step):
        made["short"] = True
    return made


def untils_of(site: Site, table: Table, step: Table) -> str | None:
    """The last day of a repeating step; taken under open sky, as frosts come to all covers much alike."""
    return Line(site, table, "open").until(step["until"]) if "until" in step else None


def seasons_of(site: Site, table: Table, step: Table) -> dict[str, str] | None:
    """The weeks of each year within which alone a step is done, `from` and `to` as `MM-DD`; None for one of any time."""
    if "season" not in step:
        return None
    line = Line(site, table, "open")
    return {
        end: line.month_day(line.anchor(entry["of"]) + round(7 * entry.get("weeks", 0)))
        for end, entry in step["season"].items()
        if end in ("from", "to")
    }


def gates_of(site: Site, table: Table, step: Table) -> dict[str, Any] | None:
    """A step's gate under every cover, None where it has none."""
    gate = (table.get("gates") or {}).get(step["id"])
    if gate is None:
        return None
    night = gate["night_c"]["value"]
    at: dict[str, str] = {}
    for cover in COVERS:
        line = Line(site, table, cover)
        opens = line.gate(step["id"])
        if opens is not None:
            at[cover] = line.date(opens)
    for climate in site.own:
        line = Line(site, table, climate)
        opens = line.gate(step["id"])
        if opens is not None and line.date(opens) != at.get(line.cover):
            at[climate] = line.date(opens)
    least = math.floor(night - gate["allow_c"]["value"])
    sure = {cover: line.date(line.place_of[day]) for cover, line, day in _sure_nights(site, table, least)}
    return {"night_c": int(night), "at": at, "least_c": least, "sure": sure, "text": f"nights hold above {night:g} °C"}


def _sure_nights(site: Site, table: Table, night_c: float) -> Iterator[tuple[str, Line, int]]:
    """From which day nine single nights in ten hold, under each cover where they ever do."""
    for cover in COVERS:
        day = None if cover == "indoors" else nights_hold_from(site, House(cover), night_c, SURE_NIGHTS)
        if day is not None:
            yield cover, Line(site, table, cover), day


def _folded(by_cover: dict[str, Any]) -> dict[str, Any] | None:
    """The commonest entry under `*`, the others by name."""
    if not by_cover:
        return None
    values = list(by_cover.values())
    common = max(values, key=values.count)
    return {"*": common} | {cover: entry for cover, entry in by_cover.items() if entry != common}
