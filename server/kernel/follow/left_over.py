"""Left over or too few: one quiet job for spare plants, and a call to sow again when too few came up."""

from __future__ import annotations

from typing import Any

from server.kernel.follow.knowledge import Knowledge, slack
from server.kernel.follow.ways import Way, way
from server.kernel.read.batch_state import BatchState, sow_on
from server.kernel.read.days import in_season, iso, spoken
from server.kernel.read.turns import at_climate
from server.kernel.read.words import plants_words
from server.kernel.when.gaps import emergence_days
from server.kernel.when.work import Work


def spare_work(state: BatchState, count: int, know: Knowledge) -> Work:
    job = f"{state.id}.spare"
    below = [key for key, held in state.cells.items() if held > 0 and key[1] != ""]
    place = min(below, key=lambda key: (state.is_seed(key[0]), key[0], key[1]))[1] if below else None
    writes: dict[str, Any] = {"did": "lose", "batch": state.id}
    if place is not None:
        writes["place"] = place
    work = Work(
        id=job,
        verb="decide",
        title=f"Decide on {count} spare {plants_words(state.know, count).split(' ', 1)[1]}",
        lead=len("Decide"),
        subject=state.variety_name,
        writes=writes,
        batch=state.id,
        place=place,
        count=count,
        minutes=know.minutes("spare"),
        low=True,
        hint="Where do they go? Some kept against losses do no harm.",
    )
    gone = writes | {"count": count}
    work.ways = [
        way("given", "Given away", [gone | {"answer": "given"}]),
        way("kept", "Kept", [], changes=let_it_go(job, know)["changes"]),
        way("compost", "Composted", [gone | {"answer": "compost"}]),
    ]
    work.notes.append(f"{state.want} were wanted, and {count} more stand")
    work.let_go = know.let_go_on(job) is not None
    return work


def last_sowing_day(state: BatchState) -> int | None:
    """The last day on which sowing this batch is still of use."""
    if not state.steps:
        return None
    window = at_climate(state.steps[0].get("window"), state.climate, state.cover)
    last = (window.get("last") or window.get("by")) if window else None
    return in_season(last, state.year) if last else None


def last_day_to_begin(state: BatchState, know: Knowledge) -> int | None:
    """The last day on which to begin a batch: of the household's own day and the one that still pays, the later."""
    own, pays = sow_on(state), last_sowing_day(state)
    days = [day for day in (None if own is None else own + int(slack(know)[1]), pays) if day is not None]
    return max(days) if days else None


def asked_for(state: BatchState) -> int:
    """For how many days past its last one the first step is still asked about."""
    missed = state.steps[0].get("missed")
    return int(missed[1]) if missed else 0


def too_late(state: BatchState, know: Knowledge) -> Work | None:
    """For a while after the last day on which a batch could be begun, the question what to do instead."""
    last = last_day_to_begin(state, know)
    if last is None or not last < know.today <= last + asked_for(state):
        return None
    if state.begun and (not state.none_up() or state.final_step in state.believed):
        return None
    job = f"{state.id}.too_late"
    sows = state.steps[0]["verb"] == "sow"
    many = plants_words(state.know, None)
    raised = len(state.moving) > 1 and state.steps[state.final_step]["verb"] == "plant_out" and state.path.comes_up
    what = f"{'sow' if sows else 'plant'} {many}"
    work = Work(
        id=job,
        verb="decide",
        title=f"Too late here this year to {what}: " + ("buy plants, or let go" if raised else "let go"),
        lead=len("Too late"),
        subject=state.variety_name,
        writes={"did": "decide", "batch": state.id},
        batch=state.id,
        place=state.final,
        minutes=know.minutes("spare"),
    )
    if raised:
        work.ways.append(bought(state))
    work.ways.append(let_it_go(job, know))
    work.lower.append((last + 1, f"the last day to {what} here that still pays was {spoken(last)}"))
    work.aims.append((last + 1, ""))
    work.upper.append((last + asked_for(state), "then it is not asked any more"))
    work.let_go = know.let_go_on(job) is not None
    return work


def look_by(state: BatchState, know: Knowledge) -> int | None:
    """The day by which all that will come up has come up; None before sowing and for what is not sown."""
    if len(state.moving) < 2 or state.steps[state.moving[1]]["verb"] != "emerge":
        return None
    sown = state.last[state.moving[0]]
    return None if sown is None else sown + sown_days(state, sown, know)[2]


def too_few(state: BatchState, know: Knowledge) -> int:
    """How many plants are missing once the time for coming up is over. 0 while there is hope or nothing to be done."""
    if any(state.moved[index] > 0 for index in state.moving[2:]) or state.frosted_on is not None:
        return 0
    if len(state.moving) < 2 or state.first[state.moving[1]] is None or state.moving[1] in state.believed:
        return 0  # nobody looked: nothing is known to have failed
    by, last_useful = look_by(state, know), last_sowing_day(state)
    if by is None or know.today <= by or (last_useful is not None and last_useful < know.today):
        return 0
    came = state.moved[state.moving[1]]
    if state.want is None or not state.counted:
        return 1 if came == 0 else 0
    return max(state.want - came, 0)


def bought(state: BatchState) -> Way:
    """Plants are bought in place of those that were to be raised."""
    return way("buy", "Buy plants", [{"did": "decide", "batch": state.id, "answer": "buy", "count": state.want}])


def let_it_go(job: str, know: Knowledge) -> Way:
    """It is not wanted any more."""
    fields = {"let_go": True, "let_go_on": iso(know.today)}
    return way("let_go", "Let go", [], changes=[{"kind": "job", "id": job, "fields": fields}])


def resow_dates(work: Work, state: BatchState, know: Knowledge) -> None:
    """Turn a sowing's work into the call to sow again."""
    by, last_useful = look_by(state, know), last_sowing_day(state)
    if by is None:
        return
    came = state.moved[state.moving[1]] if state.counted else 0
    work.title = f"Sow again {plants_words(state.know, None)}: " + (f"only {came} up" if came else "none up")
    work.lead = len("Sow again")
    if state.none_up() and len(state.moving) > 2 and state.steps[state.final_step]["verb"] == "plant_out":
        work.ways = [bought(state), let_it_go(work.id, know)]
    resow = int((know.rulebook.get("slack") or {}).get("resow", 3))
    sown = state.last[state.moving[0]]
    work.lower.append((by, f"sown {spoken(sown if sown is not None else by)}, all that will come has come"))
    work.aims.append((by + resow, "the sooner the better"))
    if last_useful is not None:
        work.upper.append((last_useful, "the last useful day to sow"))


def resow_id(state: BatchState) -> str:
    """The id of the call to sow again after the last sowing."""
    return f"{state.id}.resow.{iso(state.last[state.moving[0]] or 0)}"


def sown_days(state: BatchState, sown: int, know: Knowledge) -> tuple[int, int, int]:
    """Days to the first, most and all seedlings of what was sown on a day, where it stands."""
    place, table = state.main_place(), state.know.get("emerge_days") or {}
    return emergence_days(table, know.ground.heated_to_c(place), know.ground.climate(place), sown, know.heat)
