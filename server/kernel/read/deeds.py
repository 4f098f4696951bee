"""Deeds: what the diary says was done, once each, in the order it was done.

Two diary records with the same job and part are one deed told twice: the larger count and weight stand, the worse
level too, and both tellers are kept.
"""

from __future__ import annotations

from dataclasses import dataclass
from operator import attrgetter
from typing import Any

from server.kernel.read.days import parse

TOLD_TWICE_DAYS = 60
"""Tellings further apart are two deeds, though their job and part are the same: a shelf comes down every year."""
LEVELS = ("none", "few", "many", "severe")
Order = tuple[int, str, str, str]
"""Day, time, stamp and id of a telling: what deeds are sorted by."""


@dataclass(slots=True, eq=False)
class Deed:
    """One thing done. `ids` are the diary records that tell it, the first told first; `order` is that of the first."""

    order: Order
    ids: list[str]
    tellers: list[str]
    on: int
    at: str
    did: str
    batch: str | None
    place: str | None
    to_place: str | None
    fixture: str | None
    count: int | None
    pot_l: float | None
    job: str | None
    part: int | None
    found: str | None
    level: str | None
    weight_g: int | None
    tmin: float | None
    condition: str | None
    answer: str | None = None
    about: int | None = None
    """The day on which it was told, where `on` is only about when it was done."""
    believed: bool = False
    """Nobody told of it: its time is past, and nothing speaks against it."""

    @property
    def stamp(self) -> str:
        """Of its first telling."""
        return self.order[2]


def read_deeds(diary: list[dict[str, Any]], today: int) -> list[Deed]:
    """Deeds up to and including today from visible diary records, sorted by day, time, stamp and id."""
    told = [deed for record in diary if (deed := deed_of(record, today)) is not None]
    told.sort(key=attrgetter("order"))
    deeds: list[Deed] = []
    by_part: dict[tuple[str, int], Deed] = {}
    for deed in told:
        if deed.job is None or deed.part is None:
            deeds.append(deed)
            continue
        key = (deed.job, deed.part)
        same = by_part.get(key)
        if same is not None and same.did == deed.did and deed.on - same.on <= TOLD_TWICE_DAYS:
            _told_again(same, deed)
        else:
            by_part[key] = deed
            deeds.append(deed)
    return deeds


def deed_of(record: dict[str, Any], today: int) -> Deed | None:
    """What one diary record by itself says; None where it tells of nothing done by today."""
    get = record["fields"].get
    did, day, by, at, id_ = get("did"), get("on"), get("by"), get("at") or "", record["id"]
    if did is None or day is None:
        return None
    on = parse(day)
    if on > today:
        return None
    return Deed(
        (on, at, record["stamp"], id_),
        [id_],
        [by] if by else [],
        on,
        at,
        did,
        get("batch"),
        get("place"),
        get("to_place"),
        get("fixture"),
        get("count"),
        get("pot_l"),
        get("job"),
        get("part"),
        get("found"),
        get("level"),
        get("weight_g"),
        get("tmin"),
        get("condition"),
        get("answer"),
        parse(get("about")) if get("about") else None,
    )


def _told_again(deed: Deed, other: Deed) -> None:
    deed.ids += other.ids
    deed.tellers += [teller for teller in other.tellers if teller not in deed.tellers]
    if other.count is not None and (deed.count is None or other.count > deed.count):
        deed.count = other.count
    if other.weight_g is not None and (deed.weight_g is None or other.weight_g > deed.weight_g):
        deed.weight_g = other.weight_g
    if level_rank(other.level) > level_rank(deed.level):
        deed.level = other.level
        deed.found = other.found or deed.found


def level_rank(level: str | None) -> int:
    """0 for none seen or nothing said, up to 3 for severe."""
    return LEVELS.index(level) if level in LEVELS else 0
