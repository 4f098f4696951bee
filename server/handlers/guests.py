"""What a guest may see and do: the round of some places until some day, ticks and notes there, and no more.

A guest's phone holds no records but its own: its list comes from here, and what it sends is looked at line by line.
"""

from __future__ import annotations

import asyncio
import datetime
import re
from functools import partial
from typing import Any

from starlette.requests import Request
from starlette.responses import Response

from server.errors import NotAllowed
from server.handlers.answers import json_response, zipped
from server.handlers.context import Rooms, rooms
from server.kernel.read.merge import Record, visible
from server.kernel.settle import Settled
from server.kernel.stand import stand_of
from server.store import records
from server.store.devices import Device
from server.sync.messages import Push, Refusal

MADE_ON_A_PHONE = re.compile(r"[a-z2-7]{26}")
"""An id as phones make them for what is new. All others are made of names, and belong to the household."""
SHOWN = ("ready", "waiting", "later", "done")
TOLD = (
    "id", "title", "subject", "lead", "place", "count", "minutes", "state", "leeway", "from", "by", "hint", "writes", "part",
    "cautions",
)  # fmt: skip
NO_MORE = "As a guest you can tick the jobs you are shown and write notes about those places; this was not taken."


def guest_of(request: Request) -> Device | None:
    """The guest's phone that is asking, if it is one."""
    device: Device | None = getattr(request.state, "device", None)
    return device if device is not None and device.guest_until is not None else None


async def round_for_guest(request: Request) -> Response:
    """`{today, until, places, jobs, cautions}` for the phone of a guest."""
    device = guest_of(request)
    if device is None:
        raise NotAllowed("This page is for guests; you see everything in the app itself.")
    room = rooms(request)
    known = await room.knowledge()
    rulebook, today = await room.rulebook(known), room.today(known)
    answer = await room.kept_list.ask(device.id, rulebook, today, partial(_round, device, rulebook, today))
    return await asyncio.to_thread(zipped, request, json_response(answer))


def _round(device: Device, rulebook: dict[str, Any], today: str, settled: Settled) -> dict[str, Any]:
    jobs = jobs_for(device, settled, today)
    cautions = {name for job in jobs for name in job["cautions"]}
    ground = settled.know.ground
    return {
        "today": today,
        "until": device.guest_until,
        "places": [{"id": id_, "name": ground.name(id_) or ""} for id_ in device.guest_places],
        "jobs": [{name: job[name] for name in TOLD} | {"where": ground.name(job["place"]) or ""} for job in jobs],
        "cautions": {name: rulebook["cautions"][name] for name in sorted(cautions) if name in rulebook["cautions"]},
    }


def jobs_for(device: Device, settled: Settled, today: str) -> list[dict[str, Any]]:
    """The jobs of a guest's places that fall into the guest's time, as the household's own list has them, but decisions."""
    inside = places_for(device, settled)
    until = device.guest_until or today
    return [
        job
        for job in settled.jobs()
        if job["place"] in inside
        and job["verb"] != "decide"
        and job["state"] in SHOWN
        and (job["state"] != "later" or job["from"] <= until)
    ]


def places_for(device: Device, settled: Settled) -> set[str]:
    """The places a guest was given, with all that lies in them."""
    given = set(device.guest_places)
    return {place["id"] for place in stand_of(settled)["places"] if given & set(place["path"])} | given


async def what_guests_may(room: Rooms, device: Device, push: Push) -> None:
    """Refuse by itself every change that a guest may not make, in place."""
    if not push.changes:
        return
    known = await room.knowledge()
    rulebook, today = await room.rulebook(known), room.today(known)

    def look(settled: Settled) -> tuple[dict[str, dict[str, Any]], set[str]]:
        return {job["id"]: job for job in jobs_for(device, settled, today)}, places_for(device, settled)

    jobs, inside = await room.kept_list.ask(device.id, rulebook, today, look)
    held = await records.by_ids(room.store, [change["id"] for change in push.changes])
    allowed = []
    for change in push.changes:
        if _may(change, device, jobs, inside, held):
            allowed.append(change)
        else:
            push.refused.append(Refusal(change["id"], change["stamp"], None, NO_MORE))
    push.changes = allowed


def _may(change: Record, device: Device, jobs: dict[str, dict[str, Any]], inside: set[str], held: dict[str, Record]) -> bool:
    fields, mine = change["fields"], held.get(change["id"])
    if change["kind"] != "diary":
        return False
    if mine is not None:  # only what this guest wrote, and only to take it back or mend its words
        own = mine["kind"] == "diary" and mine["fields"].get("guest") == device.id
        return own and set(fields) <= {"gone", "note", "count", *_same(fields, mine)}
    if not MADE_ON_A_PHONE.fullmatch(change["id"]):  # any other might be one that the household is going to make
        return False
    if fields.get("guest") != device.id or fields.get("by") not in (None, device.person):
        return False
    if not _in_time(fields.get("on"), device):
        return False
    if fields.get("job") is not None:
        job = jobs.get(fields["job"])
        allowed = {**job["writes"], "job": job["id"]} if job else {}
        free = {"on", "at", "count", "note", "guest", "part", "by"}
        return job is not None and all(name in free or allowed.get(name) == value for name, value in fields.items())
    return (
        set(fields) <= {"on", "at", "did", "place", "note", "guest", "by"}
        and fields.get("did") == "note"
        and (fields.get("place") in inside)
    )


def _same(fields: dict[str, Any], mine: Record) -> set[str]:
    """Fields sent again as they are: a repeated push is the same push."""
    return {name for name, value in fields.items() if mine["fields"].get(name) == value}


def _in_time(on: Any, device: Device) -> bool:
    first = datetime.datetime.fromtimestamp(device.made_ms / 1000, datetime.UTC).date() - datetime.timedelta(days=1)
    return isinstance(on, str) and first.isoformat() <= on <= (device.guest_until or "")


def over(device: Device, today: str) -> bool:
    """Whether a guest's time has ended."""
    return device.guest_until is not None and today > device.guest_until


def still_named(everything: list[Record], places: list[str]) -> list[str]:
    """Those of some places that are in the book."""
    known = {record["id"] for record in everything if record["kind"] == "place" and visible(record)}
    return [place for place in places if place in known]
