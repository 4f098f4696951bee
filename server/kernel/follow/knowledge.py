"""Knowledge: what every layer of laying out needs to hand: rulebook, ground, batches, changes to jobs and the day."""

from __future__ import annotations

from typing import Any

from server.kernel.read.days import iso, parse
from server.kernel.read.ground import Ground
from server.kernel.read.reading import Reading
from server.kernel.when.heat import Heat


class Knowledge:
    """What every layer of laying out needs to hand."""

    def __init__(self, reading: Reading) -> None:
        self.reading = reading
        self.rulebook = reading.rulebook
        self.ground = reading.ground
        self.states = reading.states
        self.diary = reading.diary
        self.changes = reading.changes
        """Fields of `job` records by id: put off, let go, whom it is for."""
        self.upkeep = reading.upkeep
        """Work chosen beside that of plants: fields of `upkeep` records by id."""
        self.today = reading.today
        self.heat = Heat(self.rulebook)
        self.standing: dict[str, Any] = self.rulebook.get("standing") or {}
        self.raising = raising_place(self.ground)

    def let_go_on(self, job: str) -> int | None:
        """The day a job was let go; None if it was not."""
        fields = self.changes.get(job)
        if fields is None or fields.get("let_go") is not True:
            return None
        return parse(fields["let_go_on"]) if fields.get("let_go_on") else self.today

    def minutes(self, name: str) -> int:
        """Minutes of a standing job."""
        return int((self.standing.get("minutes") or {}).get(name, 5))


def slack(know: Knowledge) -> list[int]:
    """Days before and after a household's own sowing day within which it is still that sowing."""
    given = (know.rulebook.get("slack") or {}).get("sow_on")
    return given if given else [7, 14]


def rolled(last: int, every: int, today: int) -> int:
    """The last day of a round that nobody told of lately: had it gone on in time each turn, so that none is long past."""
    turns = -(-(today - every - every // 2 - last) // every)
    return last + max(0, turns) * every


def occurrence(prefix: str, last: int | None, know: Knowledge) -> tuple[str, int | None]:
    """The id of the next turn of something that repeats, and the day the last one was done or let go."""
    while True:
        job = prefix if last is None else f"{prefix}.{iso(last)}"
        let_go = know.let_go_on(job)
        if let_go is None or let_go >= know.today or (last is not None and let_go <= last):
            return job, last
        last = let_go


def raising_place(ground: Ground) -> str | None:
    """Where seed is raised when nobody has said: the first propagator, else bench, else shelf, in walking order."""
    for sort in ("propagator", "bench", "shelf"):
        found = [place for place in ground.places.values() if place.sort == sort]
        if found:
            return min(found, key=lambda place: (ground.walk(place.house), place.walk, place.id)).id
    return None
