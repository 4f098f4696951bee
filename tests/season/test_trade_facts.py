"""More facts of the trade for 53 N, for crops that cross the year or keep to a part of it, and their mirror."""

from __future__ import annotations

import datetime
import functools
import gzip
import json
from typing import Any

import pytest

from server.calendars.read import read_calendars
from server.season.rulebook import make_rulebook
from tests.builders import WITHY_END, site_record, withy_end_rulebook
from tests.season.test_plan_facts import LAST_FROST, step, window

CROPS = read_calendars().crops
DAY = datetime.timedelta(days=1)
TURNED = [*WITHY_END["normals"][6:], *WITHY_END["normals"][:6]]


def month_day(text: str) -> datetime.date:
    return datetime.date(2031, int(text[0:2]), min(int(text[3:5]), 28) if text[0:2] == "02" else int(text[3:5]))


@pytest.mark.parametrize("crop", ["chinese_cabbage", "endive"])
def test_other_bolters_are_not_sown_before_the_longest_day_draws_near(crop: str) -> None:
    """Common practice: from mid June."""
    assert window(crop, "sow", "open")["from"] >= datetime.date(2031, 6, 10)


def test_celery_is_sown_by_mid_march_for_planting_after_mid_may() -> None:
    """Common practice: February to mid March, 9 to 12 weeks, nights of 7 C and more."""
    sow, plant = window("celery", "sow", "open"), window("celery", "plant_out", "open")
    assert sow["aim"] <= datetime.date(2031, 3, 15) and plant["from"] >= datetime.date(2031, 5, 15)
    assert 9 <= (plant["aim"] - sow["aim"]).days / 7 <= 12 and step("celery", "plant_out")["gate"]["night_c"] >= 7


@pytest.mark.parametrize("crop", ["lambs_lettuce", "land_cress", "mizuna", "mustard"])
def test_winter_leaves_are_in_before_the_short_days(crop: str) -> None:
    """Computed and common practice: less than ten hours of day from 25 October at 53 N; in by early October."""
    assert window(crop, "sow", "open")["by"] <= datetime.date(2031, 10, 7)


@pytest.mark.parametrize(
    ("crop", "name", "first", "last"),
    [
        ("winter_onion", "plant_out", "09-01", "11-20"),
        ("autumn_broad_bean", "sow", "10-15", "11-30"),
        ("garlic", "plant_out", "10-01", "12-31"),
        ("spring_cabbage", "sow", "07-10", "09-15"),
    ],
)
def test_what_stands_the_winter_goes_in_before_it_and_is_picked_in_the_new_year(
    crop: str, name: str, first: str, last: str
) -> None:
    """Common practice."""
    found = window(crop, name, "open")
    assert month_day(first) <= found["from"] <= found["aim"] <= month_day(last)
    days = [link["min"] for link in step(crop, "pick")["after"] if "heat" not in link]
    assert not days or found["aim"] + days[0] * DAY >= datetime.date(2032, 1, 1)


def test_autumn_broad_beans_are_picked_before_spring_sown_ones_by_heat() -> None:
    """Transplant tables: 190 to 230 days from autumn, 90 to 125 from spring."""
    book = withy_end_rulebook()
    series = next(link for link in step("broad_bean", "pick")["after"])
    heat = book["heat"][f"open|{series['heat']}"]

    def ready(sown: datetime.date) -> datetime.date:
        total, day = 0, sown
        while total < series["aim"]:
            day += DAY
            total += heat[(datetime.date(2024, day.month, day.day) - datetime.date(2024, 1, 1)).days]
        return day

    autumn, spring = window("autumn_broad_bean", "sow", "open")["aim"], window("broad_bean", "sow", "open")["aim"] + 366 * DAY
    assert 190 <= (ready(autumn) - autumn).days <= 230 and 90 <= (ready(spring) - spring).days <= 125
    assert ready(autumn) < ready(spring)


