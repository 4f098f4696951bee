"""Every way in which a crop calendar can be wrong, said so that a grower can mend it.

A calendar is the plain table its TOML file holds; nothing is computed here. What each key may hold is in `calendar_schema`;
here is what the parts say of each other.
"""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from server.season.calendar_schema import Calendar
from server.season.table_schema import Fault, shape_faults, shown, step_place

Table = dict[str, Any]
Found = tuple[str, str, str]
"""Place, what is wrong there, and how to mend it."""


def faults(table: Any, file: str) -> list[Fault]:
    """Everything that is wrong with a calendar; an empty list for a sound one."""
    found = shape_faults(Calendar, table, file)
    if found:
        return found
    return [
        Fault(file, *one) for one in (*_numbers(table), *_emergence(table), *_steps(table), *_windows(table), *_seed(table))
    ]


def _numbers(table: Table) -> Iterator[Found]:
    numbers = table["numbers"]
    for name, entry in numbers.items():
        if "range" in entry and not entry["range"][0] <= entry["value"] <= entry["range"][1]:
            yield f"[numbers] {name}", f"has the range {entry['range']!r}", "Give [least, most] with the value between them"
    heated = any("heat" in link for step in table["steps"] for link in links_of(step)) or "year_heat" in numbers
    if heated and "base_c" not in numbers:
        yield "[numbers] base_c", "is missing though heat is counted", "Give the temperature above which it grows"
    if "upper_c" in numbers and "base_c" not in numbers:
        yield "[numbers] upper_c", "stands without base_c", "Give both, or neither"
    elif "upper_c" in numbers and numbers["upper_c"]["value"] <= numbers["base_c"]["value"]:
        yield "[numbers] upper_c", f"is {numbers['upper_c']['value']:g}", "Give more than base_c"


def _emergence(table: Table) -> Iterator[Found]:
    rows = table.get("emergence", [])
    temps = [row["temp_c"] for row in rows]
    for index, temp in enumerate(temps):
        if temp in temps[:index]:
            yield f"[[emergence]] {index + 1}", f"gives {temp:g} °C twice", "Leave one of them out"
    looks = any(step["verb"] == "emerge" for step in table["steps"])
    if looks and not any("days" in row for row in rows):
        yield (
            "[[emergence]]",
            "is missing though the path looks for seedlings",
            "Add days to emergence for some temperatures",
        )


def _steps(table: Table) -> Iterator[Found]:
    before: list[str] = []
    for index, step in enumerate(table["steps"]):
        place = step_place(table, index)
        if step["id"] in before:
            yield place, "is there twice", "Give each step a name of its own"
        later = [other["id"] for other in table["steps"][index + 1 :]]
        if "before" in step and step["before"] not in later:
            yield (
                f"{place}, before",
                f"names {step['before']!r}, which is no later step",
                f"Later are {', '.join(later) or 'none'}",
            )
        if (step["verb"] == "decide") != bool(step.get("answers")):
            yield place, "has answers without a decision, or a decision without", "Give both, or neither"
        for link in links_of(step):
            yield from _link(f"{place}, after", link, before, table)
        before.append(step["id"])
    first, start = table["steps"][0]["verb"], table["start"]
    begins = "plant_out" if start == "set" else "sow"
    if first not in (begins, "sow"):
        yield step_place(table, 0), f"begins with {first!r}", f"A crop that starts {start!r} begins with {begins}"


def links_of(step: Table) -> list[Table]:
    """Everything that a step comes after."""
    return [*([step["after"]] if "after" in step else []), *step.get("also_after", [])]


def _link(place: str, link: Table, before: list[str], table: Table) -> Iterator[Found]:
    if link["step"] not in before:
        yield place, f"names {link['step']!r}, which is no earlier step", f"Earlier are {', '.join(before) or 'none'}"
    if link.get("days") == "emergence":
        if not any("days" in row for row in table.get("emergence", [])):
            yield place, "counts on an emergence table that is not there", "Add [[emergence]]"
        return
    if "source" not in link:
        yield place, "has no source", "Add source = where the number is from, 'common practice' or 'from memory'"
    gaps = [link[sort] for sort in ("days", "heat") if sort in link]
    if len(gaps) != 1:
        yield place, "has neither days nor heat" if not gaps else "has both days and heat", "Give one of the two"
    for gap in gaps:
        order = [gap[key] for key in ("min", "aim", "max") if key in gap]
        if order != sorted(order):
            yield place, f"has {shown(gap)}", "Give min, aim and max that do not shrink"


def _seed(table: Table) -> Iterator[Found]:
    """What can be saved for seed says all that is asked about it."""
    seed = table.get("seed", {})
    asked = ("apart_m", "plants", "dry_days", "how")
    if 0 < sum(key in seed for key in asked) < len(asked):
        yield "[seed]", "says some of how it is saved", f"Give all of {', '.join(asked)}, or none"


def _windows(table: Table) -> Iterator[Found]:
    ids = [step["id"] for step in table["steps"]]
    known = f"Steps are {', '.join(ids)}"
    for name, window in table.get("windows", {}).items():
        if name not in ids:
            yield f"[windows.{name}]", "is for no step of the path", known
        for cover, entry in window.get("covers", {"*": window}).items():
            order = [entry["weeks"][key] for key in ("from", "aim", "by")]
            if order != sorted(order, reverse=counts_down(entry["of"])):
                place = f"[windows.{name}] {cover}"
                yield place, f"runs backwards: {order}", "Give from, aim and by in the order of time"
    for name in table.get("gates", {}):
        if name not in ids:
            yield f"[gates.{name}]", "is for no step of the path", known


def counts_down(anchor: str) -> bool:
    """Whether weeks above 0 lie before such an anchor."""
    return anchor in ("plant_out", "planting")
