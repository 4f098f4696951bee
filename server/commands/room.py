"""`mudproof room`: how full each place is, week by week, in a terminal."""

from __future__ import annotations

import argparse
import datetime
import json
from typing import Any

from server.commands.reading import day_or_today, read_records, read_rulebook
from server.kernel.read.ground import read_ground
from server.kernel.read.merge import Record, visible
from server.kernel.room import room

FULL, OVER = "#", "!"


def run(args: argparse.Namespace) -> None:
    """Print a line a place: each of 53 weeks as the tenths of it that are taken, and each stretch of weeks that overflows."""
    records = read_records(args.data)
    on = day_or_today(args.on, records)
    told = room(read_rulebook(records), records, on)
    names = place_names(records)
    wanted = args.place.lower() if args.place else None
    told["places"] = [
        place for place in told["places"] if wanted is None or wanted in (place["id"], names.get(place["id"], "").lower())
    ]
    if args.json:
        print(json.dumps(told, ensure_ascii=False))
        return
    print("\n".join(lines(told, names)))


def place_names(records: list[Record]) -> dict[str, str]:
    """Each place with those it lies in: `Tunnel, bed 3`."""
    places = sorted((one for one in records if one["kind"] == "place" and visible(one)), key=lambda one: str(one["id"]))
    ground = read_ground(places, [], {})
    return {id_: ", ".join(ground.name(step) or step for step in reversed(place.path)) for id_, place in ground.places.items()}


def lines(told: dict[str, Any], names: dict[str, str]) -> list[str]:
    """The places by name, each with its weeks."""
    out = [f"Room from {told['from']}, week by week: . empty, 1 to 9 tenths taken, {FULL} full, {OVER} more than fits"]
    wide = max((len(names.get(place["id"], place["id"])) for place in told["places"]), default=0)
    for place in sorted(told["places"], key=lambda place: names.get(place["id"], place["id"])):
        marks = "".join(mark(taken, place["cm2"]) for taken in place["weeks"])
        out.append(f"{names.get(place['id'], place['id']):{wide}}  {marks}")
        out += [f"{'':{wide}}  {words}" for words in overflows(place, told["from"])]
    return out


def mark(taken: int, cm2: int) -> str:
    """One week in one letter."""
    if taken > cm2:
        return OVER
    if taken == 0:
        return "."
    tenths = taken * 10 // cm2 if cm2 else 10
    return FULL if tenths == 10 else str(max(1, tenths))


def overflows(place: dict[str, Any], first: str) -> list[str]:
    """Each stretch of weeks in which more is to stand there than fits."""
    found: list[tuple[int, int]] = []
    for week, taken in enumerate(place["weeks"]):
        if taken > place["cm2"]:
            if found and found[-1][1] == week - 1:
                found[-1] = (found[-1][0], week)
            else:
                found.append((week, week))
    monday = datetime.date.fromisoformat(first)
    said = []
    for since, until in found:
        most = max(place["weeks"][since : until + 1])
        ends = monday + datetime.timedelta(days=7 * since), monday + datetime.timedelta(days=7 * until + 6)
        said.append(
            f"{ends[0]} to {ends[1]}: {-(-most * 100 // place['cm2'])} % of it" if place["cm2"] else f"{ends[0]}: no room"
        )
    return said
