"""Done: what was ticked today, said as rows that can be undone until midnight."""

from __future__ import annotations

from typing import Any

from server.kernel.follow.knowledge import Knowledge
from server.kernel.follow.upkeep import rule_of
from server.kernel.read.batch_state import BatchState
from server.kernel.read.days import iso
from server.kernel.read.deeds import Deed
from server.kernel.read.diary import stem
from server.kernel.read.words import fill, litres, plants_words

SAYINGS = {
    "water": "Water {where}",
    "connect": "Connect {fixture}",
    "remove": "Take down {fixture}",
    "install": "Put up {fixture}",
    "move": "Move {plants}",
    "lose": "Decide on {plants}",
    "feed": "Feed {plants}",
    "train": "Train {plants}",
    "clear": "Clear {plants}",
    "pick": "Pick {plants}",
    "decide": "Decide on {plants}",
}


def done_today(know: Knowledge) -> list[dict[str, Any]]:
    """A row for each deed of today that answered a job: ticked, or jotted for a step of a path."""
    rows: list[dict[str, Any]] = []
    for deed in know.diary.today:
        state = know.states.get(deed.batch or "")
        step = next((step for did, step in reversed(state.deeds) if did is deed), None) if state is not None else None
        if deed.job is not None or step is not None:
            rows.append(_row(deed, step, know))
    return rows


def _row(deed: Deed, step: int | None, know: Knowledge) -> dict[str, Any]:
    state = know.states.get(deed.batch or "")
    if state is not None and step is not None:
        title, lead = _step_title(deed, state, step, know)
        job = deed.job or f"{state.id}.{state.steps[step]['id']}"
    else:
        title, lead = _other_title(deed, state, know)
        job = deed.job or deed.ids[0]
    place = deed.to_place or deed.place
    subject = state.variety_name if state is not None else (know.ground.name(deed.fixture or place) or "")
    return {
        "id": job,
        "verb": deed.did,
        "title": title,
        "lead": lead,
        "subject": subject,
        "place": place,
        "house": know.ground.house(place),
        "batch": deed.batch,
        "fixture": deed.fixture,
        "count": deed.count,
        "from": iso(deed.on),
        "aim": iso(deed.on),
        "by": iso(deed.on),
        "state": "done",
        "leeway": 0,
        "in_the_way": [],
        "why": [],
        "minutes": 0,
        "needs": [],
        "cautions": [],
        "part": deed.part or 1,
        "repeat": None,
        "for": None,
        "pinched": None,
        "ways": [],
        "hint": None,
        "writes": {},
        "low": False,
        "deeds": deed.ids,
        "told_by": deed.tellers,
        "at": deed.at or None,
    }


def _step_title(deed: Deed, state: BatchState, index: int, know: Knowledge) -> tuple[str, int]:
    step = state.steps[index]
    finishing = state.fields.get("pot_l") if index == state.final_step else None
    if finishing is not None:
        say, lead = f"Stand {{plants}} in {litres(finishing)}\u00a0L pots", len("Stand")
    else:
        say, lead = step["say"], step["lead"]
    seeds = deed.count if step["verb"] == "sow" else None
    return fill(say, state.know, deed.count, know.ground.name(deed.to_place or state.final), seeds), lead


def _upkeep_title(deed: Deed, know: Knowledge) -> tuple[str, int] | None:
    """The sentence of work that a household chose; None for any other."""
    rule = rule_of(stem(deed.job or "").removesuffix(".dig"), know)
    if rule is None:
        return None
    said = rule["dig"] if stem(deed.job or "").endswith(".dig") and "dig" in rule else rule
    name = know.ground.name(deed.fixture or deed.place) or ""
    manure = deed.answer or "green manure"
    return said["say"].replace("{manure}", manure).replace("{place}", name).replace("{fixture}", name), said["lead"]


def _other_title(deed: Deed, state: BatchState | None, know: Knowledge) -> tuple[str, int]:
    plants = plants_words(state.know, deed.count) if state is not None else ""
    where = know.ground.name(deed.to_place or deed.place) or ""
    fixture = know.ground.name(deed.fixture) or ""
    care = (know.rulebook.get("care") or {}).get(deed.found or "")
    if deed.did == "look":
        if fixture:
            return f"Check {fixture}", len("Check")
        if care is not None:
            return f"Look for {care['name']} on {plants or where}", len("Look")
        return f"Look over {plants or where}", len("Look over")
    if deed.did == "treat":
        return f"Treat {plants or where}" + (f" for {care['name']}" if care is not None else ""), len("Treat")
    upkeep = _upkeep_title(deed, know)
    if upkeep is not None:
        return upkeep
    if deed.did in ("note", "decide") and deed.job is not None:
        for job in (deed.job, deed.job[:-11]):
            title = (know.changes.get(job) or {}).get("title")
            if title:
                return title, len(title.split(" ")[0])
    say = SAYINGS.get(deed.did, "{plants}{where}")
    title = say.replace("{plants}", plants).replace("{where}", where).replace("{fixture}", fixture).strip()
    return title or deed.did, len(title.split(" ")[0]) if title else len(deed.did)
