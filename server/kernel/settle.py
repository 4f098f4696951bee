"""Settle: records and rulebook in, the list of jobs for a day out. Pure; the same in any order of records."""

from __future__ import annotations

from typing import Any

from server.kernel.follow.by_hand import by_hand
from server.kernel.follow.join import join
from server.kernel.follow.knowledge import Knowledge
from server.kernel.follow.lay_out import lay_out
from server.kernel.follow.standing import standing_work
from server.kernel.follow.watch import watch_work, watches
from server.kernel.read.batch_state import begin_batches
from server.kernel.read.days import parse
from server.kernel.read.deeds import Deed, read_deeds
from server.kernel.read.fold import fold
from server.kernel.read.ground import read_ground
from server.kernel.read.merge import Record, visible
from server.kernel.said.done import done_today
from server.kernel.said.say import Job, say, walking_key
from server.kernel.when.backward import backward
from server.kernel.when.forward import forward, in_order
from server.kernel.when.work import Work

KINDS = ("place", "fixture", "variety", "batch", "diary", "job")


def settle(rulebook: dict[str, Any], records: list[Record], today: str) -> list[Job]:
    """Every job of a day: open ones, what was let go, and what was done today, sorted for walking.

    rulebook: as `server.season.rulebook` makes it. records: merged records of any kinds. today: `YYYY-MM-DD`.
    """
    know, deeds = read(rulebook, records, today)
    return settle_read(know, deeds)


def settle_read(know: Knowledge, deeds: list[Deed]) -> list[Job]:
    """The same from records that have been read."""
    work = lay_out(know) + watch_work(watches(deeds, know), know) + standing_work(deeds, know)
    work += by_hand(deeds, know)
    _put_off(work, know)
    forward(in_order(work), know.heat, know.today)
    work = join(work, know)
    _put_off(work, know)
    _number_parts(work, deeds)
    ordered = in_order(work)
    forward(ordered, know.heat, know.today)
    backward(ordered)
    by_id = {job.id: job for job in ordered}
    jobs = [say(job, by_id, know) for job in ordered if not job.dropped]
    jobs += done_today(deeds, know)
    jobs.sort(key=lambda job: walking_key(job, know))
    return jobs


def read(rulebook: dict[str, Any], records: list[Record], today: str) -> tuple[Knowledge, list[Deed]]:
    """Records sorted into kinds and folded: what every later step works from."""
    by_kind: dict[str, list[Record]] = {kind: [] for kind in KINDS}
    for record in records:
        rows = by_kind.get(record["kind"])
        if rows is not None and visible(record):
            rows.append(record)
    for kind in ("place", "fixture", "batch", "job"):
        by_kind[kind].sort(key=lambda record: str(record["id"]))
    day = parse(today)
    ground = read_ground(by_kind["place"], by_kind["fixture"], rulebook.get("houses") or {})
    states = begin_batches(by_kind, rulebook, ground)
    deeds = read_deeds(by_kind["diary"], day)
    fold(states, deeds, ground, day)
    changes = {record["id"]: record["fields"] for record in by_kind["job"]}
    return Knowledge(rulebook, ground, states, changes, day), deeds


def _number_parts(work: list[Work], deeds: list[Deed]) -> None:
    """The part a tick would be: one more than this phone has seen of the job."""
    seen: dict[str, int] = {}
    for deed in deeds:
        if deed.job is not None and deed.part is not None:
            seen[deed.job] = max(seen.get(deed.job, 0), deed.part)
    for job in work:
        job.part = seen.get(job.id, 0) + 1


def _put_off(work: list[Work], know: Knowledge) -> None:
    for job in work:
        until = (know.changes.get(job.id) or {}).get("put_off_until")
        if until:
            job.put_off = parse(until)
