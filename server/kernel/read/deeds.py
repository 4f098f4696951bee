"""Deeds: what the diary says was done, once each, in the order it was done.

Two diary records with the same job and part are one deed told twice: the larger count and weight stand, the worse
level too, and both tellers are kept.
"""

from __future__ import annotations

from dataclasses import dataclass
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


def told_by(record: dict[str, Any], today: int) -> Order | None:
    """Where a diary record stands among all that was told by today; None for what tells of nothing done by then."""
    fields = record["fields"]
    if fields.get("did") is None or fields.get("on") is None:
        return None
    on = parse(fields["on"])
    return (on, fields.get("at") or "", record["stamp"], record["id"]) if on <= today else None


def read_deeds(diary: list[dict[str, Any]], today: int) -> list[Deed]:
    """Deeds up to and including today from visible diary records, sorted by day, time, stamp and id."""
    told: list[tuple[Order, dict[str, Any]]] = []
    for record in diary:
        order = told_by(record, today)
        if order is not None:
            told.append((order, record["fields"]))
    told.sort(key=lambda row: row[0])
    deeds: list[Deed] = []
    by_part: dict[tuple[str, int], Deed] = {}
    for order, fields in told:
        job, part = fields.get("job"), fields.get("part")
        if job is None or part is None:
            deeds.append(deed_of(order, fields))
            continue
        same = by_part.get((job, part))
        if same is not None and same.did == fields["did"] and order[0] - same.on <= TOLD_TWICE_DAYS:
            _told_again(same, order[3], fields)
        else:
            by_part[(job, part)] = deed = deed_of(order, fields)
            deeds.append(deed)
    return deeds


def deed_of(order: Order, fields: dict[str, Any]) -> Deed:
    """What one telling by itself says."""
    get = fields.get
    by = get("by")
    return Deed(
        order,
        [order[3]],
        [by] if by else [],
        order[0],
        order[1],
        fields["did"],
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
    )


def _told_again(deed: Deed, id_: str, fields: dict[str, Any]) -> None:
    deed.ids.append(id_)
    teller = fields.get("by")
    if teller and teller not in deed.tellers:
        deed.tellers.append(teller)
    count, weight = fields.get("count"), fields.get("weight_g")
    if count is not None and (deed.count is None or count > deed.count):
        deed.count = count
    if weight is not None and (deed.weight_g is None or weight > deed.weight_g):
        deed.weight_g = weight
    if level_rank(fields.get("level")) > level_rank(deed.level):
        deed.level = fields["level"]
        deed.found = fields.get("found") or deed.found


def level_rank(level: str | None) -> int:
    """0 for none seen or nothing said, up to 3 for severe."""
    return LEVELS.index(level) if level in LEVELS else 0
