"""Progress: which steps of a batch's path are done, which are open, and for how many plants."""

from __future__ import annotations

from dataclasses import dataclass

from server.kernel.read.batch_state import BatchState

UNCOUNTED = ("emerge", "install", "look", "clear", "water", "note", "connect", "harden_off", "decide")
"""Verbs whose tick is for the whole batch: nobody counts how many were looked at."""


@dataclass(slots=True)
class Progress:
    """How one step stands. `since` is the day it was done or passed; `count` is what is still to do, None for all."""

    open: bool
    since: int | None
    count: int | None


def progress(state: BatchState, index: int) -> Progress:
    """How a step of a batch stands."""
    if index in state.closed:
        return Progress(False, state.last[index], None)
    if state.steps[index].get("stage"):
        return _moving(state, index)
    return _not_moving(state, index)


def passed_on(state: BatchState, index: int) -> int | None:
    """The first day on which a later step was done."""
    days = [day for day in state.first[index + 1 :] if day is not None]
    return min(days) if days else None


def _moving(state: BatchState, index: int) -> Progress:
    step = state.steps[index]
    moved, want = state.moved[index], state.want
    since = state.last[index] if state.last[index] is not None else passed_on(state, index)
    later_begun = any(state.moved[later] > 0 for later in state.moving if later > index)
    begun = moved > 0 or state.first[index] is not None
    enough = want is not None and moved >= want
    if index == state.moving[0]:
        done = begun and (later_begun or not state.counted or want is None or enough)
        return Progress(not done, since if begun else None, _first_count(state, moved))
    if step["verb"] == "emerge":
        done = begun and (later_begun or not state.counted or want is None or enough or state.seeds() == 0)
        return Progress(not done, since if begun else None, None)
    below = state.live(below=index)
    done = begun and (not state.counted or enough or below == 0)
    count = None if step["verb"] in UNCOUNTED else _to_move(state, index, moved, below)
    return Progress(not done, since if begun else None, count)


def _first_count(state: BatchState, moved: int) -> int | None:
    if not state.counted or state.want is None:
        return None
    return max(state.want - moved, 0)


def _to_move(state: BatchState, index: int, moved: int, below: int) -> int | None:
    """How many plants a moving step is open for. Before pricking out begins it is all that came up."""
    want = state.want
    if not state.counted:
        return None
    target = want if want is None or index == state.final_step else with_reserve(state, want)
    wanted = target - moved if target is not None else None
    ready = state.live(at_least=state.path.before[index] or 0, below=index)
    if ready > 0 or below > 0:
        there = ready or below
        return there if wanted is None else min(wanted, there)
    sown = state.seeds()
    wanted = want - moved if want is not None else None
    if wanted is None:
        return sown or None
    return min(wanted, sown) if sown > 0 else wanted


def _not_moving(state: BatchState, index: int) -> Progress:
    step = state.steps[index]
    since = state.last[index]
    before = state.path.before[index]
    reached = state.live(at_least=before) if before is not None else 0
    count = None if step["verb"] in UNCOUNTED or not state.counted else (reached or _to_come(state))
    if step.get("every") is not None:
        return Progress(True, since, count)
    if since is not None:
        left = reached - state.done_count[index]
        if step["verb"] == "pick":
            left = reached
        if state.ticked_whole[index] or step["verb"] in UNCOUNTED or not state.counted or left <= 0:
            return Progress(False, since, None)
        return Progress(True, since, left)
    if step["verb"] == "decide" and step.get("before") is not None:
        bound = state.path.by_id.get(step["before"])
        if bound is not None and state.first[bound] is not None:
            return Progress(False, state.first[bound], None)  # what it was to be decided for is done
    later_moved = any(state.moved[later] > 0 for later in state.moving if later > index)
    later_done = passed_on(state, index)
    if later_moved or (step["verb"] == "look" and later_done is not None):
        return Progress(False, later_done, None)
    return Progress(True, None, count)


def _to_come(state: BatchState) -> int | None:
    """Plants that something will be done to once they have come so far."""
    there = state.live()
    return min(there, state.want) if there > 0 and state.want is not None else state.want


def spare(state: BatchState) -> int:
    """Plants left over once a step after coming up has the wanted number. 0 where nobody counts or wants a number."""
    want = state.want
    if want is None or not state.counted or state.over_on is not None:
        return 0
    beyond = [index for index in state.moving[1:] if state.steps[index]["verb"] != "emerge"]
    enough = [index for index in beyond if state.moved[index] >= want]
    if not enough or any(index in state.believed for index in state.moving):
        return 0
    below = state.live(below=enough[-1])
    if enough[-1] == state.final_step:
        return max(0, state.live() - want if not _harvested(state) else 0, below)
    brought_on = state.live(at_least=enough[-1])
    return below + (brought_on - want if brought_on > with_reserve(state, want) else 0)


def with_reserve(state: BatchState, want: int) -> int:
    """Plants to bring on for so many wanted: some more against losses, until they are planted."""
    return want + -(-want * int(state.know.get("reserve_pct") or 0) // 100)


def _harvested(state: BatchState) -> bool:
    return state.picked > 0
