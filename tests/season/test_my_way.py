"""A household's own numbers, crops and lessons over the calendars: every number can be changed, and none by accident."""

from __future__ import annotations

import copy
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from server.calendars.read import read_calendars
from server.kernel.follow.needs import needs_of
from server.season.calendar_numbers import numbers_of, put
from server.season.crop_calendar import faults
from server.season.my_way import household_tables, record_id
from server.season.rulebook import make_rulebook, rulebook_inputs
from tests.builders import site_record
from tests.cases import sampled

CROPS = read_calendars().crops
STAMP = "000000000001-0000-aaaaaaaa"


def own(path: str, value: Any, crop: str = "tomato", variety: str | None = None) -> dict[str, Any]:
    """A changed number, as a phone writes it."""
    whose = {"variety": variety} if variety else {"crop": crop}
    fields = {**whose, "path": path, "value": value}
    return {"id": record_id(variety or crop, path), "kind": "crop", "stamp": STAMP, "fields": fields}


def value_at(table: dict[str, Any], path: str) -> float:
    """What a calendar holds there."""
    return next(number.value for number in numbers_of(table) if number.path == path)


@pytest.mark.parametrize("crop", sorted(CROPS))
def test_every_number_of_every_calendar_has_a_name_and_a_source_and_can_be_changed_and_taken_back(crop: str) -> None:
    table = CROPS[crop]
    before = copy.deepcopy(table)
    numbers = numbers_of(table)
    assert len({number.path for number in numbers}) == len(numbers)
    for number in numbers:
        assert number.label and number.source and number.unfit(number.value) is None, number
    for number in sampled(numbers, 2):
        other = number.value + (1 if number.whole else 0.1)
        other = other if number.unfit(other) is None else number.value - (1 if number.whole else 0.1)
        trial = copy.deepcopy(table)
        put(trial, number, other)
        assert value_at(trial, number.path) == other
        if not faults(trial, crop):
            made = household_tables(CROPS, [own(number.path, other, crop)])
            assert made.crops[crop] == trial and made.wrong == {}
    assert table == before and household_tables(CROPS, []).crops[crop] == before


def figures(table: Any) -> int:
    """How many numbers a calendar holds, counted without knowing its shape."""
    if isinstance(table, dict):
        return sum(figures(value) for key, value in table.items() if key not in ("range", "temp_c", "unit", "source", "stems"))
    if isinstance(table, list):
        return sum(figures(value) for value in table)
    return int(isinstance(table, int | float) and not isinstance(table, bool))


@pytest.mark.parametrize("crop", sorted(CROPS))
def test_no_number_is_out_of_reach(crop: str) -> None:
    assert len(numbers_of(CROPS[crop])) == figures(CROPS[crop])


def test_a_later_window_may_be_given_number_by_number_in_any_order() -> None:
    table = CROPS["tomato"]
    moved = {f"windows.sow.weeks.{end}": table["windows"]["sow"]["weeks"][end] + 20 for end in ("from", "aim", "by")}
    made = household_tables(CROPS, [own(path, value) for path, value in moved.items()])
    assert made.wrong == {} and made.crops["tomato"]["windows"]["sow"]["weeks"]["aim"] == moved["windows.sow.weeks.aim"]


def test_what_does_not_fit_beside_the_others_is_left_out_and_says_why() -> None:
    made = household_tables(CROPS, [own("steps.prick_out.after.days.min", 30), own("numbers.spacing_cm", 60)])
    assert value_at(made.crops["tomato"], "numbers.spacing_cm") == 60
    assert value_at(made.crops["tomato"], "steps.prick_out.after.days.min") == 7
    assert made.wrong == {
        "own.tomato.steps.prick_out.after.days.min": "Soonest, once up of tomatoes cannot be 30 beside its other numbers: "
        "give min, aim and max that do not shrink."
    }


@pytest.mark.parametrize("value", ["wide", None, True, [1], float("nan"), 1e300, -5])
def test_nonsense_for_a_number_never_reaches_the_rulebook(value: Any) -> None:
    made = household_tables(CROPS, [own("numbers.spacing_cm", value)])
    assert value_at(made.crops["tomato"], "numbers.spacing_cm") == 50


def test_a_varietys_number_is_its_own_and_stands_over_the_crops() -> None:
    variety = {"id": "v1", "kind": "variety", "stamp": STAMP, "fields": {"name": "Late Kate", "crop": "tomato"}}
    records = [own("numbers.spacing_cm", 60), own("numbers.spacing_cm", 70, variety="v1"), variety]
    book = make_rulebook(read_calendars(), [site_record(), *records])
    assert book["crops"]["tomato"]["spacing_cm"][2] == 60 and book["varieties"]["v1"]["spacing_cm"][2] == 70


