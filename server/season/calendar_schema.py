"""The schema of a crop calendar: which keys there are, and what each may hold.

What the parts of a calendar say of each other is in `crop_calendar`. The models only check: a calendar stays the plain table
that its TOML file holds.
"""

from __future__ import annotations

from typing import Annotated, Any, Literal

from pydantic import BeforeValidator, Discriminator, Field, Tag, create_model

from server.kernel.read.words import PAST
from server.season.table_schema import Form, Name, Names, Source, Sourced, Text, Unit, between, one_of, shown, text, wrong

STAGES = ("sown", "up", "pricked out", "potted up", "hardening", "planted")
WHERE = ("raise", "final", "here")
COVERS = ("glass", "tunnel", "frame", "open", "indoors")
STARTS = ("raised", "direct", "set")
HARDINESS = ("tender", "half_hardy", "hardy")
ANCHORS = ("plant_out", "planting", "gate", "last_frost", "first_frost", "waking", "spring", "bulbing", "leaf_fall")
VERBS = tuple(PAST)
PLACEHOLDERS = ("{seeds}", "{plants}", "{many}", "{one}", "{place}")
"""What a step's sentence may name: the kernel puts the batch's own words there."""
FROST = ("kills", "cuts back", "spoils flowers", "harmless")
"""What frost at a crop's own temperature does: it is over; it comes again from below; what is open bears nothing; nothing."""
BECOMES = ("believed", "asked", "lapses", "stays")
"""Of a step nobody told of: taken as done; asked about while it can still be done and then taken as done; of no use any more;
still to do."""
MOST_WEEKS = 60
MOST_DAYS = 20_000
"""A tree stands for fifty years."""
MOST_EVERY_DAYS = 2500
MOST_HEAT = 20000
"""Degree-days."""


def _sentence(value: Any) -> Any:
    left = str(text(value))
    for placeholder in PLACEHOLDERS:
        left = left.replace(placeholder, "")
    if "{" in left or "}" in left:
        raise wrong(f"is {shown(value)}", f"In braces can stand {', '.join(PLACEHOLDERS)}")
    return value


Sentence = Annotated[str, BeforeValidator(_sentence)]
Days = Annotated[float, between(0, MOST_DAYS)]
Heat = Annotated[float, between(0, MOST_HEAT)]
Weeks = Annotated[float, between(-MOST_WEEKS, MOST_WEEKS)]


class InDays(Sourced):
    """A length of time. [days]"""

    value: Annotated[float, between(1, MOST_DAYS)]
    unit: Annotated[str, one_of("days")] = "days"


class Every(InDays):
    """How often a step comes again. [days]"""

    value: Annotated[float, between(1, MOST_EVERY_DAYS)]


class _Years(Sourced):
    """A length of time. [years]"""

    value: Annotated[float, between(1, 20)]
    unit: Annotated[str, one_of("years")] = "years"


class _Metres(Sourced):
    """A distance. [m]"""

    value: Annotated[float, between(0, 5000)]
    unit: Annotated[str, one_of("m")] = "m"


class _Fewest(Sourced):
    """A number of plants."""

    value: Annotated[float, between(1, 200)]
    unit: Annotated[str, one_of("")] = ""


class _Seedlings(Sourced):
    """Days from sowing to seedlings at one temperature [°C]; none where nothing comes up."""

    temp_c: Annotated[float, between(-5, 50)]
    days: Annotated[float, between(1, 400)] | None = None
    normal_pct: Annotated[float, between(0, 100)] | None = None
    """Sound seedlings of a hundred seeds that were tried. [%]"""


class _DaysGap(Form):
    """Days between two steps."""

    min: Days
    aim: Days | None = None
    max: Days | None = None


class _HeatGap(Form):
    """Degree-days between two steps."""

    min: Heat
    aim: Heat | None = None
    max: Heat | None = None
    least_days: Days | None = None
    """However warm it is, no sooner than this. [days]"""


def _word_or_table(value: Any) -> str:
    return "a word" if isinstance(value, str) else "a table"


class _After(Form):
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


class Anchored(Sourced):
    """So many weeks from a day that the site or another step gives."""

    of: Annotated[str, one_of(*ANCHORS)]
    weeks: Weeks | None = None


class Season(Form):
    """From when to when in a year a step is of use."""

    from_: Anchored = Field(alias="from")
    to: Anchored


class _WindowWeeks(Sourced):
    """The ends of a window, in weeks from its anchor."""

    from_: Weeks = Field(alias="from")
    aim: Weeks
    by: Weeks


class _Window(Form):
    """When a step may begin."""

    of: Annotated[str, one_of(*ANCHORS)]
    weeks: _WindowWeeks


class _CoverWindows(Form):
    """A window for each cover, or for all others."""

    covers: dict[Annotated[str, one_of(*COVERS, "*")], _Window]


def _by_cover(value: Any) -> str:
    return "by cover" if isinstance(value, dict) and "covers" in value else "for all"


Windows = Annotated[
    Annotated[_CoverWindows, Tag("by cover")] | Annotated[_Window, Tag("for all")],
    Discriminator(_by_cover),
]


class _Night(Sourced):
    """A night's least temperature. [°C]"""

    value: Annotated[float, between(-10, 25)]
    unit: Annotated[str, one_of("°C")] = "°C"


class _Allowed(_Night):
    """By how much a night may be colder. [°C]"""

    value: Annotated[float, between(0, 8)]


class _Gate(Form):
    """Nights that a step waits for."""

    night_c: _Night
    allow_c: _Allowed


class _Minutes(Sourced):
    """Time for the job, and for each plant. [min]"""

    fixed: Annotated[float, between(0, 600)]
    each: Annotated[float, between(0, 60)] = 0


