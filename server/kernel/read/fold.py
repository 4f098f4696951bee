"""Fold: the diary laid over the batches, giving what stands where and how far along its path it has come."""

from __future__ import annotations

from server.kernel.read.batch_state import NOWHERE, BatchState, Stay
from server.kernel.read.days import season_at, year_of
from server.kernel.read.deeds import Deed
from server.kernel.read.ground import WATER_LINES, Fixture, Ground

CHANGES_CELLS = ("move", "lose", "clear", "pick")
"""Verbs beside the moving steps after which plants may stand elsewhere, or no more."""


def fold(state: BatchState, deeds: list[Deed], ground: Ground, today: int) -> None:
    """Lay a batch's own deeds over it, in place. deeds: in order."""
    for deed in deeds:
        _do_batch(state, deed, ground)
    if state.year < 0:
        state.year = year_of(state.deeds[0][0].on if state.deeds else today)


def fold_fixture(fixture: Fixture, deeds: list[Deed]) -> None:
    """Lay a fixture's own deeds over it, in place. deeds: in order."""
    fixture.up, fixture.connected, fixture.since, fixture.drained = fixture.first_up, False, None, None
    for deed in deeds:
        if deed.did == "install":
            fixture.up, fixture.since = True, deed.on
        elif deed.did == "remove":
            fixture.up, fixture.connected, fixture.since = False, False, deed.on
        elif deed.did == "connect":
            fixture.up, fixture.connected, fixture.since = True, fixture.sort in WATER_LINES, deed.on
            fixture.drained = None
        elif deed.did == "drain":
            fixture.connected, fixture.drained = False, deed.on


def _do_batch(state: BatchState, deed: Deed, ground: Ground) -> None:
    step = step_of(state, deed)
    state.deeds.append((deed, step))
    state.begun = state.begun or deed.did not in BEFORE_IT
    if deed.job is not None and deed.job.startswith(f"{state.id}.frost."):
        state.survived = deed.on
    if step is not None and step == _first_of(state) and state.over_on is not None:
        _begin_again(state)
    if deed.believed and step is not None:
        if state.first[step] is not None and state.steps[step].get("every") is None:
            state.closed.add(step)
            return
        state.believed.setdefault(step, deed.on)
    elif step is not None and step == _first_of(state) and state.none_up():
        _give_up_seed(state)
    if deed.did == "decide":
        _decided(state, deed, step)
        return
    if step is not None:
        if state.first[step] is None:
            state.first[step] = deed.on
        state.last[step] = deed.on
        state.done_count[step] += deed.count or 0
        if deed.count is None and (deed.job is not None or deed.did != "pick"):
            state.ticked_whole[step] = True
    plants_went = True
    if deed.did == "pot_up":
        state.pot_l = deed.pot_l if deed.pot_l is not None else (state.steps[step].get("pot_l") if step is not None else None)
    if step is not None and state.steps[step].get("stage"):
        _move_on(state, deed, step)
    elif deed.did not in CHANGES_CELLS:
        return
    elif deed.did == "move":
        _move_place(state, deed, ground)
    elif deed.did == "lose":
        taken = _take_away(state, deed.count, deed.place, ground, least_first=True)
        state.lost += taken
        if deed.answer == FROST and state.final_step >= 0:
            state.moved[state.final_step] = max(0, state.moved[state.final_step] - taken)
    elif deed.did == "clear":
        _take_away(state, deed.count, deed.place, ground, least_first=False)
    elif deed.did == "pick":
        plants_went = _pick(state, deed, step, ground)
    if plants_went:
        _note_stays(state, deed.on)
    standing = growing = False
    for (how_far, _), count in state.cells.items():
        if count > 0:
            standing = True
            growing = growing or not state.is_seed(how_far)
    only_seed = standing and not growing
    nothing_left = not standing or (only_seed and state.lost + state.picked > 0 and _up(state))
    if deed.did == "clear" and state.final_step >= 0 and state.moved[state.final_step] > 0:
        nothing_left = state.live(at_least=state.final_step) == 0  # what was left over goes with the last plants
    if deed.did in ("clear", "lose", "pick") and nothing_left:
        state.cells.clear()
        _note_stays(state, deed.on)
        state.over_on = deed.on
        state.frost_lost = deed.answer == FROST
    elif standing and not only_seed:
        state.over_on = None


BEFORE_IT = ("order", "divide")
"""What is done before there are plants."""
FROST = "frost"
"""The answer by which plants are lost to frost: others may be planted in their place."""
BOUGHT = "buy"
"""The answer by which plants are bought in place of what was to be raised."""


