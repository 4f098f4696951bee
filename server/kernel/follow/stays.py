"""Stays: where the plants of each batch stood, stand and will stand, from which day to which, and in what."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from typing import Any

from server.kernel.follow.knowledge import Knowledge
from server.kernel.read.batch_state import NOWHERE, BatchState
from server.kernel.read.days import parse

OPEN = ("ready", "waiting", "early", "later")
SPARES_DAYS = 14
"""What is left over when the others have gone on is given away in so long. Source: our own rule."""
IN_POTS = ("potted up", "hardening")
UNCOUNTED = -1


@dataclass(frozen=True, slots=True)
class Stay:
    """Plants of a batch in one place. Days as numbers, `until` the first on which they are there no more."""

    batch: str
    place: str
    step: int
    """How far they have come: the index of the last moving step; -1 for plants that came from nowhere."""
    since: int
    until: int
    count: int | None
    """None where nobody counts."""
    pot_ml: int | None
    """The pot each stands in, if in one of its own. [ml]"""
    ground: bool
    """Whether they stand in the ground."""
    told: bool
    """Whether they came there already; else it is expected."""


def stays_of(know: Knowledge, jobs: Iterable[dict[str, Any]]) -> list[Stay]:
    """Every stay, batch by batch in order of id, and of time. jobs: the list of the day."""
    open_jobs: dict[str, dict[int, dict[str, Any]]] = {}
    for job in jobs:
        state = know.states.get(job["batch"] or "")
        if state is None or job["state"] not in OPEN or not job["id"].startswith(f"{state.id}."):
            continue
        step = state.path.by_id.get(job["id"][len(state.id) + 1 :].split(".")[0])
        if step is not None:
            open_jobs.setdefault(state.id, {}).setdefault(step, job)
    found: list[Stay] = []
    for state in know.states.values():
        found += _of_batch(state, open_jobs.get(state.id, {}), know)
    return found


@dataclass(slots=True)
class _Since:
    """A cell since it last changed."""

    since: int
    count: int
    pot_l: float | None


def _of_batch(state: BatchState, jobs: dict[int, dict[str, Any]], know: Knowledge) -> list[Stay]:
    made: list[Stay] = []
    now = _told(state, made, know)
    tomorrow = know.today + 1  # today stands what stands
    moves = [(step, max(tomorrow, parse(jobs[step]["aim"])), jobs[step]) for step in state.moving if step in jobs]
    end = _end(state, jobs, know)
    for (step, where), cell in sorted(now.items()):
        following = next((day for at, day, _ in moves if at > step), None)
        if following is None:
            following = end if step == state.final_step else know.today + SPARES_DAYS
        _add(made, state, (step, where), cell, max(following, tomorrow), told=True)
    pot_l = state.pot_l
    for at, (step, day, job) in enumerate(moves):
        if state.steps[step].get("pot_l") is not None:
            pot_l = job["writes"].get("pot_l")
        until = moves[at + 1][1] if at + 1 < len(moves) else max(end, day + 1)
        writes = job["writes"]
        where = writes.get("to_place") or writes.get("place") or job["place"] or NOWHERE
        cell = _Since(day, UNCOUNTED if job["count"] is None else job["count"], pot_l)
        _add(made, state, (step, where), cell, until, told=False)
    made.sort(key=lambda stay: (stay.since, stay.step, stay.place, stay.until))
    return made


def _told(state: BatchState, made: list[Stay], know: Knowledge) -> dict[tuple[int, str], _Since]:
    """What the diary says, into `made`; and what stands now."""
    standing: dict[tuple[int, str], _Since] = {}
    for day, then in know.reading.retold(state.id):
        cells = {key: count for key, count in then.cells.items() if count > 0 and not _beside_seedlings(key, then)}
        for key in sorted(standing):
            if cells.get(key, 0) != standing[key].count:
                _add(made, state, key, standing.pop(key), day, told=True)
        for key, count in cells.items():
            if key not in standing:
                standing[key] = _Since(day, count, then.pot_l)
    return standing


def _beside_seedlings(key: tuple[int, str], then: BatchState) -> bool:
    """Whether it is seed that lies on in the tray where the others came up."""
    step, where = key
    return then.is_seed(step) and any(
        place == where and not then.is_seed(at) for (at, place), many in then.cells.items() if many
    )


def _add(made: list[Stay], state: BatchState, key: tuple[int, str], cell: _Since, until: int, *, told: bool) -> None:
    step, where = key
    if where == NOWHERE or until <= cell.since:
        return
    pot_ml = _pot_ml(state, step, cell.pot_l)
    ground = pot_ml is None and (step == state.final_step or (bool(state.steps) and state.steps[0].get("where") == "final"))
    count = cell.count if state.counted and cell.count != UNCOUNTED else None
    made.append(Stay(state.id, where, step, cell.since, until, count, pot_ml, ground, told))


def _end(state: BatchState, jobs: dict[int, dict[str, Any]], know: Knowledge) -> int:
    """The day the ground is free of them: when they are to be cleared, else when picking is over."""
    by_verb = {state.steps[step]["verb"]: job for step, job in sorted(jobs.items(), reverse=True)}
    if "clear" in by_verb:
        return parse(by_verb["clear"]["aim"])
    if "pick" in by_verb:
        return parse(by_verb["pick"]["by"] or by_verb["pick"]["aim"])
    return know.today + SPARES_DAYS


def _pot_ml(state: BatchState, step: int, pot_l: float | None) -> int | None:
    """The pot of plants that have come so far: their own where it was told, else the last that the path gave them. [ml]"""
    if step < 0 or step >= len(state.steps):
        return None
    if step == state.final_step:
        own = state.fields.get("pot_l")
        return None if own is None else int(own * 1000 + 0.5)
    if pot_l is not None and state.steps[step]["stage"] in IN_POTS:
        return int(pot_l * 1000 + 0.5)
    for index in range(step, -1, -1):
        if state.steps[index].get("stage") and state.steps[index].get("pot_l") is not None:
            return int(state.steps[index]["pot_l"] * 1000 + 0.5)
    return None
