"""Seed order: what the plan is going to sow and the tin does not hold."""

from __future__ import annotations

from typing import Any

from server.kernel.follow.coming_up import coming_up, seeds_for, sowing_day
from server.kernel.follow.knowledge import Knowledge
from server.kernel.follow.lay_out import let_slip
from server.kernel.follow.tin import tin_of

AHEAD_DAYS = 366
"""Sowings of the year to come."""


def seeds_short(know: Knowledge) -> list[dict[str, Any]]:
    """Seeds that are lacking, by variety in order of id; all that are needed where nobody counted the tin."""
    wanted: dict[str, int] = {}
    names: dict[str, str] = {}
    for state in know.states.values():
        variety = state.fields.get("variety")
        if state.begun or state.over_on is not None or not state.steps or variety is None or let_slip(state, know):
            continue
        if state.steps[0]["verb"] != "sow" or not state.path.comes_up or state.want is None:
            continue
        day = sowing_day(state, 0, know)
        if day > know.today + AHEAD_DAYS:
            continue
        place = state.final if state.steps[0].get("where") == "final" else know.raising or state.final
        pct, _ = coming_up(state, place, day, know)
        wanted[variety] = wanted.get(variety, 0) + (seeds_for(pct, state.want, know) or 0)
        names[variety] = state.variety_name
    tin = tin_of(know)
    short = [(id_, wanted[id_] - tin.get(id_, 0)) for id_ in sorted(wanted)]
    return [{"what": names[id_], "amount": lacks, "unit": "seeds"} for id_, lacks in short if lacks > 0]
