"""What the rulebook knows of one crop at a site: its path with the days of each turn, seed, store and numbers."""

from __future__ import annotations

import math
import re
from typing import Any

from server.season.climate import Site
from server.season.constants import SETTLING
from server.season.crop_calendar import Table, links_of
from server.season.emergence import whole_degrees, whole_shares
from server.season.quantities import kept_together
from server.season.seed_quantity import expected_pct
from server.season.step_windows import Lines, gates_of, seasons_of, turns_of, untils_of, windows_of

LEAST_L = 0.02
LEADS = re.compile(r"^(?:Pot up|Pot on|Prick out|Harden off|Look for|Earth up|Tie in|Put up|Take off|Pinch out|Set out|\S+)")
"""The words of doing that a step's sentence begins with."""


def make_crop(site: Site, table: Table, missed: Table) -> dict[str, Any]:
    """One crop's knowledge at a site, as it is told. missed: what becomes of a step nobody told of, by verb."""
    made: dict[str, Any] = kept_together(_crop(site, table, missed))
    return made


def _crop(site: Site, table: Table, missed: Table) -> dict[str, Any]:
    numbers = table["numbers"]
    spacing = numbers["spacing_cm"]
    row = numbers.get("row_cm")
    kills = numbers.get("frost_kills_c")
    turns = turns_of(site, table)
    steps = [_step(site, table, turns[0], step, missed) for step in table["steps"]]
    rows = table.get("emergence", [])
    up_days = whole_degrees([(float(row["temp_c"]), row.get("days")) for row in rows])
    return {
        "one": table["one"],
        "many": table["many"],
        **({"harvest": table["harvest"]} if "harvest" in table else {}),
        "family": table["family"],
        "tender": table["hardiness"] == "tender",
        "reserve_pct": round(numbers["reserve_pct"]["value"]) if "reserve_pct" in numbers else 0,
        "frost_kills_c": None if kills is None else math.floor(kills["value"]),
        "frost_does": table.get("frost", "kills"),
        "frost_season": seasons_of(site, table, {"season": table["frost_season"]}) if "frost_season" in table else None,
        "seeds_for": str(expected_pct(table)),
        "raise_c": round(numbers["raise_c"]["value"]) if "raise_c" in numbers else None,
        "emerge_days": up_days,
        "emerge_pct": whole_shares([(float(row["temp_c"]), row.get("normal_pct")) for row in rows], up_days),
        "spacing_cm": [*(spacing.get("range") or [spacing["value"]] * 2), spacing["value"]],
        "row_cm": None if row is None else row["value"],
        "rotation_years": numbers["rotation_gap_years"]["value"],
        "edible_caution": table.get("edible_caution"),
        **_store(table),
        **_seed(table),
        "steps": steps,
        "turns": [_turned(site, table, lines, steps) for lines in turns[1:]],
    }


def _store(table: Table) -> dict[str, Any]:
    """How what is picked keeps; left out of what is eaten fresh."""
    if "store" not in table:
        return {}
    store = table["store"]
    cure = store["cure_days"]["value"] if "cure_days" in store else None
    return {"store": {"keeps": store["keeps_days"]["value"], "cure": cure, "best": store["best"], "how": store["how"]}}


def _seed(table: Table) -> dict[str, Any]:
    """How long seed keeps, and how it is saved; left out of what has none."""
    if "seed" not in table:
        return {}
    seed = table["seed"]
    made = {"life": round(seed["life_years"]["value"])}
    if "dry_days" in seed:
        made |= {"apart_m": round(seed["apart_m"]["value"]), "plants": round(seed["plants"]["value"])}
        made |= {"dry": seed["dry_days"]["value"], "how": seed["how"]}
    return {"seed": made}


def _turned(site: Site, table: Table, lines: Lines, steps: list[dict[str, Any]]) -> dict[str, Any]:
    """What another time of the year changes of a crop's steps: their days, by the step."""
    made: dict[str, Any] = {}
    for step, known in zip(table["steps"], steps, strict=True):
        days = {"window": windows_of(lines, step), "gate": gates_of(site, table, lines, step), "until": untils_of(lines, step)}
        changed = {key: value for key, value in days.items() if value != known[key]}
        if changed:
            made[step["id"]] = changed
    return made


