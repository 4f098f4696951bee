"""Room: how full every bed, bench, shelf and propagator is, week by week, what stands there when, and what the shed holds."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace
from typing import Any, NamedTuple

from server.kernel.beds import Strip, Taker, arrange, run_for, strip_of
from server.kernel.follow.knowledge import Knowledge
from server.kernel.follow.stays import Stay, stays_of
from server.kernel.follow.stock import stock_of
from server.kernel.follow.vessels import Filled, Vessels, mm_of, vessels_of
from server.kernel.read.batch_state import BatchState
from server.kernel.read.days import iso, parse
from server.kernel.read.merge import Record, visible
from server.kernel.settle import Settled
from server.kernel.stand import stage_name

WEEKS = 53
WEEK = 7
USUAL_MM = 300
"""Plants apart where nothing is known of the crop."""
ABOVE_GROUND = ("bench", "shelf", "propagator")
TRAINED = ("string", "train")


def room(rulebook: dict[str, Any], records: list[Record], today: str, since: str | None = None) -> dict[str, Any]:
    """`{"from", "stays": [..], "places": [..], "stock": [..]}` as of a day: 53 weeks from its week's Monday, or `since`'s.

    Section 4 of DEVELOPERS.md. A place without a size is not named; what takes no known room counts nothing.
    """
    return room_of(Settled(rulebook, records, today), records, since)


def room_of(settled: Settled, records: list[Record], since: str | None = None) -> dict[str, Any]:
    """The same from a list that is kept. records: those with the places' sizes and the household's own vessels."""
    know = settled.know
    stays = stays_of(know, settled.jobs())
    sizes = sizes_of(records, know)
    vessels = vessels_of(know.rulebook, records)
    day = know.today if since is None else parse(since)
    first = day - (day + 3) % WEEK
    taken = [_taken(stay, know.states[stay.batch], sizes, vessels) for stay in stays]
    by_place: dict[str, list[_Taken]] = {}
    for one in taken:
        by_place.setdefault(one.stay.place, []).append(one)
    return {
        "from": iso(first),
        "stays": [_told(one, know) for one in taken],
        "places": [
            {"id": id_, "cm2": length * width // 100, "weeks": _weeks(by_place.get(id_, []), length * width // 100, first)}
            for id_, (length, width, _) in sizes.items()
        ],
        "stock": stock_of(know, records),
    }


class _Taken(NamedTuple):
    """A stay with the room it takes [whole cm²], None where that is not known, and what it stands in."""

    stay: Stay
    cm2: int | None
    filled: Filled | None = None
    rest_of: Strip | None = None
    """The strip of which it takes what others leave, since nobody counts it."""


Size = tuple[int, int, str]
"""Length and width of a place [mm], the longer first, and its sort."""


def sizes_of(records: Iterable[Record], know: Knowledge) -> dict[str, Size]:
    """Sizes of the places that have one and hold plants themselves, in order of id; a fixture's is nowhere told."""
    outer = {place.path[1] for place in know.ground.places.values() if len(place.path) > 1}
    sizes: dict[str, Size] = {}
    for record in sorted((one for one in records if one["kind"] == "place" and visible(one)), key=lambda one: str(one["id"])):
        length, width = record["fields"].get("length_cm"), record["fields"].get("width_cm")
        if length is None or width is None or record["id"] in outer:
            continue
        ends = sorted((int(length * 10 + 0.5), int(width * 10 + 0.5)))
        sizes[record["id"]] = (ends[1], ends[0], record["fields"].get("sort") or "bed")
    return sizes


def taker_of(state: BatchState, count: int | None, stands: bool) -> Taker:
    """A batch as what takes part of a bed: by its own spacings, else the crop's."""
    own = state.fields
    usual = state.know.get("spacing_cm")
    spacing = own.get("spacing_cm") or (usual[2] if usual else USUAL_MM / 10)
    row = own.get("row_cm") or _row_at(state.know, spacing)
    return Taker(
        batch=state.id,
        count=count,
        spacing=max(1, int(spacing * 10 + 0.5)),
        row=max(1, int(row * 10 + 0.5)),
        pattern=own.get("pattern") or "",
        turned=own.get("turned") is True,
        rows=own.get("rows"),
        at=mm_of(own.get("at_cm")),
        run=mm_of(own.get("run_cm")),
        foot_of=own.get("near"),
        trained=any(step["verb"] in TRAINED for step in state.steps),
        stands=stands,
        end=mm_of(own.get("end_cm")),
        left=mm_of(own.get("left_cm")),
        wide=mm_of(own.get("wide_cm")),
    )


