"""Watch: after a sighting, the steps to take and the looks that follow until it is clear."""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import Any

from server.kernel.follow.knowledge import Knowledge
from server.kernel.read.days import iso, spoken
from server.kernel.read.deeds import Deed, level_rank
from server.kernel.read.words import days_words, plants_words
from server.kernel.when.work import Work

SHARED_DAYS = 30
"""Plants that stood in the same house within so many days before a sighting get one look of their own."""
SHARE_BY_DAYS = 3
MANY = 2
"""Rank of the level from which all mild steps are taken at once."""


@dataclass(slots=True)
class Watch:
    """One trouble on one batch (or in one place), from the first sighting until it is clear."""

    id: str
    found: str
    batch: str | None
    place: str | None
    opened: int
    last_found: int
    last_look: int
    level: str
    rung: int
    finds: int = 1
    looks: int = 1
    clear: list[int] = field(default_factory=list)
    treated: int | None = None


def watches(know: Knowledge) -> list[Watch]:
    """Every watch that is open today, in order of opening."""
    care: dict[str, Any] = know.rulebook.get("care") or {}
    open_: dict[tuple[str, str], Watch] = {}
    for deed in know.diary.found:
        if deed.found is None or deed.found not in care:
            continue
        subject = deed.batch or deed.place
        if subject is None:
            continue
        key = (subject, deed.found)
        _close_if_over(open_, key, deed.on, care[deed.found])
        watch = open_.get(key)
        if deed.did == "treat":
            if watch is not None:
                watch.treated = deed.on
        elif level_rank(deed.level) > 0:
            open_[key] = _seen(watch, deed)
        elif watch is not None:
            watch.looks += 1
            watch.last_look = deed.on
            watch.clear.append(deed.on)
    for key in list(open_):
        _close_if_over(open_, key, know.today, care[key[1]])
    alive = [watch for watch in open_.values() if _alive(watch, know)]
    alive.sort(key=lambda watch: (watch.opened, watch.id))
    return alive


def _seen(watch: Watch | None, deed: Deed) -> Watch:
    level = deed.level or "few"
    if watch is None:
        place = deed.place if deed.batch is None else None
        return Watch(deed.ids[0], deed.found or "", deed.batch, place, deed.on, deed.on, deed.on, level, rung=0)
    watch.finds += 1
    watch.looks += 1
    if level_rank(level) >= level_rank(watch.level):
        watch.rung += 1
    watch.level = level
    watch.last_found = watch.last_look = deed.on
    watch.clear = []
    return watch


def ends_on(watch: Watch, care: dict[str, Any]) -> int:
    """The last day of the watch if nothing more is seen."""
    return watch.last_found + int(care["watch_days"])


def _clear_enough(watch: Watch, care: dict[str, Any]) -> bool:
    clear = watch.clear
    return len(clear) >= int(care["clear_looks"]) and clear[-1] - clear[0] >= int(care["clear_gap"])


def _close_if_over(open_: dict[tuple[str, str], Watch], key: tuple[str, str], day: int, care: dict[str, Any]) -> None:
    watch = open_.get(key)
    if watch is not None and (_clear_enough(watch, care) or day > ends_on(watch, care)):
        del open_[key]


def _alive(watch: Watch, know: Knowledge) -> bool:
    if watch.batch is None:
        return bool(know.ground.path(watch.place))
    state = know.states.get(watch.batch)
    return state is not None and state.over_on is None


def watch_work(watch: Watch, others: list[str], know: Knowledge) -> list[Work]:
    """First steps, next looks, and one look at each of the other batches that shared the house."""
    care = know.rulebook["care"][watch.found]
    work: list[Work] = []
    if care["steps"] and (watch.treated is None or watch.treated < watch.last_found):
        work.append(_treat(watch, care, know))
    work.append(_look(watch, care, know))
    work.extend(_share(watch, care, other, know) for other in others)
    return work


def sharers(open_watches: list[Watch], know: Knowledge) -> dict[str, list[str]]:
    """For each watch the batches that shared its house and were not looked at since, each with the first watch it is due to."""
    due: set[tuple[str, str]] = set()
    found: dict[str, list[str]] = {}
    for watch in open_watches:
        found[watch.id] = []
        for other in _sharers(watch, know.rulebook["care"][watch.found], know):
            looked = any(
                deed.did == "look" and deed.found == watch.found and deed.on >= watch.opened
                for deed, _ in know.states[other].deeds
            )
            if not looked and (other, watch.found) not in due:
                due.add((other, watch.found))
                found[watch.id].append(other)
    return found


def _subject(watch: Watch, know: Knowledge) -> tuple[str, str, str | None]:
    """Words for the plants or the place, the subject's name, and where."""
    if watch.batch is not None:
        state = know.states[watch.batch]
        return plants_words(state.know, None), state.variety_name, state.main_place() or state.final
    name = know.ground.name(watch.place) or ""
    return name, name, watch.place


def _writes(watch: Watch, did: str, place: str | None) -> dict[str, Any]:
    writes: dict[str, Any] = {"did": did, "found": watch.found}
    if watch.batch is not None:
        writes["batch"] = watch.batch
    if place is not None:
        writes["place"] = place
    return writes


