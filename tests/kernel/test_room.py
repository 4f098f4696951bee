"""Room through the year: each week against a count day by day, pots against the published table, stays by hand."""

from __future__ import annotations

import datetime
from itertools import pairwise
from typing import Any

import pytest
from hypothesis import given

from server.calendars.read import read_calendars
from server.kernel.room import room
from server.season.rulebook import make_rulebook
from tests.kernel.small import Told, rulebook
from tests.kernel.strategies import cases
from tests.vector_room import measured
from tests.vector_tellings import bell, raised

TODAY = "2031-05-19"
UK_POTS = {0.3: 9, 0.43: 10.5, 0.5: 11, 1: 13, 2: 17, 3: 19, 5: 23}
"""A UK nursery pot-size table: litres and diameter. [cm]"""


def day(text: str) -> datetime.date:
    return datetime.date.fromisoformat(text)


def asked(told: Told, today: str = TODAY) -> dict[str, Any]:
    return room(rulebook(), told.records, today)


def rest_of(stay: dict[str, Any], width: int) -> tuple[int, int] | None:
    """Which part of a bed's width [mm] it takes the rest of; None for what is counted, or has a stretch of its own."""
    if stay["cm2"] is None:
        return 0, width
    own = stay["layout"]
    if (
        stay["count"] is not None
        or stay["vessel"] is not None
        or own is None
        or own["run"] is not None
        or own["foot_of"] is not None
    ):
        return None
    left = min(own["left"] or 0, width - 1)
    return left, min(own["wide"] or width, width - left)


def counted_by_day(answer: dict[str, Any], place: dict[str, Any], width: int, week: int) -> int:
    """The most that stands there on any one day of a week, by going through its days; the bed is so wide [mm]."""
    first = day(answer["from"]) + datetime.timedelta(days=7 * week)
    most = 0
    for on in (first + datetime.timedelta(days=at) for at in range(7)):
        here = [one for one in answer["stays"] if one["place"] == place["id"] and day(one["from"]) <= on < day(one["to"])]
        parts = [(one["cm2"], rest_of(one, width)) for one in here]
        rests = {strip: place["cm2"] if cm2 is None else cm2 for cm2, strip in parts if strip is not None}
        counted = sum(cm2 for cm2, strip in parts if strip is None)
        most = max(most, counted, min(place["cm2"], counted + sum(rests.values())))
    return most


@given(cases)
def test_each_week_is_what_a_count_day_by_day_finds(case: dict[str, Any]) -> None:
    answer = room(case["rulebook"], case["records"], case["today"])
    assert day(answer["from"]).weekday() == 0 and day(answer["from"]) <= day(case["today"])
    sizes = {record["id"]: record["fields"] for record in case["records"] if record["kind"] == "place"}
    for place in answer["places"]:
        width = int(min(sizes[place["id"]]["length_cm"], sizes[place["id"]]["width_cm"]) * 10 + 0.5)
        assert len(place["weeks"]) == 53
        for week in (0, 1, 7, 20, 52):
            assert place["weeks"][week] == counted_by_day(answer, place, width, week)
    for one in answer["stays"]:
        assert one["from"] < one["to"]
        assert (one["told"] and one["from"] <= case["today"]) or (not one["told"] and one["from"] > case["today"])


def test_plants_go_from_tray_to_pot_to_bed_as_they_are_told_and_expected() -> None:
    told = raised(bell(measured()), "pot_up_1")
    stays = asked(told, "2031-04-10")["stays"]
    ways = [(one["stage"], one["place"], one["told"], one["pot_ml"]) for one in stays]
    assert ways[0][:3] == ("sown", "prop", True) and ways[0][3] is None
    assert ("potted up", "glass.bed2", True, 300) in ways
    assert ("potted up", "glass.bed2", False, 1000) in ways
    assert ways[-1] == ("planted", "glass.bed1", False, None)
    ends = [(one["from"], one["to"]) for one in stays]
    assert all(before[1] == after[0] for before, after in pairwise(ends))


def test_fourteen_pots_of_nine_centimetres_take_fourteen_squares_of_them() -> None:
    told = raised(bell(measured()), "pot_up_1")
    standing = [one for one in asked(told)["stays"] if one["pot_ml"] == 300]
    count = standing[0]["count"]
    assert {one["cm2"] for one in standing} == {count * 81}


def test_a_pot_of_the_households_own_takes_its_own_room() -> None:
    told = raised(bell(measured()), "pot_up_1")
    told.add("vessel", "square", sort="pot", litres=0.3, length_cm=8, width_cm=8)
    assert {one["cm2"] for one in asked(told)["stays"] if one["pot_ml"] == 300} == {64 * 14}


def test_twelve_in_a_bed_take_the_stretch_they_need() -> None:
    """At 50 cm with rows of 75 cm a bed 1.2 m wide holds one row, since two would need 50 + 75 cm: 12 x 50 cm of it. With rows
    of 60 cm it holds two, so 6 x 50 cm. Worked by hand."""
    for row_cm, run in ((None, 600), (60, 300)):
        told = raised(bell(measured(), row_cm=row_cm), "plant_out")
        (planted,) = [one for one in asked(told, "2031-05-25")["stays"] if one["stage"] == "planted"]
        assert planted["cm2"] == run * 120
        place = next(one for one in asked(told, "2031-05-25")["places"] if one["id"] == "glass.bed1")
        assert place["cm2"] == 800 * 120 and place["weeks"][0] == run * 120


def test_a_propagator_that_overflows_says_so_in_its_weeks() -> None:
    """Six lots of 401 seeds take two full trays of 38 x 24 cm each: 10,944 cm2, and a propagator of 110 x 55 cm has 6,050."""
    told = measured()
    for at in range(6):
        told.add("batch", f"b.{at}", variety="v.bell", year=2031, want=200, for_place="glass.bed1")
        told.did("2031-02-14", "sow", batch=f"b.{at}", place="prop", count=401, job=f"b.{at}.sow", part=1)
    place = next(one for one in asked(told, "2031-02-16")["places"] if one["id"] == "prop")
    assert place["cm2"] == 6050 and place["weeks"][0] == 10_944 and place["weeks"][-1] == 0


def test_what_nobody_counts_fills_its_bed_until_somebody_says_how_much() -> None:
    told = measured()
    told.add("batch", "b.root", variety="v.root", year=2031, for_place="glass.bed2")
    told.did("2031-03-01", "sow", batch="b.root", place="glass.bed2", job="b.root.sow", part=1)
    assert next(one for one in asked(told, "2031-03-10")["places"] if one["id"] == "glass.bed2")["weeks"][0] == 400 * 120
    told.records[-2]["fields"]["run_cm"] = 150
    assert next(one for one in asked(told, "2031-03-10")["places"] if one["id"] == "glass.bed2")["weeks"][0] == 150 * 120


@pytest.mark.parametrize(("litres", "wide"), UK_POTS.items())
def test_pots_are_as_wide_as_the_published_table_says(litres: float, wide: float) -> None:
    pots = dict(make_rulebook(read_calendars(), [])["vessels"]["pots"])
    assert pots[round(litres * 1000)] == round(wide * 10)


def test_a_household_whose_table_of_pots_is_damaged_still_has_its_room() -> None:
    book = {**rulebook(), "vessels": {}}
    answer = room(book, raised(bell(measured()), "pot_up_1").records, TODAY)
    assert [one["cm2"] for one in answer["stays"] if one["stage"] == "sown"] == [None]
