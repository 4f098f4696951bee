"""Join: what waits on what between batches: the crop before, the crop beside, and fixtures in the way."""

from __future__ import annotations

from dataclasses import dataclass, field

from server.kernel.follow.knowledge import Knowledge
from server.kernel.read.batch_state import BatchState
from server.kernel.read.days import spoken
from server.kernel.read.ground import Fixture
from server.kernel.read.words import past, plants_words
from server.kernel.when.work import Block, Link, Work

CLEAR_AHEAD_DAYS = 3
"""A bed is cleared so long before what follows may go in, and no sooner while it still gives."""
TAKE_DOWN_AHEAD_DAYS = 21
"""A fixture may stand until so many days before it is in the way of anything."""


@dataclass(slots=True)
class Together:
    """Work that hangs together, with its batches and the fixtures in its way, both in order of id."""

    work: list[Work]
    states: list[BatchState]
    fixtures: list[Fixture]
    by_batch: dict[str, list[Work]] = field(init=False)

    def __post_init__(self) -> None:
        self.by_batch = {}
        for job in self.work:
            if job.batch is not None:
                self.by_batch.setdefault(job.batch, []).append(job)

    def of(self, batch: str) -> list[Work]:
        """The work of a batch."""
        return self.by_batch.get(batch, [])


def join(together: Together, know: Knowledge) -> list[tuple[Fixture, list[Work]]]:
    """The taking down that some work calls for, by fixture; links between batches are added to the work itself.

    The work has been through a forward pass alone, so that it is known from when each fixture is in the way.
    """
    for state in together.states:
        own = [job for job in together.of(state.id) if job.goes_in]
        if own:
            _follow_crop(state, own, together, know)
            _stand_beside(state, own, together, know)
    return [(fixture, _take_down(fixture, together, know)) for fixture in together.fixtures]


def _follow_crop(state: BatchState, own: list[Work], together: Together, know: Knowledge) -> None:
    before = know.states.get(state.fields.get("follows") or "")
    if before is None or before.id == state.id or before.over_on is not None:
        return
    stands = [place for place in before.places() if state.final and know.ground.inside(place, state.final)]
    planted = before.final_step >= 0 and before.moved[before.final_step] > 0
    if planted and not stands:
        return
    clear = next((job for job in together.of(before.id) if job.verb == "clear"), None)
    many = plants_words(before.know, None)
    name = before.variety_name if many in before.variety_name else f"{before.variety_name} {many}"
    if clear is not None and clear.hurried:
        wanted = min(job.own_from for job in own)
        clear.lower = [*clear.hurried, (wanted - CLEAR_AHEAD_DAYS, f"{state.variety_name} may go in from {spoken(wanted)}")]
    for job in own:
        if clear is not None:
            job.links.append(Link(on=clear.id, path=False, text=f"{name} cleared"))
        elif stands:
            where = know.ground.name(stands[0])
            job.blocks.append(Block("batch", before.id, f"{name} still in {where}"))


def _stand_beside(state: BatchState, own: list[Work], together: Together, know: Knowledge) -> None:
    beside = know.states.get(state.fields.get("near") or "")
    if beside is None or beside.id == state.id:
        return
    for planting in together.of(beside.id):
        if planting.goes_in:
            many = plants_words(beside.know, None)
            for job in own:
                job.links.append(Link(on=planting.id, path=False, text=f"{many} {past('plant_out')}"))


def in_the_way(know: Knowledge) -> list[Fixture]:
    """Fixtures that stand up and are in the way of something, in order of id."""
    return [it for it in know.ground.fixtures.values() if it.up and it.in_way_of and it.place is not None]


def holds_up(fixture: Fixture, job: Work, know: Knowledge) -> bool:
    """Whether a fixture is in the way of some work."""
    return job.verb in fixture.in_way_of and know.ground.inside(job.place, fixture.place or "")


def stands_on(state: BatchState, fixture: Fixture) -> bool:
    """Whether plants of a batch stand on a fixture."""
    return state.over_on is None and any(where == fixture.id and count > 0 for (_, where), count in state.cells.items())


def _take_down(fixture: Fixture, together: Together, know: Knowledge) -> list[Work]:
    """Work to take down a fixture that is in the way, and to move off it what nothing else will."""
    held_up = [job for job in together.work if holds_up(fixture, job, know)]
    if not held_up:
        return []
    removal = _removal(fixture, min(job.own_from for job in held_up), know)
    for job in held_up:
        job.links.append(Link(on=removal.id, path=False, text=f"{fixture.name} taken down"))
    return [removal, *_clear_off(fixture, removal, held_up, together, know)]


def _removal(fixture: Fixture, wanted: int, know: Knowledge) -> Work:
    job = f"{fixture.id}.remove"
    removal = Work(
        id=job,
        verb="remove",
        title=f"Take down {fixture.name}",
        lead=len("Take down"),
        subject=fixture.name,
        writes={"did": "remove", "fixture": fixture.id, "place": fixture.place},
        place=fixture.place,
        fixture=fixture.id,
        minutes=know.minutes("remove"),
    )
    removal.lower.append((wanted - TAKE_DOWN_AHEAD_DAYS, f"in the way from {spoken(wanted)}"))
    removal.let_go = know.let_go_on(job) is not None
    return removal


def _clear_off(fixture: Fixture, removal: Work, held_up: list[Work], together: Together, know: Knowledge) -> list[Work]:
    """Links of a removal to whatever takes the plants off, and work to move those that nothing else will."""
    moves: list[Work] = []
    for state in together.states:
        if not stands_on(state, fixture):
            continue
        here = sum(count for (_, where), count in state.cells.items() if where == fixture.id)
        many = plants_words(state.know, None)
        planting = [job for job in together.of(state.id) if job.goes_in and job not in held_up]
        left_over = [job for job in together.of(state.id) if job.low and job.place == fixture.id]
        for job in planting:
            if job.count != 0:
                text = f"{plants_words(state.know, job.count)} {past('plant_out')}"
                removal.links.append(Link(on=job.id, path=False, text=text))
        for job in left_over:
            removal.links.append(Link(on=job.id, path=False, text=f"{job.count} spare {many} moved"))
        if not planting and not left_over:
            move = _move_off(state, fixture, here, know)
            move.lower = list(removal.lower)
            removal.links.append(Link(on=move.id, path=False, text=f"{plants_words(state.know, move.count)} moved off"))
            moves.append(move)
    return moves


def _move_off(state: BatchState, fixture: Fixture, here: int, know: Knowledge) -> Work:
    count = here if state.counted else None
    house = know.ground.house(fixture.id)
    job = f"{fixture.id}.off.{state.id}"
    writes = {"did": "move", "batch": state.id, "place": fixture.id}
    if house is not None:
        writes["to_place"] = house
    move = Work(
        id=job,
        verb="move",
        title=f"Move {plants_words(state.know, count)} off {fixture.name}",
        lead=len("Move"),
        subject=state.variety_name,
        writes=writes,
        batch=state.id,
        place=fixture.id,
        count=count,
        minutes=know.minutes("move"),
    )
    move.let_go = know.let_go_on(job) is not None
    return move
