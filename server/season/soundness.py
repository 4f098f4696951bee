"""Proof that a calendar can be grown: its path laid out by the kernel, in one named climate after another, until it fits.

The shape of a calendar is checked in `crop_calendar`; here it is put to work. What fits nowhere is wrong in itself: windows
that exclude each other, a plant that is pot-bound before its nights come, a picking after its own end.
"""

from __future__ import annotations

import math
from collections.abc import Iterable
from typing import Any

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
    if "clear" not in verbs:
        found.append("nothing ends it. Add a step that clears it")
    for row in table.get("emergence", []):
        if not math.isfinite(row["temp_c"]) or ("days" in row and row["temp_c"] < 0):
            found.append(f"it comes up at {row['temp_c']:g} °C. Mend that row of its emergence")
    return found


def _trouble(rulebook: dict[str, Any], crop: str, cover: str) -> str:
    """The first thing that does not come out for a batch of it under a cover; empty where all does."""
    know = rulebook["crops"][crop]
    records = [
        _record("place", PLACE, sort="house", cover=cover),
        _record("place", RAISED, sort="propagator", cover="indoors", heated_to_c=know["raise_c"]),
        _record("variety", "variety", crop=crop),
        _record("batch", BATCH, variety="variety", want=10, for_place=PLACE, year=YEAR),
    ]
    jobs = {job["id"]: job for job in settle(rulebook, records, BEFORE) if job["batch"] == BATCH}
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
