"""Settle: records and rulebook in, the list of jobs for a day out. Pure; the same in any order of records.

A list that is kept takes further records in, and works out again only what hangs together with what they altered.
"""

from __future__ import annotations

from collections.abc import Iterable
from typing import Any

from server.kernel.follow.join import Together, join
from server.kernel.follow.knowledge import Knowledge
from server.kernel.follow.units import SORTS, Units
from server.kernel.read.days import parse
from server.kernel.read.merge import Record
from server.kernel.read.reading import Reading
from server.kernel.said.done import done_today
from server.kernel.said.lapsed import lapsed_rows
from server.kernel.said.say import Job, say, walking_key
from server.kernel.when.backward import backward
from server.kernel.when.forward import forward, in_order
from server.kernel.when.work import Work

DONE, LAPSED = "done", "lapsed"


def settle(rulebook: dict[str, Any], records: list[Record], today: str) -> list[Job]:
    """Every job of a day: open ones, what was let go, and what was done today, sorted for walking.

    rulebook: as `server.season.rulebook` makes it. records: merged records of any kinds. today: `YYYY-MM-DD`.
    """
    return Settled(rulebook, records, today).jobs()


class Settled:
    """The list of a day, kept. What it gives out is its own: whoever changes a job changes a copy."""

    def __init__(self, rulebook: dict[str, Any], records: list[Record], today: str) -> None:
        self._reading = Reading(rulebook, records, today)
        self._work_all()

    def take(self, records: list[Record]) -> None:
        """Take in records that are new or have changed."""
        touched = self._reading.take(records)
        if touched.everything:
            self._work_all()
        else:
            self._work(self._units.together(self._units.touched(touched)))

    def jobs(self) -> list[Job]:
        """The list, sorted for walking."""
        return [job for _, _, job in self._rows]

    def _work_all(self) -> None:
        self.know = Knowledge(self._reading)
        self._units = Units(self.know)
        self._rows: list[tuple[tuple[Any, ...], str, Job]] = []
        self._work(set(self._units.names()))

    def _work(self, names: set[str]) -> None:
        """Work some units out, and put their jobs in the place of those they had."""
        made = {name: self._units.make(name) for name in names}
        while len(more := self._units.together(made)) > len(made):  # what came hangs together with more than what went
            made |= {name: self._units.make(name) for name in more - made.keys()}
        jobs = [(name, job) for name, job in self._settled(made)]
        jobs += [(DONE, job) for job in done_today(self.know)]
        jobs += [(LAPSED, job) for job in lapsed_rows(self._units.beliefs, self.know)]
        rows = [row for row in self._rows if row[1] not in made and row[1] not in (DONE, LAPSED)]
        rows += [(walking_key(job, self.know), name, job) for name, job in jobs]
        rows.sort(key=_key)
        self._rows = rows

    def _settled(self, made: dict[str, list[Work]]) -> Iterable[tuple[str, Job]]:
        """The jobs of units that hang together, each with the name of its unit."""
        know = self.know
        work: list[Work] = []
        unit_of: dict[int, str] = {}
        for name in sorted(made, key=_unit_key):
            work += made[name]
            unit_of |= {id(job): name for job in made[name]}
        self._change(work)
        before = self._units.before_joining()
        forward(in_order([job for job in work if unit_of[id(job)] in before]), know.heat, know.today)
        states = [state for id_, state in know.states.items() if f"batch {id_}" in made]
        fixtures = [fixture for fixture in self._units.fixtures() if f"fixture {fixture.id}" in made]
        for fixture, extra in join(Together(work, states, fixtures), know):
            self._change(extra)
            work = work + extra
            unit_of |= {id(job): f"fixture {fixture.id}" for job in extra}
        ordered = in_order(work)
        forward(ordered, know.heat, know.today)
        backward(ordered)
        by_id = {job.id: job for job in ordered}
        return [(unit_of[id(job)], say(job, by_id, know)) for job in ordered if not job.dropped]

    def _change(self, work: list[Work]) -> None:
        """What somebody changed of each job by hand, and which part of it a tick would be."""
        know = self.know
        for job in work:
            until = (know.changes.get(job.id) or {}).get("put_off_until")
            if until:
                job.put_off = parse(until)
            job.part = know.diary.part(job.id) + 1


def _unit_key(name: str) -> tuple[int, str]:
    return SORTS.index(name.split(" ", 1)[0]), name


def _key(row: tuple[tuple[Any, ...], str, Job]) -> tuple[Any, ...]:
    return row[0]
