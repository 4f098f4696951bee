"""Rest: records of old seasons that no list needs any more, so that ten seasons weigh no more than one.

The list without resting records is the same list. A record that comes for a resting batch is harmless: a batch that
is not there is passed over, and the next look at everything decides anew.
"""

from __future__ import annotations

from typing import Any

from server.kernel.follow.knowledge import Knowledge
from server.kernel.follow.lay_out import let_slip
from server.kernel.follow.store import lots_of
from server.kernel.read.batch_state import BatchState
from server.kernel.read.days import parse, year_of
from server.kernel.read.deeds import Deed, read_deeds
from server.kernel.read.diary import stem
from server.kernel.read.merge import Record, visible
from server.kernel.read.reading import Reading

REST_AFTER_DAYS = 120
READINGS_REST_AFTER_DAYS = 730
"""A thermometer's older months are looked at only by who asks for them."""
UPKEEP = "upkeep."
"""How the ids of work that a household chose begin: the last time of each is needed, however long ago."""
COLD_C = 5
"""A reading at or under this may have ended something that still stands."""


def resting(rulebook: dict[str, Any], records: list[Record], today: str) -> list[str]:
    """Ids of records that may rest, sorted: batches long over with all they hold, old place entries and old readings."""
    know = Knowledge(Reading(rulebook, records, today))
    diary = [record for record in records if record["kind"] == "diary" and visible(record)]
    old = know.today - REST_AFTER_DAYS
    asleep = _asleep(know, old)
    newest: dict[tuple[str | None, ...], str] = {}
    place_deeds: list[tuple[tuple[str | None, ...], str, int]] = []
    ids: set[str] = set(asleep)
    for deed in read_deeds(diary, know.today):
        if _always_needed(deed, know):
            continue
        if deed.batch is not None:
            if deed.batch in asleep:
                ids.update(deed.ids)
            continue
        key = (
            deed.did,
            deed.found,
            deed.place,
            stem(deed.job) if deed.job is not None and deed.job.startswith(UPKEEP) else None,
        )
        for id_ in deed.ids:
            newest[key] = id_
            place_deeds.append((key, id_, deed.on))
    ids.update(id_ for key, id_, on in place_deeds if on < old and newest[key] != id_)
    for record in records:
        if record["kind"] == "readings" and visible(record) and record["fields"].get("month"):
            if parse(f"{record['fields']['month']}-01") < know.today - READINGS_REST_AFTER_DAYS:
                ids.add(record["id"])
            continue
        if record["kind"] == "job" and visible(record) and record["fields"].get("hand") is not True:
            parts = record["id"].split(".")
            heads = {".".join(parts[:end]) for end in range(1, len(parts))}
            if heads & asleep:
                ids.add(record["id"])
    return sorted(ids)


def _asleep(know: Knowledge, old: int) -> set[str]:
    """Batches long over that nothing awake still names."""
    asleep = {state.id for state in know.states.values() if _long_over(state, know, old)}
    named = [fields.get("batch") for fields in know.changes.values() if fields.get("hand") is True]
    for state in know.states.values():
        if state.id not in asleep:
            named.extend([state.fields.get("follows"), state.fields.get("near")])
    while named:
        id_ = named.pop()
        if id_ in asleep:
            asleep.discard(id_)
            fields = know.states[id_].fields
            named.extend([fields.get("follows"), fields.get("near")])
    return asleep


def _always_needed(deed: Deed, know: Knowledge) -> bool:
    """Deeds whose effect has no end: what stands up, jobs by hand that were done, and killing cold."""
    if deed.fixture is not None or (deed.tmin is not None and deed.tmin <= COLD_C):
        return True
    return deed.job is not None and (deed.job in know.changes or deed.job[:-11] in know.changes)


def _long_over(state: BatchState, know: Knowledge, old: int) -> bool:
    if lots_of(state, know):
        return False
    if state.deeds and max(deed.on for deed, _ in state.deeds) >= old:
        return False
    if state.over_on is not None:
        return state.over_on < old
    # without a path (its crop is not in the rulebook) it asks for nothing, whatever its dates
    return not state.begun and (not state.steps or let_slip(state, know)) and state.year < year_of(know.today) - 1