def _step(site: Site, table: Table, lines: Lines, step: Table, missed: Table) -> dict[str, Any]:
    minutes = step["minutes"]
    lead = LEADS.match(step["say"])
    return {
        "id": step["id"],
        "verb": step["verb"],
        "stage": step.get("stage"),
        "say": step["say"],
        "lead": len(lead.group(0)) if lead else 1,
        "pot_l": step.get("pot_l"),
        "where": step["where"],
        "covers": step.get("covers"),
        "after": [_after(table, link) for link in links_of(step)],
        "window": windows_of(lines, step),
        "gate": gates_of(site, table, lines, step),
        "every": step["every"]["value"] if "every" in step else None,
        "until": untils_of(lines, step),
        "season": seasons_of(site, table, step),
        "span": step["span"]["value"] if "span" in step else None,
        **_seldom(step),
        "missed": _missed(step, missed),
        "minutes": [int(minutes["fixed"]), round(10 * minutes.get("each", 0))],
        "needs": _needs(table, step),
        "cautions": list(step.get("cautions", [])),
        "ways_out": step.get("ways_out"),
        "hint": step.get("hint"),
    }


def _seldom(step: Table) -> dict[str, Any]:
    """What few steps have; left out of the others, because a rulebook is carried by every phone."""
    made: dict[str, Any] = {}
    if "keeps" in step:
        made["keeps"] = step["keeps"]["value"]
    if step.get("whole_plant"):
        made["whole"] = True
    if "before" in step:
        made["before"] = step["before"]
    if "answers" in step:
        made["answers"] = [{"id": it["id"], "say": it["say"], "stems": it.get("stems")} for it in step["answers"]]
    return made


def _missed(step: Table, by_verb: Table) -> list[Any]:
    """What becomes of a step nobody told of, and for how many days past its last one it is asked for."""
    if "missed" not in step and "season" in step and "every" not in step:
        return ["stays", 0]
    becomes = step.get("missed") or by_verb.get(step["verb"]) or {"becomes": "stays", "days": 0}
    return [becomes["becomes"], becomes["days"]]


def _after(table: Table, link: Table) -> dict[str, Any]:
    why = link.get("why", "")
    if link.get("days") == "emergence":
        return {"step": link["step"], "emergence": True, "min": None, "aim": None, "max": None, "why": why}
    if "heat" in link:
        gap, tenths = link["heat"], 10
    else:
        gap, tenths = link["days"], 1
    made = {
        "step": link["step"],
        "min": round(tenths * gap["min"]),
        "aim": None if gap.get("aim") is None else round(tenths * gap["aim"]),
        "max": None if gap.get("max") is None else round(tenths * gap["max"]),
        "why": why,
    }
    if "heat" in link:
        made["heat"] = _series(table)
        if gap.get("least_days") is not None:
            made["least"] = round(gap["least_days"])
    return made


def _series(table: Table) -> str:
    numbers = table["numbers"]
    upper = numbers["upper_c"]["value"] if "upper_c" in numbers else ""
    return f"{numbers['base_c']['value']:g}|{upper}"


def _needs(table: Table, step: Table) -> list[dict[str, Any]]:
    """What a step takes, in tenths for every so many plants; pots and their compost by themselves."""
    per = int(table["numbers"].get("per_pot", {"value": 1})["value"]) if step["verb"] in ("prick_out", "pot_up") else 1
    needs = [
        _need(need["what"], need.get("each", 1), need.get("unit", ""), per)
        | ({"stems": need["stems"]} if "stems" in need else {})
        | ({"once": True} if need.get("once") else {})
        for need in step.get("needs", [])
    ]
    if step.get("pot_l") is not None:
        needs.append(_need(f"{step['pot_l']:g} L pots", 1, "", per))
        needs.append(_need("compost", step["pot_l"] * SETTLING, "L", per))
    return needs


def _need(what: str, each: float, unit: str, per: int) -> dict[str, Any]:
    """each: for every `per` plants. What is little to a plant is told in millilitres: rounding up would make ten of one.
    Where tenths would round it up (the 60 ml of a cell), thousandths say it too; what knows only tenths takes those."""
    if unit == "L" and each < LEAST_L:
        each, unit = each * 1000, "ml"
    made: dict[str, Any] = {"what": what, "each": max(1, math.ceil(10 * each - 1e-9)), "unit": unit}
    thousandths = math.ceil(1000 * each - 1e-6)
    if thousandths < 100 * made["each"]:
        made["thousandths"] = thousandths
    return made if per == 1 else made | {"per": per}
