"""Ways out: what can be done where a job cannot be right by all its rules. Each is an answer that writes what it says."""

from __future__ import annotations

from typing import Any

from server.kernel.follow.knowledge import Knowledge
from server.kernel.read.days import iso, spoken
from server.kernel.read.words import days_words, litres, plants_words
from server.kernel.when.work import Work

Way = dict[str, Any]
POTS_L = (0.3, 0.5, 1.0, 2.0, 3.0, 5.0, 7.5, 10.0, 15.0)
"""Sizes that pots are sold in. Source: container volume tables; which of them, from memory."""
FLEECE_DAYS = 7
"""So long after nights hold the fleece is off."""


def way(id_: str, say: str, tells: list[dict[str, Any]], **more: Any) -> Way:
    """An answer to a job. tells: fields of the diary records it writes, besides on, at and by; whoever writes them adds job
    and part where they do what the job asks, or the job is a decision. changes: fields of other records by kind and id.
    asks: what is asked first. note: what it costs."""
    return {"id": id_, "say": say, "tells": tells, "changes": [], "asks": None, "note": None} | more


def ways_out(job: Work, know: Knowledge) -> list[Way]:
    """For plants past what their pots hold while nights are too cold to plant: pot on, plant and cover, or wait."""
    state = know.states.get(job.batch or "")
    if state is None or job.by is None:
        return []
    here = state.main_place(below=state.final_step)
    ways: list[Way] = []
    bigger = _next_pot(state.pot_l)
    if bigger is not None:
        tells = {"did": "pot_up", "batch": state.id, "pot_l": bigger, "count": job.count}
        ways.append(way("pot_on", f"Pot on to {litres(bigger)}\u00a0L", [tells | ({} if here is None else {"place": here})]))
    if job.gate is not None:
        until, plants = spoken(job.gate[0]), plants_words(state.know, job.count)
        off = {
            "hand": True,
            "title": f"Take the fleece off {plants}",
            "batch": state.id,
            "place": job.place,
            "from": iso(job.gate[0]),
            "by_day": iso(job.gate[0] + FLEECE_DAYS),
        }
        planted = job.writes | {"count": job.count}
        covered = {"did": "cover", "batch": state.id, "place": job.place}
        ways.append(
            way(
                "cover",
                f"Plant, and cover on cold nights until about {until}",
                [planted, covered],
                changes=[{"kind": "job", "id": f"{job.id}.uncover", "fields": off}],
            )
        )
    late = job.bare_start - job.by
    ways.append(
        way(
            "wait",
            f"Wait until {spoken(job.bare_start)}",
            [],
            changes=[
                {"kind": "job", "id": job.id, "fields": {"put_off_until": iso(job.bare_start), "put_off_on": iso(know.today)}}
            ],
            note=f"{days_words(late)} past what their pots hold: they may stop growing, and fruit later",
        )
    )
    return ways


def _next_pot(now_l: float | None) -> float | None:
    return next((size for size in POTS_L if size >= 2 * (now_l or 0.3) - 0.01), None)
