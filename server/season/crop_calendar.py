"""The shape of a crop calendar, and every way in which one can be wrong, said so that a grower can mend it.

A calendar is the plain table its TOML file holds; nothing is computed here.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

from server.kernel.read.words import PAST

Table = dict[str, Any]

STAGES = ("sown", "up", "pricked out", "potted up", "hardening", "planted")
WHERE = ("raise", "final", "here")
COVERS = ("glass", "tunnel", "frame", "open", "indoors")
STARTS = ("raised", "direct", "set")
HARDINESS = ("tender", "half_hardy", "hardy")
ANCHORS = ("plant_out", "planting", "gate", "last_frost", "first_frost")
VERBS = tuple(PAST)
UNITS = {
    "rotation_gap_years": ("years", 0, 20),
    "germination_pct": ("%", 1, 100),
    "field_factor_pct": ("%", 1, 100),
    "raise_c": ("°C", 3, 40),
    "sowing_depth_cm": ("cm", 0, 30),
    "spacing_cm": ("cm", 0.5, 500),
    "row_cm": ("cm", 0.5, 500),
    "base_c": ("°C", -5, 20),
    "upper_c": ("°C", 15, 45),
    "frost_kills_c": ("°C", -30, 5),
    "kc_mid": ("", 0.1, 2),
}
REQUIRED_NUMBERS = ("rotation_gap_years", "spacing_cm", "base_c")
KEYS = {
    "id", "one", "many", "latin", "family", "hardiness", "start", "like", "edible_caution", "numbers", "emergence", "windows",
    "gates", "steps",
}  # fmt: skip
STEP_KEYS = {
    "id", "verb", "stage", "where", "say", "minutes", "needs", "after", "also_after", "every", "until", "span", "season",
    "whole_plant", "pot_l", "cautions", "ways_out", "hint", "covers",
}  # fmt: skip


@dataclass(frozen=True)
class Fault:
    """One thing that is wrong: in which file, where in it, what, and how to mend it."""

    file: str
    place: str
    what: str
    mend: str

    def __str__(self) -> str:
        return f"{self.file}, {self.place}: {self.what}. {self.mend}."


class _Reader:
    """Collects faults while a table is walked."""

    def __init__(self, file: str) -> None:
        self.file = file
        self.faults: list[Fault] = []

    def say(self, place: str, what: str, mend: str) -> None:
        self.faults.append(Fault(self.file, place, what, mend))

    def sourced(self, place: str, table: Any) -> bool:
        if not isinstance(table, dict):
            self.say(place, f"is {table!r}", "Write it as { value = ..., unit = ..., source = ... }")
            return False
        source = table.get("source")
        if not isinstance(source, str) or not source.strip():
            self.say(place, "has no source", "Add source = where the number is from, 'common practice' or 'from memory'")
        return True

    def number(self, place: str, value: Any, low: float, high: float) -> None:
        if isinstance(value, bool) or not isinstance(value, int | float) or not low <= value <= high:
            self.say(place, f"is {value!r}", f"Give a number from {low:g} to {high:g}")


def faults(table: Table, file: str) -> list[Fault]:
    """Everything that is wrong with a calendar; an empty list for a sound one."""
    read = _Reader(file)
    for key in sorted(set(table) - KEYS):
        read.say(f"key {key!r}", "is not known", f"Known are {', '.join(sorted(KEYS))}")
    for key in ("id", "one", "many", "latin", "family"):
        if not isinstance(table.get(key), str) or not table[key].strip():
            read.say(f"key {key!r}", "is missing", "Add it as words in quotes")
    for key, allowed in (("hardiness", HARDINESS), ("start", STARTS)):
        if table.get(key) not in allowed:
            read.say(f"key {key!r}", f"is {table.get(key)!r}", f"Give one of {', '.join(allowed)}")
    _numbers(read, table.get("numbers"))
    _emergence(read, table.get("emergence", []))
    steps = table.get("steps")
    if not isinstance(steps, list) or not steps:
        read.say("[[steps]]", "there are none", "A calendar needs its path, step by step")
        return read.faults
    _steps(read, steps, table)
    _windows(read, table, [step.get("id") for step in steps if isinstance(step, dict)])
    return read.faults


def _numbers(read: _Reader, numbers: Any) -> None:
    if not isinstance(numbers, dict):
        read.say("[numbers]", "is missing", "Add the table of the crop's numbers")
        return
    for name in REQUIRED_NUMBERS:
        if name not in numbers:
            read.say("[numbers]", f"{name} is missing", "Add it with value, unit and source")
    for name, entry in numbers.items():
        place = f"[numbers] {name}"
        if name not in UNITS:
            read.say(place, "is not known", f"Known are {', '.join(UNITS)}")
        elif read.sourced(place, entry):
            unit, low, high = UNITS[name]
            if entry.get("unit") != unit:
                read.say(place, f"has the unit {entry.get('unit')!r}", f"Give it in {unit!r}")
            read.number(place, entry.get("value"), low, high)
            if "range" in entry:
                ends = entry["range"]
                if not isinstance(ends, list) or len(ends) != 2 or not ends[0] <= entry.get("value", 0) <= ends[1]:
                    read.say(place, f"has the range {ends!r}", "Give [least, most] with the value between them")


def _emergence(read: _Reader, rows: Any) -> None:
    if not isinstance(rows, list):
        read.say("[[emergence]]", f"is {rows!r}", "Write one [[emergence]] for each temperature")
        return
    seen: set[float] = set()
    for index, row in enumerate(rows, start=1):
        place = f"[[emergence]] {index}"
        if read.sourced(place, row):
            read.number(f"{place} temp_c", row.get("temp_c"), -5, 50)
            if "days" in row:
                read.number(f"{place} days", row["days"], 1, 400)
            if row.get("temp_c") in seen:
                read.say(place, f"gives {row.get('temp_c')} °C twice", "Leave one of them out")
            seen.add(row.get("temp_c"))


def _steps(read: _Reader, steps: list[Any], table: Table) -> None:
    ids: list[str] = []
    for index, step in enumerate(steps, start=1):
        place = f"[[steps]] {index}"
        if not isinstance(step, dict):
            read.say(place, "is no table", "Write it as [[steps]] with its keys below")
            continue
        name = step.get("id")
        if not isinstance(name, str) or not name or name in ids:
            read.say(place, f"has the id {name!r}", "Give each step a name of its own")
        for key in sorted(set(step) - STEP_KEYS):
            read.say(f"{place} {key!r}", "is not known", f"Known are {', '.join(sorted(STEP_KEYS))}")
        for key, allowed in (("verb", VERBS), ("where", WHERE)):
            if step.get(key) not in allowed:
                read.say(f"{place} {key}", f"is {step.get(key)!r}", f"Give one of {', '.join(allowed)}")
        if "stage" in step and step["stage"] not in STAGES:
            read.say(f"{place} stage", f"is {step['stage']!r}", f"Give one of {', '.join(STAGES)}")
        if not isinstance(step.get("say"), str) or not step.get("say"):
            read.say(f"{place} say", "is missing", 'Add the sentence, such as say = "Plant {plants} in {place}"')
        _minutes(read, place, step.get("minutes"))
        _after(read, place, step, ids, table)
        _repeats(read, place, step)
        ids.append(str(name))
    first = steps[0] if isinstance(steps[0], dict) else {}
    begins = "plant_out" if table.get("start") == "set" else "sow"
    if first.get("verb") not in (begins, "sow"):
        read.say(
            "[[steps]] 1",
            f"begins with {first.get('verb')!r}",
            f"A crop that starts {table.get('start')!r} begins with {begins}",
        )
    if any(isinstance(s, dict) and s.get("verb") == "emerge" for s in steps) and not table.get("emergence"):
        read.say(
            "[[emergence]]", "is missing though the path looks for seedlings", "Add days to emergence for some temperatures"
        )


def _minutes(read: _Reader, place: str, minutes: Any) -> None:
    if minutes is None:
        read.say(f"{place} minutes", "is missing", "Add minutes = { fixed = ..., each = ..., source = ... }")
    elif read.sourced(f"{place} minutes", minutes):
        read.number(f"{place} minutes fixed", minutes.get("fixed"), 0, 600)
        read.number(f"{place} minutes each", minutes.get("each", 0), 0, 60)


def _after(read: _Reader, place: str, step: Table, before: list[str], table: Table) -> None:
    links = ([step["after"]] if "after" in step else []) + list(step.get("also_after", []))
    for link in links:
        if not isinstance(link, dict):
            read.say(f"{place} after", f"is {link!r}", "Write it as { step = ..., days = { min, aim, max }, source = ... }")
            continue
        if link.get("step") not in before:
            read.say(
                f"{place} after",
                f"names {link.get('step')!r}, which is no earlier step",
                f"Earlier are {', '.join(before) or 'none'}",
            )
        days, heat = link.get("days"), link.get("heat")
        if days == "emergence":
            if not table.get("emergence"):
                read.say(f"{place} after", "counts on an emergence table that is not there", "Add [[emergence]]")
            continue
        read.sourced(f"{place} after", link)
        gap = days if days is not None else heat
        if not isinstance(gap, dict) or "min" not in gap:
            read.say(f"{place} after", "has neither days nor heat", "Add days = { min = ..., aim = ..., max = ... }")
            continue
        order: Any = [gap.get(key) for key in ("min", "aim", "max") if gap.get(key) is not None]
        if any(not isinstance(n, int | float) or n < 0 for n in order) or order != sorted(order):
            read.say(f"{place} after", f"has {gap!r}", "Give min, aim and max that do not shrink")


def _repeats(read: _Reader, place: str, step: Table) -> None:
    for key, high in (("every", 366), ("span", 7000)):
        if key in step and read.sourced(f"{place} {key}", step[key]):
            read.number(f"{place} {key}", step[key].get("value"), 1, high)
    if "until" in step and read.sourced(f"{place} until", step["until"]):
        _anchor(read, f"{place} until", step["until"])
    for end in ("from", "to") if "season" in step else ():
        entry: Any = step["season"].get(end) if isinstance(step["season"], dict) else None
        if read.sourced(f"{place} season {end}", entry):
            _anchor(read, f"{place} season {end}", entry)
            read.number(f"{place} season {end} weeks", entry.get("weeks", 0), -52, 52)
    if not isinstance(step.get("whole_plant", False), bool):
        read.say(f"{place} whole_plant", f"is {step['whole_plant']!r}", "Give true or false")
    for cover in step.get("covers", []):
        if cover not in COVERS:
            read.say(f"{place} covers", f"names {cover!r}", f"Covers are {', '.join(COVERS)}")


def _anchor(read: _Reader, place: str, entry: Table) -> None:
    if entry.get("of") not in ANCHORS:
        read.say(place, f"counts from {entry.get('of')!r}", f"Give one of {', '.join(ANCHORS)}")


def _windows(read: _Reader, table: Table, ids: list[Any]) -> None:
    for name, window in (table.get("windows") or {}).items():
        if name not in ids:
            read.say(f"[windows.{name}]", "is for no step of the path", f"Steps are {', '.join(map(str, ids))}")
        for cover, entry in (window.get("covers") or {"*": window}).items():
            place = f"[windows.{name}] {cover}"
            if cover not in (*COVERS, "*"):
                read.say(place, "is no cover", f'Covers are {", ".join(COVERS)} and "*"')
            _anchor(read, place, entry)
            weeks = entry.get("weeks")
            if read.sourced(f"{place} weeks", weeks):
                order: Any = [weeks.get(key) for key in ("from", "aim", "by")]
                if any(not isinstance(n, int | float) for n in order):
                    read.say(f"{place} weeks", f"is {weeks!r}", "Give from, aim and by in weeks")
                elif order != sorted(order, reverse=entry.get("of") in ("plant_out", "planting")):
                    read.say(f"{place} weeks", f"runs backwards: {order}", "Give from, aim and by in the order of time")
    for name, gate in (table.get("gates") or {}).items():
        place = f"[gates.{name}]"
        if name not in ids:
            read.say(place, "is for no step of the path", f"Steps are {', '.join(map(str, ids))}")
        for key, low, high in (("night_c", -10, 25), ("allow_c", 0, 8)):
            if read.sourced(f"{place} {key}", gate.get(key)):
                read.number(f"{place} {key}", gate[key].get("value"), low, high)
