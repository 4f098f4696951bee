"""Left over or too few: one quiet job for spare plants, and a call to sow again when too few came up."""

from __future__ import annotations

from typing import Any

from server.kernel.follow.knowledge import Knowledge, at_climate
from server.kernel.read.batch_state import BatchState
from server.kernel.read.days import in_season, iso, spoken
from server.kernel.read.words import plants_words
from server.kernel.when.gaps import emergence_days
from server.kernel.when.work import Work


def spare_work(state: BatchState, count: int, know: Knowledge) -> Work:
    job = f"{state.id}.spare"
    below = [key for key, held in state.cells.items() if held > 0 and key[1] != ""]
    place = min(below, key=lambda key: (state.is_seed(key[0]), key[0], key[1]))[1] if below else None
    writes: dict[str, Any] = {"did": "lose", "batch": state.id}
    if place is not None:
        writes["place"] = place
    work = Work(
        id=job,
        verb="lose",
        title=f"Decide on {count} spare {plants_words(state.know, count).split(' ', 1)[1]}",
        lead=len("Decide"),
        subject=state.variety_name,
        writes=writes,
        batch=state.id,
        place=place,
        count=count,
        minutes=know.minutes("spare"),
        low=True,
        hint="Give them away, keep a few against losses, or let this go. Ticking writes that they are gone.",
    )
    work.notes.append(f"{state.want} were wanted, and {count} more stand")
    work.let_go = know.let_go_on(job) is not None
    return work


def last_sowing_day(state: BatchState) -> int | None:
    """The last day on which sowing this batch is still of use."""
    window = at_climate(state.steps[0].get("window"), state.climate, state.cover)
    return in_season(window["by"], state.year) if window and window.get("by") else None


def look_by(state: BatchState, know: Knowledge) -> int | None:
    """The day by which all that will come up has come up; None before sowing and for what is not sown."""
    if len(state.moving) < 2 or state.steps[state.moving[1]]["verb"] != "emerge":
        return None
    sown = state.last[state.moving[0]]
    return None if sown is None else sown + sown_days(state, sown, know)[2]


def too_few(state: BatchState, know: Knowledge) -> int:
    """How many plants are missing once the time for coming up is over. 0 while there is hope or nothing to be done."""
    if any(state.moved[index] > 0 for index in state.moving[2:]) or state.frosted_on is not None:
        return 0
    by, last_useful = look_by(state, know), last_sowing_day(state)
    if by is None or know.today <= by or (last_useful is not None and last_useful < know.today):
        return 0
    came = state.moved[state.moving[1]]
    if state.want is None or not state.counted:
        return 1 if came == 0 else 0
    return max(state.want - came, 0)


def resow_dates(work: Work, state: BatchState, know: Knowledge) -> None:
    """Turn a sowing's work into the call to sow again."""
    by, last_useful = look_by(state, know), last_sowing_day(state)
    if by is None:
        return
    came = state.moved[state.moving[1]] if state.counted else 0
    work.title = f"Sow again {plants_words(state.know, None)}: " + (f"only {came} up" if came else "none up")
    work.lead = len("Sow again")
    resow = int((know.rulebook.get("slack") or {}).get("resow", 3))
    sown = state.last[state.moving[0]]
    work.lower.append((by, f"sown {spoken(sown if sown is not None else by)}, all that will come has come"))
    work.aims.append((by + resow, "the sooner the better"))
    if last_useful is not None:
        work.upper.append((last_useful, "the last useful day to sow"))


def resow_id(state: BatchState) -> str:
    """The id of the call to sow again after the last sowing."""
    return f"{state.id}.resow.{iso(state.last[state.moving[0]] or 0)}"


def sown_days(state: BatchState, sown: int, know: Knowledge) -> tuple[int, int, int]:
    """Days to the first, most and all seedlings of what was sown on a day, where it stands."""
    place = state.main_place()
    temp_c = know.ground.heated_to_c(place)
    if temp_c is None:
        temp_c = know.heat.mean_c(know.ground.climate(place), sown)
    return emergence_days(state.know.get("emerge_days") or {}, temp_c)
