"""Jobs that somebody wrote down by hand."""

from __future__ import annotations

from typing import Any

from server.kernel.follow.knowledge import Knowledge, occurrence
from server.kernel.read.days import parse
from server.kernel.read.deeds import Deed
from server.kernel.read.words import days_words
from server.kernel.when.work import Link, Work

DEFAULT_MINUTES = 10


def by_hand(deeds: list[Deed], know: Knowledge) -> list[Work]:
    """The open jobs by hand, in order of id."""
    last: dict[str, int] = {}
    for deed in deeds:
        if deed.job is not None:
            for job in (deed.job, deed.job[:-11]):  # with or without the day that a repeat's id ends in
                if job in know.changes:
                    last[job] = deed.on
                    break
    work: list[Work] = []
    for id_, fields in know.changes.items():
        if fields.get("hand") is not True:
            continue
        every = fields.get("every_days")
        if id_ in last and every is None:
            continue
        work.append(_work(id_, fields, every, last.get(id_), know))
    return work


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
