"""The backward pass: what must be done by some day pulls what it waits on."""

from __future__ import annotations

from server.kernel.read.days import spoken
from server.kernel.read.words import lower_first
from server.kernel.when.forward import waits_for
from server.kernel.when.work import Work


def backward(ordered: list[Work]) -> None:
    """Tighten `by` of each job to what waits on it, in place; aims are drawn in after it."""
    by_id = {job.id: job for job in ordered}
    for job in reversed(ordered):
        if job.by is None or job.let_go or job.dropped:
            continue
        for link in job.links:
            before = waits_for(link.on, by_id)
            limit = (
                job.aim if link.soft else job.firm_by if link.path else job.by
            )  # a guessed limit never pulls the work it is guessed from
            if before is None or link.broken or limit is None:
                continue
            latest = limit - link.shortest
            if before.firm_by is None or latest < before.firm_by:
                before.firm_by = latest
            if before.by is None or latest < before.by:
                before.by = latest
                before.by_why = f"{lower_first(job.title)} waits on this, by {spoken(limit)}"
    for job in ordered:
        if job.by is not None and job.aim > job.by:
            job.aim = max(job.start, job.by)
            job.aim_why = ""
