"""Lay out: the open steps of a batch as work, with the bounds and links its path gives them."""

from __future__ import annotations

from typing import Any

from server.kernel.follow.after_frost import ended_by_frost, frost_work, in_place_of_lost
from server.kernel.follow.coming_up import coming_up, seeds_for, sowing_day
from server.kernel.follow.knowledge import Knowledge, occurrence
from server.kernel.follow.left_over import (
    asked_for,
    last_day_to_begin,
    last_sowing_day,
    look_by,
    resow_dates,
    resow_id,
    spare_work,
    too_few,
    too_late,
)
from server.kernel.follow.needs import needs_of
from server.kernel.follow.order import order_work
from server.kernel.follow.path_dates import Earlier, ends_before, own_dates, path_dates
from server.kernel.follow.progress import Progress, progress, spare
from server.kernel.follow.saved_seed import seed_work
from server.kernel.follow.ways import Way, way
from server.kernel.read.batch_state import BatchState
from server.kernel.read.bought import is_bought
from server.kernel.read.days import iso, spoken, year_of
from server.kernel.read.words import days_words, fill, litres, past
from server.kernel.when.work import Work

ASK_AGAIN_DAYS = 7
"""What still gives is asked about again after so long."""
NEXT_YEAR_DAYS = 330
"""And what gives in its weeks of each year after this."""


def let_slip(state: BatchState, know: Knowledge) -> bool:
    """Whether a batch was never begun, and its day is so long gone that nobody is asked for it any more."""
    if state.begun:
        return False
    last = last_day_to_begin(state, know)
    if last is None:
        return state.year < year_of(know.today) - 1
    return last + asked_for(state) < know.today and not _still_asked(state, know)


def _still_asked(state: BatchState, know: Knowledge) -> bool:
    """Whether somebody said that it is still to be begun."""
    return (know.changes.get(f"{state.id}.{state.steps[0]['id']}") or {}).get("still") is True


def lay_out(state: BatchState, know: Knowledge) -> list[Work]:
    """The open work of a batch, and one quiet job for plants left over."""
    if not state.steps or let_slip(state, know):
        return []
    if state.over_on is not None:
        return _in_place_of_lost(state, know)
    standings = [progress(state, index) for index in range(len(state.steps))]
    ends = [state.ends_on(index) for index in range(len(state.steps))]
    late = too_late(state, know)
    if late is not None:
        return [late]
    frost = frost_work(state, know)
    ended = ended_by_frost(state)
    if ended and frost is not None:
        return [frost]
    work: list[Work] = []
    none_up = state.none_up()
    for index, step in enumerate(state.steps):
        if none_up and step["verb"] != "emerge":
            continue
        if ended and step["verb"] not in ("pick", "clear"):
            continue
        job = _step_work(state, index, standings, ends, know)
        if job is not None:
            work.append(job)
    if frost is not None:
        work.append(frost)
    if is_bought(state.fields) and not state.begun and work:
        work += order_work(state, work[0], know)
    work += seed_work(state, work, know)
    left_over = spare(state)
    if left_over > 0:
        work.append(spare_work(state, left_over, know))
    missing = too_few(state, know)
    if missing > 0:
        count = missing if state.counted and state.want is not None else None
        again = _bare(state, state.moving[0], resow_id(state), count, know)
        resow_dates(again, state, know)
        again.let_go = know.let_go_on(again.id) is not None
        work.append(again)
    return work


def _in_place_of_lost(state: BatchState, know: Knowledge) -> list[Work]:
    """What is asked of a batch that is over: nothing, but for a while after a frost what comes in its place."""
    if not state.frost_lost or state.over_on is None or not state.moving:
        return []
    again = _bare(state, state.moving[0], f"{state.id}.again.{iso(state.over_on)}", state.want, know)
    again.step = None
    found = in_place_of_lost(state, again, know)
    return [] if found is None else [found]


def first_work(state: BatchState, know: Knowledge) -> Work | None:
    """The work that begins a batch, whether or not it is still asked for; None where it is begun."""
    if state.begun or not state.steps:
        return None
    standings = [progress(state, index) for index in range(len(state.steps))]
    return _step_work(state, 0, standings, [state.ends_on(index) for index in range(len(state.steps))], know)


