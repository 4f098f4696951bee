"""Belief: steps that nobody told of are taken as done once they are of no use to ask for any more.

A step is told (a deed), shown (a later step was told), believed (its time is past, and nothing speaks against it) or not yet.
What is believed carries the path on by calendar and climate, and is said as such. Believed steps are laid over the batch like
deeds of their own, one after another, so that all that follows is worked out as ever.
"""

from __future__ import annotations

from typing import Any, NamedTuple

from server.kernel.follow.after_frost import ended_by_frost
from server.kernel.follow.coming_up import coming_up
from server.kernel.follow.knowledge import Knowledge
from server.kernel.follow.lay_out import lay_out
from server.kernel.read.batch_state import BatchState
from server.kernel.read.days import iso, parse, season_at
from server.kernel.read.deeds import Deed
from server.kernel.when.work import Work

SHOWS_PLANTED = ("string", "pick")
"""What is done only to plants that stand where they are to end."""
FROST_ASKED_DAYS = 14
"""After a frost that kills it is asked for so long what is dead."""
STILL_DAYS = 28
"""What somebody says is still to be done is asked for so long at least."""
MOST_STEPS = 120
"""No path has more steps to believe at once."""


class Missed(NamedTuple):
    """A step nobody told of: which, the day it is taken for, and the last day on which it was asked for."""

    step: int
    on: int
    asked_until: int
    becomes: str
    turn: bool
    """Whether it is a turn of what repeats."""


class Belief(NamedTuple):
    """What is believed of a batch, in the order of its path, and the open work that is left."""

    missed: list[Missed]
    work: list[Work]


def believe(id_: str, know: Knowledge, patient: bool = True) -> Belief:
    """Lay over a batch, in place, what is believed of it. patient: while a step is asked for, it is not yet believed."""
    deeds: list[Deed] = []
    found: list[Missed] = []
    for _ in range(MOST_STEPS):
        state = know.states[id_]
        work = lay_out(state, know)
        missed = _first_missed(state, work, know, patient)
        if missed is None:
            return Belief(found, work)
        found.append(missed[0])
        deeds.append(missed[1])
        know.reading.lay_over(id_, deeds)
    return Belief(found, lay_out(know.states[id_], know))


def _first_missed(state: BatchState, work: list[Work], know: Knowledge, patient: bool) -> tuple[Missed, Deed] | None:
    if not state.begun or state.over_on is not None or state.none_up():
        return None
    if ended_by_frost(state) and state.frosted_on is not None:
        return _over_by_frost(state, state.frosted_on, know, patient)
    for job in work:
        if job.step is None or job.let_go or any(link.path for link in job.links) or not _in_season(job, know.today):
            continue
        becomes, days = job.missed
        changed = know.changes.get(job.id) or {}
        if becomes == "stays" or changed.get("put_off_until"):
            continue
        start, aim, by = own_days(job)
        on = max(start, min(aim, by if by is not None else aim))
        until = _asked_until(job, aim, by, days) if patient else on
        if becomes == "lapses":
            on = min(on, until)
        shown = _shown_on(state, job.step)
        if changed.get("still") is True:
            until = max(until, parse(changed["still_on"]) + STILL_DAYS if changed.get("still_on") else know.today)
        if shown is not None:
            on, until = min(on, shown), min(until, know.today - 1)
        if job.verb == "clear" and _begun_since(state, on):
            continue
        if until < know.today:
            if job.repeat is not None and state.last[job.step] is not None:  # its span counts from the first time
                on = _last_turn(job, on, days if patient else 0, know.today)
            missed = Missed(job.step, on, until, becomes, job.repeat is not None)
            return missed, _deed(state, job, on, know)
    return None


def _begun_since(state: BatchState, day: int) -> bool:
    """Whether its first step was told on that day or later: what ended before says nothing about what was begun after it."""
    begun = state.last[state.moving[0]] if state.moving else None
    return begun is not None and begun >= day


