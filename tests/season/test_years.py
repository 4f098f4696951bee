"""What lives for years: its work of each season, the cold and the warmth it needs, and trees put in long ago."""

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
from server.season.windows import Line
from server.season.years import chill_hours
from tests.season.published_calendars import GAINESVILLE

CALENDARS = read_calendars()
YEARS = sorted(
    crop for crop, table in CALENDARS.crops.items() if any("season" in it for it in table["steps"] if it["verb"] == "pick")
)
FRUIT = ["apple", "autumn_raspberry", "blackberry", "blackcurrant", "blueberry", "cherry", "fig", "gooseberry", "grape", "pear",
         "plum", "raspberry", "redcurrant", "strawberry", "whitecurrant"]  # fmt: skip


def fields_of(site: str) -> dict[str, Any]:
    return GAINESVILLE if site == "gainesville" else site_fields(read_climates()[site])


def record(kind: str, id_: str, **fields: Any) -> dict[str, Any]:
    return {"id": id_, "kind": kind, "stamp": "000000000000-0000-aaaaaaaa", "fields": {"name": "", **fields}}


SITES = ("english_midlands", "canberra", "gainesville", "calgary", "edinburgh", "madrid")


@functools.cache
def book_at(site: str) -> dict[str, Any]:
    """The rulebook of a site; made when it is first asked for, since every worker reads every file."""
    return make_rulebook(CALENDARS, [record("site", "site", **fields_of(site))])


def jobs(crop: str, on: str, planted: str | None, site: str = "english_midlands", *told: tuple[str, str]) -> dict[str, Any]:
    """Jobs of three plants by their step, on a day."""
    records = [
        record("place", "there", sort="bed", cover="open"),
        record("variety", "variety", crop=crop),
        record("batch", "b", variety="variety", want=3, for_place="there", year=int((planted or on)[:4])),
    ]
    deeds = ([(planted, "plant_out")] if planted else []) + list(told)
    records += [record("diary", f"d{n}", on=day, did=did, batch="b", place="there") for n, (day, did) in enumerate(deeds)]
    return {job["id"].split(".")[1]: job for job in settle(book_at(site), records, on) if job["batch"] == "b"}


# Hours under 45 °F in a winter, growers' tables: Gainesville 300 to 500, Sacramento 800 to 1,100; Oregon's valley more than
# 1,500, Vermont more than any fruit asks for; Sydney's coast hardly any. From memory.
CHILL = [("gainesville", 300, 500), ("sacramento", 800, 1150), ("portland_oregon", 1500, 2600), ("sydney", 0, 250),
         ("burlington_vermont", 2000, 8784)]  # fmt: skip


@pytest.mark.parametrize(("site", "least", "most"), CHILL)
def test_winter_cold_is_of_the_size_that_growers_tables_give(site: str, least: int, most: int) -> None:
    line = Line(read_site(fields_of(site)), CALENDARS.crops["apple"], "open")
    assert least <= chill_hours(*line.covered) <= most


@pytest.mark.parametrize(
    ("crop", "site", "why"),
    [
        ("apple", "gainesville", "mild"),
        ("apple", "english_midlands", None),
        ("apple", "calgary", None),
        ("fig", "calgary", "winter"),
        ("grape", "edinburgh", "cool"),
        ("grape", "madrid", None),
        ("blackcurrant", "madrid", "hot"),
        ("blackcurrant", "edinburgh", None),
        ("rhubarb", "gainesville", "mild"),
    ],
)
def test_what_a_site_cannot_give_is_said_where_it_is_planted(crop: str, site: str, why: str | None) -> None:
    """Common practice: low-chill kinds in Florida, vines and figs want warmth or glass in the north, currants cool summers."""
    window = book_at(site)["crops"][crop]["steps"][0]["window"]
    assert window.get("open", window["*"]).get("unfit") == why
    said = " ".join(jobs(crop, "2031-01-15", None, site)["plant_out"]["why"])
    assert ("in a usual" in said) == (why is not None)


