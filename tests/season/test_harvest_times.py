"""When bulbs are lifted and perennials first give, held against what growers of each region are told.

From memory of the guides of the services named: RHS (England), UVM (Vermont), NC State (North Carolina), UC (Sacramento),
Agriculture Victoria (Melbourne).
"""

from __future__ import annotations

import functools
from typing import Any

import pytest

from server.calendars.read import read_calendars
from server.calendars.read_climates import read_climates
from server.kernel.settle import settle
from server.season.climate import read_site
from server.season.named_climates import site_fields
from server.season.rulebook import make_rulebook
from server.season.turns import unfit
from server.season.windows import Line
from tests.season.test_turns import around, day, published

CALENDARS = read_calendars()
TIMES = {
    "english_midlands": {
        "garlic": "06-20..08-15", "onion": "07-20..09-15", "winter_onion": "06-10..07-31", "strawberry": "05-25..07-20",
        "asparagus": "04-15..06-21", "rhubarb": "03-15..07-15",
    },
    "burlington_vermont": {
        "garlic": "07-01..08-10", "onion": "07-25..09-15", "strawberry": "06-01..07-10", "asparagus": "04-25..06-30",
        "rhubarb": "04-25..07-05",
    },
    "raleigh": {"garlic": "05-20..07-01", "strawberry": "04-10..06-10", "asparagus": "03-15..05-31"},
    "sacramento": {"garlic": "05-20..07-15", "strawberry": "04-01..07-15", "asparagus": "02-20..05-31",
                   "rhubarb": "02-15..06-15"},
    "melbourne": {"garlic": "11-10..12-31", "strawberry": "10-10..02-28", "asparagus": "09-01..12-15",
                  "rhubarb": "08-15..03-15"},
}  # fmt: skip
"""Crop, and from when to when it is lifted or picked."""


def record(kind: str, id_: str, **fields: Any) -> dict[str, Any]:
    return {"id": id_, "kind": kind, "stamp": "000000000000-0000-aaaaaaaa", "fields": {"name": "", **fields}}


@functools.lru_cache(maxsize=len(TIMES))
def book_at(climate: str) -> dict[str, Any]:
    return make_rulebook(CALENDARS, [record("site", "site", **site_fields(read_climates()[climate]))])


@pytest.mark.parametrize(("climate", "crop"), [(climate, crop) for climate, crops in TIMES.items() for crop in crops])
def test_first_picking_falls_into_its_time(climate: str, crop: str) -> None:
    """With a week to spare at the early end."""
    book = book_at(climate)
    batch = [
        record("place", "there", sort="house", cover="open"),
        record("place", "warm", sort="propagator", cover="indoors", heated_to_c=book["crops"][crop]["raise_c"]),
        record("variety", "variety", crop=crop),
        record("batch", "batch", variety="variety", want=10, for_place="there", year=2031),
    ]
    pick = next(job for job in settle(book, batch, "2030-07-01") if job["verb"] == "pick")
    place = day(pick["aim"][5:])
    assert around(place, place + 7) & published(TIMES[climate][crop]), pick["aim"]


def test_long_day_onions_make_no_bulbs_near_the_equator() -> None:
    """Days of 14 hours and more come only beyond 28 degrees or so; common practice: short-day onions are grown nearer."""
    fields = {"lat": 10.0, "lon": 0.0, "normals": [[22, 32]] * 12, "last_frost": None, "first_frost": None}
    line = Line(read_site(fields), CALENDARS.crops["onion"], "open")
    assert unfit(line, line.setting) == "days"
    line = Line(read_site(site_fields(read_climates()["english_midlands"])), CALENDARS.crops["onion"], "open")
    assert unfit(line, line.setting) is None