def _row_at(know: dict[str, Any], spacing: float) -> float:
    """How far rows are apart where plants stand so close: less than usual where they stand closer than usual. [cm]"""
    row, usual = know.get("row_cm"), know.get("spacing_cm")
    if row is None or not usual:
        return spacing
    return float(min(row, row * spacing / usual[2]))


def _taken(stay: Stay, state: BatchState, sizes: dict[str, Size], vessels: Vessels) -> _Taken:
    """Room that plants take where they stand. [whole cm²] None for drills nobody counts over the whole width, and where
    nothing is known."""
    length, width, sort = sizes.get(stay.place, (0, 0, ""))
    if not stay.ground or sort in ABOVE_GROUND:
        filled = vessels.of(state, stay.step, stay.count, stay.pot_ml)
        return _Taken(stay, None if filled is None else filled.cm2, filled)
    taker = taker_of(state, stay.count, stay.told)
    strip = strip_of(width, taker)
    wide = strip[1]
    if taker.run is not None:
        return _Taken(stay, min(taker.run, length) * wide // 100 if length else None)
    if taker.foot_of is not None:
        return _Taken(stay, 0)
    if stay.count is None or not length:
        return _Taken(stay, length * wide // 100, rest_of=strip) if wide < width else _Taken(stay, None)
    if stay.told:
        (own,) = arrange(length, width, [replace(taker, at=None)])
        if not own.without:
            return _Taken(stay, own.run * wide // 100)
    one_a_row = stay.count * max(taker.spacing, taker.row) + 2 * taker.spacing
    return _Taken(stay, run_for(wide, taker, stay.count, one_a_row) * wide // 100)


def _weeks(taken: list[_Taken], cm2: int, first: int) -> list[int]:
    """The most room taken on any day of each week. [cm²] Where drills nobody counts stand, a bed or their strip of it counts as
    full; they take what others leave, so that a bed never overflows by them."""
    days = WEEKS * WEEK
    change = [0] * (days + 1)
    rests: dict[Strip | None, tuple[int, list[int]]] = {}
    for one in taken:
        since, until = max(0, one.stay.since - first), min(days, one.stay.until - first)
        if since >= until:
            continue
        many, by = change, one.cm2 or 0
        if one.cm2 is None or one.rest_of is not None:
            _, many = rests.setdefault(one.rest_of, (cm2 if one.cm2 is None else one.cm2, [0] * (days + 1)))
            by = 1
        many[since] += by
        many[until] -= by
    weeks, counted, drills = [0] * WEEKS, 0, dict.fromkeys(rests, 0)
    for day in range(days):
        counted, rest = counted + change[day], 0
        for strip, (area, many) in rests.items():
            drills[strip] += many[day]
            rest += area if drills[strip] else 0
        weeks[day // WEEK] = max(weeks[day // WEEK], counted, min(cm2, counted + rest))
    return weeks


def _told(taken: _Taken, know: Knowledge) -> dict[str, Any]:
    stay, filled = taken.stay, taken.filled
    state = know.states[stay.batch]
    return {
        "batch": stay.batch,
        "place": stay.place,
        "stage": stage_name(state, stay.step),
        "from": iso(stay.since),
        "to": iso(stay.until),
        "count": stay.count,
        "pot_ml": stay.pot_ml,
        "ground": stay.ground,
        "cm2": taken.cm2,
        "told": stay.told,
        "layout": _layout(taker_of(state, stay.count, stay.told), state.stems()) if stay.ground else None,
        "vessel": None if filled is None else _vessel(filled),
    }


def _vessel(filled: Filled) -> dict[str, Any]:
    """So many pots or trays. [mm]"""
    vessel = filled.vessel
    return {"sort": vessel.sort, "length": vessel.length, "width": vessel.width, "cells": vessel.cells, "many": filled.many}


def _layout(taker: Taker, stems: int | None) -> dict[str, Any]:
    """How it takes part of a bed [mm], and on how many stems each of its plants is led, if that is known."""
    return {
        "spacing": taker.spacing,
        "row": taker.row,
        "pattern": taker.pattern,
        "turned": taker.turned,
        "rows": taker.rows,
        "at": taker.at,
        "run": taker.run,
        "foot_of": taker.foot_of,
        "trained": taker.trained,
        "end": taker.end,
        "left": taker.left,
        "wide": taker.wide,
        "stems": stems,
    }