# Fruit work through the year in England: gardening guides, as the fruit work table has it (pruning seen in guides; the rest
# common practice). Step, months in which some of its weeks lie, months in which none does.
MONTHS = [
    ("apple", "prune", {11, 12, 1, 2}, {5, 6, 7, 8, 9}), ("apple", "prune_summer", {8, 9}, {1, 2, 3, 11, 12}),
    ("apple", "bands", {10}, {1, 2, 3, 6, 7}), ("pear", "prune_summer", {7, 8}, {1, 2, 3, 11, 12}),
    ("plum", "prune", {6, 7, 8}, {10, 11, 12, 1, 2, 3}), ("cherry", "prune", {7, 8}, {10, 11, 12, 1, 2, 3}),
    ("blackcurrant", "prune", {11, 12, 1, 2, 3}, {5, 6, 7, 8}), ("redcurrant", "prune", {11, 12, 1, 2}, {4, 5, 6, 7, 8}),
    ("redcurrant", "prune_summer", {6, 7}, {10, 11, 12, 1, 2}), ("gooseberry", "prune_summer", {6, 7}, {10, 11, 12, 1, 2}),
    ("raspberry", "prune", {8, 9}, {3, 4, 5, 6}), ("autumn_raspberry", "prune", {2}, {5, 6, 7, 8, 9, 10, 11}),
    ("blackberry", "prune", {11, 12, 1, 2}, {5, 6, 7}), ("grape", "prune", {11, 12}, {1, 2, 3, 4, 5}),
    ("fig", "thin", {3, 4}, {8, 9, 10, 11}), ("fig", "pinch", {6}, {9, 10, 11}), ("fig", "fruitlets", {11}, {3, 4, 5, 6}),
    ("strawberry", "tidy", {7, 8}, {12, 1, 2, 3}), ("rhubarb", "force", {1, 2}, {5, 6, 7, 8}),
    ("rhubarb", "pick", {4, 5, 6}, {7, 8, 9}), ("asparagus", "pick", {5, 6}, {7, 8, 9}), ("asparagus", "fern", {11}, {5, 6, 7}),
]  # fmt: skip


def months_of(season: dict[str, str]) -> set[int]:
    first, last = int(season["from"][:2]), int(season["to"][:2])
    return {(first - 1 + n) % 12 + 1 for n in range((last - first) % 12 + 1)}


@pytest.mark.parametrize(("crop", "step", "within", "never"), MONTHS)
def test_fruit_is_worked_at_in_the_months_of_the_trade(crop: str, step: str, within: set[int], never: set[int]) -> None:
    steps = {it["id"]: it for it in book_at("english_midlands")["crops"][crop]["steps"]}
    months = months_of(steps[step]["season"])
    assert within <= months and not months & never


@pytest.mark.parametrize("crop", FRUIT)
def test_in_the_south_fruit_is_pruned_in_its_own_winter(crop: str) -> None:
    north, south = (book_at(site)["crops"][crop]["steps"] for site in ("english_midlands", "canberra"))
    for here, there in zip(north, south, strict=True):
        if here["season"]:
            first, other = int(here["season"]["from"][:2]), int(there["season"]["from"][:2])
            assert abs((other - first) % 12 - 6) <= 2, here["id"]


@pytest.mark.parametrize("crop", YEARS)
def test_nothing_that_lives_for_years_is_cleared_unsaid(crop: str) -> None:
    """However old, it is asked about each year, and may be kept for another."""
    first = "2001-11-20" if CALENDARS.crops[crop]["start"] == "set" else "2001-05-20"
    listed = jobs(crop, "2031-01-15", first)
    if "clear" in listed and listed["clear"]["state"] == "ready":
        assert [way["id"] for way in listed["clear"]["ways"]] == ["over", "gives"]
    assert "pick" in listed and listed["pick"]["from"].startswith("2031")


