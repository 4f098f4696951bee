"""Stand: what stands where, and how each batch's season runs, for Ground, Season and the batch pages."""

from __future__ import annotations

from typing import Any

from server.kernel.follow.knowledge import Knowledge
from server.kernel.follow.progress import spare
from server.kernel.follow.store import Lot, lots_of
from server.kernel.follow.tin import tin_of
from server.kernel.follow.watch import ends_on, watches
from server.kernel.read.batch_state import BatchState
from server.kernel.read.days import iso
from server.kernel.read.merge import Record
from server.kernel.settle import Settled

SPANS = ("raised", "potted", "planted", "picking")


def stand(rulebook: dict[str, Any], records: list[Record], today: str) -> dict[str, Any]:
    """Batches, fixtures, open watches and places as of a day; lists in order of id."""
    return stand_of(Settled(rulebook, records, today))


def stand_of(settled: Settled) -> dict[str, Any]:
    """The same from a list that is kept."""
    know = settled.know
    jobs: dict[str, dict[str, tuple[str, str]]] = {}
    for job in settled.jobs():
        if job["batch"] is not None and job["state"] not in ("done", "let go"):
            jobs.setdefault(job["batch"], {}).setdefault(job["verb"], (job["aim"], job["by"] or job["aim"]))
    return {
        "batches": [_batch(state, jobs.get(state.id, {}), know) for state in know.states.values()],
        "fixtures": [
            {
                "id": fixture.id,
                "up": fixture.up,
                "connected": fixture.connected,
                "since": None if fixture.since is None else iso(fixture.since),
            }
            for fixture in know.ground.fixtures.values()
        ],
        "watches": [
            {
                "id": watch.id,
                "found": watch.found,
                "batch": watch.batch,
                "place": watch.place,
                "level": watch.level,
                "looks": watch.looks,
                "clear": len(watch.clear),
                "until": iso(ends_on(watch, know.rulebook["care"][watch.found])),
            }
            for watch in watches(know)
        ],
        "tin": [{"variety": id_, "seeds": seeds} for id_, seeds in tin_of(know).items()],
        "stores": [_lot(state, lot) for state in know.states.values() for lot in lots_of(state, know)],
        "places": [_place(id_, know) for id_ in [*know.ground.places, *know.ground.fixtures]],
    }


def _lot(state: BatchState, lot: Lot) -> dict[str, Any]:
    return {
        "batch": state.id,
        "place": lot.place,
        "since": iso(lot.since),
        "until": iso(lot.ends),
        "grams": lot.grams,
        "count": lot.count,
    }


def _place(id_: str, know: Knowledge) -> dict[str, Any]:
    plants = [
        {"batch": state.id, "stage": stage_name(state, step), "count": count if state.counted else None}
        for state in know.states.values()
        for (step, where), count in sorted(state.cells.items())
        if where == id_ and count > 0 and state.over_on is None
    ]
    return {
        "id": id_,
        "house": know.ground.house(id_),
        "path": know.ground.path(id_),
        "cover": know.ground.cover(id_),
        "plants": plants,
    }


def stage_name(state: BatchState, step: int) -> str:
    """The stage of plants that have come as far as a step."""
    if step < 0:
        return "up"
    if step == state.final_step:
        return "planted"
    return str(state.steps[step]["stage"])


def _state(state: BatchState) -> str:
    if state.over_on is not None:
        return "over"
    standing = [step for (step, _), count in state.cells.items() if count > 0]
    if not standing:
        return "not begun"
    furthest = max(standing)
    picks = [index for index, step in enumerate(state.steps) if step["verb"] == "pick"]
    if furthest == state.final_step and any(state.first[index] is not None for index in picks):
        return "cropping"
    return stage_name(state, furthest)


def _batch(state: BatchState, jobs: dict[str, tuple[str, str]], know: Knowledge) -> dict[str, Any]:
    return {
        "id": state.id,
        "name": state.variety_name,
        "crop": state.crop,
        "variety": state.fields.get("variety"),
        "year": state.year,
        "want": state.want,
        "for_place": state.final,
        "state": _state(state),
        "sown": state.sown,
        "plants": state.live() if state.counted else None,
        "seeds": state.seeds() if state.counted else None,
        "cells": [
            {"stage": stage_name(state, step), "place": where or None, "count": count if state.counted else None}
            for (step, where), count in sorted(state.cells.items())
            if count > 0
        ],
        "spare": spare(state),
        "picked_g": state.picked_g,
        "picked": state.picked,
        "lost": state.lost,
        "believed": [
            {"stage": stage_name(state, step), "on": iso(day)}
            for step, day in sorted(state.believed.items())
            if state.steps[step].get("stage")
        ],
        "over": None if state.over_on is None else iso(state.over_on),
        "stages": _spans(state, jobs, know),
    }


def _spans(state: BatchState, jobs: dict[str, tuple[str, str]], know: Knowledge) -> list[dict[str, Any]]:
    """Raised, potted, planted and picking spans; real days where there are any, else the days aimed at."""
    starts: list[tuple[str, str, bool]] = []
    end: tuple[str, bool] | None = None
    for span, verbs in (
        ("raised", ("sow",)),
        ("potted", ("pot_up", "prick_out")),
        ("planted", ("plant_out",)),
        ("picking", ("pick",)),
    ):
        real = [day for index, day in enumerate(state.first) if day is not None and state.steps[index]["verb"] in verbs]
        told = any(
            day is not None and index not in state.believed and state.steps[index]["verb"] in verbs
            for index, day in enumerate(state.first)
        )
        aimed = [jobs[verb][0] for verb in verbs if verb in jobs]
        direct = span == "raised" and bool(state.steps) and state.steps[0].get("where") == "final"
        name = "planted" if direct else span
        if real:
            starts.append((name, iso(min(real)), told))
        elif aimed and state.over_on is None:
            starts.append((name, min(aimed), False))
    if state.over_on is not None:
        end = (iso(state.over_on), True)
    elif "clear" in jobs:
        end = (jobs["clear"][0], False)
    elif "pick" in jobs:
        end = (jobs["pick"][1], False)
    if not starts:
        return []
    starts.sort(key=lambda start: (start[1], SPANS.index(start[0])))
    today = iso(know.today)
    spans: list[dict[str, Any]] = []
    for index, (name, since, real_start) in enumerate(starts):
        last = max(since, end[0] if end is not None else today)
        until = starts[index + 1][1] if index + 1 < len(starts) else last
        spans.append({"stage": name, "from": since, "to": until, "real": real_start and since <= today})
    return spans
