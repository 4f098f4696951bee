"""Tin: the seeds in hand, as they were counted and less what was sown since."""

from __future__ import annotations

from server.kernel.follow.knowledge import Knowledge

SOW = "sow"


def tin_of(know: Knowledge) -> dict[str, int]:
    """Seeds left of every variety somebody counted, in order of id; never below nought.

    A count without a day stands as it was told. On the day of the count itself, what was told after it was sown after it.
    """
    counted = know.reading.counted
    left = {id_: one.seeds for id_, one in counted.items()}
    for state in know.states.values():
        variety = state.fields.get("variety") or ""
        one = counted.get(variety)
        if one is None or one.on is None:
            continue
        for deed, _ in state.deeds:
            if deed.did == SOW and deed.count is not None and (deed.on, deed.stamp) > (one.on, one.stamp):
                left[variety] -= deed.count
    return {id_: max(0, seeds) for id_, seeds in left.items()}
