"""One exchange with a phone: take its changes, give it what it has not seen."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

from server.kernel.read import stamps
from server.kernel.read.merge import Record, field_stamps, merge_record
from server.store import records
from server.store.connection import Store
from server.store.digest import KeptDigest
from server.sync.house_clock import HouseClock
from server.sync.messages import Push, Refusal

PAGE = 2500
FIRST_SEASON = records.ALWAYS + 1


async def exchange(
    store: Store,
    push: Push,
    now_ms: int,
    gives: bool = True,
    digest: KeptDigest | None = None,
    check_in: Callable[[], None] = lambda: None,
    house: HouseClock | None = None,
) -> tuple[dict[str, Any], int]:
    """The reply to a push, and the number of the last record it brought (0 for none).

    Every change in `taken` is on disk by then. gives: whether the phone is told anything but what became of its own; a guest's
    is not. digest: of what the database holds, told with the last page, for the phone to compare with its own.
    check_in: raises inside the transaction where the phone may no longer write; nothing of it is stored then. house: the
    clocks of the household, for the day that it is.
    """
    stored = records.Stored()

    def bring(changes: list[Record], known: dict[str, str], latest: stamps.Reading) -> records.BroughtDown:
        check_in()
        return bring_down(changes, known, latest, now_ms)

    if push.changes:
        stored = await records.put(store, push.changes, bring, push.heard)
    refused = list(push.refused)
    taken = []
    for at, change in enumerate(push.changes):
        if at in stored.refused:
            refused.append(Refusal(change["id"], change["stamp"], None, stored.refused[at]))
        else:
            taken.append({"id": change["id"], "stamp": change["stamp"]})
    newest, latest = await records.newest(store)
    reset = await _lost_something(store, push, newest)
    since = 0 if reset else push.since
    page: list[int] | None = None
    found: list[Record]
    unread: list[str] = []
    if not gives:
        found, upto, more, reset = [], newest, False, False
    elif since == 0:
        upto, season, seq = push.page if push.page and not reset else (newest, FIRST_SEASON, 0)
        one, after = await records.page_newest_first(store, min(upto, newest), (season, seq), PAGE)
        found, unread = one.records, one.unread
        page = [upto, *after] if after else None
        more = page is not None
    else:
        one = await records.page_since(store, since, PAGE)
        found, upto, more, unread = _news(one.records, stored.changes), one.upto, one.more, one.unread
    if gives:
        named = {record["id"] for record in found}
        found += [record for record in stored.winners if record["id"] not in named]
    reply = {
        "upto": upto,
        "page": page,
        "epoch": store.session,
        "reset": reset,
        "now": now_ms,
        "house": _house_ms(house, push, now_ms, latest.ms),
        "clock": stamps.as_text(latest),
        "schema": 1,
        "records": found,
        "unread": unread,
        "more": more,
        "taken": taken,
        "refused": [refusal.as_json() for refusal in refused],
        "digest": await digest.now() if digest is not None and gives and not more else None,
        "restamped": [{"from": old, "to": new} for old, new in sorted(stored.restamped.items())],
    }
    return reply, stored.last


def _house_ms(house: HouseClock | None, push: Push, now_ms: int, latest_ms: int) -> int:
    """The household's time, the phone's own clock among those heard."""
    if house is None:
        return now_ms
    if push.clock is not None:
        house.hear(*push.clock, now_ms)
    return house.ms(now_ms, latest_ms)


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


def bring_down(changes: list[Record], known: dict[str, str], latest: stamps.Reading, now_ms: int) -> records.BroughtDown:
    """Bring down stamps that no clock can have made, to after all that was taken. The work is never refused for its clock.

    A stamp is taken as it is, however far ahead it runs: whoever is told of it goes on from there, on every phone, so that a
    change made after a value was seen always comes after that value, whatever any clock says. No clock is asked whether a stamp
    is too far ahead: that one may be the wrong one. Phones stamp by this server's clock as soon as they know it, so that
    of two changes that knew nothing of each other the one made later wins, as far as clocks can tell.
    known: what some stamps became when they came before; a repeated push is the same push. latest: the latest reading taken.
    Hybrid logical clocks: Kulkarni et al. 2014, "Logical Physical Clocks", without the bound that it sets on a clock's error.
    """
    given = sorted({stamp for change in changes for stamp in [change["stamp"], *field_stamps(change).values()]})
    made = {stamp: known[stamp] for stamp in given if stamp in known}
    early = [stamp for stamp in given if stamps.read(stamp).ms >= stamps.NEVER_MS and stamp not in made]
    reading = max([latest, *(stamps.read(made.get(stamp, stamp)) for stamp in given if stamp not in early)])
    for stamp in early:
        reading = stamps.tick(reading, min(now_ms, stamps.NEVER_MS - 1))
        made[stamp] = stamps.write(reading, stamps.device_of(stamp))
    return records.BroughtDown([_restamped(change, made) for change in changes] if made else changes, made)


def _restamped(change: Record, made: dict[str, str]) -> Record:
    after = dict(change)
    after["stamp"] = made.get(change["stamp"], change["stamp"])
    if change.get("stamps"):
        after["stamps"] = {name: made.get(stamp, stamp) for name, stamp in change["stamps"].items()}
    return after
