"""Proof that a calendar can be grown: its path laid out by the kernel, in one named climate after another, until it fits.

The shape of a calendar is checked in `crop_calendar`; here it is put to work. What fits nowhere is wrong in itself: windows
that exclude each other, a plant that is pot-bound before its nights come, a picking after its own end.
"""

from __future__ import annotations

import math
from collections.abc import Iterable
from typing import Any

from server.kernel.read.days import parse
from server.kernel.settle import settle
from server.season.calendar_schema import COVERS
from server.season.crop_calendar import Table

PLACE, RAISED, BATCH = "there", "warm", "batch"
YEAR = 2031
BEFORE = f"{YEAR - 1}-07-01"
_STAMP = "000000000000-0000-aaaaaaaa"


def unsound(crops: dict[str, Table], rulebooks: Iterable[dict[str, Any]]) -> list[str]:
    """A sentence for every calendar that cannot be grown as it stands, naming file, step and mend.

    rulebooks: one for each climate to try, worked out as they are asked for. Cost: one laying out for each crop, cover and
    climate until it fits.
    """
    told = [f"{name}.toml: {trouble}" for name, table in sorted(crops.items()) for trouble in _by_itself(table)]
    left: dict[str, str] = dict.fromkeys(sorted(crops), "")
    for rulebook in rulebooks:
        for name in list(left):
            troubles = [trouble for cover in COVERS if (trouble := _trouble(rulebook, name, cover))]
            if len(troubles) < len(COVERS):
                del left[name]
            else:
                left[name] = left[name] or troubles[0]
        if not left:
            break
    told += [f"{name}.toml: it fits under no cover of any named climate: {why}" for name, why in left.items()]
    return told


def _by_itself(table: Table) -> list[str]:
    """What contradicts itself without any climate."""
    found = []
    litres = 0.0
    for step in table["steps"]:
        pot = step.get("pot_l")
        if pot is not None:
            if pot < litres:
                found.append(f"step {step['id']!r} goes into {pot:g} L after {litres:g} L. Give a pot that is no smaller")
            litres = float(pot)
    verbs = [step["verb"] for step in table["steps"]]
    for first, then in (("sow", "emerge"), ("emerge", "plant_out"), ("plant_out", "pick"), ("pick", "clear")):
        if first in verbs and then in verbs and verbs.index(first) > verbs.index(then):
            found.append(f"{then} comes before {first}. Put the steps in the order of a season")
    store = table.get("store", {})
    if "cure_days" in store and store["cure_days"]["value"] >= store["keeps_days"]["value"]:
        found.append("it is cured for longer than it keeps. Mend one of the two in its store")
    if "clear" not in verbs:
        found.append("nothing ends it. Add a step that clears it")
    for row in table.get("emergence", []):
        if not math.isfinite(row["temp_c"]) or ("days" in row and row["temp_c"] < 0):
            found.append(f"it comes up at {row['temp_c']:g} °C. Mend that row of its emergence")
    return found


def unsound_at(rulebook: dict[str, Any], covers: Iterable[str] = COVERS) -> list[str]:
    """What does not come out at one site: of every crop under every cover at every turn of the year, of seasons and upkeep.

    A path comes out if no step is pinched at birth, and it has a picking in its season and its year, or says why it has none.
    """
    told = [
        f"{crop} under {cover}, turn {turn}: {trouble}"
        for crop, know in rulebook["crops"].items()
        for cover in covers
        for turn in range(len(know["turns"]) + 1)
        for trouble in _troubles_of(rulebook, crop, cover, turn)
    ]
    for crop, know in rulebook["crops"].items():
        told += [f"{crop}: {trouble}" for step in know["steps"] if (trouble := _season_trouble(step["id"], step["season"]))]
    told += [
        f"{work}: {trouble}" for work, it in rulebook["upkeep"].items() if (trouble := _season_trouble(work, it["season"]))
    ]
    return told


SAYS_WHY = ("in a usual year", "in a usual winter", "will hardly be picked")
LEAST_SEASON_D, MOST_SEASON_D = 7, 350
"""Weeks of the year shorter or longer than that are none. [d]"""
_LEAP_YEAR = 2028


def _season_trouble(name: str, season: dict[str, str] | None) -> str:
    if season is None:
        return ""
    first, last = (parse(f"{_LEAP_YEAR}-{season[end]}") for end in ("from", "to"))
    days = (last - first) % 366
    return "" if LEAST_SEASON_D <= days <= MOST_SEASON_D else f"the weeks of {name!r} are {season['from']} to {season['to']}"


def _troubles_of(rulebook: dict[str, Any], crop: str, cover: str, turn: int) -> list[str]:
    jobs = [job for job in settle(rulebook, _household(rulebook, crop, cover, turn), BEFORE) if job["batch"] == BATCH]
    found = [f"{job['id']} is pinched at birth: {job['pinched']}" for job in jobs if job["pinched"]]
    picks = [job for job in jobs if job["verb"] == "pick"]
    if not picks and not any(why.startswith(SAYS_WHY) for job in jobs for why in job["why"]):
        found.append("is never picked, and does not say why")
    seasons = {step["id"]: step["season"] for step in rulebook["crops"][crop]["steps"]}
    for pick in picks:
        season, began = seasons[pick["id"].split(".")[1]], min(job["aim"] for job in jobs)
        if season is not None and not _in_weeks(pick["from"][5:], season):
            found.append(f"is picked on {pick['from']}, out of its season {season}")
        if season is None and _months(began, pick["aim"]) > MOST_MONTHS:
            found.append(f"is begun on {began} and picked on {pick['aim']}")
    return found


MOST_MONTHS = 12
"""What has no weeks of its own is picked within a year of its first step."""


def _in_weeks(day: str, season: dict[str, str]) -> bool:
    first, last = season["from"], season["to"]
    return first <= day <= last if first <= last else day >= first or day <= last


def _months(first: str, last: str) -> int:
    return (int(last[:4]) - int(first[:4])) * 12 + int(last[5:7]) - int(first[5:7])


def _household(rulebook: dict[str, Any], crop: str, cover: str, turn: int = 0) -> list[dict[str, Any]]:
    """A batch of ten that nothing was told of, under a cover, in one of its crop's turns."""
    return [
        _record("place", PLACE, sort="house", cover=cover),
        _record("place", RAISED, sort="propagator", cover="indoors", heated_to_c=rulebook["crops"][crop]["raise_c"]),
        _record("variety", "variety", crop=crop),
        _record("batch", BATCH, variety="variety", want=10, for_place=PLACE, year=YEAR, turn=turn),
    ]


def _trouble(rulebook: dict[str, Any], crop: str, cover: str) -> str:
    """The first thing that does not come out for a batch of it under a cover; empty where all does."""
    know = rulebook["crops"][crop]
    jobs = {job["id"]: job for job in settle(rulebook, _household(rulebook, crop, cover), BEFORE) if job["batch"] == BATCH}
    for step in know["steps"]:
        job = jobs.get(f"{BATCH}.{step['id']}")
        if job is None:
            if step["covers"] is None or cover in step["covers"]:
                return f"its step {step['id']!r} comes too late for its own end"
        elif job["pinched"]:
            return f"its step {step['id']!r} is {job['pinched']}"
    return ""


def _record(kind: str, id_: str, **fields: Any) -> dict[str, Any]:
    given = {name: value for name, value in fields.items() if value is not None}
    return {"id": id_, "kind": kind, "stamp": _STAMP, "fields": {"name": "", **given}}
