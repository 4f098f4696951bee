"""Doors to the crop calendars: every number of one, for whoever wants to see or to change it."""

from __future__ import annotations

import tomllib
from importlib.resources import files
from typing import Any

from starlette.requests import Request
from starlette.responses import Response

from server.errors import NotFound
from server.handlers.answers import json_response, zipped
from server.handlers.body import read_body
from server.handlers.context import rooms, who_asks
from server.season.calendar_numbers import numbers_of
from server.season.crop_calendar import faults
from server.season.my_way import household_crops
from server.sync.fields import ID, shown
from server.sync.messages import MOST_CHANGE_BYTES


async def numbers(request: Request) -> Response:
    """A calendar's numbers, the household's own not in them: `{id, one, many, latin, family, like, numbers: [...]}`."""
    room = rooms(request)
    crops = household_crops(room.calendars.crops, await room.knowledge())
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


async def calendar_file(request: Request) -> Response:
    """A calendar as the file it stands in, to be changed and brought back under a name of one's own."""
    name = request.path_params["crop"]
    if name not in rooms(request).calendars.crops:
        raise NotFound("There is no file of such a crop.", f"crop={shown(name)}")
    text = files("server.calendars").joinpath(f"{name}.toml").read_text(encoding="utf-8")
    headers = {"cache-control": "no-cache", "content-disposition": f'attachment; filename="{name}.toml"'}
    return Response(text, media_type="text/plain", headers=headers)


async def read_calendar_file(request: Request) -> Response:
    """A whole calendar out of a grower's file: `{calendar, faults}`; keeps nothing, the phone writes."""
    data = await read_body(request, MOST_CHANGE_BYTES)
    calendar, wrong = await rooms(request).heavy.run(who_asks(request), _read_calendar, data)
    return json_response({"calendar": None if wrong else calendar, "faults": wrong[:20]})


def _read_calendar(data: bytes) -> tuple[dict[str, Any] | None, list[str]]:
    """The calendar in a file, and what is wrong with it."""
    try:
        calendar = tomllib.loads(data.decode("utf-8"))
    except (ValueError, RecursionError) as error:
        return None, [f"The file cannot be read: {shown(str(error))}. Mend that line."]
    wrong = [str(fault) for fault in faults(calendar, "your file")]
    if not wrong and not ID.fullmatch(calendar["id"]):
        wrong = [f"your file, key 'id': is {shown(calendar['id'])}. Give small letters, figures and underscores."]
    return calendar, wrong
