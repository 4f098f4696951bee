"""The schema of a calendar's companions: troubles, cautions, and the jobs of places rather than of plants."""

from __future__ import annotations

from typing import Annotated

from pydantic import Field

from server.season.calendar_schema import BECOMES
from server.season.table_schema import Form, Names, Sourced, Text, between, one_of


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
    connect: Annotated[list[Annotated[int, between(0, 60)]], Field(min_length=3, max_length=3)]
    water_every: _WaterEvery
    minutes: _StandingMinutes
    missed: _MissedByVerb
    slack: _Slack