def _decided(state: BatchState, deed: Deed, step: int | None) -> None:
    """An answer stands until another is given. Plants that are bought stand as if raised, to be planted."""
    if step is not None:
        state.answers[state.steps[step]["id"]] = deed.answer or ""
        state.first[step] = state.last[step] = deed.on
    if deed.answer != BOUGHT or len(state.moving) < 2:
        return
    raised = state.moving[-2]
    for key in [key for key in state.cells if key[0] <= raised]:
        del state.cells[key]
    many = deed.count if deed.count is not None else state.want
    if many is None:
        state.counted = False
    _advance(state, many if many is not None else 1, raised, None, deed.to_place or deed.place)
    state.first[raised] = state.last[raised] = deed.on


def _first_of(state: BatchState) -> int | None:
    return state.moving[0] if state.moving else None


def _give_up_seed(state: BatchState) -> None:
    """None had come of what was sown before: that seed is given up, and the look was about it and not about what follows."""
    look = state.moving[1]
    state.first[look] = state.last[look] = None
    state.ticked_whole[look] = False
    for key in [key for key in state.cells if state.is_seed(key[0])]:
        del state.cells[key]


def _begin_again(state: BatchState) -> None:
    """What is sown after a batch was over begins it anew; what was picked and lost before stays told."""
    size = len(state.steps)
    state.moved, state.done_count, state.ticked_whole = [0] * size, [0] * size, [False] * size
    state.first, state.last = [None] * size, [None] * size
    state.believed.clear()
    state.closed.clear()
    state.over_on, state.frost_lost = None, False


def _up(state: BatchState) -> bool:
    return any(state.first[index] is not None for index in state.moving[1:])


def step_of(state: BatchState, deed: Deed) -> int | None:
    """Which step of the path a deed did, by its job or else by its verb; None for what is not on the path."""
    if deed.job is not None and deed.job.startswith(state.id + "."):
        name = deed.job[len(state.id) + 1 :].split(".")[0]
        index = state.path.by_id.get(name)
        if index is not None or name != "resow":
            return index
    verb = deed.did
    if verb in ("look", "decide"):
        return None  # a look round and an answer are no steps of the path unless their job says so
    if verb == "pot_up" and _finishes(state, deed):
        verb = "plant_out"
    same = state.path.by_verb.get(verb, [])
    if len(same) <= 1:
        return same[0] if same else None
    if verb == "pot_up":
        return _pot_step(state, deed, same)
    seasonal = [index for index in same if state.steps[index].get("season") and (state.ends_on(index) or deed.on) >= deed.on]
    if seasonal:
        return _in_its_season(state, seasonal, deed.on)
    for index in same:
        if state.steps[index].get("every") is not None or (state.first[index] is None and _reached(state, index)):
            return index
    return same[-1]


def _in_its_season(state: BatchState, same: list[int], on: int) -> int:
    """Of steps with weeks of the year of their own the one whose weeks they are, else whose come next."""
    return min(same, key=lambda index: max(season_at(state.steps[index]["season"], on)[0], on))


def _finishes(state: BatchState, deed: Deed) -> bool:
    pot_l = state.fields.get("pot_l")
    return pot_l is not None and deed.pot_l is not None and deed.pot_l >= pot_l


def _pot_step(state: BatchState, deed: Deed, same: list[int]) -> int:
    if deed.pot_l is not None:
        for index in same:
            if state.steps[index].get("pot_l") is not None and state.steps[index]["pot_l"] >= deed.pot_l:
                return index
        return same[-1]
    for index in same:
        if state.first[index] is None:
            return index
    return same[-1]


def _reached(state: BatchState, index: int) -> bool:
    before = state.path.before[index]
    return before is None or state.moved[before] > 0


def _whole(state: BatchState, deed: Deed) -> int | None:
    """How many a moving deed moved; None for all there are."""
    if not state.counted:
        return None
    return deed.count


def _move_on(state: BatchState, deed: Deed, step: int) -> None:
    dest = deed.to_place or deed.place
    came_from = deed.place if deed.to_place else None
    verb = state.steps[step]["verb"]
    if step == state.moving[0] and not any(state.moved):
        if deed.count is None and state.want is None:
            state.counted = False
        count = deed.count if deed.count is not None and state.counted else (state.want or 1)
        if verb == "sow":
            state.sown += count if state.counted else 0
    elif verb == "sow" and step == state.moving[0]:
        count = deed.count if deed.count is not None and state.counted else 0
        state.sown += count
    else:
        _advance(state, _whole(state, deed), step, came_from, dest)
        return
    where = dest or NOWHERE
    state.cells[(step, where)] = state.cells.get((step, where), 0) + count
    _count_moved(state, -1, step, count)


