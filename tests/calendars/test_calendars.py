"""Every calendar is sound, every number has its source, and a damaged one says how to mend it."""

from __future__ import annotations

import shutil
from importlib.resources import files
from pathlib import Path
from typing import Any

import pytest

from server.calendars.read import read_calendars
from server.errors import CalendarError
from server.season.crop_calendar import faults

CALENDARS = read_calendars()
CROPS = sorted(CALENDARS.crops)


def numbers(table: Any, path: str = "") -> list[tuple[str, Any]]:
    """Every inline table that holds numbers, with where it is."""
    found = []
    if isinstance(table, dict):
        keys = set(table) & {"value", "weeks", "days", "heat", "temp_c", "fixed", "each"}
        if keys and any(isinstance(table[key], int | float) for key in keys):
            found.append((path, table))
        for key, value in table.items():
            found += numbers(value, f"{path}.{key}")
    elif isinstance(table, list):
        for at, value in enumerate(table):
            found += numbers(value, f"{path}[{at}]")
    return found


def test_every_calendar_is_whole() -> None:
    """What a grower asks of any crop: its family's rest, distances, heat, water, what it is picked by and what ends it."""
    for crop, table in CALENDARS.crops.items():
        assert {"rotation_gap_years", "spacing_cm", "row_cm", "kc_mid"} <= set(table["numbers"]), crop
        verbs = {step["verb"] for step in table["steps"]}
        assert {"pick", "clear"} <= verbs and verbs & {"sow", "plant_out"}, crop
        if table["start"] != "set":
            assert "germination_pct" in table["numbers"] or crop == "potato", crop
        if table["hardiness"] == "tender":
            assert "frost_kills_c" in table["numbers"], crop


def test_there_are_crops_enough_spread_over_the_families() -> None:
    assert len(CROPS) >= 24
    assert len({table["family"] for table in CALENDARS.crops.values()}) >= 10


@pytest.mark.parametrize("crop", CROPS)
def test_calendar_has_no_fault_and_every_number_its_source(crop: str) -> None:
    table = CALENDARS.crops[crop]
    assert faults(table, crop) == []
    for path, entry in numbers(table):
        assert str(entry.get("source", "")).strip(), f"{crop}{path}"


# Council Directive 2002/55/EC Annex II, minimum germination of pure seed
STANDARDS = [("tomato", 75), ("leek", 65), ("carrot", 65), ("lettuce", 75), ("pea", 80), ("chilli", 65), ("cucumber", 80),
             ("sweetcorn", 85), ("radish", 70), ("cabbage", 75), ("french_bean", 75), ("runner_bean", 80)]  # fmt: skip
# 7 CFR 201.31 (1994), minimum germination of vegetable seed, for what the directive's annex does not name
STANDARDS += [("parsnip", 60), ("pak_choi", 75), ("swede", 75), ("dill", 60), ("sage", 60)]


@pytest.mark.parametrize(("crop", "pct"), STANDARDS)
def test_germination_is_the_statutory_minimum(crop: str, pct: int) -> None:
    assert CALENDARS.crops[crop]["numbers"]["germination_pct"]["value"] == pct


# Harrington & Minges 1954, in Knott's Handbook for Vegetable Growers: crop, degrees, days
EMERGENCE = [("tomato", 20, 8), ("tomato", 10, 43), ("chilli", 25, None), ("chilli", 20, 13), ("carrot", 5, 51),
             ("carrot", 15, 10),
             ("lettuce", 20, 3), ("parsnip", 10, 27), ("pea", 10, 14), ("cucumber", 25, 4), ("sweetcorn", 20, 7)]  # fmt: skip


@pytest.mark.parametrize(("crop", "temp", "days"), EMERGENCE)
def test_emergence_days_are_those_of_the_table(crop: str, temp: int, days: int | None) -> None:
    table = {row["temp_c"]: row.get("days") for row in CALENDARS.crops[crop]["emergence"]}
    assert table.get(temp) == days


# Transplant tables (Univ. Delaware, Knott's Handbook; UK practice): least night when planted, °C
NIGHTS = [
    ("tomato", 10),
    ("chilli", 12),
    ("sweet_pepper", 12),
    ("courgette", 10),
    ("french_bean", 8),
    ("celeriac", 7),
    ("basil", 10),
]


@pytest.mark.parametrize(("crop", "night"), NIGHTS)
def test_nights_at_planting_are_those_of_the_transplant_tables(crop: str, night: int) -> None:
    assert CALENDARS.crops[crop]["gates"]["plant_out"]["night_c"]["value"] == night


def test_contact_sprays_defer_to_the_label_everywhere() -> None:
    for trouble, entry in CALENDARS.care.items():
        for step in entry["steps"]:
            if "spray" in step["say"].lower() or "approved" in step["say"].lower():
                assert "spray" in step["cautions"], trouble
    assert "label" in CALENDARS.cautions["spray"]["say"] and "No home-made" in CALENDARS.cautions["spray"]["say"]


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    """A copy of the calendars that can be damaged."""
    shutil.copytree(str(files("server.calendars")), tmp_path / "calendars")
    return tmp_path / "calendars"


