"""Batch states: every batch with the path it walks, before anything was done.

A batch's plants lie in cells (how far, where) -> how many. How far is the index of the last moving step of the path
that they have been through. A batch nobody counts (no `want`, and a sowing without a number) is kept as one whole.
"""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import Any

from server.kernel.read.bought import bought_steps, is_bought
from server.kernel.read.days import in_season, parse
from server.kernel.read.deeds import Deed
from server.kernel.read.ground import Ground
from server.kernel.read.turns import turn_of, turned

NOWHERE = ""
"""The place of plants nobody said a place for."""


@dataclass(slots=True)
class Stay:
    """A batch standing in one place from one day to another (open while it stands there)."""

    place: str
    since: int
    until: int | None = None


@dataclass(slots=True, eq=False)
class Path:
    """The steps a batch walks, and what is worked out once for all that walk the same. Lists run alongside the steps."""

    steps: list[dict[str, Any]]
    moving: list[int]
    """Indexes of the steps that move plants."""
    before: list[int | None]
    """The last moving step before each."""
    seed: list[bool]
    """Whether plants that have come just so far are still seeds that may never come up."""
    by_id: dict[str, int]
    by_verb: dict[str, list[int]]
    comes_up: bool
    final_step: int
    """Index of the last moving step; -1 for a path without one."""


def path_of(steps: list[dict[str, Any]]) -> Path:
    """A path from the rulebook's steps."""
    moving: list[int] = []
    before: list[int | None] = []
    by_id: dict[str, int] = {}
    by_verb: dict[str, list[int]] = {}
    for index, step in enumerate(steps):
        before.append(moving[-1] if moving else None)
        if step.get("stage"):
            moving.append(index)
        by_id.setdefault(step["id"], index)
        by_verb.setdefault(step["verb"], []).append(index)
    comes_up = "emerge" in by_verb
    seed = [step["verb"] == "sow" and comes_up for step in steps]
    return Path(steps, moving, before, seed, by_id, by_verb, comes_up, moving[-1] if moving else -1)


@dataclass(slots=True, eq=False)
class BatchState:
    """One batch as the diary leaves it. Lists run alongside the steps of its path."""

    id: str
    fields: dict[str, Any]
    crop: str | None
    variety_name: str
    know: dict[str, Any]
    path: Path
    year: int
    want: int | None
    final: str | None
    cover: str
    climate: str
    """What the rulebook's windows and heat are looked up by: the cover, or its house's own climate."""
    steps: list[dict[str, Any]] = field(init=False)
    moving: list[int] = field(init=False)
    final_step: int = field(init=False)
    cells: dict[tuple[int, str], int] = field(default_factory=dict)
    moved: list[int] = field(init=False)
    first: list[int | None] = field(init=False)
    last: list[int | None] = field(init=False)
    done_count: list[int] = field(init=False)
    ticked_whole: list[bool] = field(init=False)
    believed: dict[int, int] = field(default_factory=dict)
    """Steps that nobody told of and that are taken as done, with the day they are taken for."""
    closed: set[int] = field(default_factory=set)
    """Steps told in part whose rest is not asked for any more."""
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
    """The first reading, not yet answered for, at which frost does to it what it does."""
    survived: int | None = None
    """The day somebody looked after a frost: colder days up to it are answered for."""
    frost_lost: bool = False
    """Whether what stood was lost to frost."""
    pot_l: float | None = None
    """The pots most were put into last. [L]"""
    answers: dict[str, str] = field(default_factory=dict)
    """What was decided, by the step that asked."""

    def __post_init__(self) -> None:
        self.steps, self.moving, self.final_step = self.path.steps, self.path.moving, self.path.final_step
        size = len(self.steps)
        self.moved, self.done_count, self.ticked_whole = [0] * size, [0] * size, [False] * size
        self.first, self.last = [None] * size, [None] * size

    def is_seed(self, step: int) -> bool:
        """Whether plants that have come just this far are still seeds."""
        return step >= 0 and self.path.seed[step]

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

    def stems(self) -> int | None:
        """Stems of each plant: as was decided, else as the batch says."""
        for step in self.steps:
            for answer in step.get("answers") or []:
                if self.answers.get(step["id"]) == answer["id"] and answer.get("stems") is not None:
                    return int(answer["stems"])
        given = self.fields.get("stems")
        return None if given is None else int(given)

    def none_up(self) -> bool:
        """Whether somebody looked, and nothing of what was sown last had come."""
        if len(self.moving) < 2:
            return False
        look = self.moving[1]
        return (
            self.steps[look]["verb"] == "emerge"
            and self.first[look] is not None
            and look not in self.believed
            and self.counted
            and self.moved[look] == 0
        )

    def ends_on(self, index: int) -> int | None:
        """The last day of a repeating step, as far as it is known: its own, the end of its span, or, of what is done in
        the weeks of some year, so long after what it follows."""
        step = self.steps[index]
        days: list[int] = []
        if step.get("until"):
            days.append(in_season(step["until"], self.year))
        first = self.first[index]
        if step.get("span") is not None and first is not None:
            days.append(first + step["span"])
        if step.get("season") and step.get("every") is not None:
            for link in step.get("after") or []:
                since = self.first[self.path.by_id[link["step"]]] if link["step"] in self.path.by_id else None
                if since is not None and link.get("max") is not None and link.get("heat") is None:
                    days.append(since + link["max"])
        return min(days) if days else None

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


