"""After a frost: what it did is asked, not known; then what to do while there is time."""

from __future__ import annotations

from server.kernel.follow.knowledge import Knowledge
from server.kernel.follow.left_over import bought, last_sowing_day, let_it_go
from server.kernel.follow.ways import way
from server.kernel.read.batch_state import BatchState
from server.kernel.read.days import iso, spoken
from server.kernel.read.fold import FROST
from server.kernel.read.words import plants_words
from server.kernel.when.gaps import gap
from server.kernel.when.work import Link, Work

LOOK_AGAIN_DAYS = (5, 7, 14)
"""After so many days what was cut back shows whether it comes again. From memory."""
REPLACE_DAYS = 21
"""For so long after a loss it is asked what comes in its place."""


def ended_by_frost(state: BatchState) -> bool:
    """Whether a frost has come that ends its kind."""
    return state.frosted_on is not None and state.know.get("frost_does", "kills") == "kills"


def has_borne(state: BatchState, know: Knowledge) -> bool:
    """Whether anything can have been picked before the frost: told, or due by then."""
    planted = state.first[state.final_step] if state.final_step >= 0 else None
    for index, step in enumerate(state.steps):
        if step["verb"] != "pick":
            continue
        if state.first[index] is not None or state.picked > 0:
            return True
        for link in step.get("after") or []:
            on = state.path.by_id.get(link["step"])
            since = planted if on == state.final_step else state.first[on] if on is not None else None
            if since is not None and state.frosted_on is not None:
                heat = link.get("heat")
                series = f"{state.climate}|{heat}" if heat else None
                first = gap(Link(on="", min=link.get("min") or 0, heat=series), since, know.heat)[0]
                return first <= state.frosted_on
    return False


def frost_work(state: BatchState, know: Knowledge) -> Work | None:
    """The question after a frost; None where none is open."""
    on = state.frosted_on
    if on is None:
        return None
    many = plants_words(state.know, None)
    does = state.know.get("frost_does", "kills")
    if does == "kills" and has_borne(state, know):
        return None
    place = state.main_place(at_least=state.final_step) or state.final
    where = know.ground.name(place)
    job = f"{state.id}.frost.{iso(on)}"
    titles = {
        "kills": (f"Are the {many} dead?", "Are"),
        "cuts back": (f"Look whether the {many} come again", "Look"),
        "spoils flowers": (f"Look into the flowers of the {many}", "Look"),
    }
    title, lead = titles[does]
    work = Work(
        id=job,
        verb="decide" if does == "kills" else "look",
        title=title,
        lead=len(lead),
        subject=state.variety_name,
        writes={"did": "look", "batch": state.id} | ({} if place is None else {"place": place}),
        batch=state.id,
        place=place,
        minutes=know.minutes("look"),
    )
    why = f"frost on {spoken(on)}" + (f", {where}" if where else "")
    first, aim, last = (0, 0, 3) if does == "kills" else LOOK_AGAIN_DAYS
    work.lower.append((on + first, why))
    work.aims.append((on + aim, why))
    work.upper.append((on + last, why))
    if does == "kills":
        _ask_if_dead(work, state, place, know)
    elif does == "cuts back":
        work.hint = "Frost blackens the tops, and they come again from below. Earth up, and cover the tips on frosty nights."
    else:
        work.hint = "Those black in the middle bear nothing; later ones will. Cover them on frosty nights."
    work.let_go = know.let_go_on(job) is not None
    return work


def _ask_if_dead(work: Work, state: BatchState, place: str | None, know: Knowledge) -> None:
    standing = state.live(at_least=state.final_step) if state.counted else None
    lost = {"did": "lose", "batch": state.id, "answer": FROST} | ({} if place is None else {"place": place})
    looked = {"did": "decide", "batch": state.id, "answer": "alive"}
    work.ways = [
        way("dead", "All dead", [lost | ({} if standing is None else {"count": standing})]),
        way("alive", "They live", [looked]),
    ]
    if standing is not None and standing > 1:
        work.ways.insert(1, way("some", "Some are dead", [lost], asks="count"))
    spares = state.live(below=state.final_step) if state.counted else 0
    if spares > 0:
        work.notes.append(f"{spares} spare stand ready to be planted in their place")
    last = last_sowing_day(state)
    if last is not None and last >= know.today and state.steps[0]["verb"] == "sow":
        work.notes.append(f"sown again until {spoken(last)} they still pay here")
    elif state.path.comes_up:
        work.notes.append("too late here to sow again: buy plants, or let go")


def in_place_of_lost(state: BatchState, again: Work, know: Knowledge) -> Work | None:
    """What comes in the place of what was lost to frost, for a while: sow again where that still pays, else buy."""
    over = state.over_on
    if not state.frost_lost or over is None or know.today > over + REPLACE_DAYS:
        return None
    last = last_sowing_day(state)
    many = plants_words(state.know, None)
    again.let_go = know.let_go_on(again.id) is not None
    again.ways = [*([bought(state)] if state.steps[state.final_step]["verb"] == "plant_out" else []), let_it_go(again.id, know)]
    pays = last is not None and last >= know.today and state.steps[0]["verb"] == "sow"
    again.title = f"Sow again {many}: lost to frost" if pays else f"Lost to frost: buy {many}, or let go"
    again.lead = len("Sow again" if pays else "Lost to frost")
    if not pays:
        again.verb, again.writes = "decide", {"did": "decide", "batch": state.id}
    again.lower.append((over, f"lost to frost, {spoken(over)}"))
    again.aims.append((over, "the sooner the better"))
    until = over + REPLACE_DAYS
    again.upper.append((min(last, until) if pays and last is not None else until, "the last useful day"))
    return again
