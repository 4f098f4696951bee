"""The schema of a crop calendar and of its companions: which keys there are, and what each may hold.

What a table says of itself is held here, type by type, by a validation library; what its parts say of each other is in
`crop_calendar`. The models only check: a calendar stays the plain table that its TOML file holds.
"""

from __future__ import annotations

import re
from dataclasses import dataclass
from typing import Annotated, Any, Literal

from pydantic import (
    BaseModel,
    BeforeValidator,
    ConfigDict,
    Discriminator,
    Field,
    Tag,
    ValidationError,
    create_model,
    model_validator,
)
from pydantic_core import ErrorDetails, PydanticCustomError

from server.kernel.read.words import PAST

STAGES = ("sown", "up", "pricked out", "potted up", "hardening", "planted")
WHERE = ("raise", "final", "here")
COVERS = ("glass", "tunnel", "frame", "open", "indoors")
STARTS = ("raised", "direct", "set")
HARDINESS = ("tender", "half_hardy", "hardy")
ANCHORS = ("plant_out", "planting", "gate", "last_frost", "first_frost")
VERBS = tuple(PAST)
PLACEHOLDERS = ("{seeds}", "{plants}", "{many}", "{one}", "{place}")
"""What a step's sentence may name: the kernel puts the batch's own words there."""
MOST_WEEKS = 60
MOST_DAYS = 7000
MOST_HEAT = 20000
"""Degree-days."""
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


def _wrong(what: str, mend: str) -> PydanticCustomError:
    return PydanticCustomError("ours", "{what}. {mend}", {"what": what, "mend": mend})


def shown(value: Any) -> str:
    """A value as a fault shows it, cut where it is long."""
    try:
        text = repr(value)
    except ValueError:  # Python writes no whole number of thousands of figures
        text = "a number of too many figures"
    return text if len(text) <= 60 else f"{text[:57]}..."


def _between(low: float, high: float) -> BeforeValidator:
    """One number: finite, within its ends, and no truth value or text that looks like one."""

    def check(value: Any) -> Any:
        number = isinstance(value, int | float) and not isinstance(value, bool)
        if not number or not low <= value <= high:
            raise _wrong(f"is {shown(value)}", f"Give a number from {low:g} to {high:g}")
        return value

    return BeforeValidator(check)


def _one_of(*allowed: str) -> BeforeValidator:
    def check(value: Any) -> Any:
        if not isinstance(value, str) or value not in allowed:
            raise _wrong(f"is {shown(value)}", f"Give {'one of ' * (len(allowed) > 1)}{', '.join(map(repr, allowed))}")
        return value

    return BeforeValidator(check)


def _text(value: Any) -> Any:
    if not isinstance(value, str) or not value.strip() or len(value) > LONGEST or not value.isprintable():
        raise _wrong(f"is {shown(value)}", f"Write it as words in quotes, on one line and at most {LONGEST} letters")
    return value


def _mark(value: Any) -> Any:
    if not isinstance(value, str) or len(value) > 12 or not value.isprintable():
        raise _wrong(f"is {shown(value)}", "Give a unit in quotes, such as L")
    return value


def _name(value: Any) -> Any:
    if not isinstance(value, str) or not re.fullmatch(r"[a-z][a-z0-9_]{0,39}", value):
        raise _wrong(f"is {shown(value)}", "Give a name of small letters, figures and underscores")
    return value


def _sentence(value: Any) -> Any:
    left = str(_text(value))
    for placeholder in PLACEHOLDERS:
        left = left.replace(placeholder, "")
    if "{" in left or "}" in left:
        raise _wrong(f"is {shown(value)}", f"In braces can stand {', '.join(PLACEHOLDERS)}")
    return value


def _source(value: Any) -> Any:
    if not isinstance(value, str) or not value.strip() or len(value) > LONGEST or not value.isprintable():
        raise _wrong("has no source", "Add source = where the number is from, 'common practice' or 'from memory'")
    return value


Text = Annotated[str, BeforeValidator(_text)]
Name = Annotated[str, BeforeValidator(_name)]
Sentence = Annotated[str, BeforeValidator(_sentence)]
Source = Annotated[str, BeforeValidator(_source)]
Days = Annotated[float, _between(0, MOST_DAYS)]
Heat = Annotated[float, _between(0, MOST_HEAT)]
Weeks = Annotated[float, _between(-MOST_WEEKS, MOST_WEEKS)]
Names = Annotated[list[Name], Field(max_length=12)]


