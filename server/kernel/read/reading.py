"""Reading: the records of a household sorted into ground, batches and deeds, and what one more record alters of that."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field
from typing import Any, NamedTuple

from server.kernel.read.batch_state import BatchState, Beginnings
from server.kernel.read.days import parse
from server.kernel.read.deeds import Deed
from server.kernel.read.diary import Diary
from server.kernel.read.fold import fold, fold_fixture
from server.kernel.read.frost import frosted_on
from server.kernel.read.ground import read_ground
from server.kernel.read.merge import Record, field_stamps, visible

KINDS = ("place", "fixture", "variety", "batch", "diary", "job", "upkeep")
ALTERS_ALL = ("place", "fixture", "variety", "upkeep")
"""Kinds that batches and other places hang on in ways not worth following one by one."""

MOST_ONE_BY_ONE = 200
"""Of more records at once than this all is read anew, which takes less long."""


class Counted(NamedTuple):
    """Seeds of a variety as somebody counted them. on: None where nobody said when."""

    seeds: int
    on: int | None
    stamp: str


@dataclass(slots=True)
class Touched:
    """What some records altered, by id."""

    everything: bool = False
    batches: set[str] = field(default_factory=set)
    fixtures: set[str] = field(default_factory=set)
    jobs: set[str] = field(default_factory=set)
    """Jobs that were answered, or changed by hand."""
    found: bool = False
    """Whether a trouble was looked for or treated."""


class Reading:
    """Records read as of a day. `states` and the ground's places and fixtures are in order of id."""

    def __init__(self, rulebook: dict[str, Any], records: list[Record], today: str) -> None:
        self.rulebook = rulebook
        self.today = parse(today)
        self.records: dict[str, Record] = {}
        for record in records:
            self.records[record["id"]] = record
        self._read_all()

    def take(self, records: list[Record]) -> Touched:
        """Take records in that are new or have changed."""
        touched = Touched(everything=len(records) > MOST_ONE_BY_ONE)
        for record in records:
            was = self.records.get(record["id"])
            self.records[record["id"]] = record
            if not touched.everything:
                self._take_one(was, record, touched)
        if touched.everything:
            self._read_all()
            return touched
        came = touched.batches - self.states.keys()
        for id_ in touched.batches:
            self._fold(id_)
        if came:  # what came last stands in order of id like the others
            states = sorted(self.states.items())
            self.states.clear()
            self.states.update(states)
        for id_ in touched.fixtures:
            fold_fixture(self.ground.fixtures[id_], self.diary.by_fixture.get(id_, []))
        return touched

    def _read_all(self) -> None:
        by_kind: dict[str, list[Record]] = {kind: [] for kind in KINDS}
        for record in self.records.values():
            rows = by_kind.get(record["kind"])
            if rows is not None and visible(record):
                rows.append(record)
        for kind in ("place", "fixture", "batch", "job", "upkeep", "variety"):
            by_kind[kind].sort(key=_id)
        self.ground = read_ground(by_kind["place"], by_kind["fixture"], self.rulebook.get("houses") or {})
        self.changes: dict[str, dict[str, Any]] = {record["id"]: record["fields"] for record in by_kind["job"]}
        self.diary = Diary(by_kind["diary"], self.today)
        self._batches: dict[str, dict[str, Any]] = {record["id"]: record["fields"] for record in by_kind["batch"]}
        self.upkeep: dict[str, dict[str, Any]] = {record["id"]: record["fields"] for record in by_kind["upkeep"]}
        self._varieties = {record["id"]: record["fields"] for record in by_kind["variety"]}
        self.counted = {
            record["id"]: _counted(record) for record in by_kind["variety"] if record["fields"].get("seeds") is not None
        }
        """Varieties whose seeds were counted, by id."""
        self._beginnings = Beginnings(self._batches, self._varieties, self.rulebook, self.ground)
        self.states: dict[str, BatchState] = {}
        for id_ in self._batches:
            self._fold(id_)
        for id_, fixture in self.ground.fixtures.items():
            fold_fixture(fixture, self.diary.by_fixture.get(id_, []))

    def _fold(self, id_: str, believed: Sequence[Deed] = ()) -> None:
        if id_ not in self._batches:
            self.states.pop(id_, None)
            return
        state = self._beginnings.begin(id_)
        told = self.diary.by_batch.get(id_, [])
        deeds = sorted([*told, *believed], key=lambda deed: (deed.on, deed.believed)) if believed else told
        fold(state, deeds, self.ground, self.today)
        state.frosted_on = frosted_on(state, self.diary.cold, self.ground)
        self.states[id_] = state

    def seed_year(self, variety: str | None) -> int | None:
        """The year for which seed of a variety was gathered or packed; None where nobody said."""
        year = (self._varieties.get(variety or "") or {}).get("seed_year")
        return None if year is None else int(year)

    def lay_over(self, id_: str, believed: list[Deed]) -> None:
        """Fold a batch anew with deeds that nobody told among its own, each after what was told up to its day."""
        self._fold(id_, believed)

    def retold(self, id_: str) -> Iterator[tuple[int, BatchState]]:
        """A batch after each of its deeds, told and believed, from the first on: the day, and one state that goes along."""
        state = self._beginnings.begin(id_)
        for deed, _ in self.states[id_].deeds:
            fold(state, [deed], self.ground, self.today)
            yield deed.on, state

    def _take_one(self, was: Record | None, now: Record, touched: Touched) -> None:
        kind = now["kind"]
        before = was if was is not None and visible(was) else None
        after = now if visible(now) else None
        if kind in ALTERS_ALL or (was is not None and was["kind"] != kind):
            touched.everything = True
        elif kind == "diary":
            self._take_deeds(self.diary.change(before, after, self.records), touched)
        elif kind == "job":
            self._take_change(now["id"], after, touched)
        elif kind == "batch":
            self._take_batch(now["id"], after, touched)

    def _take_deeds(self, deeds: list[Deed], touched: Touched) -> None:
        for deed in deeds:
            if deed.batch in self._batches:
                touched.batches.add(deed.batch or "")
            if deed.fixture in self.ground.fixtures:
                touched.fixtures.add(deed.fixture or "")
            if deed.job is not None:
                touched.jobs.add(deed.job)
            if deed.found is not None:
                touched.found = True
            if deed.did == "measure" and deed.tmin is not None:
                touched.batches.update(self._frosted_otherwise())

    def _frosted_otherwise(self) -> list[str]:
        cold = self.diary.cold
        return [id_ for id_, state in self.states.items() if frosted_on(state, cold, self.ground) != state.frosted_on]

    def _take_change(self, id_: str, after: Record | None, touched: Touched) -> None:
        touched.jobs.add(id_)
        if after is None:
            self.changes.pop(id_, None)
        else:
            self.changes[id_] = after["fields"]

    def _take_batch(self, id_: str, after: Record | None, touched: Touched) -> None:
        touched.batches.add(id_)
        touched.batches.update(other for other, fields in self._batches.items() if fields.get("near") == id_)
        if after is None:
            self._batches.pop(id_, None)
        else:
            self._batches[id_] = after["fields"]


def _counted(record: Record) -> Counted:
    on = record["fields"].get("seeds_on")
    return Counted(int(record["fields"]["seeds"]), None if on is None else parse(on), field_stamps(record)["seeds"])


def _id(record: Record) -> str:
    return str(record["id"])