def _over_by_frost(state: BatchState, frosted: int, know: Knowledge, patient: bool) -> tuple[Missed, Deed] | None:
    """What frost ends is asked about for a while; then it is taken as over."""
    until = frosted + (FROST_ASKED_DAYS if patient else 0)
    if until >= know.today:
        return None
    work = Work(f"{state.id}.frost.{iso(frosted)}", "clear", "", 0, "", {}, count=None, step=state.final_step)
    deed = _deed(state, work, frosted, know)
    deed.job = work.id
    clear = state.path.by_verb.get("clear", [state.final_step])
    return Missed(clear[0], frosted, until, "over", False), deed


def _asked_until(job: Work, aim: int, by: int | None, days: int) -> int:
    """The last day on which it is asked for: so long past its own last day, and no longer than it pays."""
    last = by if by is not None else aim + days
    if job.last_useful is None:
        return last + days
    if job.missed[0] == "lapses":  # with what it was for, and not asked for months on end
        return min(job.last_useful, last + 2 * days)
    return max(last, min(last + days, job.last_useful + days // 2))


def _shown_on(state: BatchState, step: int) -> int | None:
    """The first day on which something was told that cannot be done to plants before a moving step; None where nothing was."""
    if not state.steps[step].get("stage"):
        return None
    days = [
        deed.on
        for deed, index in state.deeds
        if index is not None and index > step and not deed.believed and state.steps[index]["verb"] in SHOWS_PLANTED
    ]
    return min(days, default=None)


def _in_season(job: Work, today: int) -> bool:
    """Whether silence may be read as done: what comes once in a season stays; what repeats in it, while it lasts."""
    if job.season is None:
        return True
    return (
        job.repeat is not None
        and bool(job.lower)
        and season_at(job.season, today)[0] <= min(today, *(day for day, _ in job.lower))
    )


def own_days(job: Work) -> tuple[int, int, int | None]:
    """First, best and last day of work that waits on nothing, by its own bounds; the last is never before the first, so that
    what nights or the calendar still hold back is not taken as done on a day to come."""
    lower = [day for day, _ in job.lower]
    if job.gate is not None:
        lower.append(job.gate[0])
    aims = [day for day, _ in job.aims]
    upper = [day for day, _ in job.upper]
    start = max(lower) if lower else min([*aims, *upper], default=0)
    return start, max([start, *aims]), max(start, min(upper)) if upper else None


def _last_turn(job: Work, first: int, days: int, today: int) -> int:
    """The last day on which something that repeats is taken to have been done, had it been done in time each turn."""
    every = job.repeat or 1
    longest = every + every // 2 + days
    turns = max(0, -(-(today - longest - first) // every))
    on = first + turns * every
    return on if job.not_after is None else max(first, min(on, job.not_after))


def _deed(state: BatchState, job: Work, on: int, know: Knowledge) -> Deed:
    step = job.step if job.step is not None else 0
    count: int | None = job.count
    if job.verb == "emerge":
        count = _expected(state, know)
    elif not state.steps[step].get("stage"):
        count = None
    writes: dict[str, Any] = job.writes
    return Deed(
        (on, "", "", f"{state.id}.{state.steps[step]['id']}"),
        [],
        [],
        on,
        "",
        job.verb,
        state.id,
        writes.get("place"),
        writes.get("to_place"),
        None,
        count,
        writes.get("pot_l"),
        f"{state.id}.{state.steps[step]['id']}",
        None,
        None,
        None,
        None,
        None,
        None,
        believed=True,
    )


def _expected(state: BatchState, know: Knowledge) -> int | None:
    """Seedlings that seed of its kind usually gives; as many as are wanted at least, as far as there is seed."""
    if not state.counted:
        return None
    seeds, sown = state.seeds(), state.last[state.moving[0]]
    pct, _ = coming_up(state, state.main_place(), know.today if sown is None else sown, know)
    usual = seeds * pct // 100
    return min(seeds, max(usual, state.want or 0, 1))
