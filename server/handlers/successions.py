"""The door to sowings one after another: worked back from the picking wanted, or every so many days, or by heat."""

from __future__ import annotations

import datetime
from dataclasses import dataclass
from typing import Any

from starlette.requests import Request
from starlette.responses import Response

from server.errors import BadRequest, NotFound
from server.handlers.answers import json_response
from server.handlers.context import FARTHEST_D, Rooms, rooms, who_asks
from server.kernel.read.merge import Record
from server.season.houses import climates_of, house_at
from server.season.my_way import household_tables
from server.season.rulebook import rulebook_inputs
from server.season.successions import (
    LONGEST_PICKING_D,
    Planting,
    Successions,
    by_heat,
    every_days,
    for_picking,
    usual_days,
)
from server.sync.fields import date, shown

MODES = ("picking", "days", "heat")


@dataclass(frozen=True)
class Asked:
    """What is asked. first, last: days of picking, or of sowing in the other modes; None for what the year gives."""

    mode: str
    first: datetime.date | None
    last: datetime.date | None
    a_day: float
    every: int
    plants: int


async def successions(request: Request) -> Response:
    """`?crop=&variety=&place=&mode=picking|days|heat&from=&to=&a_day=&every=&plants=`: sowings, and days they leave open."""
    room = rooms(request)
    everything = await room.knowledge()
    asked = _asked(request)
    answer = await room.heavy.run(who_asks(request), _work_out, room, everything, dict(request.query_params), asked)
    return json_response(answer)


def _asked(request: Request) -> Asked:
    given = request.query_params
    mode = given.get("mode", "picking")
    if mode not in MODES:
        raise BadRequest("Choose how the sowings follow each other.", f"mode={shown(mode)}, expected one of {MODES}")
    first, last = _day(given.get("from"), "from"), _day(given.get("to"), "to")
    if first and last and not 0 <= (last - first).days <= LONGEST_PICKING_D:
        raise BadRequest("The last day must come after the first, at most two years later.", f"from={first}, to={last}")
    return Asked(
        mode,
        first,
        last,
        _number(given.get("a_day", "1"), "How many a day", 0.01, 1000),
        int(_number(given.get("every", "14"), "The days between", 1, 366)),
        int(_number(given.get("plants", "12"), "The plants of each sowing", 1, 10_000)),
    )


def _day(text: str | None, name: str) -> datetime.date | None:
    if not text:
        return None
    if date(text):
        raise BadRequest("Give the day like 2031-05-19.", f"{name}={shown(text)}")
    return datetime.date.fromisoformat(text)


def _number(text: str, what: str, low: float, high: float) -> float:
    try:
        value = float(text)
    except ValueError:
        value = -1.0
    if not low <= value <= high:
        raise BadRequest(f"{what} must be a number from {low:g} to {high:,g}.", f"it was {shown(text)}")
    return value


def _work_out(room: Rooms, everything: list[Record], given: dict[str, str], asked: Asked) -> dict[str, Any]:
    inputs = rulebook_inputs(everything)
    tables = household_tables(room.calendars.crops, inputs)
    table = tables.varieties.get(given.get("variety", "")) or tables.crops.get(given.get("crop", ""))
    if table is None:
        raise NotFound("There is no such crop. Go back and choose one from the list.", f"crop={shown(given.get('crop'))}")
    climates = climates_of(inputs)
    places = [record for record in inputs if record["kind"] == "place"]
    house, climate = house_at(climates, given.get("place", ""), places)
    try:
        planting = Planting(climates.site, table, house, climate=climate)
    except ValueError as error:
        raise BadRequest(f"{table['many'].capitalize()} are not sown one after another.", str(error)) from error
    today = datetime.date.fromisoformat(room.today(everything))
    for day in (asked.first, asked.last):
        if day is not None and abs((day - today).days) > FARTHEST_D:
            raise BadRequest("Choose days within the next five years.", f"{day}, today {today}")
    usual = usual_days(planting, today)
    first = asked.first or (usual[0] if usual and asked.mode == "picking" else today)
    last = asked.last or (usual[1] if usual and asked.mode == "picking" else first + datetime.timedelta(days=120))
    if (last - first).days > LONGEST_PICKING_D:
        raise BadRequest("The last day must come at most two years after the first.", f"from={first}, to={last}")
    found = _successions(planting, asked, first, max(first, last), today)
    return {
        "crop": given.get("crop"),
        "one": table["one"],
        "many": table["many"],
        "whole": planting.whole,
        "raised": planting.raise_days > 0,
        "by_heat": planting.wanted is not None,
        "pick_every": planting.every,
        "from": first.isoformat(),
        "to": max(first, last).isoformat(),
        "says": climates.says.get(climate or ""),
        "sowings": [
            {
                "sow": sowing.sow.isoformat(),
                "plant": sowing.plant.isoformat(),
                "pick_from": sowing.pick_from.isoformat(),
                "pick_to": sowing.pick_to.isoformat(),
                "plants": sowing.plants,
                "seeds": sowing.seeds,
            }
            for sowing in found.sowings
        ],
        "gaps": [{"from": gap.first.isoformat(), "to": gap.last.isoformat(), "why": gap.why} for gap in found.gaps],
    }


def _successions(
    planting: Planting, asked: Asked, first: datetime.date, last: datetime.date, today: datetime.date
) -> Successions:
    if asked.mode == "picking":
        return for_picking(planting, first, last, asked.a_day, planting.whole, not_before=today)
    each = every_days if asked.mode == "days" else by_heat
    return each(planting, max(first, today), last, asked.every, asked.plants)
