"""Doors of joining: who am I, a code for another phone, joining with one, the list of phones, turning one out."""

from __future__ import annotations

import secrets
from typing import Any

import segno
from starlette.requests import Request
from starlette.responses import Response

from server.errors import BadRequest, NotFound, TooManyTries
from server.handlers.answers import json_response
from server.handlers.body import read_body
from server.handlers.context import Rooms, rooms
from server.handlers.doorkeeper import cookie
from server.handlers.guests import still_named
from server.store.devices import Device
from server.sync.fields import ID, date, sendable, shown
from server.sync.messages import read_json
from server.trust.codes import Invitation, TooManyTriesError, new_token, token_hash

MOST_BYTES = 4096
LONGEST_NAME = 60
MOST_PLACES = 100


def _device(request: Request) -> Device | None:
    found: Device | None = getattr(request.state, "device", None)
    return found


async def _asked(request: Request) -> dict[str, Any]:
    try:
        given = read_json(await read_body(request, MOST_BYTES))
    except ValueError as error:
        raise BadRequest("The phone sent something that could not be read.", f"body is not JSON: {error}") from error
    if not isinstance(given, dict):
        raise BadRequest("The phone sent something that could not be read.", f"body is {type(given).__name__}")
    return given


def _name(given: dict[str, Any]) -> str:
    name = given.get("name")
    text = " ".join(sendable(name).split())[:LONGEST_NAME] if isinstance(name, str) else ""
    return text or "A phone"


def _person(given: dict[str, Any]) -> str | None:
    person = given.get("person")
    if person is None:
        return None
    if not isinstance(person, str) or not ID.fullmatch(person):
        raise BadRequest("Choose a person from the list.", f"person={shown(person)}")
    return person


def _told(device: Device) -> dict[str, Any]:
    told = {"id": device.id, "name": device.name, "person": device.person, "joined": device.made_ms, "seen": device.seen_ms}
    guest = None if device.guest_until is None else {"places": list(device.guest_places), "until": device.guest_until}
    return told | {"guest": guest}


async def me(request: Request) -> Response:
    """Whether phones have to join here, and which one this is. A POST changes its name or whose it is."""
    room, device = rooms(request), _device(request)
    if request.method == "POST" and device is not None:
        given = await _asked(request)
        changes: dict[str, Any] = {"name": _name(given)} if "name" in given else {}
        if "person" in given:
            changes["person"] = _person(given)
        device = await room.devices.change(device.id, **changes) if changes else device
    return json_response({"joining": room.settings.joining, "device": None if device is None else _told(device)})


async def new_code(request: Request) -> Response:
    """A code for one more phone: `{code, until, address, squares}`, the squares of a QR that opens the app with it."""
    room = rooms(request)
    given = await _asked(request)
    places, until = await _guest(room, given)
    code, until_ms = room.codes.make(Invitation(_person(given), places, until), room.now_ms())
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
    """Let a phone in by its code: the answer carries its cookie."""
    room = rooms(request)
    given = await _asked(request)
    try:
        invitation = room.codes.take(str(given.get("code", "")), room.now_ms())
    except TooManyTriesError as error:
        raise TooManyTries("Too many tries just now. Wait a minute, then type the code again.") from error
    if invitation is None:
        raise BadRequest("That code is not good, or no longer. Ask for a new one on a phone that has joined.")
    now_ms = room.now_ms()
    device = Device(
        f"phone.{secrets.token_hex(8)}",
        _name(given),
        invitation.person,
        now_ms,
        now_ms,
        now_ms,
        guest_places=invitation.guest_places,
        guest_until=invitation.guest_until,
    )
    token = new_token()
    await room.devices.add(device, token_hash(token))
    return json_response({"device": _told(device)}, headers={"set-cookie": cookie(room.settings, token)})


async def phones(request: Request) -> Response:
    """Every phone that is joined, and which of them is asking."""
    room, device = rooms(request), _device(request)
    found = [_told(one) for one in room.devices.all() if one.gone_ms is None]
    return json_response({"phones": found, "this": None if device is None else device.id})


async def turn_out(request: Request) -> Response:
    """Turn a phone out at once. It keeps what it has not shared yet."""
    room = rooms(request)
    id_ = request.path_params["device"]
    device = room.devices.get(id_)
    if device is None or device.gone_ms is not None:
        raise NotFound("That phone is not on the list any more.", f"device {shown(id_)}")
    await room.devices.change(id_, gone_ms=room.now_ms())
    await room.pokes.turn_out(id_)
    return json_response({"turned_out": id_})
