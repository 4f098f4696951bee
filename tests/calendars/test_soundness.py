"""Every calendar can be grown somewhere, and one that cannot is found out, whatever is wrong with it."""

from __future__ import annotations

import copy
from collections.abc import Callable, Iterator
from typing import Any

import pytest

from server.calendars.read import Calendars, read_calendars
from server.calendars.read_climates import read_climates
from server.season.crop_calendar import faults
from server.season.named_climates import site_fields
from server.season.rulebook import make_rulebook
from server.season.soundness import unsound
from tests.cases import sampled

CALENDARS = read_calendars()
SITES = [
    {"id": "site", "kind": "site", "stamp": "000000000000-0000-aaaaaaaa", "fields": site_fields(climate)}
    for climate in read_climates().values()
]


def found_in(crops: dict[str, dict[str, Any]], sites: list[dict[str, Any]]) -> list[str]:
    """What is said of these calendars."""
    calendars = Calendars(crops, CALENDARS.care, CALENDARS.cautions, CALENDARS.standing)
    books: Iterator[dict[str, Any]] = (make_rulebook(calendars, [site]) for site in sites)
    return unsound(crops, books)


def test_every_calendar_is_sound() -> None:
    assert len(CALENDARS.crops) >= 60
    assert found_in(CALENDARS.crops, SITES) == []


def step(table: dict[str, Any], name: str) -> dict[str, Any]:
    found: dict[str, Any] = next(one for one in table["steps"] if one["id"] == name)
    return found


def shrink(table: dict[str, Any]) -> None:
    step(table, "pot_up_2")["pot_l"] = 0.1


def sown_too_late(table: dict[str, Any]) -> None:
    table["windows"]["sow"]["weeks"].update({"from": -4, "aim": -5, "by": -6})


def pot_bound(table: dict[str, Any]) -> None:
    step(table, "plant_out")["after"]["days"].update({"min": 0, "aim": 1, "max": 2})
    step(table, "pot_up_2")["after"]["days"].update({"min": 1, "aim": 2, "max": 3})
    table["windows"]["sow"]["weeks"].update({"from": 40, "aim": 39, "by": 38})


def never_ripe(table: dict[str, Any]) -> None:
    step(table, "pick")["after"]["heat"].update({"min": 9000, "aim": 9500})


def never_ends(table: dict[str, Any]) -> None:
    table["steps"] = [one for one in table["steps"] if one["id"] != "clear"]


@pytest.mark.parametrize(
    ("harm", "says"),
    [
        (shrink, "tomato.toml: step 'pot_up_2' goes into 0.1 L after 0.3 L"),
        (sown_too_late, "tomato.toml: it fits under no cover of any named climate: its step 'sow' is pinched"),
        (pot_bound, "tomato.toml: it fits under no cover of any named climate"),
        (never_ripe, "its step 'pick' comes too late for its own end"),
        (never_ends, "tomato.toml: nothing ends it. Add a step that clears it"),
    ],
)
def test_a_calendar_that_cannot_be_grown_is_found_out(harm: Callable[[dict[str, Any]], None], says: str) -> None:
    table = copy.deepcopy(CALENDARS.crops["tomato"])
    harm(table)
    assert faults(table, "tomato.toml") == [], "wrong in what it says, not in its shape"
    assert any(says in line for line in found_in({"tomato": table}, sampled(SITES, 6)))