def _treat(watch: Watch, care: dict[str, Any], know: Knowledge) -> Work:
    words, subject, place = _subject(watch, know)
    steps = _steps_now(watch, care["steps"])
    cautions = [caution for step in steps for caution in step.get("cautions") or []]
    says = [f"{at + 1}. {step['say']}" if len(steps) > 1 else step["say"] for at, step in enumerate(steps)]
    job = f"{watch.id}.treat.{watch.finds}"
    work = Work(
        id=job,
        verb="treat",
        title=f"Treat {words} for {care['name']}",
        lead=len("Treat"),
        subject=subject,
        writes=_writes(watch, "treat", place),
        batch=watch.batch,
        place=place,
        minutes=sum(int(step.get("minutes") or 10) for step in steps),
        cautions=list(dict.fromkeys(cautions)),
        hint=". ".join(says) or None,
    )
    why = f"{watch.level} seen {spoken(watch.last_found)}"
    work.lower.append((watch.last_found, why))
    work.aims.append((watch.last_found, why))
    work.upper.append((watch.last_found + 1, why))
    work.let_go = know.let_go_on(job) is not None
    return work


def _steps_now(watch: Watch, steps: list[dict[str, Any]]) -> list[dict[str, Any]]:
    """What to do now: the mildest step, the next each time a look says no better; of many, all mild ones in order at once."""
    at = min(watch.rung, len(steps) - 1)
    if level_rank(watch.level) < MANY:
        return steps[at : at + 1]
    mild = [index for index, step in enumerate(steps) if "spray" not in (step.get("cautions") or [])]
    return steps[: max(at if watch.rung > 0 else 0, mild[-1] if mild else 0) + 1]


def _look(watch: Watch, care: dict[str, Any], know: Knowledge) -> Work:
    words, subject, place = _subject(watch, know)
    first, last = care["recheck"]
    job = f"{watch.id}.look.{iso(watch.last_look)}"
    start = watch.last_look + first
    if watch.clear and len(watch.clear) + 1 >= care["clear_looks"]:
        start = max(start, watch.clear[0] + care["clear_gap"])
    work = Work(
        id=job,
        verb="look",
        title=f"Look for {care['name']} on {words}" if watch.batch else f"Look for {care['name']}, {words}",
        lead=len("Look"),
        subject=subject,
        writes=_writes(watch, "look", place) | {"level": "none"},
        batch=watch.batch,
        place=place,
        minutes=know.minutes("watch"),
        hint=f"look {watch.looks + 1}, last seen {spoken(watch.last_found)}",
    )
    why = f"looked {spoken(watch.last_look)}, look again after {days_words(first)}"
    work.lower.append((start, why))
    work.aims.append((start, why))
    work.upper.append((start + last - first, why))
    work.notes.append(
        f"watched until {spoken(ends_on(watch, care))}, or {care['clear_looks']} clear looks "
        f"{days_words(care['clear_gap'])} apart"
    )
    work.let_go = know.let_go_on(job) is not None
    return work


def _sharers(watch: Watch, care: dict[str, Any], know: Knowledge) -> list[str]:
    if watch.batch is None:
        return []
    houses = _houses_of(watch.batch, watch.opened, know)
    return [
        state.id
        for state in know.states.values()
        if state.id != watch.batch
        and state.over_on is None
        and state.crop in care["hosts"]
        and houses & _houses_of(state.id, watch.opened, know)
    ]


def _houses_of(batch: str, day: int, know: Knowledge) -> set[str]:
    houses: set[str] = set()
    for stay in know.states[batch].stays:
        house = know.ground.house(stay.place)
        over = stay.until is not None and stay.until < day - SHARED_DAYS
        if house is not None and stay.since <= day and not over:
            houses.add(house)
    return houses


def _shared_where(watch: Watch, other: str, know: Knowledge) -> str:
    """`in the Lean-to`, `in Top beds`: where both stood."""
    both = _houses_of(watch.batch or "", watch.opened, know) & _houses_of(other, watch.opened, know)
    names = [know.ground.name(house) or house for house in sorted(both, key=lambda house: (know.ground.walk(house), house))]
    return f"in {names[0]}" if names else "beside them"


def _share(watch: Watch, care: dict[str, Any], other: str, know: Knowledge) -> Work:
    state = know.states[other]
    first_words, _, _ = _subject(watch, know)
    place = state.main_place() or state.final
    job = f"{watch.id}.share.{other}"
    writes: dict[str, Any] = {"did": "look", "found": watch.found, "batch": other, "level": "none"}
    if place is not None:
        writes["place"] = place
    work = Work(
        id=job,
        verb="look",
        title=f"Look for {care['name']} on {plants_words(state.know, None)}",
        lead=len("Look"),
        subject=state.variety_name,
        writes=writes,
        batch=other,
        place=place,
        minutes=know.minutes("watch"),
        hint=f"they stood with {first_words} {_shared_where(watch, other, know)} in the last month",
    )
    why = f"{care['name']} on {first_words} {spoken(watch.opened)}"
    work.lower.append((watch.opened, why))
    work.aims.append((watch.opened, why))
    work.upper.append((watch.opened + SHARE_BY_DAYS, why))
    work.let_go = know.let_go_on(job) is not None
    return work
