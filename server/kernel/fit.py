"""Fit: which of the ready jobs go into the minutes there are."""

from __future__ import annotations

from typing import Any

from server.kernel.said.say import Job

URGENT_DAYS = 1
NO_LEEWAY = 9999


def fit(jobs: list[Job], minutes: int) -> dict[str, Any]:
    """What to take, urgent first and then in as few houses as may be.

    Urgent jobs (past, today, tomorrow) are taken by leeway wherever they are. The rest goes on filling from the houses
    already walked to, and to a new house only when those have nothing more that fits; what could be begun comes after all
    that. `take` is in walking order; `runs_out` are jobs left though their by-day is today or past. What presses nobody is not
    counted.
    """
    ready = [job for job in jobs if job["state"] == "ready" and not job["low"]]
    by_leeway = sorted(ready, key=lambda job: (_leeway(job), job["minutes"], job["id"]))
    taken: set[str] = set()
    houses: set[str] = set()
    left = minutes
    for job in by_leeway:
        if _leeway(job) <= URGENT_DAYS and job["minutes"] <= left:
            taken.add(job["id"])
            houses.add(job["house"] or "")
            left -= job["minutes"]
    early = [job for job in jobs if job["state"] == "early" and not job["low"]]
    for some in (by_leeway, sorted(early, key=lambda job: (job["aim"], job["minutes"], job["id"]))):
        while True:
            fitting = [job for job in some if job["id"] not in taken and job["minutes"] <= left]
            if not fitting:
                break
            near = [job for job in fitting if (job["house"] or "") in houses]
            best = (near or fitting)[0]
            taken.add(best["id"])
            houses.add(best["house"] or "")
            left -= best["minutes"]
    leave = [job for job in ready if job["id"] not in taken]
    return {
        "take": [job["id"] for job in jobs if job["id"] in taken and job["state"] in ("ready", "early")],
        "leave": [job["id"] for job in leave],
        "minutes": minutes - left,
        "runs_out": [job["id"] for job in leave if _leeway(job) <= 0],
    }


def _leeway(job: Job) -> int:
    return job["leeway"] if job["leeway"] is not None else NO_LEEWAY
