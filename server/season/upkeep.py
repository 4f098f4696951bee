"""Upkeep as the rulebook tells it: when in the year, how often and how much, worked out for a site. Units as in the keys."""

from __future__ import annotations

from typing import Any

from server.season.climate import MONTH_DAYS, MONTH_START, Site, covered_year
from server.season.crop_calendar import Table
from server.season.degree_days import single_sine
from server.season.quantities import kept_together
from server.season.windows import Line

TENTHS = 10
LEADS = ("Spread", "Dig in", "Service and test", "Empty and scrub", "Empty, sweep and wash", "Clean, oil and sharpen")
"""Sentences that begin with more than one word of doing."""
_NO_CROP: Table = {"numbers": {}, "steps": [{"id": "upkeep"}]}
"""Seasons hang on the site alone."""


def upkeep_of(site: Site, upkeep: Table) -> dict[str, Any]:
    """Every work that can be chosen, by its name.

    `every`: days in each month from January; `minutes` and `each`: tenths a square metre.
    """
    line = Line(site, _NO_CROP, "open")
    made: dict[str, Any] = kept_together({name: _work(line, table) for name, table in sorted(upkeep.items())})
    return made


def _work(line: Line, table: Table) -> dict[str, Any]:
    made: dict[str, Any] = {
        "name": table["name"],
        **_said(table),
        "at": list(table["at"]),
        "covers": table.get("covers"),
        "every": _every(line.site, table),
        "season": line.season(table["season"]) if "season" in table else None,
        "firm": table.get("firm", False),
        "source": _source(table),
        "needs": [_need(need) for need in table.get("needs", [])],
    }
    if "lime" in table:
        made["lime"] = {
            name: round(TENTHS * value) for name, value in table["lime"].items() if name not in ("source", "most_g_m2")
        }
        made["lime"]["most_g_m2"] = table["lime"]["most_g_m2"]
    if "refill" in table:
        made["refill"] = _day(line, table["refill"])
    if "dig" in table:
        made["kinds"] = [_kind(line, kind) for kind in table["kinds"]]
        made["dig"] = {**_said(table["dig"]), "before": round(table["dig"]["before_days"]["value"])}
    return made


def _said(table: Table) -> dict[str, Any]:
    say, minutes = table["say"], table["minutes"]
    lead = next((words for words in LEADS if say.startswith(words + " ")), say.split(" ")[0])
    return {
        "say": say,
        "lead": len(lead),
        "verb": table["verb"],
        "minutes": [round(minutes["fixed"]), round(TENTHS * minutes.get("each_m2", 0))],
        "cautions": list(table.get("cautions", [])),
        "hint": table.get("hint"),
    }


def _every(site: Site, table: Table) -> list[int]:
    """Days until it comes again, by the month it is in."""
    if "growth" not in table:
        return [round(table["every"]["value"]) if "every" in table else 0] * 12
    growth = table["growth"]
    nights, days = covered_year(site, "open")
    found = []
    for start, length in zip(MONTH_START, MONTH_DAYS, strict=True):
        heat = sum(single_sine(nights[day], days[day], growth["base_c"], None) for day in range(start, start + length)) / length
        grows = growth["heat"] / heat if heat > 0 else growth["most_days"]
        found.append(round(min(growth["most_days"], max(growth["least_days"], grows))))
    return found


def _source(table: Table) -> str:
    """Where its rhythm comes from."""
    entry = table.get("growth") or (table["season"]["from"] if "season" in table else None) or table.get("every")
    return str(entry["source"] if entry else table["dig"]["before_days"]["source"])


def _day(line: Line, entry: Table) -> str:
    return line.month_day(_place(line, entry))


def _place(line: Line, entry: Table) -> int:
    return int(line.anchor(entry["of"])) + round(7 * float(entry.get("weeks", 0)))


def _need(need: Table) -> dict[str, Any]:
    if need.get("once"):
        return {"what": need["what"], "once": True}
    return {"what": need["what"], "each": round(TENTHS * need["each_m2"]), "unit": need.get("unit", "")}


def _kind(line: Line, kind: Table) -> dict[str, Any]:
    return {
        "name": kind["name"],
        "family": kind["family"],
        "sow": line.season(kind["sow"]),
        "stands": list(kind["stands_days"]),
        "each": round(TENTHS * kind["g_m2"]),
    }
