"""How a table out of a TOML file is checked, value by value, and how a fault in it is said: in which place, and how to mend it.

The library does the walking; what a number, a name and a sentence may be, and the words for a grower, are ours.
"""

from __future__ import annotations

import re
from dataclasses import dataclass
from typing import Annotated, Any

from pydantic import BaseModel, BeforeValidator, ConfigDict, Field, ValidationError, model_validator
from pydantic_core import ErrorDetails, PydanticCustomError

LONGEST = 400
"""Letters of a sentence."""
TAGS = ("a word", "a table", "by cover", "for all")
"""Names of a union's members; no part of the place that a fault names."""


@dataclass(frozen=True)
class Fault:
    """One thing that is wrong: in which file, where in it, what, and how to mend it."""

    file: str
    place: str
    what: str
    mend: str

    def __str__(self) -> str:
        return f"{self.file}, {self.place}: {self.what}. {self.mend}."


def wrong(what: str, mend: str) -> PydanticCustomError:
    """What a check of ours raises."""
    return PydanticCustomError("ours", "{what}. {mend}", {"what": what, "mend": mend})


def shown(value: Any) -> str:
    """A value as a fault shows it, cut where it is long."""
    try:
        text = repr(value)
    except ValueError:  # Python writes no whole number of thousands of figures
        text = "a number of too many figures"
    return text if len(text) <= 60 else f"{text[:57]}..."


def between(low: float, high: float) -> BeforeValidator:
    """One number: finite, within its ends, and no truth value or text that looks like one."""

    def check(value: Any) -> Any:
        number = isinstance(value, int | float) and not isinstance(value, bool)
        if not number or not low <= value <= high:
            raise wrong(f"is {shown(value)}", f"Give a number from {low:g} to {high:g}")
        return value

    return BeforeValidator(check)


def one_of(*allowed: str) -> BeforeValidator:
    """One of these words."""

    def check(value: Any) -> Any:
        if not isinstance(value, str) or value not in allowed:
            raise wrong(f"is {shown(value)}", f"Give {'one of ' * (len(allowed) > 1)}{', '.join(map(repr, allowed))}")
        return value

    return BeforeValidator(check)


def text(value: Any) -> Any:
    """Words on one line."""
    if not isinstance(value, str) or not value.strip() or len(value) > LONGEST or not value.isprintable():
        raise wrong(f"is {shown(value)}", f"Write it as words in quotes, on one line and at most {LONGEST} letters")
    return value


def _mark(value: Any) -> Any:
    if not isinstance(value, str) or len(value) > 12 or not value.isprintable():
        raise wrong(f"is {shown(value)}", "Give a unit in quotes, such as L")
    return value


def _name(value: Any) -> Any:
    if not isinstance(value, str) or not re.fullmatch(r"[a-z][a-z0-9_]{0,39}", value):
        raise wrong(f"is {shown(value)}", "Give a name of small letters, figures and underscores")
    return value


def _source(value: Any) -> Any:
    if not isinstance(value, str) or not value.strip() or len(value) > LONGEST or not value.isprintable():
        raise wrong("has no source", "Add source = where the number is from, 'common practice' or 'from memory'")
    return value


Text = Annotated[str, BeforeValidator(text)]
Name = Annotated[str, BeforeValidator(_name)]
Source = Annotated[str, BeforeValidator(_source)]
Unit = Annotated[str, BeforeValidator(_mark)]
Names = Annotated[list[Name], Field(max_length=12)]


class Form(BaseModel):
    """A table with these keys and no others. What it does not say it leaves out: nothing is no value."""

    model_config = ConfigDict(extra="forbid", strict=True)

    @model_validator(mode="before")
    @classmethod
    def _no_nothing(cls, table: Any) -> Any:
        if isinstance(table, dict):
            for key, value in table.items():
                if value is None:
                    raise wrong(f"holds nothing at {shown(key)}", "Take that key out, or give it a value")
        return table


class Sourced(Form):
    """A table of numbers that says where they are from."""

    source: Source = Field("", validate_default=True)


def shape_faults(model: type[BaseModel], table: Any, file: str) -> list[Fault]:
    """Every way in which a table is not what its model says; an empty list for none."""
    try:
        model.model_validate(table)
    except ValidationError as error:
        return [_fault(one, table, file) for one in error.errors(include_url=False)]
    return []


def _fault(error: ErrorDetails, table: Any, file: str) -> Fault:
    kind, value, ctx = error["type"], error["input"], error.get("ctx", {})
    place = _place(error["loc"], table)
    if kind == "ours":
        return Fault(file, place, ctx["what"], ctx["mend"])
    if kind == "missing":
        return Fault(file, place, "is missing", "Add it")
    if kind == "extra_forbidden":
        return Fault(file, place, "is not known", "Take it out, or mend how it is written")
    if kind in ("too_short", "too_long"):
        most = ctx.get("min_length", ctx.get("max_length"))
        word = "at least" if kind == "too_short" else "at most"
        return Fault(file, place, f"holds {ctx['actual_length']}", f"Give {word} {most}")
    return Fault(file, place, f"is {shown(value)}", MENDS.get(kind, "Write it as other calendars do"))


MENDS = {
    "bool_type": "Give true or false",
    "dict_type": "Write it as a table, { ... = ..., source = ... }",
    "model_type": "Write it as a table, { ... = ..., source = ... }",
    "model_attributes_type": "Write it as a table, { ... = ..., source = ... }",
    "list_type": "Write it as a list, [ ... ]",
    "string_type": "Write it as words in quotes",
    "literal_error": 'Write "emergence", or { min = ..., aim = ..., max = ... }',
}


def _place(loc: tuple[int | str, ...], table: Any) -> str:
    """Where in a file something is, in the words of that file: `step 'sow', minutes fixed`."""
    keys = [key for key in loc if key not in TAGS and key != "[key]"]
    if keys and keys[0] == "steps" and len(keys) > 1 and isinstance(keys[1], int):
        return ", ".join([step_place(table, keys[1]), *([" ".join(map(str, keys[2:]))] if keys[2:] else [])])
    if len(keys) > 1:
        rest = " ".join(str(key + 1) if isinstance(key, int) else key for key in keys[1:])
        return f"[{keys[0]}] {rest}"
    if not keys:
        return "the whole table"
    return f"[[{keys[0]}]]" if keys[0] in ("steps", "emergence") else f"key {keys[0]!r}"


def step_place(table: Any, index: int) -> str:
    """A step by its name, or by its number where it has none."""
    step = table["steps"][index]
    name = step.get("id") if isinstance(step, dict) else None
    return f"step {shown(name)}" if isinstance(name, str) and name else f"step {index + 1}"