def test_sweet_potatoes_and_groundnuts_keep_to_the_warm_half() -> None:
    """Common practice: planted from the end of May, lifted before the first frost."""
    for crop in ("sweet_potato", "groundnut"):
        assert window(crop, "plant_out", "tunnel")["from"] >= datetime.date(2031, 5, 20)
        assert step(crop, "plant_out")["gate"]["night_c"] >= 12


def test_alliums_are_under_mesh_when_leaf_miner_and_leek_moth_fly() -> None:
    """Garden Organic and allotment notes: on by 1 March and 1 September."""
    assert window("winter_onion", "mesh_spring", "open")["aim"] <= datetime.date(2032, 3, 1)
    assert window("leek", "mesh_autumn", "open")["aim"] <= datetime.date(2031, 9, 1)
    (link,) = step("leek", "mesh_spring")["after"]
    assert link["step"] == "plant_out" and link["min"] == 0


@pytest.mark.parametrize(
    ("crop", "opens", "closes"), [("rhubarb", (3, 4), (6, 7)), ("asparagus", (4,), (6,)), ("strawberry", (5, 6), (7,))]
)
def test_perennials_are_picked_in_their_weeks_alone(crop: str, opens: tuple[int, ...], closes: tuple[int, ...]) -> None:
    """Common practice: rhubarb and asparagus to midsummer, strawberries in June and July."""
    season = step(crop, "pick")["season"]
    assert int(season["from"][:2]) in opens and int(season["to"][:2]) in closes


def test_perennials_are_left_to_grow_before_the_first_picking() -> None:
    """Common practice: none from asparagus in its first two years, none from rhubarb in its first."""
    assert step("asparagus", "pick")["after"][0]["min"] >= 700
    assert step("rhubarb", "pick")["after"][0]["min"] >= 365
    assert all(withy_end_rulebook()["crops"][crop]["rotation_years"] >= 5 for crop in ("asparagus", "rhubarb"))


@pytest.mark.parametrize("crop", sorted(CROPS))
def test_order_of_the_year_holds_for_every_crop(crop: str) -> None:
    """Sown before planted; what is tender not out of doors before the last frost (potatoes are still underground then)."""
    steps = {entry["id"]: entry for entry in withy_end_rulebook()["crops"][crop]["steps"]}
    first = next(iter(steps))
    if steps[first]["window"] and "plant_out" in steps and steps["plant_out"]["window"] and first != "plant_out":
        for end in ("from", "aim", "by"):
            assert window(crop, first, "open")[end] < window(crop, "plant_out", "open")[end]
    if crop != "potato" and CROPS[crop]["hardiness"] == "tender" and steps.get("plant_out", {}).get("window"):
        assert window(crop, "plant_out", "open")["from"] > LAST_FROST


@functools.cache
def southern_rulebook() -> dict[str, Any]:
    """The same garden as far south as it is north, half a year off: days are as long."""
    lat = -site_record()["fields"]["lat"]
    return make_rulebook(read_calendars(), [site_record(lat=lat, normals=TURNED, last_frost="11-12", first_frost="04-18")])


@pytest.mark.parametrize("crop", sorted(CROPS))
def test_in_the_south_every_crop_is_half_a_year_off(crop: str) -> None:
    south = southern_rulebook()
    for entry in withy_end_rulebook()["crops"][crop]["steps"]:
        if entry["window"]:
            here, there = window(crop, entry["id"], "open"), window(crop, entry["id"], "open", south)
            off = (there["aim"] - here["aim"]).days % 365
            assert abs(off - 184) <= 5, (entry["id"], here["aim"], there["aim"])
        if entry["season"]:
            there_season = step(crop, entry["id"], south)["season"]
            off = (month_day(there_season["from"]) - month_day(entry["season"]["from"])).days % 365
            assert abs(off - 184) <= 5


def test_rulebook_of_every_crop_stays_small() -> None:
    """The limit is 60 kB for a household of 60 crops; here are all there are."""
    book = withy_end_rulebook()
    assert len(book["crops"]) >= 60
    assert len(gzip.compress(json.dumps(book, separators=(",", ":")).encode(), 6)) < 60_000
