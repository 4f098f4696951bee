"""Lay out: the open steps of a batch as work, with the bounds and links its path gives them."""

from __future__ import annotations

from typing import Any, NamedTuple

from server.kernel.follow.after_frost import ended_by_frost, frost_work, in_place_of_lost
from server.kernel.follow.knowledge import Knowledge, at_climate, occurrence, slack
from server.kernel.follow.left_over import (
    asked_for,
    last_day_to_begin,
    last_sowing_day,
    look_by,
    resow_dates,
    resow_id,
    spare_work,
    too_few,
    too_late,
)
from server.kernel.follow.needs import needs_of
from server.kernel.follow.progress import Progress, passed_on, progress, spare
from server.kernel.follow.ways import Way, way
from server.kernel.read.batch_state import BatchState, sow_on
from server.kernel.read.days import in_season, iso, spoken, year_of
from server.kernel.read.words import days_words, fill, litres, past
from server.kernel.when.gaps import gap, gap_words, heat_band, read_sooner
from server.kernel.when.work import Link, Work

ASK_AGAIN_DAYS = 7
"""What still gives is asked about again after so long."""
TOO_SHORT = (
    "in a usual year the season here is too short for it to ripen: more cover, an earlier variety, bought plants, or pick green"
)
"""Said of what is begun though it will hardly be ready before cold, dark or frost ends it."""
NEAR_END_DAYS = 10
"""What follows something repeated is not asked for until so shortly before its end, unless somebody waits for it."""


class Earlier(NamedTuple):
    """How each step stands, and the last day of those that repeat."""

    standings: list[Progress]
    ends: list[int | None]


def let_slip(state: BatchState, know: Knowledge) -> bool:
    """Whether a batch was never begun, and its day is so long gone that nobody is asked for it any more."""
    if state.begun:
        return False
    last = last_day_to_begin(state, know)
    if last is None:
        return state.year < year_of(know.today) - 1
    return last + asked_for(state) < know.today and not _still_asked(state, know)


def _still_asked(state: BatchState, know: Knowledge) -> bool:
    """Whether somebody said that it is still to be begun."""
    return (know.changes.get(f"{state.id}.{state.steps[0]['id']}") or {}).get("still") is True


def lay_out(state: BatchState, know: Knowledge) -> list[Work]:
    """The open work of a batch, and one quiet job for plants left over."""
    if not state.steps or let_slip(state, know):
        return []
    if state.over_on is not None:
        return _in_place_of_lost(state, know)
    standings = [progress(state, index) for index in range(len(state.steps))]
    ends = [_ends_on(state, index) for index in range(len(state.steps))]
    late = too_late(state, know)
    if late is not None:
        return [late]
    frost = frost_work(state, know)
    ended = ended_by_frost(state)
    if ended and frost is not None:
        return [frost]
    work: list[Work] = []
    none_up = state.none_up()
    for index, step in enumerate(state.steps):
        if none_up and step["verb"] != "emerge":
            continue
        if ended and step["verb"] not in ("pick", "clear"):
            continue
        job = _step_work(state, index, standings, ends, know)
        if job is not None:
            work.append(job)
    if frost is not None:
        work.append(frost)
    left_over = spare(state)
    if left_over > 0:
        work.append(spare_work(state, left_over, know))
    missing = too_few(state, know)
    if missing > 0:
        count = missing if state.counted and state.want is not None else None
        again = _bare(state, state.moving[0], resow_id(state), count, know)
        resow_dates(again, state, know)
        again.let_go = know.let_go_on(again.id) is not None
        work.append(again)
    return work


def _in_place_of_lost(state: BatchState, know: Knowledge) -> list[Work]:
    """What is asked of a batch that is over: nothing, but for a while after a frost what comes in its place."""
    if not state.frost_lost or state.over_on is None or not state.moving:
        return []
    again = _bare(state, state.moving[0], f"{state.id}.again.{iso(state.over_on)}", state.want, know)
    again.step = None
    found = in_place_of_lost(state, again, know)
    return [] if found is None else [found]


def first_work(state: BatchState, know: Knowledge) -> Work | None:
    """The work that begins a batch, whether or not it is still asked for; None where it is begun."""
    if state.begun or not state.steps:
        return None
    standings = [progress(state, index) for index in range(len(state.steps))]
    return _step_work(state, 0, standings, [_ends_on(state, index) for index in range(len(state.steps))], know)


