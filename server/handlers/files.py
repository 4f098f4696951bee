"""Doors that read a grower's own files: a thermometer's readings, a list of seeds. They keep nothing; the phone writes."""

from __future__ import annotations

import datetime
from collections.abc import Callable
from typing import TypeVar

from starlette.requests import Request
from starlette.responses import Response

from server.handlers.answers import json_response
from server.handlers.body import read_body
from server.handlers.context import rooms, site_zone, who_asks
from server.season.month_table import MonthTable, read_months
from server.season.my_way import household_crops
from server.season.readings import ReadingsFile, read_readings
from server.season.seed_list import read_seed_list
from server.season.table_text import MOST_BYTES, BadRow

Found = TypeVar("Found", ReadingsFile, MonthTable)

ANSWER = "answer."
"""Queries that begin so answer a question of an earlier try."""
MOST_BAD = 200
"""So many rows that were left out are listed; how many there were is always said."""


def _answers(request: Request) -> dict[str, str]:
    return {name.removeprefix(ANSWER): value for name, value in request.query_params.items() if name.startswith(ANSWER)}


def _bad(rows: list[BadRow]) -> list[dict[str, int | str]]:
    return [{"line": row.line, "why": row.why} for row in rows[:MOST_BAD]]


async def readings(request: Request) -> Response:
    """The days a thermometer's CSV holds: `{days: {date: [min, max]}, bad, left_out, questions, problem}`, in °C."""
    found = await _read_temperatures(request, read_readings)
    days = {day.isoformat(): [round(low, 1), round(high, 1)] for day, (low, high) in found.days.items()}
    return json_response({"days": days, **_what_was_not_read(found)})


async def months(request: Request) -> Response:
    """Mean night and day of each month: `{normals: [[min, max] x 12] | null, bad, left_out, questions, problem}`, in °C."""
    found = await _read_temperatures(request, read_months)
    return json_response({"normals": found.normals, **_what_was_not_read(found)})


async def _read_temperatures(request: Request, read: Callable[[bytes, str, dict[str, str], datetime.date], Found]) -> Found:
    room = rooms(request)
    data = await read_body(request, MOST_BYTES)
    known = await room.knowledge()
    today = datetime.date.fromisoformat(room.today(known))
    return await room.heavy.run(who_asks(request), read, data, str(site_zone(known)), _answers(request), today)


def _what_was_not_read(found: ReadingsFile | MonthTable) -> dict[str, object]:
    return {
        "bad": _bad(found.bad),
        "left_out": len(found.bad),
        "questions": [{"id": one.id, "ask": one.ask, "choices": list(one.choices)} for one in found.questions],
        "problem": found.problem,
    }


async def seeds(request: Request) -> Response:
    """The varieties a list of seeds holds: `{good, bad, left_out, unknown, problem}`."""
    data = await read_body(request, MOST_BYTES)
    room = rooms(request)
    crops = household_crops(room.calendars.crops, await room.knowledge())
    found = await room.heavy.run(who_asks(request), read_seed_list, data, crops, _answers(request))
    return json_response(
        {
            "good": [
                {
                    "line": row.line,
                    "variety": row.variety,
                    "crop": row.crop,
                    "germination_pct": row.germination_pct,
                    "seeds": row.seeds,
                    "weight_g": row.weight_g,
                }
                for row in found.good
            ],
            "bad": _bad(found.bad),
            "left_out": len(found.bad),
            "unknown": [{"name": one.name, "lines": list(one.lines), "near": list(one.near)} for one in found.unknown],
            "problem": found.problem,
        }
    )