def test_a_bigger_pot_is_said_in_the_job_and_brings_more_compost() -> None:
    book = make_rulebook(read_calendars(), [site_record(), own("steps.pot_up_2.pot_l", 2)])
    step = next(step for step in book["crops"]["tomato"]["steps"] if step["id"] == "pot_up_2")
    assert step["say"] == "Pot up {plants} to 2\u00a0L" and {"what": "2\u00a0L pots", "each": 10, "unit": ""} in step["needs"]


@pytest.mark.parametrize(
    ("step", "what", "plants", "litres"),
    [
        ("sow", "seed compost", 1, 1),  # 0.06 L each
        ("sow", "seed compost", 24, 2),  # 1.44 L; rounded up to tenths a cell it was told as 3
        ("sow", "seed compost", 104, 7),  # 6.24 L; was 11
        ("pot_up_1", "compost", 12, 5),  # 0.3 L and 15 % for settling: 4.14 L
        ("pot_up_1", "compost", 20, 7),  # 6.9 L; was 8
        ("pot_up_2", "compost", 12, 14),  # 13.8 L
    ],
)
def test_compost_is_rounded_up_once_for_all_plants_not_for_each(step: str, what: str, plants: int, litres: int) -> None:
    """Arithmetic of the calendar's own numbers: litres a plant times plants, then up to the next whole litre."""
    steps = make_rulebook(read_calendars(), [site_record()])["crops"]["tomato"]["steps"]
    asked = needs_of(next(one for one in steps if one["id"] == step), plants, None, None)
    assert [need["amount"] for need in asked if need["what"] == what] == [litres]


def test_a_crop_of_ones_own_grows_like_another_shares_its_troubles_and_takes_its_own_numbers() -> None:
    fields = {"crop": "perpetual_kale", "like": "kale", "one": "perpetual kale", "many": "perpetual kale"}
    crop = {"id": "crop.perpetual_kale", "kind": "crop", "stamp": STAMP, "fields": fields}
    book = make_rulebook(read_calendars(), [site_record(), crop, own("numbers.spacing_cm", 80, crop="perpetual_kale")])
    made = book["crops"]["perpetual_kale"]
    assert made["many"] == "perpetual kale" and made["family"] == book["crops"]["kale"]["family"]
    assert made["spacing_cm"][2] == 80 != book["crops"]["kale"]["spacing_cm"][2]
    hosts = [trouble["hosts"] for trouble in book["care"].values() if "kale" in trouble["hosts"]]
    assert hosts and all("perpetual_kale" in crops for crops in hosts)


def test_a_whole_calendar_of_ones_own_is_taken_and_a_damaged_one_is_said() -> None:
    whole = {"crop": "ours", "calendar": {**CROPS["kale"], "one": "ours", "many": "ours"}}
    torn = {"crop": "theirs", "calendar": {**CROPS["kale"], "steps": []}}
    records = [{"id": f"crop.{n}", "kind": "crop", "stamp": STAMP, "fields": f} for n, f in enumerate((whole, torn))]
    made = household_tables(CROPS, rulebook_inputs(records))
    assert made.crops["ours"]["many"] == "ours" and "theirs" not in made.crops
    assert list(made.wrong) == ["crop.1"] and "[[steps]]" in made.wrong["crop.1"]


@given(st.data())
def test_any_numbers_in_any_order_give_sound_calendars_and_the_same_ones(data: st.DataObject) -> None:
    crop = data.draw(st.sampled_from(sorted(CROPS)))
    numbers = numbers_of(CROPS[crop])
    chosen = data.draw(st.lists(st.sampled_from(numbers), max_size=6, unique_by=lambda number: number.path))
    records = [own(number.path, data.draw(st.floats(number.low - 1, number.high + 1)), crop) for number in chosen]
    made = household_tables(CROPS, records)
    assert faults(made.crops[crop], crop) == []
    shuffled = household_tables(CROPS, data.draw(st.permutations(records)))
    assert shuffled.crops[crop] == made.crops[crop] and shuffled.wrong == made.wrong
    held = {number.path: number.value for number in numbers_of(made.crops[crop])}
    for record in records:
        left_out = record["id"] in made.wrong
        assert left_out or held[record["fields"]["path"]] == record["fields"]["value"]
