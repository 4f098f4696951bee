"""The schema of a calendar's companions: troubles, cautions, the jobs of places rather than of plants, and upkeep."""

from __future__ import annotations

from typing import Annotated

from pydantic import Field

from server.season.calendar_schema import BECOMES, COVERS, VERBS, Anchored, Every, InDays, Season
from server.season.table_schema import Form, Names, Sourced, Text, between, one_of

TARGETS = ("household", "house", "bed", "border", "bench", "heater", "drip_line", "soaker_hose")
"""What upkeep can be chosen for: the household as a whole, sorts of places, sorts of fixtures."""


class _CareStep(Form):
    """One thing to do about a trouble."""

    say: Text
    minutes: Annotated[float, between(0, 600)] = 10
    cautions: Names = Field(default_factory=list)


class Trouble(Sourced):
    """What to do about a trouble, when to look again, and when it is over. [days]"""

    name: Text
    hosts: Annotated[list[Text], Field(max_length=200)]
    host_families: Annotated[list[Text], Field(max_length=20)] = Field(default_factory=list)
    """Botanical families all of which it goes for."""
    recheck: Annotated[list[Annotated[int, between(1, 60)]], Field(min_length=2, max_length=2)]
    watch_days: Annotated[int, between(1, 400)]
    clear_looks: Annotated[int, between(1, 20)]
    clear_gap: Annotated[int, between(0, 100)]
    steps: Annotated[list[_CareStep], Field(min_length=1, max_length=20)]


class Caution(Sourced):
    """A caution shown with a job."""

    title: Text
    say: Text


_Months = Annotated[list[Annotated[int, between(0, 60)]], Field(min_length=12, max_length=12)]


class _WaterEvery(Sourced):
    """Days between waterings by hand, for each month from January in the north; 0 for none."""

    glass: _Months
    tunnel: _Months
    frame: _Months
    indoors: _Months
    open: _Months


_Minute = Annotated[int, between(0, 600)]


class _StandingMinutes(Form):
    """Time of each standing job. [min]"""

    look: _Minute
    water: _Minute
    connect: _Minute
    check: _Minute
    remove: _Minute
    move: _Minute
    spare: _Minute
    watch: _Minute


class _Missed(Form):
    """What becomes of a step that nobody told of, and how many days past its last one it is still asked for. [days]"""

    becomes: Annotated[str, one_of(*BECOMES)]
    days: Annotated[int, between(0, 366)]


class _MissedByVerb(Sourced):
    """The same for each verb a path may have."""

    sow: _Missed
    emerge: _Missed
    prick_out: _Missed
    pot_up: _Missed
    harden_off: _Missed
    plant_out: _Missed
    string: _Missed
    train: _Missed
    feed: _Missed
    look: _Missed
    install: _Missed
    pick: _Missed
    decide: _Missed
    clear: _Missed


class _Slack(Form):
    """Leeway about a household's own days. [days]"""

    sow_on: Annotated[list[Annotated[int, between(0, 60)]], Field(min_length=2, max_length=2)]
    resow: Annotated[int, between(0, 60)]


class Standing(Sourced):
    """Jobs of places rather than of plants. [days]"""

    look_every: Annotated[int, between(1, 60)]
    check_every: Annotated[int, between(1, 60)]
    store_every: Annotated[int, between(1, 90)]
    connect: Annotated[list[Annotated[int, between(0, 60)]], Field(min_length=3, max_length=3)]
    water_every: _WaterEvery
    minutes: _StandingMinutes
    missed: _MissedByVerb
    slack: _Slack


class _GrowthEvery(Sourced):
    """How often by growth: so many degree-days above a base [°C d], within days."""

    base_c: Annotated[float, between(-5, 20)]
    heat: Annotated[float, between(1, 5000)]
    least_days: Annotated[int, between(1, 366)]
    most_days: Annotated[int, between(1, 366)]


class _UpkeepMinutes(Sourced):
    """Time for the job, and for each square metre. [min]"""

    fixed: Annotated[float, between(0, 600)]
    each_m2: Annotated[float, between(0, 60)] = 0


class _UpkeepNeed(Sourced):
    """What the work takes: for each square metre, or once."""

    what: Text
    each_m2: Annotated[float, between(0.01, 1000)] | None = None
    unit: Annotated[str, one_of("", "L", "kg", "g")] = ""
    once: bool = False


