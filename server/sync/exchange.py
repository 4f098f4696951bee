"""One exchange with a phone: take its changes, give it what it has not seen."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

from server.kernel.read import stamps
from server.kernel.read.merge import Record, field_stamps, merge_record
from server.store import records
from server.store.connection import Store
from server.sync.messages import Push, Refusal

PAGE = 2500
FIRST_SEASON = records.ALWAYS + 1


async def exchange(store: Store, push: Push, now_ms: int, gives: bool = True) -> tuple[dict[str, Any], int]:
    """The reply to a push, and the number of the last record it brought (0 for none).

    Every change in `taken` is on disk by then. gives: whether the phone is told anything but what became of its own; a guest's
    is not.
    """
    down = await bring_down(store, push.changes, now_ms)
    stored = await records.put(store, down.changes, down.restamped, down.ahead) if down.changes else records.Stored()
    refused = list(push.refused)
    taken = []
    for at, change in enumerate(push.changes):
        if at in stored.refused:
            refused.append(Refusal(change["id"], change["stamp"], None, stored.refused[at]))
        else:
            taken.append({"id": change["id"], "stamp": change["stamp"]})
    newest = await records.newest_seq(store)
    reset = await _lost_something(store, push, newest)
    since = 0 if reset else push.since
    page: list[int] | None = None
    found: list[Record]
    if not gives:
        found, upto, more, reset = [], newest, False, False
    elif since == 0:
        upto, season, seq = push.page if push.page and not reset else (newest, FIRST_SEASON, 0)
        found, after = await records.page_newest_first(store, min(upto, newest), (season, seq), PAGE)
        page = [upto, *after] if after else None
        more = page is not None
    else:
        one = await records.page_since(store, since, PAGE)
        found, upto, more = _news(one.records, down.changes), one.upto, one.more
    reply = {
        "upto": upto,
        "page": page,
        "epoch": store.session,
        "reset": reset,
        "now": now_ms,
        "schema": 1,
        "records": found,
        "more": more,
        "taken": taken,
        "refused": [refusal.as_json() for refusal in refused],
        "restamped": [{"from": old, "to": new} for old, new in sorted(down.restamped.items())],
    }
    return reply, stored.last


def _news(found: list[Record], sent: list[Record]) -> list[Record]:
    """Without the records that are nothing but what this phone has just sent: it holds them already."""
    own = {change["id"]: merge_record(None, change) for change in sent}
    return [record for record in found if own.get(record["id"]) != record]


async def _lost_something(store: Store, push: Push, newest: int) -> bool:
    """Whether this phone was told more than the database holds, because that was put back from an older copy."""
    if push.epoch is None:
        return push.since > newest
    end = await records.session_end(store, push.epoch)
    return end is None or max(push.since, push.page[0] if push.page else 0) > end


@dataclass
class BroughtDown:
    """Changes whose stamps are no more than five minutes ahead, and what has to be remembered of them (see `records.put`)."""

    changes: list[Record]
    restamped: dict[str, str]
    ahead: dict[str, str]


async def bring_down(store: Store, changes: list[Record], now_ms: int) -> BroughtDown:
    """Bring stamps from clocks that run ahead down to now.

    A device's own changes keep their order among themselves and after what was taken from it before. The work is never
    refused for its clock.
    """
    latest_ms = now_ms + stamps.MOST_AHEAD_MS
    given = sorted({stamp for change in changes for stamp in [change["stamp"], *field_stamps(change).values()]})
    # one that was brought down before stays so, even when by now it would pass: a repeated push is the same push
    made = await records.known_restamps(store, given)
    ahead = {stamps.device_of(stamp): stamp for stamp in given if now_ms <= stamps.read(stamp).ms <= latest_ms}
    early = [stamp for stamp in given if stamps.read(stamp).ms > latest_ms and stamp not in made]
    before = await records.latest_stamps(store, sorted({stamps.device_of(stamp) for stamp in early})) if early else {}
    for stamp in early:
        device = stamps.device_of(stamp)
        last = max(before.get(device, ""), ahead.get(device, ""))
        reading = stamps.read(last) if last else stamps.Reading(0, 0)
        if reading.ms > latest_ms:  # taken when the server's own clock was wrong
            reading = stamps.Reading(0, 0)
        made[stamp] = ahead[device] = stamps.write(stamps.tick(reading, now_ms), device)
    return BroughtDown([_restamped(change, made) for change in changes] if made else changes, made, ahead)


def _restamped(change: Record, made: dict[str, str]) -> Record:
    after = dict(change)
    after["stamp"] = made.get(change["stamp"], change["stamp"])
    if change.get("stamps"):
        after["stamps"] = {name: made.get(stamp, stamp) for name, stamp in change["stamps"].items()}
    return after
