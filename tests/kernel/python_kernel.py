"""Asks the Python half of the kernel the questions that `browser_kernel` asks the other one."""

from __future__ import annotations

from typing import Any

from server.kernel.catch_up import catch_up
from server.kernel.fit import fit
from server.kernel.read.days import in_season, iso
from server.kernel.read.merge import Record, merge_record, visible
from server.kernel.read.stamps import Reading, hear, tick, write
from server.kernel.rest import resting
from server.kernel.room import room
from server.kernel.settle import settle
from server.kernel.stand import stand

DEVICE = "abcdefgh"


def answer(question: dict[str, Any]) -> Any:
    """The answer of the door that a question names."""
    door = question["door"]
    if door in ("settle", "stand", "resting", "fit", "catch_up", "room"):
        given = question["rulebook"], question["records"], question["today"]
        if door == "fit":
            return fit(settle(*given), question["minutes"])
        return {"settle": settle, "stand": stand, "resting": resting, "catch_up": catch_up, "room": room}[door](*given)
    if door == "merge":
        record: Record | None = None
        for change in question["changes"]:
            record = merge_record(record, change)
        return record
    if door == "visible":
        return visible(question["record"])
    if door == "tick":
        return write(tick(Reading(**question["last"]), question["now"]), DEVICE)
    if door == "hear":
        return write(hear(Reading(**question["last"]), Reading(**question["heard"]), question["now"]), DEVICE)
    assert door == "season", door
    return iso(in_season(question["text"], question["year"]))
