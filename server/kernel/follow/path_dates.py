"""Path dates: when each step of a batch's path may, should and must be done, by its own window and by what it follows."""

from __future__ import annotations

from typing import Any, NamedTuple

from server.kernel.follow.knowledge import Knowledge, slack
from server.kernel.follow.progress import Progress, passed_on, progress
from server.kernel.read.batch_state import BatchState, sow_on
from server.kernel.read.days import in_season, spoken
from server.kernel.read.turns import at_climate
from server.kernel.read.words import past
from server.kernel.when.gaps import gap, gap_words, heat_band, read_sooner
from server.kernel.when.work import Link, Work

UNFIT = {
    "short": "in a usual year the season here is too short for it to ripen: more cover, an earlier variety, bought plants, "
    "or pick green",
    "hot": "in a usual year it is too hot here for it to do well: shade, a variety that stands heat, or another crop",
    "days": "in a usual year days here are too short for it to make bulbs: take short-day sets or seed, begun in autumn",
    "cold": "in a usual winter it is killed here before it can be picked: more cover, a hardier variety, or plants bought "
    "in spring",
    "winter": "in a usual winter it is killed here: more cover, a hardier kind, or a pot that is brought in",
    "mild": "in a usual winter it is too mild here for it to flower well: take a kind that needs little cold",
    "cool": "in a usual year summers here are too cool to ripen it: a wall in the sun, or glass",
}
"""Said of what is begun though it will hardly come to a picking, by the reason."""
NEAR_END_DAYS = 10
"""What follows something repeated is not asked for until so shortly before its end, unless somebody waits for it."""


class Earlier(NamedTuple):
    """How each step stands, and the last day of those that repeat."""

    standings: list[Progress]
    ends: list[int | None]


def own_dates(work: Work, state: BatchState, index: int, know: Knowledge) -> None:
    step = state.steps[index]
    own = sow_on(state) if index == 0 else None
    if own is not None:
        before, after = slack(know)
        chosen = f"your own day, {spoken(own)}"
        work.lower.append((own - before, chosen))
        work.aims.append((own, chosen))
        work.upper.append((own + after, chosen))
    else:
        window = at_climate(step.get("window"), state.climate, state.cover)
        if window:
            for key, bounds in (("from", work.lower), ("aim", work.aims), ("by", work.upper)):
                if window.get(key):
                    bounds.append((in_season(window[key], state.year), window.get("why") or "the calendar"))
            _last_useful(work, window, state, know)
    gate = step.get("gate")
    if gate is None:
        return
    heated = know.ground.heated_to_c(state.final)
    if heated is not None and heated >= gate["night_c"]:
        work.notes.append(f"kept at {heated}\u00a0°C, so no waiting for warm nights")
        return
    opens = at_climate(gate["at"], state.climate, state.cover)
    if opens:
        work.gate = (in_season(opens, state.year), gate["text"])
        work.gate_id = f"{step['id']}.{state.cover}"
    sure = (gate.get("sure") or {}).get(state.climate)
    if sure:
        work.notes.append(f"nine nights in ten stay above {gate['least_c']}\u00a0°C from {spoken(in_season(sure, state.year))}")
    says = (know.rulebook.get("house_says") or {}).get(state.climate)
    if says:
        work.notes.append(says)


def ends_before(work: Work, state: BatchState, index: int, ends: list[int | None], know: Knowledge) -> None:
    """What is done once has its last day too; and decisions that it is to be made by are bound to it."""
    step = state.steps[index]
    if step.get("until") and step.get("every") is None and ends[index] is not None:
        ended = ends[index] or 0
        if work.missed[0] == "lapses":
            work.last_useful = ended  # of use as long as what it keeps off is about
            return
        if work.first_picking:
            work.not_after = ended  # what will not ripen in time is not hurried for
        work.aims = [(min(day, ended), why) for day, why in work.aims]
        work.upper.append((ended, f"in by {spoken(ended)}"))
    for earlier, other in enumerate(state.steps[:index]):
        if other.get("before") == step["id"] and progress(state, earlier).open:
            work.links.append(Link(on=f"{state.id}.{other['id']}", path=False, soft=True))


def _last_useful(work: Work, window: dict[str, Any], state: BatchState, know: Knowledge) -> None:
    """Past its own last day work may still pay: that day is told, and until then it is asked for."""
    if window.get("unfit"):
        work.notes.append(UNFIT[window["unfit"]])
    if not window.get("last"):
        return
    work.last_useful = in_season(window["last"], state.year)
    by = in_season(window["by"], state.year) if window.get("by") else work.last_useful
    if by < know.today <= work.last_useful:
        work.notes.append(
            f"last day to {'sow' if work.verb == 'sow' else 'plant'} here that still pays: {spoken(work.last_useful)}"
        )