class _Form(BaseModel):
    """A table with these keys and no others. What it does not say it leaves out: nothing is no value."""

    model_config = ConfigDict(extra="forbid", strict=True)

    @model_validator(mode="before")
    @classmethod
    def _no_nothing(cls, table: Any) -> Any:
        if isinstance(table, dict):
            for key, value in table.items():
                if value is None:
                    raise _wrong(f"holds nothing at {shown(key)}", "Take that key out, or give it a value")
        return table


class _Sourced(_Form):
    """A table of numbers that says where they are from."""

    source: Source = Field("", validate_default=True)


class _InDays(_Sourced):
    """A length of time. [days]"""

    value: Annotated[float, _between(1, MOST_DAYS)]
    unit: Annotated[str, _one_of("days")] = "days"


class _Every(_InDays):
    """How often a step comes again. [days]"""

    value: Annotated[float, _between(1, 366)]


class _Seedlings(_Sourced):
    """Days from sowing to seedlings at one temperature [°C]; none where nothing comes up."""

    temp_c: Annotated[float, _between(-5, 50)]
    days: Annotated[float, _between(1, 400)] | None = None


class _DaysGap(_Form):
    """Days between two steps."""

    min: Days
    aim: Days | None = None
    max: Days | None = None


class _HeatGap(_Form):
    """Degree-days between two steps."""

    min: Heat
    aim: Heat | None = None
    max: Heat | None = None


def _word_or_table(value: Any) -> str:
    return "a word" if isinstance(value, str) else "a table"


class _After(_Form):
    """How long after an earlier step: by days, by heat, or as long as seedlings take."""

    step: Name
    days: (
        Annotated[
            Annotated[Literal["emergence"], Tag("a word")] | Annotated[_DaysGap, Tag("a table")],
            Discriminator(_word_or_table),
        ]
        | None
    ) = None
    heat: _HeatGap | None = None
    why: Text | None = None
    source: Source | None = None


class _Anchored(_Sourced):
    """So many weeks from a day that the site or another step gives."""

    of: Annotated[str, _one_of(*ANCHORS)]
    weeks: Weeks | None = None


class _Season(_Form):
    """From when to when in a year a step is of use."""

    from_: _Anchored = Field(alias="from")
    to: _Anchored


class _WindowWeeks(_Sourced):
    """The ends of a window, in weeks from its anchor."""

    from_: Weeks = Field(alias="from")
    aim: Weeks
    by: Weeks


class _Window(_Form):
    """When a step may begin."""

    of: Annotated[str, _one_of(*ANCHORS)]
    weeks: _WindowWeeks


class _CoverWindows(_Form):
    """A window for each cover, or for all others."""

    covers: dict[Annotated[str, _one_of(*COVERS, "*")], _Window]


def _by_cover(value: Any) -> str:
    return "by cover" if isinstance(value, dict) and "covers" in value else "for all"


Windows = Annotated[
    Annotated[_CoverWindows, Tag("by cover")] | Annotated[_Window, Tag("for all")],
    Discriminator(_by_cover),
]


class _Night(_Sourced):
    """A night's least temperature. [°C]"""

    value: Annotated[float, _between(-10, 25)]
    unit: Annotated[str, _one_of("°C")] = "°C"


class _Allowed(_Night):
    """By how much a night may be colder. [°C]"""

    value: Annotated[float, _between(0, 8)]


class _Gate(_Form):
    """Nights that a step waits for."""

    night_c: _Night
    allow_c: _Allowed


class _Minutes(_Sourced):
    """Time for the job, and for each plant. [min]"""

    fixed: Annotated[float, _between(0, 600)]
    each: Annotated[float, _between(0, 60)] = 0


class _Need(_Sourced):
    """What a step takes, for each plant."""

    what: Text
    each: Annotated[float, _between(0, 100)]
    unit: Annotated[str, BeforeValidator(_mark)] = ""


