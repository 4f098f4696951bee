"""Standing jobs of places: look over each house, water by hand until the watering is connected, check it after."""

from __future__ import annotations

from typing import Any

from server.kernel.follow.knowledge import Knowledge, occurrence, rolled
from server.kernel.follow.store import lots_of
from server.kernel.read.days import civil, in_season, spoken, year_of
from server.kernel.read.deeds import Deed
from server.kernel.read.ground import WATER_LINES, Fixture
from server.kernel.when.work import Work

UNDER_COVER = ("glass", "tunnel", "frame", "indoors")


class Rounds:
    """When each place was last looked over and watered, and since when plants stand there."""

    def __init__(self, know: Knowledge) -> None:
        self._diary = know.diary
        self._ground = know.ground
        self.since: dict[str, int] = {}
        """House or watered place to the first day on which what stands there now came."""
        self.planted: dict[str, int] = {}
        """The same for plants that have come to the end of their path."""
        self.stored: dict[str, int] = {}
        """Store to the first day on which what lies there now came."""
        for state in know.states.values():
            for lot in lots_of(state, know):
                _earliest(self.stored, lot.place, lot.since)
            if state.over_on is not None:
                continue
            for stay in state.stays:
                if stay.until is None:
                    for place in know.ground.path(stay.place):
                        _earliest(self.since, place, stay.since)
            planted = state.first[state.final_step] if state.final_step >= 0 else None
            if planted is not None:
                for (step, where), count in state.cells.items():
                    if step == state.final_step and count > 0:
                        for place in know.ground.path(where):
                            _earliest(self.planted, place, planted)

    def looked(self, place: str) -> int | None:
        """When a place, or a place it lies in, was looked over."""
        return self._last(self._diary.looked, place)

    def watered(self, place: str) -> int | None:
        """When a place, or a place it lies in, was watered."""
        return self._last(self._diary.watered, place)

    def checked(self, line: str) -> int | None:
        """When a drip line or hose was looked at."""
        return max((deed.on for deed in self._diary.by_fixture.get(line, []) if deed.did == "look"), default=None)

    def _last(self, done: dict[str, list[Deed]], place: str) -> int | None:
        return max((done[outer][-1].on for outer in self._ground.path(place) if done.get(outer)), default=None)

    def all_of(self, place: str, know: Knowledge) -> tuple[Any, ...]:
        """All that the standing jobs of a place hang on."""
        lines = [(line.id, line.connected, line.since, line.drained, self.checked(line.id)) for line in lines_in(place, know)]
        return (
            self.since.get(place),
            self.stored.get(place),
            self.planted.get(place),
            self.looked(place),
            self.watered(place),
            lines,
        )


def _earliest(table: dict[str, int], key: str, day: int) -> None:
    if key not in table or day < table[key]:
        table[key] = day


def standing_work(id_: str, rounds: Rounds, know: Knowledge) -> list[Work]:
    """The standing jobs of a place, if something grows in it."""
    place = know.ground.places[id_]
    work: list[Work] = []
    if id_ in rounds.stored:
        work.append(_look_through(id_, rounds, know))
    if id_ not in rounds.since:
        return [job for job in work if not job.let_go]
    if place.house == id_ and place.cover in UNDER_COVER:
        work.append(_look_over(id_, rounds, know))
    if _watered_here(id_, know):
        work.extend(_watering(id_, rounds, know))
    return [job for job in work if not (job.let_go and job.repeat)]


