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


@dataclass(slots=True)
class Deed:
    """One thing done. `ids` are the diary records that tell it, the first told first."""

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


def read_deeds(diary: list[dict[str, Any]], today: int) -> list[Deed]:
    """Deeds up to and including today from visible diary records, sorted by day, time, stamp and id."""
    told: list[tuple[int, str, str, str, dict[str, Any]]] = []
    for record in diary:
        fields = record["fields"]
        if fields.get("did") is None or fields.get("on") is None:
            continue
        on = parse(fields["on"])
        if on <= today:
            told.append((on, fields.get("at") or "", record["stamp"], record["id"], fields))
    told.sort(key=lambda row: (row[0], row[1], row[2], row[3]))
    deeds: list[Deed] = []
    by_part: dict[tuple[str, int], Deed] = {}
    for on, at, _, id_, fields in told:
        job, part = fields.get("job"), fields.get("part")
        if job is not None and part is not None:
            same = by_part.get((job, part))
            if same is not None and same.did == fields["did"] and on - same.on <= TOLD_TWICE_DAYS:
                _told_again(same, id_, fields)
                continue
        deed = Deed(
            ids=[id_],
            tellers=[fields["by"]] if fields.get("by") else [],
            on=on,
            at=at,
            did=fields["did"],
            batch=fields.get("batch"),
            place=fields.get("place"),
            to_place=fields.get("to_place"),
            fixture=fields.get("fixture"),
            count=fields.get("count"),
            pot_l=fields.get("pot_l"),
            job=job,
            part=part,
            found=fields.get("found"),
            level=fields.get("level"),
            weight_g=fields.get("weight_g"),
            tmin=fields.get("tmin"),
            condition=fields.get("condition"),
        )
        deeds.append(deed)
        if job is not None and part is not None:
            by_part[(job, part)] = deed
    return deeds


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
