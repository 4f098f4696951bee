"""Lapsed: what was asked for until it was of no use any more, told with its reason for a while, so that nothing goes unsaid."""

from __future__ import annotations

from typing import Any

from server.kernel.follow.belief import Missed
from server.kernel.follow.knowledge import Knowledge
from server.kernel.follow.lay_out import let_slip
from server.kernel.follow.left_over import asked_for, last_day_to_begin
from server.kernel.read.batch_state import BatchState
from server.kernel.read.days import iso, spoken
from server.kernel.read.words import fill, past, plants_words

TOLD_FOR_DAYS = 42
"""For so long what lapsed is told."""


def lapsed_rows(beliefs: dict[str, list[Missed]], know: Knowledge) -> list[dict[str, Any]]:
    """A row for each step that lapsed of late: of the same form as a job, in the state `lapsed`."""
    rows: list[dict[str, Any]] = []
    for id_, missed in beliefs.items():
        state = know.states[id_]
        told = [one for one in missed if not one.turn and one.asked_until + TOLD_FOR_DAYS >= know.today]
        rows += [_row(state, one.step, one.asked_until, _reason(state, one), know) for one in told]
        never = _never_begun(state, know)
        if never is not None:
            many = plants_words(state.know, None)
            since = spoken(never - asked_for(state) + 1)
            rows.append(_row(state, 0, never, f"never begun: too late here for {many} since {since}", know))
    return rows


def _never_begun(state: BatchState, know: Knowledge) -> int | None:
    """The last day on which a batch that was never begun was asked about, while that is told."""
    last = last_day_to_begin(state, know)
    if state.begun or last is None or not state.steps or not let_slip(state, know):
        return None
    until = last + asked_for(state)
    return until if until + TOLD_FOR_DAYS >= know.today else None


def _reason(state: BatchState, missed: Missed) -> str:
    verb = past(state.steps[missed.step]["verb"])
    if missed.becomes == "over":
        return f"frost on {spoken(missed.on)}; nobody said what lived, and it is taken as over"
    if missed.becomes == "lapses":
        return f"of no use after {spoken(missed.asked_until)}; nobody told of it"
    if missed.step in state.closed:
        return f"told in part; the rest was not asked for after {spoken(missed.asked_until)}"
    asked = f"nobody told of it, and it was asked for until {spoken(missed.asked_until)}"
    return f"{verb} about {spoken(missed.on)}, by the calendar; {asked}"


def _row(state: BatchState, index: int, until: int, reason: str, know: Knowledge) -> dict[str, Any]:
    step = state.steps[index]
    day = iso(until)
    place = state.main_place() or state.final
    return {
        "id": f"{state.id}.{step['id']}",
        "verb": step["verb"],
        "title": fill(step["say"], state.know, None, know.ground.name(state.final), None),
        "lead": step["lead"],
        "subject": state.variety_name,
        "place": place,
        "house": know.ground.house(place),
        "batch": state.id,
        "fixture": None,
        "count": None,
        "from": day,
        "aim": day,
        "by": day,
        "state": "lapsed",
        "leeway": until - know.today,
        "in_the_way": [],
        "why": [reason],
        "minutes": 0,
        "needs": [],
        "cautions": [],
        "part": 1,
        "repeat": None,
        "for": None,
        "pinched": None,
        "ways": [],
        "hint": None,
        "writes": {},
        "low": True,
    }
