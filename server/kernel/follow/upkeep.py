"""Upkeep: the other work that a household chose, place by place. It presses nobody, but for what must be done before frost."""

from __future__ import annotations

from typing import Any

from server.kernel.follow.green_manure import dig_work, sow_work
from server.kernel.follow.knowledge import Knowledge, occurrence, rolled
from server.kernel.follow.seed_order import seeds_short
from server.kernel.read.days import civil, parse, season_at, spoken
from server.kernel.read.diary import TENDS
from server.kernel.read.words import days_words
from server.kernel.when.work import Work

USUAL_DM2 = 400
"""Of a place whose length and width nobody gave. [dm²] Four square metres."""
ORDER = "order"
OVERDUE_DAYS = 35
"""What has a last day is asked for so long past it."""


def rule_of(id_: str, know: Knowledge) -> dict[str, Any] | None:
    """The rule of a choice; None where the rulebook has none."""
    return (know.rulebook.get("upkeep") or {}).get((know.upkeep.get(id_) or {}).get("work") or "")


def upkeep_work(id_: str, know: Knowledge) -> list[Work]:
    """The work of one choice: a record of kind `upkeep`. Nothing where place, fixture or the work itself is not there."""
    fields = know.upkeep.get(id_) or {}
    rule = rule_of(id_, know)
    target = fields.get("place")
    if rule is None or ("household" in rule["at"]) != (target is None) or (target is not None and not know.ground.path(target)):
        return []
    if "kinds" in rule and target not in know.ground.places:
        return []
    if "kinds" in rule and target is not None:
        work = dig_work(id_, rule, target, know) or sow_work(id_, rule, target, know)
        made = [] if work is None else [work]
    else:
        made = [_work(id_, rule, fields, know)]
    for job in made:
        job.minutes = job.minutes + -(-job.each_m2 * area_dm2(target, know) // 1000)
    return [job for job in made if not (job.let_go and job.repeat)]


def area_dm2(target: str | None, know: Knowledge) -> int:
    """How large a place is, or is taken to be. [dm²]"""
    place = know.ground.places.get(target or "")
    return USUAL_DM2 if place is None or place.area_dm2 is None else place.area_dm2


def last_done(id_: str, know: Knowledge) -> int | None:
    """When it was last told: by its job, or of its place by what was done there."""
    fields = know.upkeep.get(id_) or {}
    rule = rule_of(id_, know) or {}
    told = [deed.on for deed in know.diary.by_job.get(id_, []) if deed.did == rule.get("verb")]
    if rule.get("verb") in TENDS:
        told += [
            deed.on
            for deed in know.diary.tended.get(fields.get("place") or "", [])
            if deed.did == rule["verb"] and deed.job is None
        ]
    return max(told, default=None)


def _work(id_: str, rule: dict[str, Any], fields: dict[str, Any], know: Knowledge) -> Work:
    every = int(fields.get("every_days") or rule["every"][civil(know.today)[1] - 1])
    since = parse(fields["since"]) if fields.get("since") else know.today
    season, last = rule.get("season"), last_done(id_, know)
    if last is not None and season is None:
        last = rolled(last, every, know.today)
    job, last = occurrence(id_, last, know)
    fixture = know.ground.fixtures.get(fields.get("place") or "")
    place = fields.get("place") if fixture is None else fixture.place
    name = know.ground.name(fields.get("place")) or ""
    title = rule["say"].replace("{place}", name).replace("{fixture}", name)
    writes: dict[str, Any] = {"did": rule["verb"]}
    if fixture is not None:
        writes["fixture"] = fixture.id
    if place is not None:
        writes["place"] = place
    work = Work(
        id=job,
        verb=rule["verb"],
        title=title,
        lead=rule["lead"],
        subject=name,
        writes=writes,
        place=place,
        fixture=None if fixture is None else fixture.id,
        minutes=rule["minutes"][0],
        each_m2=rule["minutes"][1],
        repeat=every,
        cautions=[one for one in rule["cautions"] if one in (know.rulebook.get("cautions") or {})],
        hint=rule["hint"],
        low=not rule["firm"],
    )
    work.let_go = know.let_go_on(job) is not None
    _take(work, rule, fields, know)
    due = since if last is None else last + every - every // 3
    again = "chosen as work to be done here" if last is None else f"done {spoken(last)}, every {days_words(every)}"
    if season is None:
        best = due if last is None else last + every
        work.lower.append((due, again))
        work.aims.append((best, again))
        return work
    opens, closes = season_at(season, max(due, know.today - (OVERDUE_DAYS if rule["firm"] else 0)))
    words = f"its season is {spoken(opens)} to {spoken(closes)}"
    first = max(due, opens)
    work.lower.append((first, again if due > opens else words))
    work.aims.append((first, words))
    if rule["firm"]:
        work.upper.append((closes, words))
    return work


def _take(work: Work, rule: dict[str, Any], fields: dict[str, Any], know: Knowledge) -> None:
    """What it takes, and what there is to say about it; seed by plan and tin."""
    work.needs += taken_by(rule, fields, know)
    if "lime" in rule:
        work.notes += _lime_words(rule["lime"], fields)
    if rule["verb"] == ORDER:
        work.needs += seeds_short(know)
        if not work.needs:
            work.notes.append("the tin holds all that the plan needs")
    sized = any("each" in need for need in rule["needs"]) or "lime" in rule
    place = know.ground.places.get(fields.get("place") or "")
    if sized and place is not None and place.area_dm2 is None:
        work.notes.append("taken for 4\u00a0m²: give the place its length and width, and it is worked out")


def taken_by(rule: dict[str, Any], fields: dict[str, Any], know: Knowledge) -> list[dict[str, Any]]:
    """What such work takes each time, by the size of the place; lime by soil and test."""
    area = area_dm2(fields.get("place"), know)
    needs = [
        {
            "what": need["what"],
            "amount": 1 if need.get("once") else -(-need["each"] * area // 1000),
            "unit": need.get("unit") or "",
        }
        for need in rule["needs"]
    ]
    g_m2 = _lime_g_m2(rule["lime"], fields) if "lime" in rule else 0
    if g_m2:
        needs.append(
            {"what": "ground limestone", "amount": -(-min(g_m2, rule["lime"]["most_g_m2"]) * area // 100), "unit": "g"}
        )
    return needs


def _lime_g_m2(lime: dict[str, int], fields: dict[str, Any]) -> int:
    """What a soil lacks; nought where it needs none or nobody tested it.

    Tenths of a unit of pH under the target, by tenths of a tonne a hectare for one: each tonne is 100 g/m².
    """
    lacks = 0 if fields.get("ph_tenths") is None else lime["target_ph"] - int(fields["ph_tenths"])
    return 0 if lacks < lime["worth_ph"] else lacks * lime[fields.get("soil") or "loam"]


def _lime_words(lime: dict[str, int], fields: dict[str, Any]) -> list[str]:
    tested, g_m2 = fields.get("ph_tenths"), _lime_g_m2(lime, fields)
    if tested is None:
        return ["nobody has told how sour it is: test the soil, and the lime is worked out"]
    sour = f"pH\u00a0{_tenths(int(tested))}"
    if not g_m2:
        return [f"at {sour} it needs none: let it go, and test again next year"]
    most = lime["most_g_m2"]
    rest = [f"it lacks {g_m2}\u00a0g a square metre: {most}\u00a0g now, and the rest next year"] if g_m2 > most else []
    soil = fields.get("soil") or "loam"
    return [*rest, f"from {sour} to {_tenths(lime['target_ph'])} on {soil}: {min(g_m2, most)}\u00a0g a square metre"]


def _tenths(value: int) -> str:
    return f"{value // 10}.{value % 10}"
