"""Green manure: sown where a bed stands empty long enough before the next crop, and dug in before that comes."""

from __future__ import annotations

from typing import Any

from server.kernel.follow.knowledge import Knowledge
from server.kernel.follow.lay_out import let_slip
from server.kernel.follow.ways import way
from server.kernel.read.batch_state import BatchState, sow_on
from server.kernel.read.days import in_season, season_at, spoken
from server.kernel.read.turns import at_climate
from server.kernel.when.work import Work

RAISING_DAYS = 14
"""Between two steps whose gap is not told in days: seed that comes up, heat that is gathered."""
TOGETHER_DAYS = 42
"""What can only be sown so long after the first of them is another choice, later. [d]"""
NEVER = 400
"""A bed that nothing is planned for is free for so long. [d]"""


def free_until(place: str, know: Knowledge) -> tuple[int, str | None] | None:
    """The day the next crop comes into a place and its family; None while something stands there."""
    coming: list[tuple[int, str | None]] = []
    for state in know.states.values():
        if state.over_on is not None or not state.steps:
            continue
        if any(know.ground.inside(where, place) for where in state.places()):
            return None
        if state.final is not None and know.ground.inside(state.final, place) and not let_slip(state, know):
            coming.append((goes_in(state, know), state.know.get("family")))
    return min(coming, key=lambda one: one[0], default=(know.today + NEVER, None))


def goes_in(state: BatchState, know: Knowledge) -> int:
    """The day on which a batch is likely to come into its ground: by its windows, else by the days between its steps."""
    day = know.today
    for index, step in enumerate(state.steps):
        done, window = state.last[index], at_climate(step.get("window"), state.climate, state.cover)
        own = sow_on(state) if index == 0 else None
        if done is not None:
            day = done
        elif own is not None:
            day = own
        elif window and window.get("aim"):
            day = in_season(window["aim"], state.year)
        else:
            links = step.get("after") or []
            gap = links[0].get("aim") or links[0].get("min") if links and links[0].get("heat") is None else None
            day += RAISING_DAYS if gap is None else gap
        if step.get("stage") and step.get("where") == "final":
            break
    return max(day, know.today)


def sow_work(id_: str, rule: dict[str, Any], place: str, know: Knowledge) -> Work | None:
    """What may be sown in a bed that stands empty, best first; None where it does not, or nothing would stand long enough."""
    free = free_until(place, know)
    if free is None:
        return None
    dig = free[0] - rule["dig"]["before"]
    kinds = []
    for kind in rule["kinds"]:
        opens, closes = season_at(kind["sow"], know.today)
        first, last = max(opens, know.today), min(closes, dig - kind["stands"][0])
        if first <= last and kind["family"] != free[1]:
            kinds.append((abs(first + kind["stands"][1] - dig), kind["name"], kind, first))
    if not kinds:
        return None
    soonest = min(first for _, _, _, first in kinds)
    kinds = [one for one in kinds if one[3] <= soonest + TOGETHER_DAYS]
    kinds.sort(key=lambda one: (one[3], one[0], one[1]))
    name = know.ground.name(place) or place
    writes = {"did": rule["verb"], "place": place}
    area = know.ground.places[place].area_dm2
    work = _bare(id_, rule, "green manure", name, writes)
    work.low = True
    work.ways = [
        way(kind["name"].replace(" ", "_"), _seed(kind, area), [writes | {"answer": kind["name"]}]) for _, _, kind, _ in kinds
    ]
    until = f"free until about {spoken(free[0])}" if free[1] is not None else "nothing is planned here"
    work.lower.append((kinds[0][3], until))
    work.aims.append((kinds[0][3], until))
    work.let_go = know.let_go_on(id_) is not None
    return work


def _seed(kind: dict[str, Any], area_dm2: int | None) -> str:
    """`Phacelia, 8 g`."""
    name = kind["name"][:1].upper() + kind["name"][1:]
    return name if area_dm2 is None else f"{name}, {-(-kind['each'] * area_dm2 // 1000)}\u00a0g"


def dig_work(id_: str, rule: dict[str, Any], place: str, know: Knowledge) -> Work | None:
    """Digging in what was sown: three weeks before the next crop, or when it has stood long enough; None where none stands."""
    sown = [deed for deed in know.diary.by_job.get(id_, []) if deed.did == rule["verb"]]
    if not sown:
        return None
    job, last = f"{id_}.dig", sown[-1]
    dug = max((deed.on for deed in know.diary.by_job.get(job, [])), default=None)
    if dug is not None and dug >= last.on:
        return None
    kind = next((one for one in rule["kinds"] if one["name"] == last.answer), rule["kinds"][0])
    dig, name = rule["dig"], know.ground.name(place) or place
    work = _bare(job, dig, kind["name"], name, {"did": dig["verb"], "place": place})
    sown_words = f"{kind['name']} sown {spoken(last.on)}"
    ends = last.on + kind["stands"][1]
    free = free_until(place, know)
    limits = [(ends, f"{sown_words}: later it grows woody")]
    if free is not None and free[1] is not None:
        limits.append((free[0] - dig["before"], f"the next crop comes about {spoken(free[0])}"))
    by = min(limits, key=lambda one: one[0])
    first = min(last.on + kind["stands"][0], by[0])
    work.lower.append((first, sown_words))
    work.aims.append(by)
    work.upper.append(by)
    work.let_go = know.let_go_on(job) is not None
    return work


def _bare(job: str, said: dict[str, Any], manure: str, name: str, writes: dict[str, Any]) -> Work:
    return Work(
        id=job,
        verb=said["verb"],
        title=said["say"].replace("{manure}", manure).replace("{place}", name),
        lead=said["lead"],
        subject=name,
        writes=writes,
        place=writes["place"],
        minutes=said["minutes"][0],
        each_m2=said["minutes"][1],
        cautions=list(said["cautions"]),
        hint=said["hint"],
    )