def _ends_on(state: BatchState, index: int) -> int | None:
    """The last day of a repeating step, as far as it is known."""
    step = state.steps[index]
    days: list[int] = []
    if step.get("until"):
        days.append(in_season(step["until"], state.year))
    first = state.first[index]
    if step.get("span") is not None and first is not None:
        days.append(first + step["span"])
    return min(days) if days else None


def _step_work(
    state: BatchState, index: int, standings: list[Progress], ends: list[int | None], know: Knowledge
) -> Work | None:
    step = state.steps[index]
    stands = standings[index]
    every = step.get("every")
    prefix = f"{state.id}.{step['id']}"
    if not stands.open:
        return None
    job, last = prefix, None
    if every is not None:
        if ends[index] is not None and know.today > (ends[index] or 0):
            return None
        job, last = occurrence(prefix, state.last[index], know)
    if step["verb"] == "emerge" and _past_hope(state, index, know):
        return None
    work = _bare(state, index, job, stands.count, know)
    work.let_go = know.let_go_on(job) is not None
    work.still = (know.changes.get(job) or {}).get("still") is True
    work.repeat = every
    work.not_after = ends[index] if every is not None else None
    work.season = step.get("season")
    if last is not None and every is not None:
        again = f"{past(step['verb'])} {spoken(last)}, every {days_words(every)}"
        work.lower.append((last + every - every // 3, again))
        work.aims.append((last + every, again))
        work.upper.append((last + every + every // 2, again))
    else:
        if step["verb"] == "emerge":
            _resow_note(work, state, know)
        _own_dates(work, state, index, know)
        _path_dates(work, state, index, Earlier(standings, ends), know)
        _ends_before(work, state, index, ends, know)
    if step["verb"] == "clear" and not ended_by_frost(state) and _still_gives(state, index, ends, know):
        work.ways = _ask_before_clearing(work, know)
    if ended_by_frost(state) and state.frosted_on is not None:
        frost = f"frost on {spoken(state.frosted_on)}: pick what is left and clear"
        work.lower = [(state.frosted_on, frost)]
        work.aims = [(state.frosted_on + (1 if step["verb"] == "clear" else 0), frost)]
        work.upper = [(state.frosted_on + 3, frost)]
        work.gate = work.season = None
    return work


def _still_gives(state: BatchState, index: int, ends: list[int | None], know: Knowledge) -> bool:
    """Whether what is to be cleared is being picked, and its picking not over."""
    for at, step in enumerate(state.steps[:index]):
        end = ends[at]
        if step["verb"] == "pick" and step.get("every") is not None and state.first[at] is not None:
            return end is None or know.today <= end
    return False


def _ask_before_clearing(work: Work, know: Knowledge) -> list[Way]:
    """What still gives is not ended by a tick unasked."""
    later = {"put_off_until": iso(know.today + ASK_AGAIN_DAYS), "put_off_on": iso(know.today)}
    return [
        way("over", "Clear all of it", [dict(work.writes)]),
        way("gives", "It still gives", [], changes=[{"kind": "job", "id": work.id, "fields": later}]),
    ]


def _past_hope(state: BatchState, index: int, know: Knowledge) -> bool:
    """Somebody looked, and the time for more to come up is over."""
    by = look_by(state, know)
    return state.first[index] is not None and by is not None and know.today > by


def _resow_note(work: Work, state: BatchState, know: Knowledge) -> None:
    by, last_useful = look_by(state, know), last_sowing_day(state)
    if by is not None and last_useful is not None and last_useful >= know.today:
        work.notes.append(f"if none are up by {spoken(by)}, sow again: the last useful day is {spoken(last_useful)}")
    if state.counted:
        told = {"did": "emerge", "batch": state.id}
        work.ways = [
            way("all", "All up", [told | {"count": state.seeds()}]),
            way("some", "Some", [told], asks="count"),
            way("none", "None", [told | {"count": 0}]),
        ]


def _bare(state: BatchState, index: int, job: str, count: int | None, know: Knowledge) -> Work:
    """The work without its dates: what it says, writes, takes and needs."""
    step = state.steps[index]
    verb, place = step["verb"], _place_of(state, index, know)
    seeds = None
    if verb == "sow" and state.path.comes_up:
        seeds = know.seeds_for(state, count)
        count = seeds
    say, lead, pot_l = step["say"], step["lead"], step.get("pot_l")
    finishing = state.fields.get("pot_l") if index == state.final_step else None
    if finishing is not None:
        say, lead, pot_l = f"Stand {{plants}} in {litres(finishing)} L pots", len("Stand"), finishing
    title = fill(say, state.know, count, know.ground.name(state.final), seeds)
    writes: dict[str, Any] = {"did": verb, "batch": state.id}
    if step.get("stage"):
        came_from = state.main_place(below=index)
        if place is not None:
            writes["to_place"] = place
            if came_from is not None and came_from != place:
                writes["place"] = came_from
        if pot_l is not None:
            writes["pot_l"] = pot_l
    elif place is not None:
        writes["place"] = place
    work = Work(
        id=job,
        verb=verb,
        title=title,
        lead=lead,
        subject=state.variety_name,
        writes=writes,
        batch=state.id,
        place=place,
        count=count,
    )
    work.step, work.missed = index, (step["missed"][0], step["missed"][1]) if step.get("missed") else ("stays", 0)
    work.raises = bool(step.get("stage")) and 0 < index < state.final_step
    work.goes_in = bool(step.get("stage")) and step.get("where") == "final"
    fixed, each = step.get("minutes") or [5, 0]
    work.minutes = fixed + -(-each * (count if count is not None else 10) // 10)
    work.needs = needs_of(step, count, finishing, state.stems())
    work.cautions = list(step.get("cautions") or [])
    work.hint = step.get("hint")
    if verb == "prick_out" and count is not None and state.live(below=index) > count:
        work.notes.append(f"{state.live(below=index) - count} more are up: spare")
    work.ways_out = step.get("ways_out")
    for answer in step.get("answers") or []:
        work.ways.append(way(answer["id"], answer["say"], [writes | {"answer": answer["id"]}]))
    return work


def _place_of(state: BatchState, index: int, know: Knowledge) -> str | None:
    """Where the work of a step is: where plants end, where they are raised, or where they stand now."""
    step = state.steps[index]
    before = state.path.before[index]
    if step.get("stage"):
        if step.get("where") == "final" and state.final is not None:
            return state.final
        here = state.main_place(below=index)
    else:
        here = state.main_place(at_least=before) if before is not None else None
    if here is not None:
        return here
    anywhere = state.main_place()
    if anywhere is not None:
        return anywhere
    after_planting = index >= state.final_step
    if (after_planting or step.get("where") == "final" or state.steps[0].get("where") == "final") and state.final:
        return state.final
    return know.raising or state.final


def _own_dates(work: Work, state: BatchState, index: int, know: Knowledge) -> None:
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
        work.notes.append(f"kept at {heated} °C, so no waiting for warm nights")
        return
    opens = at_climate(gate["at"], state.climate, state.cover)
    if opens:
        work.gate = (in_season(opens, state.year), gate["text"])
        work.gate_id = f"{step['id']}.{state.cover}"
    sure = (gate.get("sure") or {}).get(state.climate)
    if sure:
        work.notes.append(f"nine nights in ten stay above {gate['least_c']} °C from {spoken(in_season(sure, state.year))}")
    says = (know.rulebook.get("house_says") or {}).get(state.climate)
    if says:
        work.notes.append(says)


def _ends_before(work: Work, state: BatchState, index: int, ends: list[int | None], know: Knowledge) -> None:
    """What is done once has its last day too; and decisions that it is to be made by are bound to it."""
    step = state.steps[index]
    if step.get("until") and step.get("every") is None and ends[index] is not None:
        ended = ends[index] or 0
        work.aims = [(min(day, ended), why) for day, why in work.aims]
        work.upper.append((ended, f"in by {spoken(ended)}"))
    for earlier, other in enumerate(state.steps[:index]):
        if other.get("before") == step["id"] and progress(state, earlier).open:
            work.links.append(Link(on=f"{state.id}.{other['id']}", path=False, soft=True))


def _last_useful(work: Work, window: dict[str, Any], state: BatchState, know: Knowledge) -> None:
    """Past its own last day work may still pay: that day is told, and until then it is asked for."""
    if window.get("short"):
        work.notes.append(TOO_SHORT)
    if not window.get("last"):
        return
    work.last_useful = in_season(window["last"], state.year)
    by = in_season(window["by"], state.year) if window.get("by") else work.last_useful
    if by < know.today <= work.last_useful:
        work.notes.append(
            f"last day to {'sow' if work.verb == 'sow' else 'plant'} here that still pays: {spoken(work.last_useful)}"
        )


def _path_dates(work: Work, state: BatchState, index: int, earlier: Earlier, know: Knowledge) -> None:
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
