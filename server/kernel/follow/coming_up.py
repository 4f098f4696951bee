"""Coming up: how many seeds of a hundred come where and when they are sown, and how many to sow for the plants wanted."""

from __future__ import annotations

from server.kernel.follow.knowledge import Knowledge
from server.kernel.read.batch_state import BatchState, sow_on
from server.kernel.read.days import in_season, year_of
from server.kernel.read.turns import at_climate
from server.kernel.when.gaps import nearest_degree

FEWEST_PCT, STEP_PCT = 5, 5
"""Seed tables are in steps; below the first hardly any seed comes, and no number of it helps."""


def sowing_day(state: BatchState, index: int, know: Knowledge) -> int:
    """The day on which a sowing is likely: the household's own or the calendar's best, and not before today."""
    own = sow_on(state) if index == 0 else None
    window = at_climate(state.steps[index].get("window"), state.climate, state.cover)
    if own is None and window and window.get("aim"):
        own = in_season(window["aim"], state.year)
    return know.today if own is None else max(own, know.today)


def coming_up(state: BatchState, place: str | None, day: int, know: Knowledge) -> tuple[int, str | None]:
    """Of a hundred seeds sown there on a day, how many come; and what to say where warmth or cold keeps some back."""
    usual, year = aged(int(state.know.get("seeds_for") or 100), state, day, know)
    old = None if year is None else f"seed of {year}"
    said = None if old is None else f"{old}: about {usual} in 100 seeds come up"
    shares = state.know.get("emerge_pct") or {}
    temp_c = know.ground.heated_to_c(place)
    if temp_c is None:
        temp_c = know.heat.mean_c(know.ground.climate(place), day)
    if not shares or temp_c is None:
        return usual, said
    share = shares.get(str(nearest_degree(state.know["emerge_days"], temp_c)))
    if share is None:
        return usual, said
    pct = max(FEWEST_PCT, usual * int(share) // 100 // STEP_PCT * STEP_PCT)
    at = f"at {temp_c}\u00a0°C" if old is None else f"{old} at {temp_c}\u00a0°C:"
    return pct, f"{at} about {pct} in 100 seeds come up"


def aged(usual: int, state: BatchState, day: int, know: Knowledge) -> tuple[int, int | None]:
    """Of a hundred seeds so old, how many come, and the year of old seed: half as many once they have lain as long as seed of
    that crop keeps; what was gathered or packed for a year is fresh until the end of the next."""
    year, life = know.reading.seed_year(state.fields.get("variety")), (state.know.get("seed") or {}).get("life")
    years = 0 if year is None else year_of(day) - year - 1
    if life is None or years <= 0:
        return usual, None
    return max(FEWEST_PCT, usual * max(0, 2 * life - years) // (2 * life) // STEP_PCT * STEP_PCT), year


def seeds_for(pct: int, plants: int | None, know: Knowledge) -> int | None:
    """Seeds to sow so that so many plants come, 95 % sure."""
    table = (know.rulebook.get("seeds") or {}).get(str(pct))
    if plants is None or not table or plants <= 0:
        return plants
    if plants <= len(table):
        return int(table[plants - 1])
    return -(-plants * int(table[-1]) // len(table))
