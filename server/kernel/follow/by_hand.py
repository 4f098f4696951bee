"""Jobs that somebody wrote down by hand."""

from __future__ import annotations

from typing import Any

from server.kernel.follow.knowledge import Knowledge, occurrence
from server.kernel.follow.ways import way
from server.kernel.read.days import parse
from server.kernel.read.diary import stem
from server.kernel.read.words import days_words
from server.kernel.when.work import Link, Work

DEFAULT_MINUTES = 10


def by_hand(id_: str, know: Knowledge) -> Work | None:
    """A job by hand, while it is open."""
    fields = know.changes.get(id_)
    if fields is None or fields.get("hand") is not True:
        return None
    every, last = fields.get("every_days"), _last_done(id_, know)
    return None if last is not None and every is None else _work(id_, fields, every, last, know)


def _last_done(id_: str, know: Knowledge) -> int | None:
    """When it was last done; a repeat is told with the day that its id ends in, or without."""
    by_job = know.diary.by_job
    days = [deed.on for deed in by_job.get(stem(id_), []) if deed.job == id_]
    turns = (deed for deed in by_job.get(id_, []) if deed.job is not None and deed.job != id_)
    days += [deed.on for deed in turns if deed.job not in know.changes]
    return max(days, default=None)


def _work(id_: str, fields: dict[str, Any], every: int | None, last: int | None, know: Knowledge) -> Work:
    job, since = (id_, None) if every is None else occurrence(id_, last, know)
    batch = fields.get("batch") if fields.get("batch") in know.states else None
    place = fields.get("place") if know.ground.path(fields.get("place")) else None
    if place is None and batch is not None:
        place = know.states[batch].main_place() or know.states[batch].final
    writes: dict[str, Any] = {"did": "note"}
    if batch is not None:
        writes["batch"] = batch
    if place is not None:
        writes["place"] = place
    title = fields.get("title") or "A job by hand"
    subject = know.states[batch].variety_name if batch is not None else (know.ground.name(place) or "")
    work = Work(
        id=job,
        verb="note",
        title=title,
        lead=len(title.split(" ")[0]),
        subject=subject,
        writes=writes,
        batch=batch,
        place=place,
        minutes=fields["minutes"] if fields.get("minutes") is not None else DEFAULT_MINUTES,
        repeat=every,
    )
    answers = fields.get("answers") or []
    if answers:
        told = {name: value for name, value in writes.items() if name != "did"} | {"did": "decide"}
        work.verb, work.writes = "decide", told
        work.ways = [way(f"a{at}", answer, [told | {"answer": answer}]) for at, answer in enumerate(answers)]
    if since is not None and every is not None:
        why = f"every {days_words(every)}"
        work.lower.append((since + every - every // 3, why))
        work.aims.append((since + every, why))
        work.upper.append((since + every + every // 2, why))
    else:
        _own_days(work, fields)
    for other in fields.get("waits_on") or []:
        if other != job:
            work.links.append(Link(on=other, path=False))
    work.let_go = know.let_go_on(job) is not None
    return work


def _own_days(work: Work, fields: dict[str, Any]) -> None:
    written = "written down by hand"
    if fields.get("from"):
        work.lower.append((parse(fields["from"]), written))
        work.aims.append((parse(fields["from"]), written))
    if fields.get("by_day"):
        work.upper.append((parse(fields["by_day"]), written))
