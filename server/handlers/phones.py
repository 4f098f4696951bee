"""Doors of the phones that have joined: who am I, the list of phones, turning one out."""

from __future__ import annotations

from typing import Any

from starlette.requests import Request
from starlette.responses import Response

from server.errors import BadRequest, NotFound
from server.handlers.answers import json_response
from server.handlers.body import read_body
from server.handlers.context import rooms
from server.store.devices import Device
from server.sync.fields import ID, sendable, shown
from server.sync.messages import read_json
from server.trust.waiting import Asking

MOST_BYTES = 4096
LONGEST_NAME = 60


def device_of(request: Request) -> Device | None:
    """The joined phone that a request comes from, if any."""
    found: Device | None = getattr(request.state, "device", None)
    return found


async def asked(request: Request) -> dict[str, Any]:
    """What a short request says. Raises BadRequest for what is no object."""
    try:
        given = read_json(await read_body(request, MOST_BYTES))
    except ValueError as error:
        raise BadRequest("The phone sent something that could not be read.", f"body is not JSON: {error}") from error
    if not isinstance(given, dict):
        raise BadRequest("The phone sent something that could not be read.", f"body is {type(given).__name__}")
    return given


def name_in(given: dict[str, Any]) -> str:
    """What a phone is called."""
    name = given.get("name")
    text = " ".join(sendable(name).split())[:LONGEST_NAME] if isinstance(name, str) else ""
    return text or "A phone"


def person_in(given: dict[str, Any]) -> str | None:
    """Whose phone it is, if that is said."""
    person = given.get("person")
    if person is None:
        return None
    if not isinstance(person, str) or not ID.fullmatch(person):
        raise BadRequest("Choose a person from the list.", f"person={shown(person)}")
    return person


def told(device: Device) -> dict[str, Any]:
    """A phone as phones are told of it."""
    found = {"id": device.id, "name": device.name, "person": device.person, "joined": device.made_ms, "seen": device.seen_ms}
    guest = None if device.guest_until is None else {"places": list(device.guest_places), "until": device.guest_until}
    return found | {"guest": guest}


async def me(request: Request) -> Response:
    """Whether phones have to join here, which one this is, or whether it waits to be let in. A POST changes its name or whose
    it is."""
    room, device = rooms(request), device_of(request)
    if request.method == "POST" and device is not None:
        given = await asked(request)
        changes: dict[str, Any] = {"name": name_in(given)} if "name" in given else {}
        if "person" in given:
            changes["person"] = person_in(given)
        device = await room.devices.change(device.id, **changes) if changes else device
    asking: Asking | None = getattr(request.state, "asking", None)
    found = {"device": None if device is None else told(device), "waiting": None if asking is None else asking.name}
    return json_response({"joining": room.settings.joining, **found})


async def phones(request: Request) -> Response:
    """Every phone that is joined, which of them this is, and those that wait to be let in."""
    room, device = rooms(request), device_of(request)
    found = [told(one) for one in room.devices.all() if one.gone_ms is None]
    waiting = [
        {"id": one.id, "name": one.name, "guest": one.invitation.guest_until is not None}
        for one in room.waiting.all(room.now_ms())
    ]
    return json_response({"phones": found, "this": None if device is None else device.id, "waiting": waiting})


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