class Step(_Form):
    """One step of a crop's path."""

    id: Name
    verb: Annotated[str, _one_of(*VERBS)]
    stage: Annotated[str, _one_of(*STAGES)] | None = None
    where: Annotated[str, _one_of(*WHERE)]
    say: Sentence
    minutes: _Minutes
    needs: Annotated[list[_Need], Field(max_length=8)] = []
    after: _After | None = None
    also_after: Annotated[list[_After], Field(max_length=8)] = []
    every: _Every | None = None
    until: _Anchored | None = None
    span: _InDays | None = None
    season: _Season | None = None
    whole_plant: bool = False
    pot_l: Annotated[float, _between(0.01, 100)] | None = None
    cautions: Names = []
    ways_out: Text | None = None
    hint: Text | None = None
    covers: Annotated[list[Annotated[str, _one_of(*COVERS)]], Field(max_length=len(COVERS))] | None = None


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
"""A crop's numbers: their unit, and what they lie between."""
REQUIRED_NUMBERS = ("rotation_gap_years", "spacing_cm", "base_c")


def _number(unit: str, low: float, high: float) -> type[_Sourced]:
    """One of a crop's numbers, in its unit and within its ends."""
    within = Annotated[float, _between(low, high)]
    ends = Annotated[list[within], Field(min_length=2, max_length=2)]
    fields: dict[str, Any] = {
        "value": (within, ...),
        "unit": (Annotated[str, _one_of(unit)], ...),
        "range": (ends | None, None),
    }
    return create_model("CropNumber", __base__=_Sourced, **fields)


def _numbers() -> type[_Form]:
    fields: dict[str, Any] = {}
    for name, (unit, low, high) in UNITS.items():
        made = _number(unit, low, high)
        fields[name] = (made, ...) if name in REQUIRED_NUMBERS else (made | None, None)
    return create_model("Numbers", __base__=_Form, **fields)


Numbers = _numbers()


class Calendar(_Form):
    """A crop calendar as its TOML file holds it."""

    id: Text
    one: Text
    many: Text
    latin: Text
    family: Text
    hardiness: Annotated[str, _one_of(*HARDINESS)]
    start: Annotated[str, _one_of(*STARTS)]
    like: Text | None = None
    edible_caution: Name | None = None
    numbers: Numbers  # type: ignore[valid-type]
    emergence: Annotated[list[_Seedlings], Field(max_length=40)] = []
    windows: dict[Name, Windows] = {}
    gates: dict[Name, _Gate] = {}
    steps: Annotated[list[Step], Field(min_length=1, max_length=60)]


class _CareStep(_Form):
    """One thing to do about a trouble."""

    say: Text
    minutes: Annotated[float, _between(0, 600)] = 10
    cautions: Names = []


class Trouble(_Sourced):
    """What to do about a trouble, when to look again, and when it is over. [days]"""

    name: Text
    hosts: Annotated[list[Text], Field(max_length=200)]
    recheck: Annotated[list[Annotated[int, _between(1, 60)]], Field(min_length=2, max_length=2)]
    watch_days: Annotated[int, _between(1, 400)]
    clear_looks: Annotated[int, _between(1, 20)]
    clear_gap: Annotated[int, _between(0, 100)]
    steps: Annotated[list[_CareStep], Field(min_length=1, max_length=20)]


class Caution(_Sourced):
    """A caution shown with a job."""

    title: Text
    say: Text


_Months = Annotated[list[Annotated[int, _between(0, 60)]], Field(min_length=12, max_length=12)]


class _WaterEvery(_Sourced):
    """Days between waterings by hand, for each month from January in the north; 0 for none."""

    glass: _Months
    tunnel: _Months
    frame: _Months
    indoors: _Months
    open: _Months


_Minute = Annotated[int, _between(0, 600)]


class _StandingMinutes(_Form):
    """Time of each standing job. [min]"""

    look: _Minute
    water: _Minute
    connect: _Minute
    check: _Minute
    remove: _Minute
    move: _Minute
    spare: _Minute
    watch: _Minute


class _Slack(_Form):
    """Leeway about a household's own days. [days]"""

    sow_on: Annotated[list[Annotated[int, _between(0, 60)]], Field(min_length=2, max_length=2)]
    resow: Annotated[int, _between(0, 60)]


class Standing(_Sourced):
    """Jobs of places rather than of plants. [days]"""

    look_every: Annotated[int, _between(1, 60)]
    check_every: Annotated[int, _between(1, 60)]
    connect: Annotated[list[Annotated[int, _between(0, 60)]], Field(min_length=3, max_length=3)]
    water_every: _WaterEvery
    minutes: _StandingMinutes
    slack: _Slack


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
