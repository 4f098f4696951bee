"""One exchange with a phone: take its changes, give it what it has not seen."""

from __future__ import annotations

from typing import Any

from server.kernel import stamps
from server.kernel.merge import Record, field_stamps
from server.store import records
from server.store.connection import Store
from server.sync.messages import Push

PAGE = 2500
FIRST_SEASON = records.ALWAYS + 1


class ServerClock:
    """Makes the stamps that too early ones are brought down to; never the same one twice."""

    def __init__(self) -> None:
        self._last = stamps.Reading(0, 0)

    def make(self, now_ms: int, device: str) -> str:
        """A fresh stamp in a phone's name."""
        self._last = stamps.tick(self._last, now_ms)
        return stamps.write(self._last, device)


async def exchange(store: Store, clock: ServerClock, push: Push, now_ms: int) -> tuple[dict[str, Any], bool]:
    """The reply to a push, and whether anything new was stored. Every change in `taken` is on disk by then."""
    changes, restamped = await bring_down(store, clock, push.changes, now_ms)
    stored = await records.put(store, changes, restamped) if changes else 0
    epoch = await records.epoch(store)
    newest = await records.newest_seq(store)
    reset = push.since > newest or (push.epoch is not None and push.epoch != epoch)
    since = 0 if reset else push.since
    page: list[int] | None = None
    if since == 0:
        upto, season, seq = push.page if push.page and not reset else (newest, FIRST_SEASON, 0)
        found, after = await records.page_newest_first(store, min(upto, newest), (season, seq), PAGE)
        page = [upto, *after] if after else None
        more = page is not None
    else:
        one = await records.page_since(store, since, PAGE)
        found, upto, more = one.records, one.upto, one.more
    reply = {
        "upto": upto,
        "page": page,
        "epoch": epoch,
        "reset": reset,
        "now": now_ms,
        "schema": 1,
        "records": found,
        "more": more,
        "taken": [{"id": change["id"], "stamp": change["stamp"]} for change in push.changes],
        "refused": [refusal.as_json() for refusal in push.refused],
        "restamped": [{"from": old, "to": new} for old, new in sorted(restamped.items())],
    }
    return reply, stored > 0


async def bring_down(
    store: Store, clock: ServerClock, changes: list[Record], now_ms: int
) -> tuple[list[Record], dict[str, str]]:
    """Changes whose stamps are no more than five minutes ahead, and which stamps were brought down to what.

    A phone's own changes keep their order among themselves. The work is never refused for its clock.
    """
    latest = now_ms + stamps.MOST_AHEAD_MS
    early = {stamp for change in changes for stamp in [change["stamp"], *field_stamps(change).values()]}
    early = {stamp for stamp in early if stamps.read(stamp).ms > latest}
    if not early:
        return changes, {}
    made = await records.known_restamps(store, sorted(early))
    for stamp in sorted(early):
        if stamp not in made:
            made[stamp] = clock.make(now_ms, stamps.device_of(stamp))
    return [_restamped(change, made) for change in changes], made


def _restamped(change: Record, made: dict[str, str]) -> Record:
    after = dict(change)
    after["stamp"] = made.get(change["stamp"], change["stamp"])
    if change.get("stamps"):
        after["stamps"] = {name: made.get(stamp, stamp) for name, stamp in change["stamps"].items()}
    return after
