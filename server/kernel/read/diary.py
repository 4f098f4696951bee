"""The diary's deeds laid on shelves by what they are about, each shelf in order; one record at a time, or all at once."""

from __future__ import annotations

from collections.abc import Iterable
from typing import Any

from server.kernel.read.deeds import Deed, deed_of, read_deeds

Record = dict[str, Any]
TURN_LETTERS = 11
"""Letters of `.YYYY-MM-DD`, which the id of a repeat ends in."""


def stem(job: str) -> str:
    """The id of a job without the day that a repeat's id ends in."""
    turn = job[-TURN_LETTERS:]
    return job[:-TURN_LETTERS] if turn[:1] == "." and turn[5:6] == "-" and turn[8:9] == "-" else job


TENDS = ("weed", "mulch", "clean", "dress")
"""What is done to a place as a whole."""


class Diary:
    """Deeds up to a day."""

    def __init__(self, records: Iterable[Record], today: int) -> None:
        self.today_is = today
        self.by_batch: dict[str, list[Deed]] = {}
        self.by_fixture: dict[str, list[Deed]] = {}
        self.by_job: dict[str, list[Deed]] = {}
        """By the stem of the job they answered."""
        self.looked: dict[str, list[Deed]] = {}
        """Rounds of a place: nobody sought anything on any one batch."""
        self.watered: dict[str, list[Deed]] = {}
        self.tended: dict[str, list[Deed]] = {}
        """Weeded, mulched, cleaned, limed or manured, by the place."""
        self.found: list[Deed] = []
        """Looks and treatments that name a trouble."""
        self.cold: list[Deed] = []
        """A thermometer's lowest, in a place."""
        self.other: list[Deed] = []
        """About none of these."""
        self.today: list[Deed] = []
        for deed in read_deeds(list(records), today):
            self._lay(deed)

    def change(self, was: Record | None, now: Record | None, records: dict[str, Record]) -> list[Deed]:
        """Take one record's old telling away and its new one in. Returns every deed that went or came.

        records: all there are, by id, for what else was told of the same job.
        """
        gone: list[Deed] = []
        for record in (was, now):
            alone = None if record is None else deed_of(record, self.today_is)
            if alone is not None:
                gone.extend(deed for deed in self._same(alone) if deed not in gone)
        tellings = {id_: records[id_] for deed in gone for id_ in deed.ids}
        if was is not None:
            tellings.pop(was["id"], None)
        if now is not None:
            tellings[now["id"]] = now
        for deed in gone:
            for shelf in self._shelves(deed):
                shelf.remove(deed)
        come = read_deeds(list(tellings.values()), self.today_is)
        for deed in come:
            self._lay(deed)
        return gone + come

    def part(self, job: str) -> int:
        """How often a job was done in part, as far as this diary knows."""
        told = self.by_job.get(stem(job))
        return max((deed.part or 0 for deed in told if deed.job == job), default=0) if told else 0

    def last_word(self) -> int | None:
        """The last day on which anything was told, or of which it was."""
        by_subject = (self.by_batch, self.by_fixture, self.by_job, self.looked, self.watered, self.tended)
        shelves = [shelf for shelves in by_subject for shelf in shelves.values()]
        days = [
            max(deed.on, deed.about or deed.on) for shelf in (*shelves, self.found, self.cold, self.other) for deed in shelf
        ]
        return max(days, default=None)

    def _same(self, alone: Deed) -> list[Deed]:
        """The deeds that a record by itself tells, or that were told of the same job and part."""
        shelves = self._shelves(alone)
        if alone.job is not None and alone.part is not None:
            return [deed for deed in self.by_job[stem(alone.job)] if deed.job == alone.job and deed.part == alone.part]
        return [deed for deed in shelves[0] if alone.ids[0] in deed.ids] if shelves else []

    def _lay(self, deed: Deed) -> None:
        for shelf in self._shelves(deed):
            at = len(shelf)
            while at > 0 and shelf[at - 1].order > deed.order:
                at -= 1
            shelf.insert(at, deed)

    def _shelves(self, deed: Deed) -> list[list[Deed]]:
        """Every shelf a deed belongs on."""
        shelves: list[list[Deed]] = []
        if deed.batch is not None:
            shelves.append(self.by_batch.setdefault(deed.batch, []))
        elif deed.place is not None and deed.did == "look" and deed.found is None and deed.fixture is None:
            shelves.append(self.looked.setdefault(deed.place, []))
        elif deed.place is not None and deed.did == "water":
            shelves.append(self.watered.setdefault(deed.place, []))
        elif deed.place is not None and deed.did in TENDS:
            shelves.append(self.tended.setdefault(deed.place, []))
        if deed.fixture is not None:
            shelves.append(self.by_fixture.setdefault(deed.fixture, []))
        if deed.job is not None:
            shelves.append(self.by_job.setdefault(stem(deed.job), []))
        if deed.found is not None and deed.did in ("look", "treat"):
            shelves.append(self.found)
        if deed.tmin is not None and deed.place is not None and deed.did == "measure":
            shelves.append(self.cold)
        if not shelves:
            shelves.append(self.other)
        if deed.on == self.today_is:
            shelves.append(self.today)
        return shelves
