"""Doors of joining: a code for one more phone, coming with it, and the yes or no of somebody who has joined."""

from __future__ import annotations

import secrets
from typing import Any

import segno
from starlette.requests import Request
from starlette.responses import Response

from server.errors import BadRequest, MudproofError, NotFound, TooManyTries
from server.handlers.answers import json_response
from server.handlers.context import Rooms, rooms
from server.handlers.doorkeeper import cookie
from server.handlers.guests import still_named
from server.handlers.phones import asked, name_in, person_in, told
from server.store.devices import Device
from server.sync.fields import date, shown
from server.trust.codes import LASTS_MS, Invitation, TooManyTriesError, new_token, token_hash
from server.trust.waiting import Asking

MOST_PLACES = 100


async def new_code(request: Request) -> Response:
    """A code for one more phone: `{code, until, address, squares}`, the squares of a QR that opens the app with it."""
    room = rooms(request)
    given = await asked(request)
    places, until = await _guest(room, given)
    asks = not room.is_local(request.headers.get("authorization", ""))
    invitation = Invitation(person_in(given), asks, places, until)
    code, until_ms = room.codes.make(invitation, room.now_ms())
    address = f"{room.address(request.headers.get('host', ''))}/#/join/{code}"
    squares = ["".join("1" if dark else "0" for dark in row) for row in segno.make(address, error="m").matrix]
    return json_response({"code": code, "until": until_ms, "address": address, "squares": squares})


async def _guest(room: Rooms, given: dict[str, Any]) -> tuple[tuple[str, ...], str | None]:
    """The places and the last day of a guest who is invited; none and None for a phone of the household's own."""
    guest = given.get("guest")
    if guest is None:
        return (), None
    places = guest.get("places") if isinstance(guest, dict) else None
    until = guest.get("until") if isinstance(guest, dict) else None
    everything = await room.knowledge()
    known = still_named(everything, [place for place in places if isinstance(place, str)]) if isinstance(places, list) else []
    if not known:
        raise BadRequest("Choose at least one place for the guest.", f"places={shown(places)}")
    if date(until) or str(until) < room.today(everything):
        raise BadRequest("Choose the guest's last day, today or later.", f"until={shown(until)}")
    return tuple(known[:MOST_PLACES]), str(until)


async def join(request: Request) -> Response:
    """Let a phone in by its code: the answer carries its cookie. With a code that another phone made it waits for a yes."""
    room = rooms(request)
    given = await asked(request)
    try:
        invitation = room.codes.take(str(given.get("code", "")), room.now_ms())
    except TooManyTriesError as error:
        raise TooManyTries("Too many tries just now. Wait a minute, then type the code again.") from error
    if invitation is None:
        raise BadRequest("That code is not good, or no longer. Ask for a new one on a phone that has joined.")
    now_ms, token = room.now_ms(), new_token()
    asking = Asking(f"phone.{secrets.token_hex(8)}", name_in(given), token_hash(token), invitation, now_ms + LASTS_MS)
    headers = {"set-cookie": cookie(room.settings, token)}
    if invitation.asks:
        room.waiting.enter(asking)
        return json_response({"device": None, "name": asking.name}, headers=headers)
    return json_response({"device": told(await _add(room, asking))}, headers=headers)


async def answer(request: Request) -> Response:
    """Say yes or no (`{let_in}`) to a phone that waits."""
    room = rooms(request)
    yes = (await asked(request)).get("let_in")
    if not isinstance(yes, bool):
        raise BadRequest("Say yes or no to the phone.", f"let_in={shown(yes)}")
    id_ = request.path_params["device"]
    end = room.waiting.let_in if yes else room.waiting.leave
    asking = end(id_, room.now_ms())
    if asking is None:
        raise NotFound("That phone does not wait any more. Let it try again with a new code.", f"device {shown(id_)}")
    if not yes:
        return json_response({"device": None})
    try:
        device = await _add(room, asking)
    except MudproofError:
        room.waiting.enter(asking)  # nothing was written: it can be said again
        raise
    room.waiting.written(id_)
    return json_response({"device": told(device)})


async def _add(room: Rooms, asking: Asking) -> Device:
    now_ms = room.now_ms()
    device = Device(
        asking.id,
        asking.name,
        asking.invitation.person,
        now_ms,
        now_ms,
        now_ms,
        guest_places=asking.invitation.guest_places,
        guest_until=asking.invitation.guest_until,
    )
    await room.devices.add(device, asking.token)
    return device
