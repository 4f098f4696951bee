"""Used: what was taken out of the shed by what was done. Nobody tells it; it follows from the rulebook's steps and work."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any, NamedTuple

from server.kernel.follow.knowledge import Knowledge
from server.kernel.follow.needs import LABELS, needs_of
from server.kernel.follow.upkeep import rule_of, taken_by
from server.kernel.read.batch_state import BatchState
from server.kernel.read.deeds import Deed
from server.kernel.read.diary import TENDS


class Used(NamedTuple):
    """So much of something by one deed. stamp: of its telling."""

    on: int
    stamp: str
    what: str
    unit: str
    amount: int


def used_of(know: Knowledge) -> Iterator[Used]:
    """What every deed took, batch by batch and then work by work. What is believed to be done has used as much."""
    for state in know.states.values():
        for deed, need in _of_batch(state):
            yield Used(deed.on, deed.stamp, need["what"], need["unit"], need["amount"])
    for id_ in know.upkeep:
        for deed, need in _of_upkeep(id_, know):
            yield Used(deed.on, deed.stamp, need["what"], need["unit"], need["amount"])


def _of_batch(state: BatchState) -> Iterator[tuple[Deed, dict[str, Any]]]:
    begun: set[tuple[int, str]] = set()
    for deed, index in state.deeds:
        if index is None:
            continue
        step, part = state.steps[index], (index, deed.job or deed.ids[0])
        if part in begun:  # done in parts, what it takes once for all is taken with the first
            step = step | {"needs": [need for need in step.get("needs") or [] if not need.get("once")]}
        elif index == 0:
            yield deed, LABELS
        begun.add(part)
        finishing = state.fields.get("pot_l") if index == state.final_step else None
        for need in needs_of(step, state.want if deed.count is None else deed.count, finishing, state.stems()):
            yield deed, need


def _of_upkeep(id_: str, know: Knowledge) -> Iterator[tuple[Deed, dict[str, Any]]]:
    """Of work told by its job, or of its place where no other work there is done with the same verb. Once a day."""
    fields, rule = know.upkeep[id_], rule_of(id_, know)
    if rule is None:
        return
    verb, place = rule["verb"], fields.get("place")
    told = list(know.diary.by_job.get(id_, []))
    alike = [
        other
        for other, chosen in know.upkeep.items()
        if chosen.get("place") == place and (rule_of(other, know) or {}).get("verb") == verb
    ]
    if verb in TENDS and alike == [id_]:
        told += [deed for deed in know.diary.tended.get(place or "", []) if deed.job is None]
    days: dict[int, Deed] = {}
    for deed in told:
        if deed.did == verb:
            days.setdefault(deed.on, deed)
    for deed in days.values():
        for need in taken_by(rule, fields, know):
            yield deed, need