def _look_over(place: str, rounds: Rounds, know: Knowledge) -> Work:
    every = int(know.standing.get("look_every") or 7)
    looked = rounds.looked(place)
    job, last = occurrence(f"{place}.over", None if looked is None else rolled(looked, every, know.today), know)
    name = know.ground.name(place) or place
    work = Work(
        id=job,
        verb="look",
        title=f"Look over {name}",
        lead=len("Look over"),
        subject=name,
        writes={"did": "look", "place": place},
        place=place,
        minutes=know.minutes("look"),
        repeat=every,
        hint="Under the leaves, at the tips, on the floor. Jot what you find.",
    )
    if last is None:
        start = max(rounds.since[place], know.today - every)
        why = "plants stand here, and nobody has looked over them yet"
        work.lower.append((start, why))
        work.aims.append((start, why))
        work.upper.append((start + every, why))
    else:
        why = f"every {every} days"
        work.lower.append((last + every - every // 3, why))
        work.aims.append((last + every, why))
        work.upper.append((last + every + every // 2, why))
    work.let_go = know.let_go_on(job) is not None
    return work


def _look_through(place: str, rounds: Rounds, know: Knowledge) -> Work:
    every = int(know.standing.get("store_every") or 21)
    looked = rounds.looked(place)
    since = rounds.stored[place] if looked is None or looked < rounds.stored[place] else looked
    job, last = occurrence(f"{place}.store", rolled(since, every, know.today), know)
    since = last if last is not None else since
    name = know.ground.name(place) or place
    work = Work(
        id=job,
        verb="look",
        title=f"Look through {name}",
        lead=len("Look through"),
        subject=name,
        writes={"did": "look", "place": place},
        place=place,
        minutes=know.minutes("look"),
        repeat=every,
        hint="One rotten takes the rest: out with it, and use first what has begun to soften, sprout or shrivel.",
    )
    why = f"what lies there is looked through every {every} days"
    work.lower.append((since + every - every // 3, why))
    work.aims.append((since + every, why))
    work.upper.append((since + every + every // 2, why))
    work.let_go = know.let_go_on(job) is not None
    return work


def _watered_here(place: str, know: Knowledge) -> bool:
    """Whether watering is a matter of this very place: it says how it is watered, or it is a house under cover."""
    it = know.ground.places[place]
    if it.watering is not None:
        return it.watering != "none"
    says = any(know.ground.places[outer].watering is not None for outer in it.path[1:])
    return it.house == place and it.cover in UNDER_COVER and not says


def lines_in(place: str, know: Knowledge) -> list[Fixture]:
    """Drip lines and hoses in a place and all that lies in it."""
    return [
        fixture
        for fixture in know.ground.fixtures.values()
        if fixture.sort in WATER_LINES and fixture.place is not None and know.ground.inside(fixture.place, place)
    ]


def _watering(place: str, rounds: Rounds, know: Knowledge) -> list[Work]:
    lines = lines_in(place, know)
    connected = [line for line in lines if line.connected]
    if connected:
        return [_check(line, know, rounds) for line in connected]
    if not lines and know.ground.places[place].watering in ("drip", "soaker"):
        return []
    month = civil(know.today)[1]
    by_month = (know.standing.get("water_every") or {}).get(know.ground.cover(place)) or [0] * 12
    every = by_month[month - 1]
    if not every:
        return []
    work = [_by_hand(place, every, rounds, know)]
    if place in rounds.planted:
        work.extend(_connect(line, rounds.planted[place], know) for line in lines)
    return work


def _by_hand(place: str, every: int, rounds: Rounds, know: Knowledge) -> Work:
    watered = rounds.watered(place)
    job, last = occurrence(f"{place}.water", None if watered is None else rolled(watered, every, know.today), know)
    name = know.ground.name(place) or place
    work = Work(
        id=job,
        verb="water",
        title=f"Water {name} by hand",
        lead=len("Water"),
        subject=name,
        writes={"did": "water", "place": place},
        place=place,
        minutes=know.minutes("water"),
        repeat=every,
    )
    day = know.today if last is None else max(last + every, know.today)
    often = "every day" if every == 1 else f"every {every} days"
    why = f"{often} until the watering is connected"
    work.lower.append((day if last is None else last + every, why))
    work.aims.append((day, why))
    work.upper.append((day, why))
    work.let_go = know.let_go_on(job) is not None
    return work


def _connect(line: Fixture, since: int, know: Knowledge) -> Work:
    first, aim, last = know.standing.get("connect") or [0, 7, 14]
    job = f"{line.id}.connect"
    work = Work(
        id=job,
        verb="connect",
        title=f"Connect {line.name}",
        lead=len("Connect"),
        subject=line.name,
        writes={"did": "connect", "fixture": line.id, "place": line.place},
        place=line.place,
        fixture=line.id,
        minutes=know.minutes("connect"),
        cautions=["electricity"] if "electricity" in (know.rulebook.get("cautions") or {}) else [],
        hint="This can wait: until it is done, water by hand.",
    )
    why = "plants stand here to stay, and are watered by hand"
    if line.drained is not None:
        since, why = (
            max(since, _refill(line.drained, know)),
            f"drained {spoken(line.drained)}: filled again when hard frosts are over",
        )
    work.lower.append((since + first, why))
    work.aims.append((since + aim, why))
    work.upper.append((since + last, why))
    work.let_go = know.let_go_on(job) is not None
    return work


def _refill(drained: int, know: Knowledge) -> int:
    """The first day after it was drained on which a line is filled again."""
    refill = ((know.rulebook.get("upkeep") or {}).get("drain") or {}).get("refill")
    if refill is None:
        return drained
    days = [in_season(f"0-{refill}", year_of(drained) + more) for more in (0, 1)]
    return next(day for day in days if day > drained)


def _check(line: Fixture, know: Knowledge, rounds: Rounds) -> Work:
    every = int(know.standing.get("check_every") or 7)
    since = rounds.checked(line.id)
    if since is None or (line.since is not None and line.since > since):
        since = line.since if line.since is not None else know.today
    job, last = occurrence(f"{line.id}.check", rolled(since, every, know.today), know)
    since = last if last is not None else since
    work = Work(
        id=job,
        verb="look",
        title=f"Check {line.name}",
        lead=len("Check"),
        subject=line.name,
        writes={"did": "look", "fixture": line.id, "place": line.place},
        place=line.place,
        fixture=line.id,
        minutes=know.minutes("check"),
        repeat=every,
        hint="Every emitter drips, nothing leaks, the timer runs.",
    )
    why = f"checked every {every} days"
    work.lower.append((since + every - every // 3, why))
    work.aims.append((since + every, why))
    work.upper.append((since + every + every // 2, why))
    work.let_go = know.let_go_on(job) is not None
    return work
