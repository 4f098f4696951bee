"""Facts of the trade that a plan for 53 N must keep, and their mirror image at 37 S."""

from __future__ import annotations

import datetime
import gzip
import json
from typing import Any

import ephem
import pytest

from server.calendars.read import read_calendars
from server.season.rulebook import fingerprint, make_rulebook
from tests.builders import WITHY_END, site_record, withy_end_rulebook

LAST_FROST = datetime.date(2031, 5, 12)
FIRST_FROST = datetime.date(2031, 10, 18)


def date(text: str) -> datetime.date:
    """A rulebook date for a batch of 2031."""
    return datetime.date(2031 + int(text[0]), int(text[2:4]), min(int(text[5:7]), 28 if text[2:4] == "02" else 31))


def step(crop: str, name: str, book: dict[str, Any] | None = None) -> dict[str, Any]:
    found: dict[str, Any] = next(s for s in (book or withy_end_rulebook())["crops"][crop]["steps"] if s["id"] == name)
    return found


def window(crop: str, name: str, cover: str, book: dict[str, Any] | None = None) -> dict[str, datetime.date]:
    entry = step(crop, name, book)["window"]
    entry = entry.get(cover, entry.get("*"))
    return {key: date(entry[key]) for key in ("from", "aim", "by")}


def weeks_before_last_frost(day: datetime.date) -> float:
    return (LAST_FROST - day).days / 7


def test_chillies_are_sown_before_tomatoes() -> None:
    """Common practice: chilli about 16 to 8 weeks before the last frost, tomato 11 to 7."""
    chilli, tomato = window("chilli", "sow", "glass"), window("tomato", "sow", "glass")
    assert 7 <= weeks_before_last_frost(chilli["aim"]) <= 16
    assert 7 <= weeks_before_last_frost(tomato["aim"]) <= 11
    assert chilli["from"] <= tomato["from"]


@pytest.mark.parametrize("crop", ["sweet_pepper", "aubergine"])
def test_peppers_and_aubergines_are_not_sown_after_the_first_week_of_april(crop: str) -> None:
    """UK greenhouse press: first week of April is the latest."""
    assert window(crop, "sow", "glass")["by"] <= datetime.date(2031, 4, 7)


def test_tomatoes_go_into_the_house_before_they_go_outdoors() -> None:
    """RHS adviser in a UK magazine: unheated house late April to mid May, outdoors late May to mid June."""
    glass, tunnel, open_ = (window("tomato", "plant_out", cover) for cover in ("glass", "tunnel", "open"))
    assert datetime.date(2031, 4, 24) <= glass["from"] <= tunnel["from"] <= datetime.date(2031, 5, 16)
    assert datetime.date(2031, 5, 19) <= open_["from"] and open_["by"] <= datetime.date(2031, 6, 30)
    assert window("tomato", "sow", "glass")["aim"] < window("tomato", "sow", "open")["aim"]


@pytest.mark.parametrize("crop", ["cucumber", "melon", "squash", "courgette"])
def test_cucurbits_are_sown_after_tomatoes(crop: str) -> None:
    """Univ. Delaware: 2 to 4 (3 to 5 in common practice) weeks before planting."""
    assert window(crop, "sow", "glass")["aim"] > window("tomato", "sow", "glass")["aim"]


@pytest.mark.parametrize("crop", ["runner_bean", "french_bean", "courgette", "squash", "sweetcorn", "tomato"])
def test_nothing_tender_goes_outdoors_before_the_last_frost(crop: str) -> None:
    """Common practice: last frost + 7 days."""
    assert window(crop, "plant_out", "open")["from"] >= LAST_FROST + datetime.timedelta(days=7)


@pytest.mark.parametrize(
    "crop", ["tomato", "courgette", "squash", "sweetcorn", "cabbage", "celeriac", "lettuce", "leek", "french_bean"]
)
def test_hardening_off_comes_before_raised_plants_go_outdoors(crop: str) -> None:
    """UK guides: 7 to 14 days, ending on planting day."""
    steps = withy_end_rulebook()["crops"][crop]["steps"]
    names = [s["id"] for s in steps if s["covers"] is None or "open" in s["covers"]]
    assert names.index("harden_off") < names.index("plant_out")
    link = next(a for a in step(crop, "plant_out")["after"] if a["step"] == "harden_off")
    assert (link["min"], link["max"]) == (7, 14)


