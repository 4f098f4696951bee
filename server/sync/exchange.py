"""One exchange with a phone: take its changes, give it what it has not seen."""

from __future__ import annotations

from typing import Any

from server.kernel import stamps
from server.kernel.merge import Record, field_stamps, merge_record
from server.store import records
from server.store.connection import Store
from server.sync.messages import Push, Refusal

PAGE = 2500
FIRST_SEASON = records.ALWAYS + 1


async def exchange(store: Store, push: Push, now_ms: int) -> tuple[dict[str, Any], int]:
    """The reply to a push, and the number of the last record it brought (0 for none).

    Every change in `taken` is on disk by then.
    """
    changes, restamped = await bring_down(store, push.changes, now_ms)
    stored = await records.put(store, changes, restamped) if changes else records.Stored()
    own = {id(after): before for before, after in zip(push.changes, changes, strict=True)}
    clashes = [(own[id(change)], why) for change, why in stored.refused]
    refused = push.refused + [Refusal(change["id"], change["stamp"], None, why) for change, why in clashes]
    not_taken = {id(change) for change, _ in clashes}
    epoch = await records.session(store)
    newest = await records.newest_seq(store)
    reset = await _lost_something(store, push, newest)
    since = 0 if reset else push.since
    page: list[int] | None = None
    if since == 0:
        upto, season, seq = push.page if push.page and not reset else (newest, FIRST_SEASON, 0)
        found, after = await records.page_newest_first(store, min(upto, newest), (season, seq), PAGE)
        page = [upto, *after] if after else None
        more = page is not None
    else:
        one = await records.page_since(store, since, PAGE)
        found, upto, more = _news(one.records, changes), one.upto, one.more
    reply = {
        "upto": upto,
        "page": page,
        "epoch": epoch,
        "reset": reset,
        "now": now_ms,
        "schema": 1,
        "records": found,
        "more": more,
        "taken": [{"id": change["id"], "stamp": change["stamp"]} for change in push.changes if id(change) not in not_taken],
        "refused": [refusal.as_json() for refusal in refused],
        "restamped": [{"from": old, "to": new} for old, new in sorted(restamped.items())],
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


async def bring_down(store: Store, changes: list[Record], now_ms: int) -> tuple[list[Record], dict[str, str]]:
    """Changes whose stamps are no more than five minutes ahead, and which stamps were brought down to what.

    A device's own changes keep their order among themselves and after what was taken from it before. The work is never
    refused for its clock.
    """
    ahead = now_ms + stamps.MOST_AHEAD_MS
    given = sorted({stamp for change in changes for stamp in [change["stamp"], *field_stamps(change).values()]})
    # one that was brought down before stays so, even when by now it would pass: a repeated push is the same push
    made = await records.known_restamps(store, given)
    latest = await records.latest_stamps(store, sorted({stamps.device_of(stamp) for stamp in given}))
    for stamp in given:
        if stamp in made:
            continue
        device = stamps.device_of(stamp)
        after = latest.get(device, "")
        if stamps.read(stamp).ms <= ahead:
            latest[device] = max(after, stamp)
            continue
        last = stamps.read(after) if after else stamps.Reading(0, 0)
        if last.ms > ahead:  # taken when the server's own clock was wrong
            last = stamps.Reading(0, 0)
        made[stamp] = latest[device] = stamps.write(stamps.tick(last, now_ms), device)
    return ([_restamped(change, made) for change in changes] if made else changes), made


def _restamped(change: Record, made: dict[str, str]) -> Record:
    after = dict(change)
    after["stamp"] = made.get(change["stamp"], change["stamp"])
    if change.get("stamps"):
        after["stamps"] = {name: made.get(stamp, stamp) for name, stamp in change["stamps"].items()}
    return after