class _Lime(Sourced):
    """Lime by soil and test: for one unit of pH so many tonnes a hectare, each 100 g/m2."""

    target_ph: Annotated[float, between(4, 8)]
    worth_ph: Annotated[float, between(0, 2)]
    """Less than this under the target is nothing."""
    most_g_m2: Annotated[int, between(1, 5000)]
    sand: Annotated[float, between(1, 30)]
    loam: Annotated[float, between(1, 30)]
    clay: Annotated[float, between(1, 30)]
    organic: Annotated[float, between(1, 30)]
    peat: Annotated[float, between(1, 30)]


class _ManureKind(Sourced):
    """A green manure: when it is sown, how long it stands before it is dug in [days], and how thickly it is sown."""

    name: Text
    family: Text
    sow: Season
    stands_days: Annotated[list[Annotated[int, between(1, 400)]], Field(min_length=2, max_length=2)]
    g_m2: Annotated[float, between(0.1, 100)]


class _DigIn(Form):
    """The work that ends a green manure."""

    say: Text
    verb: Annotated[str, one_of(*VERBS)]
    before_days: InDays
    minutes: _UpkeepMinutes
    cautions: Names = Field(default_factory=list)
    hint: Text | None = None


class Upkeep(Form):
    """Work that no crop asks for, chosen by place."""

    name: Text
    say: Text
    verb: Annotated[str, one_of(*VERBS)]
    at: Annotated[list[Annotated[str, one_of(*TARGETS)]], Field(min_length=1, max_length=len(TARGETS))]
    covers: Annotated[list[Annotated[str, one_of(*COVERS)]], Field(max_length=len(COVERS))] | None = None
    every: Every | None = None
    growth: _GrowthEvery | None = None
    season: Season | None = None
    firm: bool = False
    """Whether the end of its season is its last day."""
    minutes: _UpkeepMinutes
    needs: Annotated[list[_UpkeepNeed], Field(max_length=8)] = Field(default_factory=list)
    cautions: Names = Field(default_factory=list)
    hint: Text | None = None
    lime: _Lime | None = None
    refill: Anchored | None = None
    """From when what was drained is filled again."""
    kinds: Annotated[list[_ManureKind], Field(max_length=20)] = Field(default_factory=list)
    dig: _DigIn | None = None


class _Pot(Sourced):
    """A pot: litres, and its width at the rim. [cm]"""

    litres: Annotated[float, between(0.01, 1000)]
    cm: Annotated[float, between(1, 200)]


class _Tray(Sourced):
    """A seed tray from outside. [cm, L]"""

    length_cm: Annotated[float, between(5, 200)]
    width_cm: Annotated[float, between(5, 200)]
    litres: Annotated[float, between(0.1, 100)]


class _Cells(Sourced):
    """Modules to a tray, and litres of each."""

    count: Annotated[int, between(1, 1000)]
    litres: Annotated[float, between(0.001, 10)]


class _SeedsTo(Sourced):
    """How many seeds go into a pot of so many litres, half a tray, a full one."""

    pot: Annotated[int, between(1, 10_000)]
    half: Annotated[int, between(1, 10_000)]
    full: Annotated[int, between(1, 10_000)]
    pot_litres: Annotated[float, between(0.01, 100)]


class _Bags(Sourced):
    """Litres of compost to a bag, and of the usual one."""

    litres: Annotated[list[Annotated[float, between(1, 2000)]], Field(min_length=1, max_length=20)]
    usual: Annotated[float, between(1, 2000)]


class _Lasts(Sourced):
    """Words in the names of what is used again, or of tools."""

    words: Annotated[list[Text], Field(max_length=60)]


class Vessels(Form):
    """What plants are raised in, as it is sold."""

    pots: Annotated[list[_Pot], Field(min_length=1, max_length=60)]
    trays: _Tray
    cells: Annotated[list[_Cells], Field(min_length=1, max_length=20)]
    seeds: _SeedsTo
    bags: _Bags
    lasts: _Lasts
    tools: _Lasts


class _Risk(Sourced):
    """A disease or pest that waits in the ground: for which hosts, and for how many years; no years: for good."""

    name: Text
    families: Annotated[list[Text], Field(max_length=20)] = Field(default_factory=list)
    crops: Annotated[list[Text], Field(max_length=40)] = Field(default_factory=list)
    years: Annotated[list[Annotated[int, between(1, 60)]], Field(min_length=2, max_length=2)] | None = None


class Rotation(Form):
    """What is risked where a family comes back to a bed too soon."""

    risks: Annotated[list[_Risk], Field(max_length=60)]