def test_garlic_goes_in_before_winter_and_comes_out_in_summer() -> None:
    """Common practice: October to November (to February), lifted June to July after 210 to 280 days."""
    plant = window("garlic", "plant_out", "open")
    assert plant["from"].month == 10 and plant["aim"].month in (10, 11) and plant["by"] <= datetime.date(2032, 2, 28)
    lift = window("garlic", "pick", "open")
    assert 200 <= (lift["aim"] - plant["aim"]).days <= 280 and lift["aim"].month in (6, 7)


def test_leeks_wait_long_between_seedbed_and_hole() -> None:
    """Common practice: sown March to April, planted 9 to 14 weeks later."""
    sow, plant = window("leek", "sow", "open"), window("leek", "plant_out", "open")
    assert sow["aim"].month in (3, 4) and 9 <= (plant["aim"] - sow["aim"]).days / 7 <= 14


def test_celeriac_is_among_the_earliest_and_planted_after_mid_may() -> None:
    """Common practice: February to mid March, planted after mid May, nights of 7 C."""
    assert window("celeriac", "sow", "open")["aim"] <= datetime.date(2031, 3, 20)
    assert window("celeriac", "plant_out", "open")["from"] >= datetime.date(2031, 5, 14)
    assert step("celeriac", "plant_out")["gate"]["night_c"] == 7


def test_purple_sprouting_crosses_the_year() -> None:
    """Common practice: sown April to May, planted June to July, picked February to May."""
    assert window("purple_sprouting", "sow", "open")["aim"].month in (4, 5)
    plant = window("purple_sprouting", "plant_out", "open")["aim"]
    assert plant.month in (6, 7)
    (link,) = step("purple_sprouting", "pick")["after"]
    assert datetime.date(2032, 2, 1) <= plant + datetime.timedelta(days=link["min"]) <= datetime.date(2032, 4, 1)


@pytest.mark.parametrize("crop", ["florence_fennel", "pak_choi"])
def test_bolters_are_not_sown_before_the_longest_day_draws_near(crop: str) -> None:
    """Common practice: from mid June."""
    assert window(crop, "sow", "open")["from"] >= datetime.date(2031, 6, 10)


def test_seed_potatoes_chit_four_to_six_weeks() -> None:
    """Common practice: first earlies planted late March to mid April, lifted after 10 to 13 weeks."""
    (link,) = step("potato", "plant_out")["after"]
    assert 28 <= link["min"] <= link["aim"] <= 42
    assert datetime.date(2031, 3, 20) <= window("potato", "plant_out", "open")["aim"] <= datetime.date(2031, 4, 20)
    (pick,) = step("potato", "pick")["after"]
    assert 70 <= pick["min"] <= 91


def test_mesh_goes_on_the_day_brassicas_are_planted() -> None:
    """UK grower notes: from planting day."""
    for crop in ("cabbage", "kale", "calabrese", "purple_sprouting"):
        (link,) = step(crop, "mesh")["after"]
        assert link["step"] == "plant_out" and link["min"] == 0 and link["max"] <= 1


@pytest.mark.parametrize("crop", ["tomato", "chilli", "sweet_pepper", "cucumber"])
def test_feeding_starts_at_first_fruit_set_not_at_planting(crop: str) -> None:
    """UK guides: at the first truss set, 2 to 4 weeks after planting, then every 7 to 14 days."""
    feed = step(crop, "feed")
    assert [link["step"] for link in feed["after"]] == ["first_set"] and 7 <= feed["every"] <= 14