def _count_moved(state: BatchState, came: int, step: int, count: int) -> None:
    for index in state.moving:
        if came < index <= step:
            state.moved[index] += count


def _advance(state: BatchState, count: int | None, step: int, came_from: str | None, dest: str | None) -> None:
    """Bring plants on to a step, the furthest on first; more than there were is taken at its word.

    Once seedlings go on from where they came up, seed that has not come up is given up.
    """
    rows = sorted(
        (key for key, held in state.cells.items() if held > 0 and key[0] < step),
        key=lambda key: (-key[0], key[1] != came_from, key[1]),
    )
    if state.steps[step]["verb"] != "emerge" and any(not state.is_seed(key[0]) for key in rows):
        for key in [key for key in state.cells if state.is_seed(key[0])]:
            del state.cells[key]
        rows = [key for key in rows if not state.is_seed(key[0])]
    left = count
    for key in rows:
        take = state.cells[key] if left is None else min(left, state.cells[key])
        if take == 0:
            break
        _leave(state, key, take)
        where = (step, dest or key[1])
        state.cells[where] = state.cells.get(where, 0) + take
        _count_moved(state, key[0], step, take)
        if left is not None:
            left -= take
    if left is None and not rows and not any(state.moved):
        if state.want is None:
            state.counted = False
        left = state.want or 1
    if left:
        where = (step, dest or NOWHERE)
        state.cells[where] = state.cells.get(where, 0) + left
        _count_moved(state, -1, step, left)


def _leave(state: BatchState, key: tuple[int, str], count: int) -> None:
    state.cells[key] -= count
    if state.cells[key] == 0:
        del state.cells[key]


def _move_place(state: BatchState, deed: Deed, ground: Ground) -> None:
    dest = deed.to_place or deed.place
    came_from = deed.place if deed.to_place else None
    if dest is None:
        return
    left = _whole(state, deed)
    for key in _rows(state, came_from, ground, least_first=True):
        if key[1] == dest:
            continue
        take = state.cells[key] if left is None else min(left, state.cells[key])
        if take == 0:
            break
        _leave(state, key, take)
        state.cells[(key[0], dest)] = state.cells.get((key[0], dest), 0) + take
        if left is not None:
            left -= take


def _rows(state: BatchState, place: str | None, ground: Ground, least_first: bool) -> list[tuple[int, str]]:
    """Cells in a place (and all that lies in it), seeds last, then by how far they have come."""
    rows = [key for key, held in state.cells.items() if held > 0 and (place is None or ground.inside(key[1], place))]
    sign = 1 if least_first else -1
    rows.sort(key=lambda key: (state.is_seed(key[0]), sign * key[0], key[1]))
    return rows


def _take_away(state: BatchState, count: int | None, place: str | None, ground: Ground, least_first: bool) -> int:
    """Plants that are there no more. Returns how many were. All of them where no number is said."""
    rows = _rows(state, place, ground, least_first)
    if not rows:
        rows = _rows(state, None, ground, least_first)
    left = count if state.counted else None
    taken = 0
    for key in rows:
        take = state.cells[key] if left is None else min(left, state.cells[key])
        if take == 0:
            break
        _leave(state, key, take)
        taken += take
        if left is not None:
            left -= take
    return taken


def _pick(state: BatchState, deed: Deed, step: int | None, ground: Ground) -> bool:
    """Whether plants went with it; a fruit picked leaves its plant standing."""
    state.picked += deed.count or 0
    state.picked_g += deed.weight_g or 0
    if step is None:
        return False
    if state.steps[step].get("every") is not None:
        return state.steps[step].get("whole") is True and _pick_whole(state, deed, ground)
    whole = deed.count is None and deed.job is not None
    if state.counted and deed.count is not None:
        _take_away(state, deed.count, deed.place, ground, least_first=False)
    elif whole:
        _take_away(state, None, deed.place, ground, least_first=False)
    return True


def _pick_whole(state: BatchState, deed: Deed, ground: Ground) -> bool:
    """What is taken whole is gone with its number; told on its own without number or weight it is all of it."""
    if not state.counted or deed.believed:
        return False
    if deed.count is not None:
        _take_away(state, deed.count, deed.place, ground, least_first=False)
        return True
    if deed.job is None and deed.weight_g is None:
        _take_away(state, None, deed.place, ground, least_first=False)
        return True
    return False


def _note_stays(state: BatchState, on: int) -> None:
    here = state.places()
    for stay in state.stays:
        if stay.until is None and stay.place not in here:
            stay.until = on
    standing = [stay.place for stay in state.stays if stay.until is None]
    state.stays.extend(Stay(place, on) for place in here if place not in standing)