def test_a_tree_of_twelve_years_is_put_in_by_its_year_and_has_only_this_years_work() -> None:
    listed = jobs("apple", "2031-01-15", "2019-11-20")
    assert listed["prune"]["state"] == "ready" and listed["prune"]["from"] == "2030-11-02"
    assert "ties" not in listed and "mulch" not in listed  # of its first years
    assert all("2030-10" < job["from"] < "2032" for name, job in listed.items() if name != "clear")
    assert listed["clear"]["from"] > "2050"


def test_asparagus_is_not_cut_for_two_years_then_three_weeks_then_in_full() -> None:
    planted = "2031-04-05"
    assert not {"2031", "2032"} & {
        job["from"][:4] for name, job in jobs("asparagus", "2031-04-10", planted).items() if "pick" in name
    }
    third = jobs("asparagus", "2033-05-01", planted)
    assert third["pick_first"]["state"] == "ready" and third["pick"]["from"] >= "2034"
    fourth = jobs("asparagus", "2034-05-05", planted)
    assert "pick_first" not in fourth and fourth["pick"]["state"] == "ready"


def test_two_prunings_of_a_year_are_told_apart_by_the_day() -> None:
    summer = jobs("redcurrant", "2031-06-25", "2025-11-20", "english_midlands", ("2031-06-24", "prune"))
    assert summer["prune_summer"]["from"].startswith("2032") and summer["prune"]["from"].startswith("2031-11")
    winter = jobs("redcurrant", "2031-01-20", "2025-11-20", "english_midlands", ("2031-01-18", "prune"))
    assert winter["prune"]["from"].startswith("2031-11") and winter["prune_summer"]["from"].startswith("2031-06")


def test_pruning_names_the_tool_once_and_its_caution() -> None:
    for crop in FRUIT:
        cuts = [it for it in CALENDARS.crops[crop]["steps"] if it["verb"] == "prune" and it.get("needs")]
        assert all("blade" in it["cautions"] for it in cuts), crop
    prune = jobs("apple", "2031-01-15", "2019-11-20")["prune"]
    assert [(need["what"], need["amount"]) for need in prune["needs"]] == [
        ("pair of secateurs", 1), ("pruning saw", 1), ("pair of gloves", 1),
    ]  # fmt: skip


def test_stone_fruit_is_never_pruned_in_winter_and_says_why() -> None:
    for crop in ("plum", "cherry"):
        for site in SITES:
            step = next(it for it in book_at(site)["crops"][crop]["steps"] if it["id"] == "prune")
            cold = {5, 6, 7, 8} if site == "canberra" else {11, 12, 1, 2}
            assert not months_of(step["season"]) & cold
            assert "silver leaf" in step["hint"]


def test_strawberries_are_asked_about_after_their_third_crop() -> None:
    """Common practice: a new bed each three years, so that its plants are gone in their fourth."""
    assert jobs("strawberry", "2033-08-05", "2031-08-20")["clear"]["from"].startswith("2034")
    assert jobs("strawberry", "2034-08-05", "2031-08-20")["clear"]["state"] == "ready"


def test_bought_plants_are_ordered_and_planted_and_never_sown() -> None:
    """Whatever is raised can be bought: planting has its own days, or the sowing's moved on by the raising."""
    for crop, table in CALENDARS.crops.items():
        if table["start"] != "raised":
            continue
        records = [
            record("place", "there", sort="bed", cover="open"),
            record("variety", "variety", crop=crop),
            record("batch", "b", variety="variety", want=3, for_place="there", year=2031, begins="plants"),
        ]
        listed = {job["id"]: job for job in settle(book_at("english_midlands"), records, "2030-12-01") if job["batch"] == "b"}
        assert not {job["verb"] for job in listed.values()} & {"sow", "emerge", "prick_out", "pot_up"}, crop
        planting, order = listed["b.plant_out"], listed["b.order"]
        assert order["by"] < planting["aim"], crop
        raised = book_at("english_midlands")["crops"][crop]["steps"][0]["window"]
        assert planting["from"][5:] > raised.get("open", raised["*"])["from"][2:] or planting["from"] > "2031-12", crop
        assert all(job["pinched"] is None for job in listed.values()), crop
