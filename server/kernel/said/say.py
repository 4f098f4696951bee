"""Say: a job as plain data, with its state, what is in the way, and where each date comes from."""

from __future__ import annotations

from typing import Any

from server.kernel.follow.knowledge import Knowledge
from server.kernel.follow.ways import ways_out
from server.kernel.read.days import iso, spoken
from server.kernel.read.words import days_words, lower_first
from server.kernel.when.forward import waits_for
from server.kernel.when.work import Work

Job = dict[str, Any]
RANKS = {"ready": 0, "done": 1, "waiting": 2, "early": 3, "later": 4, "let go": 5, "lapsed": 6}
EARLY_DAYS = 14
"""What may be begun, but whose best day is so far off, could be begun: it is none of today's jobs."""
ASKED = ("decide", "emerge")
"""Questions and answers are never too early."""
PATIENCE_DAYS = 7
"""So long past its best day planting still waits for what it follows."""
PINCHED_DAYS = 7
"""What cannot be right by all its rules is to be decided so long before its last day."""


def say(job: Work, by_id: dict[str, Work], know: Knowledge) -> Job:
    """One open job, as phones, doors and the command line show it."""
    in_the_way = _in_the_way(job, by_id, know.today)
    pinched = _pinched(job)
    ways = list(job.ways)
    if job.let_go:
        state = "let go"
    elif _to_decide(job, in_the_way, pinched, know):
        state, ways = "ready", ways_out(job, know)
    elif job.own_from > know.today:
        state = "later"
    elif in_the_way:
        state = "waiting"
    else:
        state = "early" if _early(job, know.today) else "ready"
    changed = know.changes.get(job.id) or {}
    return {
        "id": job.id,
        "verb": job.verb,
        "title": job.title,
        "lead": job.lead,
        "subject": job.subject,
        "place": job.place,
        "house": know.ground.house(job.place),
        "batch": job.batch,
        "fixture": job.fixture,
        "count": job.count,
        "from": iso(job.start),
        "aim": iso(job.aim),
        "by": None if job.by is None else iso(job.by),
        "state": state,
        "leeway": None if job.by is None else job.by - know.today,
        "in_the_way": in_the_way,
        "why": _why(job) + _not_told(job, by_id, know.today),
        "minutes": job.minutes,
        "needs": job.needs,
        "cautions": job.cautions,
        "part": job.part,
        "repeat": job.repeat,
        "for": changed.get("for"),
        "pinched": pinched,
        "ways": ways,
        "hint": job.hint,
        "writes": job.writes,
        "low": job.low and job.by is None,
    }


def _in_the_way(job: Work, by_id: dict[str, Work], today: int) -> list[dict[str, str]]:
    found: list[dict[str, str]] = []
    for link in job.links:
        before = waits_for(link.on, by_id)
        if before is None or link.broken or link.soft:
            continue
        if link.path and _takes_as_done(job, before, today):
            continue
        text = link.text if not link.path and link.text else lower_first(before.title)
        found.append({"job": before.id, "text": text})
    if job.gate is not None and job.gate[0] > today:
        found.append({"gate": job.gate_id, "text": f"{job.gate[1]}, from about {spoken(job.gate[0])}"})
    found.extend({block.sort: block.id, "text": block.text} for block in job.blocks)
    return found


def _takes_as_done(job: Work, before: Work, today: int) -> bool:
    """Whether work goes on as if what it follows were done. What is still raised waits while that is asked for.

    Planting does not wait once its own best day is a week gone, or the time of what it follows is over.
    """
    if job.goes_in:
        over = before.by is not None and before.by < today
        return before.believable and before.could <= today and (over or job.aim + PATIENCE_DAYS <= today)
    return not job.raises and before.taken_on(today) is not None


def _early(job: Work, today: int) -> bool:
    """Whether it could be begun, though its good time is weeks off and nobody waits for it."""
    soon = today + EARLY_DAYS
    return (
        job.repeat is None and not job.low and job.verb not in ASKED and job.aim >= soon and (job.by is None or job.by >= soon)
    )


def _to_decide(job: Work, in_the_way: list[dict[str, str]], pinched: str | None, know: Knowledge) -> bool:
    """Whether plants that are there cannot be planted by all their rules, and it has to be decided now."""
    if pinched is None or job.by is None or job.by - know.today > PINCHED_DAYS or job.put_off is not None:
        return False
    state = know.states.get(job.batch or "")
    planting = job.goes_in and job.verb == "plant_out" and state is not None and state.live(below=state.final_step) > 0
    return planting and all("gate" in it for it in in_the_way)


def _not_told(job: Work, by_id: dict[str, Work], today: int) -> list[str]:
    """What it comes after and nobody told of: said as advice, in nobody's way."""
    lines: list[str] = []
    for link in job.links:
        before = waits_for(link.on, by_id)
        if before is not None and link.path and not link.broken and _takes_as_done(job, before, today):
            done = f"{lower_first(before.title)} about {spoken(before.aim)}, by the calendar"
            lines.append(f"nobody told of it: {done}. If that is still to do, it comes first")
    return lines


def _why(job: Work) -> list[str]:
    lines: list[str] = []
    if job.start_why:
        lines.append(f"from {spoken(job.start)}: {job.start_why}")
    if job.aim_why and job.aim_why != job.start_why:
        lines.append(f"best about {spoken(job.aim)}: {job.aim_why}")
    if job.by is not None and job.by_why and job.by_why != job.start_why:
        lines.append(f"by {spoken(job.by)}: {job.by_why}")
    if job.put_off is not None and job.by is not None and job.put_off > job.by:
        lines.append(f"put off to {spoken(job.put_off)}, {days_words(job.put_off - job.by)} past its by-day")
    return lines + [note for index, note in enumerate(job.notes) if note not in job.notes[:index]]


def _pinched(job: Work) -> str | None:
    if job.by is None or job.by >= job.bare_start:
        return None
    text = f"pinched: not before {spoken(job.bare_start)}"
    text += f" ({job.start_why})" if job.start_why and job.put_off is None else ""
    text += f", yet by {spoken(job.by)} ({job.by_why})" if job.by_why else f", yet by {spoken(job.by)}"
    return text + (f". Ways out: {job.ways_out}" if job.ways_out else "")


def walking_key(job: Job, know: Knowledge) -> tuple[int, str, int, int, str, str, str, str, int]:
    """Sorts jobs for walking: house by house, ready first, then bed by bed, the soonest by-day first."""
    return (
        know.ground.walk(job["house"]),
        job["house"] or "~",
        RANKS[job["state"]],
        know.ground.walk(job["place"]),
        job["place"] or "~",
        job["by"] or "~",
        job["from"],
        job["id"],
        job["part"],
    )
