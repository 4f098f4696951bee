"""A household's own way, laid over the calendars: single numbers of a crop or a variety, crops of its own, lessons taken.

A changed number is a record of its own (kind `crop`: crop or variety, path, value), so that two phones that change two
numbers both have their way; the calendar's number stays beneath it.
"""

from __future__ import annotations

import copy
import re
from dataclasses import dataclass, field
from typing import Any

from server.kernel.read.merge import Record, visible
from server.season.calendar_numbers import numbers_of, put
from server.season.crop_calendar import Table, counts_down, faults

Own = dict[str, tuple[float, str]]
"""A household's numbers by path, each with the id of the record it stands in."""


@dataclass
class HouseholdTables:
    """Calendars with the household's own way in them."""

    crops: dict[str, Table]
    varieties: dict[str, Table]
    """Only those that differ from their crop, by the id of the variety."""
    wrong: dict[str, str] = field(default_factory=dict)
    """Why something of the household's own was left out, by the id of its record."""


def household_tables(calendars: dict[str, Table], inputs: list[Record]) -> HouseholdTables:
    """Every crop and every changed variety as this household grows it. inputs: the visible records a rulebook depends on."""
    wrong: dict[str, str] = {}
    made = HouseholdTables(household_crops(calendars, inputs, wrong), {}, wrong)
    own = _own_numbers([record for record in inputs if record["kind"] == "crop"])
    for name, numbers in own.items():
        if name in made.crops:
            made.crops[name] = _laid_over(made.crops[name], numbers, made.wrong)
    lessons = [record for record in inputs if record["kind"] == "lesson"]
    for lesson in lessons:
        crop = lesson["fields"].get("crop")
        if not lesson["fields"].get("variety") and crop in made.crops:
            made.crops[crop] = _taught(made.crops[crop], lesson, made.wrong)
    varieties = {record["id"]: record["fields"] for record in inputs if record["kind"] == "variety"}
    for id_, fields in varieties.items():
        numbers = own.get(id_, {}) | _old_numbers(id_, fields)
        table = made.crops.get(fields.get("crop") or "")
        if table is not None and numbers:
            made.varieties[id_] = _laid_over(table, numbers, made.wrong)
    for lesson in lessons:
        variety = str(lesson["fields"].get("variety"))
        if variety in varieties:
            table = made.varieties.get(variety) or made.crops.get(varieties[variety].get("crop") or "")
            if table is not None:
                made.varieties[variety] = _taught(table, lesson, made.wrong)
    return made


def household_crops(
    calendars: dict[str, Table], records: list[Record], wrong: dict[str, str] | None = None
) -> dict[str, Table]:
    """The calendars and the household's own crops, no number changed. What cannot be used is said in `wrong`."""
    crops = dict(calendars)
    for record in records:
        if record["kind"] == "crop" and visible(record):
            name, table, why = _own_crop(calendars, record)
            if table is not None:
                crops[name] = table
            elif why and wrong is not None:
                wrong[record["id"]] = why
    return crops


def _own_crop(calendars: dict[str, Table], record: Record) -> tuple[str, Table | None, str]:
    """A crop of the household's own, like one of the calendars but for its names, or a whole calendar; or why it is none."""
    fields = record["fields"]
    name = fields.get("crop") or record["id"].removeprefix("crop.")
    if isinstance(fields.get("calendar"), dict):
        table = {**fields["calendar"], "id": name}
    elif fields.get("like") is not None:
        like = calendars.get(fields["like"])
        if like is None:
            return name, None, f"There is no crop called {fields['like']} to be like; choose another."
        names = {key: fields[key] for key in ("one", "many", "family") if fields.get(key)}
        table = {**like, **names, "id": name, "like": fields["like"]}
    else:
        return name, None, ""
    wrong = faults(table, f"your own crop {name}")
    return (name, None, str(wrong[0])) if wrong else (name, table, "")


