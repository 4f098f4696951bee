"""Doors of the app's own talk with the server: sync, jobs, the rulebook, news, health."""

from __future__ import annotations

import asyncio
import datetime
import json
import math
import re

from starlette.requests import Request
from starlette.responses import Response, StreamingResponse

from server import __version__
from server.errors import BadRequest
from server.handlers.answers import json_response, zipped
from server.handlers.body import read_body
from server.handlers.context import FARTHEST_D, rooms, who_asks
from server.handlers.guests import guest_of, what_guests_may
from server.kernel.read import stamps
from server.kernel.room import room as weeks_of_room
from server.kernel.said.say import Job
from server.kernel.settle import Settled, settle
from server.season.named_climates import nearest, site_fields
from server.store import records
from server.sync.exchange import exchange
from server.sync.fields import date, shown
from server.sync.messages import MOST_BYTES, read_push


async def sync(request: Request) -> Response:
    """Take changes, give records. Answers only after what it took is on disk."""
    room = rooms(request)
    push = read_push(await read_body(request, MOST_BYTES))
    guest = guest_of(request)
    if guest is not None:
        await what_guests_may(room, guest, push)
    check_in = getattr(request.state, "check_in", _everybody_is_in)
    reply, last = await exchange(room.store, push, room.now_ms(), guest is None, room.digest, check_in, room.house_clock)
    if last:
        await room.pokes.tell(last)
    answer = json_response(reply)
    return await asyncio.to_thread(zipped, request, answer)


def _everybody_is_in() -> None:
    """Where nobody has to join."""


async def jobs(request: Request) -> Response:
    """The Python kernel's answer: the same jobs as every phone works out."""
    room = rooms(request)
    known = await room.knowledge()
    on, today = _day_asked(request, room.today(known))
    rulebook, who = await room.rulebook(known), who_asks(request)
    if on == today:
        found = await room.kept_list.ask(who, rulebook, today, Settled.jobs)
    else:
        found = await room.heavy.run(who, settle, rulebook, await records.all_records(room.store), on)
    found = chosen(found, request.query_params.get("place"), request.query_params.get("state"))
    return await asyncio.to_thread(zipped, request, json_response({"on": on, "jobs": found}))


async def room_through_the_year(request: Request) -> Response:
    """How full each place is in each of 53 weeks, and what stands where when."""
    room = rooms(request)
    known = await room.knowledge()
    on, _ = _day_asked(request, room.today(known))
    held = await records.all_records(room.store)
    told = await room.heavy.run(who_asks(request), weeks_of_room, await room.rulebook(known), held, on)
    return await asyncio.to_thread(zipped, request, json_response(told))


def _day_asked(request: Request, today: str) -> tuple[str, str]:
    """The day that is asked for, today if none, and today. Raises BadRequest for what is no day within reach."""
    on = request.query_params.get("on") or today
    if date(on):
        raise BadRequest("Give the day like 2031-05-19.", f"on={shown(on)}")
    if abs((datetime.date.fromisoformat(on) - datetime.date.fromisoformat(today)).days) > FARTHEST_D:
        raise BadRequest("Choose a day within five years.", f"on={on}, today {today}")
    return on, today


def chosen(found: list[Job], place: str | None, state: str | None) -> list[Job]:
    """Jobs of one place (or house) and one state, where these are asked for."""
    return [
        job for job in found if (not place or place in (job["place"], job["house"])) and (not state or job["state"] == state)
    ]


async def rulebook(request: Request) -> Response:
    """The rulebook, with an ETag so that an unchanged one costs nothing."""
    room = rooms(request)
    made = await room.rulebook(await room.knowledge())
    tag = f'"{made["version"]}"'
    headers = {"etag": tag, "cache-control": "no-cache"}
    if re.sub(r"^W/", "", request.headers.get("if-none-match", "")) == tag:
        return Response(status_code=304, headers=headers)
    return zipped(request, json_response(made, headers=headers))


async def climates(request: Request) -> Response:
    """Named climates to begin a site from; nearest first where a place is given."""
    here = _place(request)
    known = rooms(request).climates
    ordered = nearest(known, *here, most=len(known)) if here else [(climate, None) for climate in known.values()]
    found = [
        {"name": one.name, "source": one.source, "km": None if km is None else round(km), "fields": site_fields(one)}
        for one, km in ordered
    ]
    return zipped(request, json_response({"climates": found}))


def _place(request: Request) -> tuple[float, float] | None:
    given = [request.query_params.get(name) for name in ("lat", "lon")]
    if None in given:
        return None
    try:
        lat, lon = (float(text or "") for text in given)
    except ValueError:
        lat = lon = math.nan
    if not (-90 <= lat <= 90 and -180 <= lon <= 180):
        raise BadRequest("Give latitude and longitude in degrees.", f"lat={shown(given[0])}, lon={shown(given[1])}")
    return lat, lon


async def history(request: Request) -> Response:
    """What a record said before somebody else's later word: `{before: [{field, value, ms}]}`, the newest first."""
    found = await records.history(rooms(request).store, request.path_params["record"])
    before = [{"field": field, "value": value, "ms": stamps.read(stamp).ms} for field, value, stamp in found]
    return json_response({"before": before})


async def pokes(request: Request) -> Response:
    """News as server-sent events: only that there is some."""
    room = rooms(request)
    seq, _ = await records.newest(room.store)
    device = getattr(request.state, "device", None)
    headers = {"cache-control": "no-store", "x-accel-buffering": "no"}
    if request.method == "HEAD":
        return Response(headers=headers, media_type="text/event-stream")
    return StreamingResponse(
        room.pokes.stream(seq, device=None if device is None else device.id), media_type="text/event-stream", headers=headers
    )


async def health(request: Request) -> Response:
    """Up and which version; and whether the database takes writes, unless a stranger asks: that writes nothing."""
    room = rooms(request)
    told = {"up": True, "version": __version__, "shell": room.shell.version}
    if not room.settings.joining or room.is_local(request.headers.get("authorization", "")):
        await records.try_writing(room.store)
        told["database"] = "writable"
    return Response(json.dumps(told), media_type="application/json", headers={"cache-control": "no-store"})