# Common practice, confirmed for carrots (3) and potato blight sites (4); brassicas 4 by practice
@pytest.mark.parametrize(
    ("crop", "years"), [("cabbage", 4), ("kale", 4), ("carrot", 3), ("potato", 3), ("onion", 3), ("pea", 3)]
)
def test_family_does_not_come_back_too_soon(crop: str, years: int) -> None:
    assert withy_end_rulebook()["crops"][crop]["rotation_years"] >= years


def test_plan_at_37_south_is_the_mirror_image() -> None:
    turned = [*WITHY_END["normals"][6:], *WITHY_END["normals"][:6]]
    south = make_rulebook(read_calendars(), [site_record(lat=-37.0, normals=turned, last_frost="11-12", first_frost="04-18")])
    for crop, name in (
        ("tomato", "sow"),
        ("tomato", "plant_out"),
        ("chilli", "sow"),
        ("courgette", "plant_out"),
        ("leek", "sow"),
    ):
        here, there = window(crop, name, "glass"), window(crop, name, "glass", south)
        assert abs((there["aim"] - here["aim"]).days - 184) <= 4, (crop, name)


def test_later_frost_never_gives_earlier_planting() -> None:
    calendars = read_calendars()
    before: dict[str, datetime.date] = {}
    for last in ("04-20", "05-01", "05-12", "05-25", "06-08"):
        book = make_rulebook(calendars, [site_record(last_frost=last)])
        for crop in ("tomato", "french_bean", "sweetcorn", "cabbage", "carrot"):
            first = step(crop, "sow" if crop == "carrot" else "plant_out", book)["id"]
            opens = window(crop, first, "open", book)["from"]
            assert opens >= before.get(crop, opens)
            before[crop] = opens


def test_rulebook_is_small_and_made_anew_only_when_it_must_be() -> None:
    book = withy_end_rulebook()
    assert len(gzip.compress(json.dumps(book, separators=(",", ":")).encode(), 9)) < 60_000
    site = site_record()
    batch = {"id": "b1", "kind": "batch", "stamp": site["stamp"], "fields": {"want": 3}}
    assert fingerprint([site]) == fingerprint([batch, site])
    assert fingerprint([site]) != fingerprint([site_record(last_frost="05-20")])


def test_own_numbers_are_laid_over_the_calendar_and_bad_ones_left_out() -> None:
    own = {"steps.pick.every": 5, "numbers.spacing_cm": -4, "steps.nothing.every": 1}
    fields = {"name": "Late Kate", "crop": "tomato", "overrides": own}
    variety = {"id": "v1", "kind": "variety", "stamp": site_record()["stamp"], "fields": fields}
    book = make_rulebook(read_calendars(), [site_record(), variety])
    changed = next(s for s in book["varieties"]["v1"]["steps"] if s["id"] == "pick")
    assert changed["every"] == 5 and step("tomato", "pick")["every"] == 3
    assert book["left_out"] == {
        "v1 numbers.spacing_cm": "Plants apart of tomatoes must be a number from 0.5 to 500, so your own -4 was left out.",
        "v1 steps.nothing.every": "Tomatoes: there is no number called steps.nothing.every any more, so your own was left out.",
    }


def test_dusk_in_the_rulebook_is_the_almanacs_between_its_weeks_too() -> None:
    """Weekly figures, read between them in a straight line as the phone does. Source: PyEphem, the sun 6° down."""
    dusk = withy_end_rulebook()["dusk"]
    assert len(dusk) == 53
    for place in range(0, 364, 5):
        on = datetime.date(2028, 1, 1) + datetime.timedelta(days=place)
        before, after = dusk[place // 7], dusk[(place // 7 + 1) % 53]
        minutes = before + (after - before) * (place % 7) / 7
        watcher = ephem.Observer()
        watcher.lat, watcher.lon, watcher.horizon, watcher.pressure = "53.1", "-3.2", "-6", 0
        watcher.date = ephem.Date(f"{on.year}/{on.month}/{on.day} 12:00")
        there = watcher.next_setting(ephem.Sun(), use_center=True).datetime()
        expected = (there - datetime.datetime(on.year, on.month, on.day)).total_seconds() / 60
        assert abs(minutes - expected) < 2, on
