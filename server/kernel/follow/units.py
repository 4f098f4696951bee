"""Units: what is laid out by itself, and which units hang together.

A unit is a batch, a place with its standing jobs, a watch, a job by hand, a choice of upkeep, the harvest of a batch, or a
fixture in the way. Its name is its sort and its id. Whatever changes in one unit alters the list only for those it hangs
together with.
"""

from __future__ import annotations

from collections.abc import Iterable
from typing import Any

from server.kernel.follow.belief import Missed, believe
from server.kernel.follow.by_hand import by_hand
from server.kernel.follow.join import holds_up, in_the_way, stands_on
from server.kernel.follow.knowledge import Knowledge
from server.kernel.follow.lay_out import lay_out
from server.kernel.follow.standing import Rounds, lines_in, standing_work
from server.kernel.follow.store import store_work
from server.kernel.follow.upkeep import ORDER, last_done, rule_of, upkeep_work
from server.kernel.follow.watch import Watch, sharers, watch_work, watches
from server.kernel.read.ground import Fixture
from server.kernel.read.reading import Touched
from server.kernel.when.work import Work

SORTS = ("batch", "watch", "place", "hand", "upkeep", "store", "fixture")
"""In the order in which their work is laid out."""


class Units:
    """The units of a household, kept up with what is told."""

    def __init__(self, know: Knowledge) -> None:
        self._know = know
        self._beside: dict[str, list[str]] = {}
        self._beside_of: dict[str, dict[str, None]] = {}
        self._watches: dict[str, Watch] = {}
        self._sharers: dict[str, list[str]] = {}
        self._places: dict[str, tuple[Any, ...]] = {}
        self.beliefs: dict[str, list[Missed]] = {}
        """What is believed of each batch."""
        self._laid: dict[str, list[Work]] = {}
        """Open work of batches as it was laid out when they were believed, until it is asked for."""
        self._believe(know.states)
        self._look_at_watches()
        self._look_at_places()
        self._upkeep: dict[str, int | None] = {}
        self._look_at_upkeep()
        self._in_the_way = {fixture.id: fixture for fixture in in_the_way(know)}
        self.work: dict[str, list[Work]] = {}
        """Of each unit, as it was made last."""

    def _believe(self, ids: Iterable[str]) -> None:
        for id_ in list(ids):
            found = believe(id_, self._know)
            self.beliefs[id_], self._laid[id_] = found.missed, found.work

    def fixtures(self) -> list[Fixture]:
        """Those in the way of something, in order of id."""
        return list(self._in_the_way.values())

    def names(self) -> list[str]:
        """Every unit there is."""
        know = self._know
        hands = (id_ for id_, fields in know.changes.items() if fields.get("hand") is True)
        ids: tuple[Iterable[str], ...] = (
            know.states,
            self._watches,
            know.ground.places,
            hands,
            know.upkeep,
            know.states,
            self._in_the_way,
        )
        return [f"{sort} {id_}" for sort, some in zip(SORTS, ids, strict=True) for id_ in some]

    def make(self, name: str) -> list[Work]:
        """The work of a unit, before it is joined with any other; what it hangs together with is noted."""
        sort, id_ = name.split(" ", 1)
        know = self._know
        work: list[Work] = []
        if sort == "batch" and id_ in know.states:
            work = self._laid.pop(id_) if id_ in self._laid else lay_out(know.states[id_], know)
        elif sort == "watch" and id_ in self._watches:
            work = watch_work(self._watches[id_], self._sharers[id_], know)
        elif sort == "place" and id_ in know.ground.places:
            work = standing_work(id_, self._rounds, know)
        elif sort == "hand":
            job = by_hand(id_, know)
            work = [] if job is None else [job]
        elif sort == "upkeep":
            work = upkeep_work(id_, know)
        elif sort == "store" and id_ in know.states:
            work = store_work(id_, know)
        self.work[name] = work
        self._note_beside(name, sort, id_, work)
        return work

    def together(self, names: Iterable[str]) -> set[str]:
        """These units and all that hang together with them."""
        found = set(names)
        ahead = list(found)
        while ahead:
            name = ahead.pop()
            for other in (*self._beside.get(name, ()), *self._beside_of.get(name, ())):
                if other not in found and self._lives(other):
                    found.add(other)
                    ahead.append(other)
        return found

    def _lives(self, name: str) -> bool:
        """Whether there is such a unit, and work may come of it."""
        sort, id_ = name.split(" ", 1)
        know = self._know
        if sort == "batch":
            state = know.states.get(id_)
            return state is not None and (state.over_on is None or state.frost_lost)  # something may come in its place
        if sort == "hand":
            return know.changes.get(id_, {}).get("hand") is True
        if sort == "upkeep":
            return id_ in know.upkeep
        if sort == "store":
            return id_ in know.states
        return id_ in (self._watches if sort == "watch" else self._in_the_way if sort == "fixture" else know.ground.places)

    def before_joining(self) -> set[str]:
        """Units whose own days must be known before they are joined: what a fixture is in the way of, and chains by hand."""
        hands = [name for name, beside in self._beside.items() if beside and name.startswith("hand ")]
        followers = [f"batch {state.id}" for state in self._know.states.values() if state.fields.get("follows")]
        return self.together([*(f"fixture {id_}" for id_ in self._in_the_way), *hands, *followers])

    def touched(self, touched: Touched) -> set[str]:
        """The units that look different after some records were read."""
        know = self._know
        owners = {id_ for job in touched.jobs for id_ in _heads(job) if id_ in know.states}
        changed = touched.batches | owners  # a job let go may end what is believed, and with it where plants stand
        for id_ in changed:
            if id_ in know.states:
                know.reading.lay_over(id_, [])
                self._believe([id_])
            else:
                self.beliefs.pop(id_, None)
        names = {f"{sort} {id_}" for id_ in changed for sort in ("batch", "store")}
        for name in list(names):
            names.update(self._beside_of.get(name, ()))  # what follows it, or stands near, whether it is over now or was before
        for job in touched.jobs:
            names.update(self._owners(job))
        for id_, fields in know.changes.items():
            if fields.get("hand") is True and fields.get("batch") in changed:
                names.add(f"hand {id_}")
        if touched.found or any(self._bears_on_watches(id_) for id_ in changed):
            names.update(f"watch {id_}" for id_ in self._watches)
            self._look_at_watches()
            names.update(f"watch {id_}" for id_ in self._watches)
        names.update(self._look_at_places())
        names.update(self._look_at_upkeep())
        if changed:
            names.update(f"upkeep {id_}" for id_ in know.upkeep if self._hangs_on_batches(id_))
        names.update(self._look_at_fixtures())
        return {name for name in names if name in self.work or self._lives(name)}

    def _look_at_watches(self) -> None:
        open_now = watches(self._know)
        self._watches = {watch.id: watch for watch in open_now}
        self._sharers = sharers(open_now, self._know)

    def _bears_on_watches(self, batch: str) -> bool:
        """Whether something was ever sought on a batch, or it has shared a house with one that is watched, or could have."""
        if any(deed.batch == batch for deed in self._know.diary.found):
            return True
        state = self._know.states.get(batch)
        for watch in self._watches.values():
            hosts = self._know.rulebook["care"][watch.found]["hosts"]
            if batch in self._sharers[watch.id] or (state is not None and state.crop in hosts):
                return True
        return False

    def _look_at_places(self) -> list[str]:
        """Names of the places whose rounds are not what they were."""
        know = self._know
        self._rounds = Rounds(know)
        before, self._places = self._places, {id_: self._rounds.all_of(id_, know) for id_ in know.ground.places}
        return [f"place {id_}" for id_, rounds in self._places.items() if rounds != before.get(id_)]

    def _look_at_upkeep(self) -> list[str]:
        """Names of the choices of upkeep that were done since."""
        before, self._upkeep = self._upkeep, {id_: last_done(id_, self._know) for id_ in self._know.upkeep}
        return [f"upkeep {id_}" for id_, done in self._upkeep.items() if done != before.get(id_)]

    def _hangs_on_batches(self, id_: str) -> bool:
        """Whether a choice of upkeep asks what is to be sown and planted: green manure and the seed order."""
        rule = rule_of(id_, self._know) or {}
        return "kinds" in rule or rule.get("verb") == ORDER

    def _look_at_fixtures(self) -> list[str]:
        """Names of the fixtures that have come into the way or gone out of it, and of what they are in the way of."""
        know = self._know
        now = {fixture.id: fixture for fixture in in_the_way(know)}
        names: list[str] = []
        for id_ in now.keys() ^ self._in_the_way.keys():
            fixture = know.ground.fixtures[id_]
            names.append(f"fixture {id_}")
            names += [name for name, work in self.work.items() if any(holds_up(fixture, job, know) for job in work)]
            names += [f"batch {state.id}" for state in know.states.values() if stands_on(state, fixture)]
        self._in_the_way = now
        return names

    def _note_beside(self, name: str, sort: str, id_: str, work: list[Work]) -> None:
        know = self._know
        beside: list[str] = []
        state = know.states.get(id_) if sort == "batch" else None
        if state is not None:
            beside += [f"batch {other}" for other in (state.fields.get("follows"), state.fields.get("near")) if other]
        if sort == "hand":
            for job in (id_, *(know.changes.get(id_, {}).get("waits_on") or [])):
                beside += self._owners(job)
        if sort == "place":  # a line in a bed is its house's line too
            beside += [f"place {other}" for line in lines_in(id_, know) for other in know.ground.path(line.place)]
        for fixture in self._in_the_way.values():
            if any(holds_up(fixture, job, know) for job in work) or (state is not None and stands_on(state, fixture)):
                beside.append(f"fixture {fixture.id}")
        for other in self._beside.get(name, ()):
            self._beside_of[other].pop(name, None)
        self._beside[name] = beside
        for other in beside:
            self._beside_of.setdefault(other, {})[name] = None

    def _owners(self, job: str) -> list[str]:
        """Every unit that a job of this id could belong to: ids of jobs begin with those of what they are about."""
        ground = self._know.ground
        names: list[str] = []
        for id_ in _heads(job):
            names += [f"{sort} {id_}" for sort in SORTS]
            if id_ in ground.fixtures:
                names += [f"place {place}" for place in ground.path(ground.fixtures[id_].place)]
        return names


def _heads(job: str) -> list[str]:
    """Every id that a job's could begin with."""
    parts = job.split(".")
    return [".".join(parts[:end]) for end in range(1, len(parts) + 1)]
