"""Batch states: every batch with the path it walks, before anything was done.

A batch's plants lie in cells (how far, where) -> how many. How far is the index of the last moving step of the path
that they have been through. A batch nobody counts (no `want`, and a sowing without a number) is kept as one whole.
"""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import Any

from server.kernel.read.days import parse
from server.kernel.read.deeds import Deed
from server.kernel.read.ground import Ground

NOWHERE = ""
"""The place of plants nobody said a place for."""


@dataclass(slots=True)
class Stay:
    """A batch standing in one place from one day to another (open while it stands there)."""

    place: str
    since: int
    until: int | None = None


@dataclass(slots=True)
class BatchState:
    """One batch as the diary leaves it. Lists run alongside the steps of its path."""

    id: str
    fields: dict[str, Any]
    crop: str | None
    variety_name: str
    know: dict[str, Any]
    steps: list[dict[str, Any]]
    year: int
    want: int | None
    final: str | None
    cover: str
    climate: str
    """What the rulebook's windows and heat are looked up by: the cover, or its house's own climate."""
    moving: list[int]
    seed: list[bool]
    """Whether plants that have come just so far are still seeds that may never come up."""
    cells: dict[tuple[int, str], int] = field(default_factory=dict)
    moved: list[int] = field(default_factory=list)
    first: list[int | None] = field(default_factory=list)
    last: list[int | None] = field(default_factory=list)
    done_count: list[int] = field(default_factory=list)
    ticked_whole: list[bool] = field(default_factory=list)
    deeds: list[tuple[Deed, int | None]] = field(default_factory=list)
    stays: list[Stay] = field(default_factory=list)
    counted: bool = True
    begun: bool = False
    sown: int = 0
    lost: int = 0
    picked: int = 0
    picked_g: int = 0
    over_on: int | None = None
    frosted_on: int | None = None

    @property
    def final_step(self) -> int:
        """Index of the last moving step; -1 for a path without one."""
        return self.moving[-1] if self.moving else -1

    def is_seed(self, step: int) -> bool:
        """Whether plants that have come just this far are still seeds."""
        return step >= 0 and self.seed[step]

    def live(self, below: int | None = None, at_least: int = -1, place: str | None = None) -> int:
        """Plants (not seeds) that have come at least so far and not as far as `below`."""
        return sum(
            count
            for (step, where), count in self.cells.items()
            if step >= at_least
            and (below is None or step < below)
            and (place is None or where == place)
            and not self.is_seed(step)
        )

    def seeds(self) -> int:
        """Seeds sown that have not come up."""
        return sum(count for (step, _), count in self.cells.items() if self.is_seed(step))

    def places(self) -> list[str]:
        """Places where something of it stands, in order of id."""
        return sorted({where for (_, where), count in self.cells.items() if count > 0 and where != NOWHERE})

    def main_place(self, at_least: int = -1, below: int | None = None) -> str | None:
        """Where most of it stands; ties go to the first id."""
        by_place: dict[str, int] = {}
        for (step, where), count in self.cells.items():
            if where != NOWHERE and count > 0 and step >= at_least and (below is None or step < below):
                by_place[where] = by_place.get(where, 0) + count
        return min(by_place, key=lambda where: (-by_place[where], where)) if by_place else None


def begin_batches(records: dict[str, list[dict[str, Any]]], rulebook: dict[str, Any], ground: Ground) -> dict[str, BatchState]:
    """Every batch before anything was done, in order of id."""
    varieties = {record["id"]: record["fields"] for record in records.get("variety", [])}
    states: dict[str, BatchState] = {}
    raw = {record["id"]: record["fields"] for record in records.get("batch", [])}
    for id_, fields in raw.items():
        variety = varieties.get(fields.get("variety") or "", {})
        crop = variety.get("crop")
        know = rulebook.get("varieties", {}).get(fields.get("variety") or "") or rulebook["crops"].get(crop or "") or {}
        final = _final_place(fields, raw, ground)
        cover = ground.cover(final)
        climate = ground.climate(final)
        steps = [step for step in know.get("steps", []) if _applies(step, cover, fields)]
        comes_up = any(step["verb"] == "emerge" for step in steps)
        states[id_] = BatchState(
            id=id_,
            fields=fields,
            crop=crop,
            variety_name=fields.get("name") or variety.get("name") or know.get("many") or id_,
            know=know,
            steps=steps,
            year=fields["year"] if fields.get("year") is not None else -1,
            want=fields.get("want"),
            final=final,
            cover=cover,
            climate=climate,
            moving=[index for index, step in enumerate(steps) if step.get("stage")],
            seed=[step["verb"] == "sow" and comes_up for step in steps],
            moved=[0] * len(steps),
            first=[None] * len(steps),
            last=[None] * len(steps),
            done_count=[0] * len(steps),
            ticked_whole=[False] * len(steps),
        )
    return states


def _final_place(fields: dict[str, Any], raw: dict[str, dict[str, Any]], ground: Ground) -> str | None:
    place = fields.get("for_place")
    if place is None and fields.get("near") in raw:
        place = raw[fields["near"]].get("for_place")
    return place if ground.path(place) else None


def _applies(step: dict[str, Any], cover: str, fields: dict[str, Any]) -> bool:
    covers = step.get("covers")
    if covers is not None and cover not in covers:
        return False
    pot_l = fields.get("pot_l")
    return not (pot_l is not None and step["verb"] == "pot_up" and step.get("pot_l") is not None and step["pot_l"] >= pot_l)


def sow_on(state: BatchState) -> int | None:
    """The household's own day for the first step."""
    text = state.fields.get("sow_on")
    return parse(text) if text else None
