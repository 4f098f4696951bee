"""Days from planting to first picking in warm and in cool places, held against published days to maturity.

Days to maturity from transplanting: extension transplant tables (tomato 60 to 85, melon 75 to 100, sweetcorn 70 to 100,
pumpkin 90 to 120, courgette 35 to 55, pepper 60 to 90).
"""

from __future__ import annotations

import functools
from typing import Any

import pytest

from server.calendars.read import read_calendars
from server.calendars.read_climates import read_climates
from server.kernel.read.days import in_season, iso, parse
from server.kernel.settle import settle
from server.season.climate import read_site
from server.season.last_days import ripens
from server.season.named_climates import site_fields
from server.season.rulebook import make_rulebook
from server.season.windows import Line
from tests.builders import FIRST_STAMP, site_record

YEAR = 2031
WARM = "burlington_vermont"
PUBLISHED = [
    ("tomato", 60, 95),
    ("melon", 75, 110),
    ("sweetcorn", 70, 110),
    ("pumpkin", 90, 125),
    ("courgette", 35, 60),
    ("sweet_pepper", 60, 100),
]
"""Crop, fewest and most days from planting in the open in a summer that suits it; a tenth more let pass at the far end."""


@functools.lru_cache(maxsize=4)
def rulebook(climate: str) -> dict[str, Any]:
    return make_rulebook(read_calendars(), [site_record(**site_fields(read_climates()[climate]))])


def record(kind: str, id_: str, **fields: Any) -> dict[str, Any]:
    return {"id": id_, "kind": kind, "stamp": FIRST_STAMP, "fields": fields}


def first_pick(climate: str, crop: str, cover: str) -> tuple[str, str, dict[str, Any]]:
    """Day planted (the calendar's best), first day of picking, and the planting's job."""
    book = rulebook(climate)
    step = next(step for step in book["crops"][crop]["steps"] if step["verb"] == "plant_out")
    window = step["window"].get(cover, step["window"]["*"])
    on = iso(in_season(window["aim"], YEAR))
    records = [
        record("place", "there", name="There", sort="house", cover=cover),
        record("variety", "v", name="Kind", crop=crop),
        record("batch", "b", variety="v", want=6, for_place="there", year=YEAR),
    ]
    before = next(job for job in settle(book, records, f"{YEAR}-01-10") if job["id"] == "b.plant_out")
    records.append(record("diary", "d", did="plant_out", batch="b", count=6, on=on, to_place="there"))
    pick = next(job for job in settle(book, records, on) if job["verb"] == "pick")
    return on, pick["from"], before


@pytest.mark.parametrize(("crop", "fewest", "most"), PUBLISHED, ids=[row[0] for row in PUBLISHED])
def test_a_warm_summer_is_no_quicker_than_trials_say(crop: str, fewest: int, most: int) -> None:
    planted, picked, _ = first_pick(WARM, crop, "open")
    assert fewest <= parse(picked) - parse(planted) <= most


@pytest.mark.parametrize("cover", ["glass", "tunnel"])
def test_nor_is_a_house(cover: str) -> None:
    planted, picked, _ = first_pick(WARM, "sweetcorn", cover)
    assert parse(picked) - parse(planted) >= 70


def test_where_it_will_not_ripen_that_is_said_before_it_is_begun() -> None:
    """Aubergines in the open at 53 N do not (common practice); under glass they do."""
    _, _, outside = first_pick("english_midlands", "aubergine", "open")
    _, _, inside = first_pick("english_midlands", "aubergine", "glass")
    assert any("too short" in line and "cover" in line for line in outside["why"])
    assert not any("too short" in line for line in inside["why"])


def test_tender_crops_of_a_british_garden_ripen_in_it() -> None:
    """What lowland British gardens grow outdoors every year: common practice."""
    site = read_site(site_fields(read_climates()["english_midlands"]))
    crops = read_calendars().crops
    for crop in ("courgette", "french_bean", "runner_bean", "sweetcorn", "squash", "pumpkin", "potato"):
        assert ripens(Line(site, crops[crop], "open"), crops[crop]["steps"][0]["id"]), crop