def path_dates(work: Work, state: BatchState, index: int, earlier: Earlier, know: Knowledge) -> None:
    by_id, before = state.path.by_id, state.path.before[index]
    links = [link for link in state.steps[index].get("after") or [] if link["step"] in by_id]
    if not links and before is not None:
        links = [{"step": state.steps[before]["id"], "min": 0, "aim": None, "max": None}]
    for link in links:
        if by_id[link["step"]] < index:
            _follow(work, state, link | {"keeps": state.steps[index].get("keeps")}, earlier, know)


def _follow(work: Work, state: BatchState, link: dict[str, Any], earlier: Earlier, know: Knowledge) -> None:
    """Dates that come from an earlier step: from the day it was done, or through a link while it is open."""
    on = state.path.by_id[link["step"]]
    step, stands = state.steps[on], earlier.standings[on]
    joined = _link(state, link, on, link["keeps"], know)
    let_go = know.let_go_on(joined.on)
    if step.get("every") is not None:
        _follow_repeat(work, state, joined, (on, earlier.ends[on]), know)
    elif stands.since is not None or let_go is not None:
        since = stands.since if stands.since is not None else (let_go or know.today)
        _bound(work, joined, since, _done_words(state, on, since), know)
    elif stands.open:
        work.links.append(joined)
    else:
        passed = passed_on(state, on)
        if passed is not None:
            _bound(work, joined, passed, f"{past(step['verb'])} by {spoken(passed)}", know)


def _done_words(state: BatchState, on: int, since: int) -> str:
    """`up 3 May`, or that nobody told of it."""
    done = past(state.steps[on]["verb"])
    return f"{done} about {spoken(since)}, by the calendar" if on in state.believed else f"{done} {spoken(since)}"


def _follow_repeat(work: Work, state: BatchState, link: Link, repeated: tuple[int, int | None], know: Knowledge) -> None:
    """What comes after something repeated counts from its end; it may be done from the last time on."""
    on, ends = repeated
    step, last = state.steps[on], state.last[on]
    if last is None and (ends is None or know.today <= ends):
        span = step.get("span")
        if span is not None and ends is not None:  # whichever end comes first ends it
            link.latest = (ends + (link.aim or 0), ends + (link.max or link.aim or 0))
        if span is not None and link.aim is not None:
            link.aim += span
            link.max = None if link.max is None else link.max + span
        if span is None and ends is not None:
            _at_the_end(work, link, step, ends)
            link.aim = link.max = None
        work.links.append(link)
        return
    done = last if last is not None else (ends or know.today)
    soonest = (done + link.min, f"{past(step['verb'])} {spoken(done)}")
    work.hurried.append(soonest)
    if ends is None or ends - NEAR_END_DAYS <= soonest[0]:
        work.lower.append(soonest)
    else:
        work.lower.append((ends - NEAR_END_DAYS, f"{past(step['verb'])} until about {spoken(ends)}"))
    if ends is not None:
        _at_the_end(work, link, step, ends)


def _at_the_end(work: Work, link: Link, step: dict[str, Any], ends: int) -> None:
    ending = f"{past(step['verb'])} until {spoken(ends)}"
    work.aims.append((ends + (link.aim or 0), ending))
    if link.max is not None:
        work.upper.append((ends + link.max, ending))


def _link(state: BatchState, link: dict[str, Any], on: int, keeps: int | None, know: Knowledge) -> Link:
    place = state.main_place(below=on + 1) or know.raising or state.final
    if state.steps[0].get("where") == "final":
        place = state.main_place() or state.final
    heat = link.get("heat")
    return Link(
        on=f"{state.id}.{state.steps[on]['id']}",
        min=link.get("min") or 0,
        aim=link.get("aim"),
        max=link.get("max"),
        heat=f"{state.climate}|{heat}" if heat else None,
        emergence=(state.know.get("emerge_days") or {}) if link.get("emergence") else None,
        cover=know.ground.climate(place),
        heated_to_c=know.ground.heated_to_c(place),
        text=past(state.steps[on]["verb"]),
        why=link.get("why") or "",
        keeps=keeps,
        least=link.get("least") or 0,
    )


def _bound(work: Work, link: Link, since: int, done: str, know: Knowledge) -> None:
    days = gap(link, since, know.heat)
    sooner = read_sooner(link, since, days, know.heat)
    for day, moved, bounds in zip(days, sooner, (work.lower, work.aims, work.upper), strict=True):
        if day is not None:
            bounds.append((day, gap_words(link, done, day - since, moved)))
    band = heat_band(link, since, days[1], know.today, know.heat)
    if band is not None:
        work.notes.append(f"most likely between {spoken(band[0])} and {spoken(band[1])}, four years in five")