class _Missed(Sourced):
    """What becomes of a step that nobody told of, and how many days past its last one it is still asked for. [days]"""

    becomes: Annotated[str, one_of(*BECOMES)]
    days: Annotated[int, between(0, 366)]


class _Need(Sourced):
    """What a step takes, for each plant."""

    what: Text
    each: Annotated[float, between(0, 100)] = 1
    unit: Unit = ""
    stems: Annotated[int, between(1, 9)] | None = None
    """Stems that `each` is for, where it goes by stems."""
    once: bool = False
    """For the whole job, however many plants: a tool."""


class _Answer(Form):
    """An answer to a decision, and what it changes."""

    id: Name
    say: Text
    stems: Annotated[int, between(1, 9)] | None = None


class Step(Form):
    """One step of a crop's path."""

    id: Name
    verb: Annotated[str, one_of(*VERBS)]
    stage: Annotated[str, one_of(*STAGES)] | None = None
    where: Annotated[str, one_of(*WHERE)]
    say: Sentence
    minutes: _Minutes
    needs: Annotated[list[_Need], Field(max_length=8)] = Field(default_factory=list)
    after: _After | None = None
    also_after: Annotated[list[_After], Field(max_length=8)] = Field(default_factory=list)
    every: Every | None = None
    until: Anchored | None = None
    span: InDays | None = None
    season: Season | None = None
    missed: _Missed | None = None
    keeps: Every | None = None
    """How long what is ripe stays good on the plant."""
    before: Name | None = None
    """The step by which a decision is to be made."""
    answers: Annotated[list[_Answer], Field(max_length=6)] = Field(default_factory=list)
    whole_plant: bool = False
    pot_l: Annotated[float, between(0.01, 100)] | None = None
    cautions: Names = Field(default_factory=list)
    ways_out: Text | None = None
    hint: Text | None = None
    covers: Annotated[list[Annotated[str, one_of(*COVERS)]], Field(max_length=len(COVERS))] | None = None


class _Seed(Form):
    """How long seed keeps; of what is saved for seed in its first year how far apart, how many plants, and when it is dry."""

    life_years: _Years
    apart_m: _Metres | None = None
    plants: _Fewest | None = None
    dry_days: InDays | None = None
    how: Text | None = None


class _Store(Form):
    """How what is picked keeps: in the best store, and cured first where it has to be."""

    keeps_days: InDays
    cure_days: InDays | None = None
    best: Text
    """At which warmth and damp."""
    how: Text


UNITS = {
    "rotation_gap_years": ("years", 0, 20),
    "germination_pct": ("%", 1, 100),
    "field_factor_pct": ("%", 1, 100),
    "raise_c": ("°C", 3, 40),
    "soil_c": ("°C", 0, 30),
    "cool_c": ("°C", 0, 30),
    "hot_c": ("°C", 10, 45),
    "bolts_h": ("h", 8, 24),
    "bulb_h": ("h", 8, 24),
    "sowing_depth_cm": ("cm", 0, 30),
    "spacing_cm": ("cm", 0.5, 500),
    "row_cm": ("cm", 0.5, 500),
    "base_c": ("°C", -5, 20),
    "upper_c": ("°C", 15, 45),
    "frost_kills_c": ("°C", -30, 5),
    "rest_kills_c": ("°C", -50, 5),
    "chill_h": ("h", 0, 3000),
    "year_heat": ("°C d", 0, 5000),
    "reserve_pct": ("%", 0, 200),
    "per_pot": ("", 1, 20),
    "kc_mid": ("", 0.1, 2),
}
"""A crop's numbers: their unit, and what they lie between."""
REQUIRED_NUMBERS = ("rotation_gap_years", "spacing_cm")


def _number(unit: str, low: float, high: float) -> type[Sourced]:
    """One of a crop's numbers, in its unit and within its ends."""
    within = Annotated[float, between(low, high)]
    ends = Annotated[list[within], Field(min_length=2, max_length=2)]
    fields: dict[str, Any] = {
        "value": (within, ...),
        "unit": (Annotated[str, one_of(unit)], ...),
        "range": (ends | None, None),
    }
    return create_model("CropNumber", __base__=Sourced, **fields)


def _numbers() -> type[Form]:
    fields: dict[str, Any] = {}
    for name, (unit, low, high) in UNITS.items():
        made = _number(unit, low, high)
        fields[name] = (made, ...) if name in REQUIRED_NUMBERS else (made | None, None)
    return create_model("Numbers", __base__=Form, **fields)


Numbers = _numbers()


class Calendar(Form):
    """A crop calendar as its TOML file holds it."""

    id: Text
    one: Text
    many: Text
    harvest: Text | None = None
    """What is picked of it, where that is not called as the plants are: apples of apple trees."""
    latin: Text
    family: Text
    hardiness: Annotated[str, one_of(*HARDINESS)]
    start: Annotated[str, one_of(*STARTS)]
    like: Text | None = None
    edible_caution: Name | None = None
    frost: Annotated[str, one_of(*FROST)] | None = None
    """What frost does to it, where not `kills`."""
    frost_season: Season | None = None
    """The weeks of a year in which alone it does: of buds, flowers and spears."""
    store: _Store | None = None
    seed: _Seed | None = None
    numbers: Numbers  # type: ignore[valid-type]
    emergence: Annotated[list[_Seedlings], Field(max_length=40)] = Field(default_factory=list)
    windows: dict[Name, Windows] = Field(default_factory=dict)
    gates: dict[Name, _Gate] = Field(default_factory=dict)
    steps: Annotated[list[Step], Field(min_length=1, max_length=60)]
