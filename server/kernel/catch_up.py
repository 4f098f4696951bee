"""Catch up: after a time without a word, what is believed of each living batch, as one line that one tap makes true.

Everything a line may be answered with is plain diary records (and changes of jobs), marked as about; nothing is forced.
"""

from __future__ import annotations

from typing import Any

from server.kernel.follow.belief import Missed, believe, own_days
from server.kernel.follow.knowledge import Knowledge
from server.kernel.follow.lay_out import first_work
from server.kernel.follow.left_over import asked_for, last_day_to_begin
from server.kernel.follow.ways import way
from server.kernel.read.batch_state import BatchState
from server.kernel.read.days import iso, spoken
from server.kernel.read.words import past, plants_words
from server.kernel.said.lapsed import TOLD_FOR_DAYS
from server.kernel.settle import Settled

SILENT_DAYS = 10
"""Without a word for longer than this, the Round begins with a slip."""
SCREEN_ROWS = 8
"""More rows than this past their last day, and it begins so too."""

Line = dict[str, Any]


def catch_up(rulebook: dict[str, Any], records: list[dict[str, Any]], today: str) -> dict[str, Any]:
    """`{"due": bool, "since": day of the last word or None, "lines": [...]}`; lines in walking order.

    A line: `{"batch", "place", "house", "title", "says", "about", "ways"}`. The first way is *that's so*; `about` is the day of
    the last move, which a grower may set otherwise.
    """
    return catch_up_of(Settled(rulebook, records, today))


def catch_up_of(settled: Settled) -> dict[str, Any]:
    """The same from a list that is kept."""
    know = settled.know
    last = know.diary.last_word()
    late = sum(1 for job in settled.jobs() if job["state"] in ("ready", "waiting") and (job["leeway"] or 0) < 0)
    lines = [line for id_ in list(know.states) if (line := _line(id_, know)) is not None]
    lines.sort(
        key=lambda line: (know.ground.walk(line["house"]), line["house"] or "~", know.ground.walk(line["place"]), line["batch"])
    )
    silent = last is not None and know.today - last > SILENT_DAYS
    return {
        "due": bool(lines) and (silent or late > SCREEN_ROWS),
        "since": None if last is None else iso(last),
        "lines": lines,
    }


def _line(id_: str, know: Knowledge) -> Line | None:
    state = know.states[id_]
    if state.over_on is not None and not state.believed:
        return None
    if not state.begun:
        return _not_begun(state, know)
    know.reading.lay_over(id_, [])
    found = [one for one in believe(id_, know, patient=False).missed if one.becomes not in ("lapses", "over")]
    told = know.states[id_]
    lapsed_over = told.over_on is not None and know.today - told.over_on > SILENT_DAYS
    line = None if not any(not one.turn for one in found) or lapsed_over else _begun(told, found, know)
    know.reading.lay_over(id_, [])
    believe(id_, know)
    return line


def _begun(state: BatchState, found: list[Missed], know: Knowledge) -> Line:
    moved = [one for one in found if one.step in state.moving]
    tells = [_tell(state, one, know) for one in found]
    ways = [way("so", "That's so", tells)]
    planting = [one for one in found if one.step == state.final_step and state.steps[one.step]["verb"] == "plant_out"]
    if planting:
        job = f"{state.id}.{state.steps[state.final_step]['id']}"
        still = {"still": True, "still_on": iso(know.today)}
        before = [tell for tell, one in zip(tells, found, strict=True) if one.step < state.final_step]
        ways.append(way("pots", "Still in pots", before, changes=[{"kind": "job", "id": job, "fields": still}]))
    if state.path.comes_up and any(state.steps[one.step]["verb"] == "emerge" for one in found):
        ways.append(way("none", "None came up", [_about({"did": "emerge", "batch": state.id, "count": 0}, know)]))
    ways.append(way("gone", "All gone", [_about({"did": "lose", "batch": state.id}, know)]))
    if not planting and state.final_step >= 0 and state.moved[state.final_step] > 0:
        ways.append(way("ended", "Ended", [_about({"did": "clear", "batch": state.id}, know)]))
    about = iso(moved[-1].on) if moved else None
    return _said(state, _says(state, found), about, ways, know)


def _says(state: BatchState, found: list[Missed]) -> str:
    """`planted about 6 May, strung, cropping`."""
    moved = [one for one in found if one.step in state.moving]
    words = [f"{past(state.steps[moved[-1].step]['verb'])} about {spoken(moved[-1].on)}"] if moved else []
    for one in found:
        verb = state.steps[one.step]["verb"]
        said = {"pick": "cropping", "clear": "over"}.get(verb, past(verb))
        if verb != "look" and one.step not in state.moving and said not in words:
            words.append(said)
    return ", ".join(words)


def _not_begun(state: BatchState, know: Knowledge) -> Line | None:
    """A batch whose time to be begun is past, and not long: was it?"""
    work = first_work(state, know)
    if work is None or work.let_go or (know.changes.get(work.id) or {}).get("put_off_until"):
        return None
    _, aim, by = own_days(work)
    last = last_day_to_begin(state, know)
    if by is None or last is None or not by < know.today <= last + asked_for(state) + TOLD_FOR_DAYS:
        return None
    verb = past(work.verb)
    fields = work.writes | {"count": work.count, "job": work.id, "part": know.diary.part(work.id) + 1, "on": iso(min(aim, by))}
    ways = [way("so", f"{verb.capitalize()} about then", [_about(fields, know)])]
    ways.append(way("let_go", "Let go", [], changes=[_let_go(work.id, know)]))
    return _said(state, f"to be {verb} about {spoken(min(aim, by))}; nobody said", iso(min(aim, by)), ways, know)


def _let_go(job: str, know: Knowledge) -> dict[str, Any]:
    return {"kind": "job", "id": job, "fields": {"let_go": True, "let_go_on": iso(know.today)}}


def _tell(state: BatchState, missed: Missed, know: Knowledge) -> dict[str, Any]:
    deed = next(deed for deed, step in state.deeds if deed.believed and step == missed.step and deed.on == missed.on)
    fields = {
        "did": deed.did,
        "batch": state.id,
        "place": deed.place,
        "to_place": deed.to_place,
        "count": deed.count,
        "pot_l": deed.pot_l,
        "job": deed.job,
        "part": know.diary.part(deed.job or "") + 1,
        "on": iso(deed.on),
    }
    return _about(fields, know)


def _about(fields: dict[str, Any], know: Knowledge) -> dict[str, Any]:
    """A telling marked as about: nobody wrote it down on the day."""
    told = {"on": iso(know.today)} | fields | {"about": iso(know.today)}
    return {name: value for name, value in told.items() if value is not None}


def _said(state: BatchState, says: str, about: str | None, ways: list[dict[str, Any]], know: Knowledge) -> Line:
    place = state.main_place() or state.final
    return {
        "batch": state.id,
        "place": place,
        "house": know.ground.house(place),
        "title": plants_words(state.know, state.want if state.counted else None),
        "subject": state.variety_name,
        "says": says,
        "about": about,
        "ways": ways,
    }
