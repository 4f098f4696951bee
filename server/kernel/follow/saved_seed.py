"""Saved seed: the plants that are left for it, and the day its seed is dry. Chosen batch by batch."""

from __future__ import annotations

from typing import Any

from server.kernel.follow.knowledge import Knowledge
from server.kernel.follow.ways import way
from server.kernel.read.batch_state import BatchState
from server.kernel.read.days import year_of
from server.kernel.read.words import days_words
from server.kernel.when.work import Link, Work

Picking = tuple[int | None, str]
"""The day of the first picking, and the job that is it while nothing is picked."""
MARK_MINUTES, GATHER_MINUTES = 10, 30
MARK_DAYS = 14
"""The plants are chosen within so many days of the first picking."""
GATHER_DAYS = 21
"""Dry seed is gathered within so many days."""
ASKED_DAYS = 42
"""It is asked for so long past that; then it is taken as shed."""


def seed_work(state: BatchState, work: list[Work], know: Knowledge) -> list[Work]:
    """Choosing the plants, and gathering. work: the batch's own, whose clearing waits for it."""
    rule = state.know.get("seed")
    if rule is None or rule.get("dry") is None or state.fields.get("save_seed") is not True or state.over_on is not None:
        return []
    pick = next((index for index, step in enumerate(state.steps) if step["verb"] == "pick"), None)
    if pick is None:
        return []
    picking = (state.first[pick], f"{state.id}.{state.steps[pick]['id']}")
    told = {deed.job for deed, _ in state.deeds}
    made: list[Work] = []
    if f"{state.id}.seed_mark" not in told:
        made.append(_mark(state, rule, picking))
    last = None if picking[0] is None else picking[0] + rule["dry"] + GATHER_DAYS + ASKED_DAYS
    if f"{state.id}.seed_gather" not in told and (last is None or know.today <= last):
        made.append(_gather(state, rule, picking, know))
    for job in made:
        job.let_go = know.let_go_on(job.id) is not None
    gather = next((job for job in made if job.verb == "note" and not job.let_go), None)
    gathered = max((deed.on for deed, _ in state.deeds if deed.job == f"{state.id}.seed_gather"), default=None)
    for job in work:
        if job.verb == "clear" and (gather is not None or gathered is not None):
            _clear_after(job, gather, gathered)
    return made


def _clear_after(clear: Work, gather: Work | None, gathered: int | None) -> None:
    """Clearing comes after the seed, whatever its own last day, which was counted from a picking that is not the end of it; and
    until then silence about it is not read as cleared, or the seed would go with it."""
    clear.upper.clear()
    for link in clear.links:
        link.max = None
    if gathered is not None:
        clear.lower.append((gathered, "its seed gathered"))
    if gather is not None:
        clear.missed = ("stays", 0)
        clear.links.append(Link(on=gather.id, path=False, text="its seed gathered"))


def _mark(state: BatchState, rule: dict[str, Any], picking: Picking) -> Work:
    work = Work(
        id=f"{state.id}.seed_mark",
        verb="look",
        title=f"Choose {rule['plants']} of the best {state.know.get('many') or 'plants'} for seed",
        lead=len("Choose"),
        subject=state.variety_name,
        writes={"did": "look", "batch": state.id},
        batch=state.id,
        place=state.main_place() or state.final,
        minutes=MARK_MINUTES,
        hint="Mark them with a string: true to kind, healthy, neither the first nor the last to run up. Pick none of them.",
    )
    work.notes.append(f"{rule['apart_m']}\u00a0m from other kinds that flower with them, or they cross")
    _after_pick(work, (0, 0, MARK_DAYS), picking, "before the best are picked")
    return work


def _gather(state: BatchState, rule: dict[str, Any], picking: Picking, know: Knowledge) -> Work:
    writes = {"did": "note", "batch": state.id}
    work = Work(
        id=f"{state.id}.seed_gather",
        verb="note",
        title=f"Gather seed of {state.know.get('many') or 'plants'}",
        lead=len("Gather"),
        subject=state.variety_name,
        writes=writes,
        batch=state.id,
        place=state.main_place() or state.final,
        minutes=GATHER_MINUTES,
        hint=rule["how"],
    )
    dry = rule["dry"]
    _after_pick(work, (dry, dry + GATHER_DAYS // 2, dry + GATHER_DAYS), picking, f"{days_words(dry)} until it is dry")
    work.notes.append(f"stored dry and cool it keeps for about {rule['life']} years")
    variety = {"kind": "variety", "id": state.fields.get("variety"), "fields": {"seed_year": year_of(know.today)}}
    work.ways = [way("gathered", "Gathered and dry", [writes], changes=[variety])]
    return work


def _after_pick(work: Work, days: tuple[int, int, int], picking: Picking, why: str) -> None:
    """Days from the first picking: from the day it was, or with the picking while nothing is picked."""
    least, best, most = days
    first, open_pick = picking
    if first is None:
        work.links.append(Link(on=open_pick, min=least, aim=best, max=most, text="picked", why=why))
        return
    work.lower.append((first + least, why))
    work.aims.append((first + best, why))
    work.upper.append((first + most, why))
