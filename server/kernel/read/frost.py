"""Frost: the first cold reading that harms a batch where it stands, as long as nobody has looked since."""

from __future__ import annotations

from server.kernel.read.batch_state import BatchState
from server.kernel.read.days import season_at
from server.kernel.read.deeds import Deed
from server.kernel.read.ground import Ground

SHOOTS_UP_DAYS = 21
"""What is planted under the ground shows no sooner. From memory."""


def frosted_on(state: BatchState, cold: list[Deed], ground: Ground) -> int | None:
    """The day of the first reading at or under what frost harms a crop at, in the house where it is planted. cold: in order.

    What nobody has looked at since counts alone. What comes again from below has nothing to lose before its shoots are up.
    """
    harms_c = state.know.get("frost_kills_c")
    if harms_c is None or not cold or not state.moving or state.over_on is not None:
        return None
    since = state.first[state.final_step]
    if since is None:
        return None
    if state.know.get("frost_does") == "cuts back":
        since += SHOOTS_UP_DAYS
    if state.survived is not None:
        since = max(since, state.survived + 1)
    planted = [where for (step, where), count in state.cells.items() if step == state.final_step and count > 0]
    houses = {ground.house(where) for where in planted} - {None}
    for deed in cold:
        cold_enough = deed.tmin is not None and deed.tmin <= harms_c and deed.on >= since
        if cold_enough and ground.house(deed.place) in houses and _bites(state, deed.on):
            return deed.on
    return None


def _bites(state: BatchState, day: int) -> bool:
    """Whether there is anything on it on a day that frost can harm."""
    season = state.know.get("frost_season")
    return season is None or season_at(season, day)[0] <= day