class Beginnings:
    """Begins batches: from their records, what the rulebook knows of their crops, and where they are to end."""

    def __init__(
        self, batches: dict[str, dict[str, Any]], varieties: dict[str, dict[str, Any]], rulebook: dict[str, Any], ground: Ground
    ) -> None:
        """batches, varieties: fields by id; batches may change later."""
        self._batches = batches
        self._varieties = varieties
        self._crops: dict[str, Any] = rulebook["crops"]
        self._own: dict[str, Any] = rulebook.get("varieties", {})
        self._ground = ground
        self._paths: dict[tuple[int, str, float | None, int, bool], Path] = {}

    def begin(self, id_: str) -> BatchState:
        """A batch before anything was done."""
        fields = self._batches[id_]
        named = fields.get("variety") or ""
        variety = self._varieties.get(named, {})
        crop = variety.get("crop")
        know = self._own.get(named) or self._crops.get(crop or "") or {}
        final = _final_place(fields, self._batches, self._ground)
        cover, climate = self._ground.cover(final), self._ground.climate(final)
        turn = turn_of(know, fields, climate, cover)
        return BatchState(
            id=id_,
            fields=fields,
            crop=crop,
            variety_name=fields.get("name") or variety.get("name") or know.get("many") or id_,
            know=know,
            path=self._path(know, cover, fields.get("pot_l"), turn, is_bought(fields)),
            year=fields["year"] if fields.get("year") is not None else -1,
            want=fields.get("want"),
            final=final,
            cover=cover,
            climate=climate,
        )

    def _path(self, know: dict[str, Any], cover: str, pot_l: float | None, turn: int, bought: bool) -> Path:
        key = (id(know), cover, pot_l, turn, bought) if know else (0, "", None, 0, False)
        if key not in self._paths:
            steps = [turned(step, know, turn, cover) for step in know.get("steps", []) if _applies(step, cover, pot_l)]
            self._paths[key] = path_of(bought_steps(steps) if bought and steps else steps)
        return self._paths[key]


def _final_place(fields: dict[str, Any], raw: dict[str, dict[str, Any]], ground: Ground) -> str | None:
    place = fields.get("for_place")
    if place is None and fields.get("near") in raw:
        place = raw[fields["near"]].get("for_place")
    return place if ground.path(place) else None


def _applies(step: dict[str, Any], cover: str, pot_l: float | None) -> bool:
    covers = step.get("covers")
    if covers is not None and cover not in covers:
        return False
    return not (pot_l is not None and step["verb"] == "pot_up" and step.get("pot_l") is not None and step["pot_l"] >= pot_l)


def sow_on(state: BatchState) -> int | None:
    """The household's own day for the first step."""
    text = state.fields.get("sow_on")
    return parse(text) if text else None