def _own_numbers(records: list[Record]) -> dict[str, Own]:
    """Numbers by crop or variety."""
    own: dict[str, Own] = {}
    for record in records:
        fields = record["fields"]
        name = fields.get("variety") or fields.get("crop")
        if name and isinstance(fields.get("path"), str) and _number(fields.get("value")):
            own.setdefault(name, {})[fields["path"]] = (fields["value"], record["id"])
        elif fields.get("crop"):
            own.setdefault(fields["crop"], {}).update(_old_numbers(record["id"], fields))
    return own


def _old_numbers(id_: str, fields: dict[str, Any]) -> Own:
    """Numbers that stand together in one field, as a saved copy may hold them."""
    given = fields.get("overrides")
    return (
        {path: (value, f"{id_} {path}") for path, value in given.items() if _number(value)} if isinstance(given, dict) else {}
    )


def _number(value: Any) -> bool:
    return isinstance(value, int | float) and not isinstance(value, bool)


def _laid_over(table: Table, own: Own, wrong: dict[str, str]) -> Table:
    """A calendar with the household's numbers in it.

    They are tried until none more fits, because one may be right only beside another: a later best day with a later last.
    """
    made, left = table, dict(sorted(own.items()))
    why: dict[str, str] = {}
    while left:
        taken = []
        for path, (value, _) in left.items():
            trial, why[path] = _with(made, path, value)
            if trial is not None:
                made = trial
                taken.append(path)
        if not taken:
            break
        for path in taken:
            del left[path]
    if left:
        together = _all_at_once(made, left)
        if together is not None:
            return together
    wrong.update({id_: why[path] for path, (_, id_) in left.items()})
    return made


def _with(table: Table, path: str, value: float) -> tuple[Table | None, str]:
    """The calendar with one number changed; None and why, where it cannot be."""
    number = next((number for number in numbers_of(table) if number.path == path), None)
    if number is None:
        return None, f"{table['many'].capitalize()}: there is no number called {path} any more, so your own was left out."
    unfit = number.unfit(value)
    if unfit:
        return None, f"{number.label} of {table['many']} {unfit}, so your own {value:g} was left out."
    trial = copy.deepcopy(table)
    put(trial, number, value)
    found = faults(trial, table["many"])
    if found:
        mend = found[0].mend[0].lower() + found[0].mend[1:]
        return None, f"{number.label} of {table['many']} cannot be {value:g} beside its other numbers: {mend}."
    return trial, ""


def _all_at_once(table: Table, left: Own) -> Table | None:
    """Numbers that fit only together: all three of a window moved past what they were."""
    numbers = {number.path: number for number in numbers_of(table)}
    trial = copy.deepcopy(table)
    for path, (value, _) in left.items():
        if path not in numbers or numbers[path].unfit(value):
            return None
        put(trial, numbers[path], value)
    return None if faults(trial, table["many"]) else trial


def _taught(table: Table, lesson: Record, wrong: dict[str, str]) -> Table:
    """A calendar with a taken lesson in it: a step's window moved by so many days, or a number changed."""
    fields = lesson["fields"]
    if fields.get("field") and _number(fields.get("value")):
        return _laid_over(table, {str(fields["field"]): (fields["value"], lesson["id"])}, wrong)
    step, shift = fields.get("step") or "", fields.get("shift_days")
    if step not in (table.get("windows") or {}) or not isinstance(shift, int):
        return table
    made = copy.deepcopy(table)
    window = made["windows"][step]
    for entry in (window.get("covers") or {"*": window}).values():
        sign = -1 if counts_down(entry["of"]) else 1
        for key in ("from", "aim", "by"):
            entry["weeks"][key] += sign * shift / 7
    return made


def record_id(name: str, path: str) -> str:
    """The id of the record of a changed number. name: crop or variety."""
    return f"own.{name}.{re.sub('[^a-z0-9_.-]', '-', path)}"
