"""Rest: records of old seasons that no list needs any more, so that ten seasons weigh no more than one.

The list without resting records is the same list. A record that comes for a resting batch is harmless: a batch that
is not there is passed over, and the next look at everything decides anew.
"""

from __future__ import annotations

from typing import Any

from server.kernel.days import year_of
from server.kernel.fold import BatchState
from server.kernel.knowledge import Knowledge
from server.kernel.merge import Record, visible
from server.kernel.settle import read

REST_AFTER_DAYS = 400


def resting(rulebook: dict[str, Any], records: list[Record], today: str) -> list[str]:
    """Ids of records that may rest, sorted: batches long over with all they hold, and old place entries."""
    know, deeds = read(rulebook, records, today)
    old = know.today - REST_AFTER_DAYS
    asleep = {state.id for state in know.states.values() if _long_over(state, know, old)}
    newest: dict[tuple[str | None, ...], str] = {}
    place_deeds: list[tuple[tuple[str | None, ...], str, int]] = []
    ids: set[str] = set(asleep)
    for deed in deeds:
        if deed.batch is not None:
            if deed.batch in asleep:
                ids.update(deed.ids)
            continue
        if deed.job is not None and deed.did == "note":
            continue
        key = (deed.did, deed.found, deed.place, deed.fixture)
        for id_ in deed.ids:
            newest[key] = id_
            place_deeds.append((key, id_, deed.on))
    ids.update(id_ for key, id_, on in place_deeds if on < old and newest[key] != id_ and key[3] is None)
    for record in records:
        if record["kind"] == "job" and visible(record) and record["fields"].get("hand") is not True:
            parts = record["id"].split(".")
            heads = {".".join(parts[:end]) for end in range(1, len(parts))}
            if heads & asleep:
                ids.add(record["id"])
    return sorted(ids)


def _long_over(state: BatchState, know: Knowledge, old: int) -> bool:
    if state.deeds and max(deed.on for deed, _ in state.deeds) >= old:
        return False
    if state.over_on is not None:
        return state.over_on < old
    return not state.begun and state.year < year_of(know.today) - 1
