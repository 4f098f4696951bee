"""Saved seed: the plants that are left for it, and the day its seed is dry. Chosen batch by batch."""

from __future__ import annotations

from server.kernel.follow.knowledge import Knowledge
from server.kernel.follow.ways import way
from server.kernel.read.batch_state import BatchState
from server.kernel.read.days import year_of
from server.kernel.read.words import days_words
from server.kernel.when.work import Link, Work

MARK_MINUTES, GATHER_MINUTES = 10, 30
MARK_DAYS = 14
"""The plants are chosen within so many days of the first picking."""
GATHER_DAYS = 21
"""Dry seed is gathered within so many days."""


def seed_work(state: BatchState, work: list[Work], know: Knowledge) -> list[Work]:
    """Choosing the plants, and gathering. work: the batch's own, whose clearing waits for it."""
    rule = state.know.get("seed")
    if rule is None or rule.get("dry") is None or state.fields.get("save_seed") is not True or state.over_on is not None:
        return []
    many = state.know.get("many") or "plants"
    pick = next((index for index, step in enumerate(state.steps) if step["verb"] == "pick"), None)
    if pick is None:
        return []
    first, open_pick = state.first[pick], f"{state.id}.{state.steps[pick]['id']}"
    told = {(deed.job or "").removeprefix(f"{state.id}.") for deed, _ in state.deeds}
    made: list[Work] = []
    if "seed_mark" not in told:
        fewest = rule["plants"]
        mark = Work(
            id=f"{state.id}.seed_mark",
            verb="look",
            title=f"Choose {fewest} of the best {many} for seed",
            lead=len("Choose"),
            subject=state.variety_name,
            writes={"did": "look", "batch": state.id},
            batch=state.id,
            place=state.main_place() or state.final,
            minutes=MARK_MINUTES,
            hint="Mark them with a string: true to kind, healthy, neither the first nor the last to run up. Pick none of them.",
        )
        mark.notes.append(f"{rule['apart_m']}\u00a0m from other kinds that flower with them, or they cross")
        _after_pick(mark, (0, 0, MARK_DAYS), first, open_pick, "before the best are picked")
        made.append(mark)
    gather = Work(
        id=f"{state.id}.seed_gather",
        verb="note",
        title=f"Gather seed of {many}",
        lead=len("Gather"),
        subject=state.variety_name,
        writes={"did": "note", "batch": state.id},
        batch=state.id,
        place=state.main_place() or state.final,
        minutes=GATHER_MINUTES,
        hint=rule["how"],
    )
    if "seed_gather" not in told:
        dry = rule["dry"]
        _after_pick(
            gather, (dry, dry + GATHER_DAYS // 2, dry + GATHER_DAYS), first, open_pick, f"{days_words(dry)} until it is dry"
        )
        gather.notes.append(f"stored dry and cool it keeps for about {rule['life']} years")
        variety = {"kind": "variety", "id": state.fields.get("variety"), "fields": {"seed_year": year_of(know.today)}}
        gather.ways = [way("gathered", "Gathered and dry", [gather.writes], changes=[variety])]
        for job in work:
            if job.verb == "clear":
                job.links.append(Link(on=gather.id, path=False, text="its seed gathered"))
        made.append(gather)
    for job in made:
        job.let_go = know.let_go_on(job.id) is not None
    return made


def _after_pick(work: Work, days: tuple[int, int, int], first: int | None, picking: str, why: str) -> None:
    """Days from the first picking: from the day it was, or with the picking while nothing is picked."""
    least, best, most = days
    if first is None:
        work.links.append(Link(on=picking, min=least, aim=best, max=most, text="picked", why=why))
        return
    work.lower.append((first + least, why))
    work.aims.append((first + best, why))
    work.upper.append((first + most, why))
