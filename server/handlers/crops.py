"""Doors to the crop calendars: every number of one, for whoever wants to see or to change it."""

from __future__ import annotations

from starlette.requests import Request
from starlette.responses import Response

from server.errors import NotFound
from server.handlers.answers import json_response, zipped
from server.handlers.context import rooms
from server.season.calendar_numbers import numbers_of
from server.season.my_way import household_crops
from server.sync.fields import shown


async def numbers(request: Request) -> Response:
    """A calendar's numbers, the household's own not in them: `{id, one, many, latin, family, like, numbers: [...]}`."""
    room = rooms(request)
    crops = household_crops(room.calendars.crops, await room.everything())
    name = request.path_params["crop"]
    if name not in crops:
        raise NotFound("There is no such crop. Go back and choose one from the list.", f"crop={shown(name)}")
    table = crops[name]
    answer = {key: table.get(key) for key in ("id", "one", "many", "latin", "family", "like")}
    answer["numbers"] = [
        {
            "path": number.path,
            "group": number.group,
            "label": number.label,
            "value": number.value,
            "unit": number.unit,
            "low": number.low,
            "high": number.high,
            "whole": number.whole,
            "source": number.source,
            "usual": number.usual,
            "anchor": number.anchor,
            "before": number.before,
        }
        for number in numbers_of(table)
    ]
    return zipped(request, json_response(answer, headers={"cache-control": "no-cache"}))