def damage(path: Path, old: str, new: str) -> None:
    """Put other words into a file, or such before it."""
    text = path.read_text(encoding="utf-8")
    damaged = old + text if not new else text.replace(old, new, 1)
    assert damaged != text
    path.write_text(damaged, encoding="utf-8")


DAMAGE = [
    ("no TOML at all", "[[steps\n", "", "cannot be read"),
    ("a source left out", 'unit = "years", source = "common practice"', 'unit = "years"', "has no source"),
    ("a wrong unit", 'unit = "years"', 'unit = "weeks"', "'years'"),
    ("a number out of range", "rotation_gap_years = { value = 3", "rotation_gap_years = { value = 300", "from 0 to 20"),
    ("an unknown key", 'id = "tomato"\n', 'id = "tomato"\ncolour = "red"\n', "'colour'"),
    ("a step that follows a later one", 'after = { step = "emerge"', 'after = { step = "pick"', "no earlier step"),
    ("a verb of nobody's", 'verb = "prick_out"', 'verb = "prod"', "'prod'"),
    ("a window that runs backwards", "weeks = { from = 11, aim = 9", "weeks = { from = 5, aim = 9", "backwards"),
    ("a caution that is not there", 'cautions = ["steps"]', 'cautions = ["bears"]', "'bears'"),
]


@pytest.mark.parametrize(("what", "old", "new", "words"), DAMAGE, ids=[what for what, *_ in DAMAGE])
def test_damaged_calendar_names_file_place_and_mend(folder: Path, what: str, old: str, new: str, words: str) -> None:
    damage(folder / "tomato.toml", old, new)
    read = read_calendars(folder)
    (why,) = read.wrong.values()
    assert "tomato.toml" in why and words in why and why.endswith(".")
    assert "tomato" not in read.crops and len(read.crops) == len(CROPS) - 1, "the others stand"


def test_a_damaged_companion_takes_only_what_rests_on_it(folder: Path) -> None:
    """A trouble without its source is left out; work is never shown without a caution that it names."""
    care = folder / "care.toml"
    care.write_text(care.read_text(encoding="utf-8").replace("watch_days = 14 ", 'watch_days = "14" ', 1), encoding="utf-8")
    cautions = folder / "cautions.toml"
    cautions.write_text(
        cautions.read_text(encoding="utf-8").replace("[steps]\ntitle = ", "[steps]\ntitel = "), encoding="utf-8"
    )
    read = read_calendars(folder)
    assert "aphid" not in read.care and "whitefly" in read.care
    assert "care.toml, 'aphid', key 'watch_days'" in read.wrong["care.toml aphid"]
    assert "names the caution 'steps'" in read.wrong["tomato.toml"] and "tomato" not in read.crops
    assert "leek" in read.crops


def test_damaged_standing_jobs_are_said(folder: Path) -> None:
    damage(folder / "standing.toml", "look = 10", 'look = "10"')
    with pytest.raises(CalendarError) as told:
        read_calendars(folder)
    assert "standing.toml, [minutes] look: is '10'. Give a number from 0 to 600." in told.value.say


# FAO Irrigation and Drainage Paper 56, Table 12, Kc mid, as carried in pyfao56 1.4.3
KC_MID = {
    "broccoli": 1.05, "brussels sprout": 1.05, "cabbage": 1.05, "carrot": 1.05, "cauliflower": 1.05, "celery": 1.05,
    "garlic": 1.0, "lettuce": 1.0, "dry onions": 1.05, "green onions": 1.0, "spinach": 1.0, "radish": 0.9, "egg plant": 1.05,
    "sweet peppers": 1.05, "sweet pepper": 1.05, "tomato": 1.15, "cucumber": 1.0, "pumpkin and winter squash": 1.0,
    "squash, zucchini": 0.95,
    "sweet melons": 1.05, "table beets": 1.05, "parsnip": 1.05, "potato": 1.15, "sweet potato": 1.15, "turnip": 1.1,
    "turnip (and rutabaga)": 1.1, "green beans": 1.05, "fresh faba bean": 1.15, "groundnut": 1.15, "fresh peas": 1.15,
    "sweetcorn": 1.15, "asparagus": 0.95, "mint": 1.15, "artichokes": 1.0, "strawberry": 0.85,
    "berries bushes": 1.05, "grapes table raisin": 0.85, "apples cherries pears no ground cover killing frost": 0.95,
    "apricots peaches stone fruit no ground cover killing frost": 0.9,
}  # fmt: skip


@pytest.mark.parametrize("crop", CROPS)
def test_a_crop_drinks_as_the_row_says_that_its_source_names(crop: str) -> None:
    """No source names a row that is not there; a crop without a row of its own says whose it takes."""
    water = CALENDARS.crops[crop]["numbers"]["kc_mid"]
    if "Table 12" in water["source"]:
        row = water["source"].split("row for ")[-1] if "row for" in water["source"] else crop.replace("_", " ")
        assert KC_MID[row] == water["value"], row