def _step_work(
    state: BatchState, index: int, standings: list[Progress], ends: list[int | None], know: Knowledge
) -> Work | None:
    step = state.steps[index]
    stands = standings[index]
    every = step.get("every")
    prefix = f"{state.id}.{step['id']}"
    if not stands.open:
        return None
    job, last = prefix, None
    if every is not None:
        if ends[index] is not None and know.today > (ends[index] or 0):
            return None
        job, last = occurrence(prefix, state.last[index], know)
    if step["verb"] == "emerge" and _past_hope(state, index, know):
        return None
    work = _bare(state, index, job, stands.count, know)
    work.let_go = know.let_go_on(job) is not None
    work.still = (know.changes.get(job) or {}).get("still") is True
    work.repeat = every
    work.not_after = ends[index] if every is not None else None
    work.first_picking = step["verb"] == "pick" and last is None
    work.season = step.get("season")
    if last is not None and every is not None:
        again = f"{past(step['verb'])} {spoken(last)}, every {days_words(every)}"
        work.lower.append((last + every - every // 3, again))
        work.aims.append((last + every, again))
        work.upper.append((last + every + every // 2, again))
    else:
        if step["verb"] == "emerge":
            _resow_note(work, state, know)
        own_dates(work, state, index, know)
        path_dates(work, state, index, Earlier(standings, ends), know)
        ends_before(work, state, index, ends, know)
    if step["verb"] == "clear" and not ended_by_frost(state) and _still_gives(state, index, ends, know):
        for_years = any(other["verb"] == "pick" and other.get("season") for other in state.steps)
        work.ways = _ask_before_clearing(work, NEXT_YEAR_DAYS if for_years else ASK_AGAIN_DAYS, know)
    if ended_by_frost(state) and state.frosted_on is not None:
        frost = f"frost on {spoken(state.frosted_on)}: pick what is left and clear"
        work.lower = [(state.frosted_on, frost)]
        work.aims = [(state.frosted_on + (1 if step["verb"] == "clear" else 0), frost)]
        work.upper = [(state.frosted_on + 3, frost)]
        work.gate = work.season = None
    return work


def _still_gives(state: BatchState, index: int, ends: list[int | None], know: Knowledge) -> bool:
    """Whether what is to be cleared is being picked, and its picking not over."""
    for at, step in enumerate(state.steps[:index]):
        end = ends[at]
        if step["verb"] != "pick" or step.get("every") is None or (state.first[at] is None and not step.get("season")):
            continue
        if end is None or know.today <= end:
            return True
    return False


def _ask_before_clearing(work: Work, again: int, know: Knowledge) -> list[Way]:
    """What still gives is not ended by a tick unasked."""
    later = {"put_off_until": iso(know.today + again), "put_off_on": iso(know.today)}
    return [
        way("over", "Clear all of it", [dict(work.writes)]),
        way("gives", "It still gives", [], changes=[{"kind": "job", "id": work.id, "fields": later}]),
    ]


def _past_hope(state: BatchState, index: int, know: Knowledge) -> bool:
    """Somebody looked, and the time for more to come up is over."""
    by = look_by(state, know)
    return state.first[index] is not None and by is not None and know.today > by


def _resow_note(work: Work, state: BatchState, know: Knowledge) -> None:
    by, last_useful = look_by(state, know), last_sowing_day(state)
    if by is not None and last_useful is not None and last_useful >= know.today:
        work.notes.append(f"if none are up by {spoken(by)}, sow again: the last useful day is {spoken(last_useful)}")
    if state.counted:
        told = {"did": "emerge", "batch": state.id}
        work.ways = [
            way("all", "All up", [told | {"count": state.seeds()}]),
            way("some", "Some", [told], asks="count"),
            way("none", "None", [told | {"count": 0}]),
        ]


def _writes_of(state: BatchState, index: int, place: str | None, pot_l: float | None) -> dict[str, Any]:
    """The deed that a step's work writes."""
    step = state.steps[index]
    writes: dict[str, Any] = {"did": step["verb"], "batch": state.id}
    if step.get("stage"):
        came_from = state.main_place(below=index)
        if place is not None:
            writes["to_place"] = place
            if came_from is not None and came_from != place:
                writes["place"] = came_from
        if pot_l is not None:
            writes["pot_l"] = pot_l
    elif place is not None:
        writes["place"] = place
    return writes


def _bare(state: BatchState, index: int, job: str, count: int | None, know: Knowledge) -> Work:
    """The work without its dates: what it says, writes, takes and needs."""
    step = state.steps[index]
    verb, place = step["verb"], _place_of(state, index, know)
    seeds: int | None = None
    few: str | None = None
    if verb == "sow" and state.path.comes_up:
        pct, few = coming_up(state, place, sowing_day(state, index, know), know)
        seeds = count = seeds_for(pct, count, know)
    say, lead, pot_l = step["say"], step["lead"], step.get("pot_l")
    finishing = state.fields.get("pot_l") if index == state.final_step else None
    if finishing is not None:
        say, lead, pot_l = f"Stand {{plants}} in {litres(finishing)}\u00a0L pots", len("Stand"), finishing
    title = fill(say, state.know, count, know.ground.name(state.final), seeds)
    writes = _writes_of(state, index, place, pot_l)
    work = Work(
        id=job,
        verb=verb,
        title=title,
        lead=lead,
        subject=state.variety_name,
        writes=writes,
        batch=state.id,
        place=place,
        count=count,
    )
    if few is not None:
        work.notes.append(few)
    work.step, work.missed = index, (step["missed"][0], step["missed"][1]) if step.get("missed") else ("stays", 0)
    work.raises = bool(step.get("stage")) and 0 < index < state.final_step
    work.goes_in = bool(step.get("stage")) and step.get("where") == "final"
    fixed, each = step.get("minutes") or [5, 0]
    work.minutes = fixed + -(-each * (count if count is not None else 10) // 10)
    work.needs = needs_of(step, count, finishing, state.stems())
    work.cautions = list(step.get("cautions") or [])
    work.hint = step.get("hint")
    if verb == "prick_out" and count is not None and state.live(below=index) > count:
        work.notes.append(f"{state.live(below=index) - count} more are up: spare")
    work.ways_out = step.get("ways_out")
    for answer in step.get("answers") or []:
        work.ways.append(way(answer["id"], answer["say"], [writes | {"answer": answer["id"]}]))
    return work


def _place_of(state: BatchState, index: int, know: Knowledge) -> str | None:
    """Where the work of a step is: where plants end, where they are raised, or where they stand now."""
    step = state.steps[index]
    before = state.path.before[index]
    if step.get("stage"):
        if step.get("where") == "final" and state.final is not None:
            return state.final
        here = state.main_place(below=index)
    else:
        here = state.main_place(at_least=before) if before is not None else None
    if here is not None:
        return here
    anywhere = state.main_place()
    if anywhere is not None:
        return anywhere
    after_planting = index >= state.final_step
    if (after_planting or step.get("where") == "final" or state.steps[0].get("where") == "final") and state.final:
        return state.final
    return know.raising or state.final
