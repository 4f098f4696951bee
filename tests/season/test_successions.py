"""Sowings in succession: against a search of every planting day, and against what growers know."""

from __future__ import annotations

import datetime
import itertools
import math

import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.stats import binom

from server.calendars.read import read_calendars
from server.season.climate import DAYS, read_site
from server.season.degree_days import single_sine
from server.season.house import House
from server.season.houses import house_at, household_climates
from server.season.seed_quantity import expected_pct
from server.season.successions import Planting, Sowing, Successions, by_heat, every_days, for_picking, usual_days
from tests.builders import WITHY_END

CROPS = read_calendars().crops
SITE = read_site(WITHY_END)
TURNED = [*WITHY_END["normals"][6:], *WITHY_END["normals"][:6]]
SOUTH = read_site(WITHY_END | {"lat": -53.1, "normals": TURNED, "last_frost": "11-11", "first_frost": "04-18"})
D = datetime.date
DAY = datetime.timedelta(days=1)
MAY, OCTOBER = D(2031, 5, 1), D(2031, 10, 31)
GLASS = Planting(SITE, CROPS["lettuce"], House("glass"))
OPEN = Planting(SITE, CROPS["lettuce"], House("open"))


def days_between(first: D, last: D) -> list[D]:
    return [first + step * DAY for step in range((last - first).days + 1)]


def picked(found: Successions) -> list[D]:
    return [day for sowing in found.sowings for day in days_between(sowing.pick_from, sowing.pick_to)]


def left_open(found: Successions) -> list[D]:
    return [day for gap in found.gaps for day in days_between(gap.first, gap.last)]


def test_a_lettuce_a_day_under_glass_from_mid_may_to_october_has_no_gap() -> None:
    """Common practice: lettuces planted under cold glass in early March are cut from the middle of May."""
    found = for_picking(GLASS, MAY, OCTOBER, 1)
    (gap,) = found.gaps
    assert gap.first == MAY and D(2031, 5, 5) <= gap.last <= D(2031, 5, 20) and "planted in their time" in gap.why
    served = days_between(gap.last + DAY, OCTOBER)
    assert picked(found) == served and sum(sowing.plants for sowing in found.sowings) == len(served)
    assert len(found.sowings) == math.ceil(len(served) / GLASS.span)


def test_a_crop_that_ripens_by_days_is_ready_after_just_these() -> None:
    """Pak choi: 38 days from planting in its calendar, whatever the house."""
    for cover in ("open", "glass"):
        assert Planting(SITE, CROPS["pak_choi"], House(cover)).ready(D(2031, 8, 4)) == D(2031, 9, 11)


def test_outdoors_picking_begins_in_june_and_may_is_said_to_be_empty() -> None:
    """Common practice: lettuces planted outdoors at the end of March without fleece are cut in June."""
    found = for_picking(OPEN, MAY, OCTOBER, 1)
    assert sorted(picked(found) + left_open(found)) == days_between(MAY, OCTOBER)
    first = found.gaps[0]
    assert first.first == MAY and D(2031, 5, 31) <= first.last <= D(2031, 6, 29) and "planted in their time" in first.why


@pytest.mark.parametrize(
    "crop", ["lettuce", "radish", "spinach", "rocket", "french_bean", "coriander", "pak_choi", "turnip", "calabrese"]
)
@pytest.mark.parametrize("cover", ["open", "tunnel"])
def test_a_day_is_left_open_only_where_no_planting_day_could_serve_it(crop: str, cover: str) -> None:
    """Every planting day of two years is tried for every day wanted."""
    planting = Planting(SITE, CROPS[crop], House(cover))
    found = for_picking(planting, D(2031, 3, 1), D(2031, 12, 15), 2)
    served: set[D] = set()
    for planted in days_between(D(2030, 1, 1), D(2031, 12, 15)):
        ready = planting.ready(planted)
        if planting.may_plant(planted) and ready is not None:
            served |= {ready + step * DAY for step in range(planting.span)}
    wanted = days_between(D(2031, 3, 1), D(2031, 12, 15))
    can = [day for day in wanted if day in served and planting.stands(day)]
    assert picked(found) == can and left_open(found) == [day for day in wanted if day not in set(can)]


def test_sowings_are_in_order_within_their_time_and_each_is_ready_when_it_is_picked() -> None:
    for planting in (GLASS, OPEN, Planting(SITE, CROPS["radish"], House("open"))):
        found = for_picking(planting, D(2031, 5, 1), D(2032, 5, 1), 1)
        assert found.sowings == sorted(found.sowings, key=lambda sowing: sowing.sow)
        for sowing in found.sowings:
            ready = planting.ready(sowing.plant)
            assert ready is not None and ready <= sowing.pick_from <= sowing.pick_to < ready + planting.span * DAY
            assert planting.may_plant(sowing.plant) and sowing.plant - sowing.sow == planting.raise_days * DAY


def test_ready_is_the_day_the_heat_is_reached_summed_by_hand() -> None:
    planted = D(2031, 4, 20)
    total, day = 0.0, planted
    while (total := total + heat_at(day)) < 580:
        day += DAY
    assert OPEN.wanted == 580 and OPEN.ready(planted) == day


def heat_at(on: D) -> float:
    leap = (D(2024, on.month, on.day) - D(2024, 1, 1)).days
    return single_sine(SITE.nights_c[leap], SITE.days_c[leap], 4.4)


def test_spring_sowings_stand_farther_apart_than_their_pickings() -> None:
    """Common practice: early sowings bunch, as later ones catch them up; sow early ones farther apart."""
    found = every_days(OPEN, D(2031, 3, 1), D(2031, 7, 10), 14, 12)
    between = [(b.pick_from - a.pick_from).days for a, b in zip(found.sowings, found.sowings[1:], strict=False)]
    assert 3 <= between[0] < 14 and between[0] < between[-1] and all(days > 0 for days in between)


def test_autumn_sowings_draw_apart_and_leave_gaps_that_are_said() -> None:
    radish = Planting(SITE, CROPS["radish"], House("open"))
    found = every_days(radish, D(2031, 4, 15), D(2031, 8, 30), 40, 30)
    assert len(found.sowings) == 4 and found.gaps
    assert sorted(set(picked(found)) | set(left_open(found))) == days_between(min(picked(found)), max(picked(found)))
    assert all(sowing.plants == 30 and sowing.seeds >= 30 for sowing in found.sowings)


def test_sowings_outside_the_calendars_time_are_left_out() -> None:
    assert every_days(OPEN, D(2031, 11, 1), D(2031, 12, 31), 7, 10) == Successions([], [])


@given(st.floats(0.1, 12), st.integers(0, 150), st.integers(0, 90))
def test_seed_is_enough_in_95_of_100_by_scipy(a_day: float, start: int, length: int) -> None:
    first = MAY + start * DAY
    found = for_picking(GLASS, first, first + length * DAY, a_day)
    share = expected_pct(CROPS["lettuce"]) / 100
    for sowing in found.sowings:
        days = (sowing.pick_to - sowing.pick_from).days + 1
        assert a_day * days - 1e-6 <= sowing.plants < a_day * days + 1
        assert binom.sf(sowing.plants - 1, sowing.seeds, share) >= 0.95 - 1e-9
        assert sowing.seeds == sowing.plants or binom.sf(sowing.plants - 1, sowing.seeds - 1, share) < 0.95


def test_crops_picked_over_again_need_as_many_plants_as_days_between_pickings() -> None:
    spinach = Planting(SITE, CROPS["spinach"], House("tunnel"))
    found = for_picking(spinach, MAY, MAY + 60 * DAY, 3, whole=False)
    assert found.sowings and {sowing.plants for sowing in found.sowings} == {15}


def test_a_crop_by_heat_keeps_its_calendars_sum_and_ends_with_the_first_frost() -> None:
    beans = Planting(SITE, CROPS["french_bean"], House("open"))
    assert beans.wanted == 360
    found = for_picking(beans, D(2031, 7, 1), D(2031, 11, 15), 1, whole=False)
    assert D(2031, 10, 1) <= found.sowings[-1].pick_to <= D(2031, 10, 18)
    assert found.gaps[-1].last == D(2031, 11, 15) and "too cold" in found.gaps[-1].why


def test_the_south_sows_half_a_year_later() -> None:
    south = Planting(SOUTH, CROPS["lettuce"], House("glass"))
    here = for_picking(GLASS, D(2031, 5, 20), D(2031, 8, 20), 1).sowings
    there = for_picking(south, D(2031, 11, 19), D(2032, 2, 19), 1).sowings
    assert len(here) == len(there)
    for north, other in zip(here, there, strict=True):
        assert abs((other.sow - north.sow).days - 183.5) <= 3


def test_no_leap_day_or_years_end_breaks_it() -> None:
    heated = Planting(SITE, CROPS["lettuce"], House("glass", heated_to_c=10))
    found = for_picking(heated, D(2031, 11, 1), D(2032, 3, 31), 1)
    assert sorted(picked(found) + left_open(found)) == days_between(D(2031, 11, 1), D(2032, 3, 31))
    assert {heated.may_plant(D(2032, 1, 1) + step * DAY) for step in range(DAYS)} == {True, False}


def test_what_makes_no_sense_is_refused() -> None:
    with pytest.raises(ValueError, match="a_day=0"):
        for_picking(GLASS, MAY, OCTOBER, 0)
    with pytest.raises(ValueError, match="up to 740"):
        for_picking(GLASS, OCTOBER, MAY, 1)
    with pytest.raises(ValueError, match="every=0"):
        every_days(GLASS, MAY, OCTOBER, 0, 5)


def test_every_crop_that_is_picked_can_be_asked() -> None:
    for name, table in CROPS.items():
        planting = Planting(SITE, table, House("tunnel"))
        found = for_picking(planting, MAY, OCTOBER, 1)
        assert sorted(picked(found) + left_open(found)) == days_between(MAY, OCTOBER), name
        assert all(isinstance(sowing, Sowing) and sowing.sow <= sowing.plant < sowing.pick_from for sowing in found.sowings), (
            name
        )


def test_by_heat_pickings_come_evenly_where_plain_days_bunch_them() -> None:
    """The heat-unit way of processors of peas: even pickings from sowings that draw closer together as it warms."""
    heat = by_heat(OPEN, D(2031, 3, 1), D(2031, 7, 10), 10, 12).sowings
    picks = [(b.pick_from - a.pick_from).days for a, b in itertools.pairwise(heat)]
    sows = [(b.sow - a.sow).days for a, b in itertools.pairwise(heat)]
    assert len(heat) > 4 and set(picks) <= {10, 11, 12} and sows[0] > 10 > sows[-1] - 3 and sows[0] > sows[-1]


def test_by_heat_sowings_lie_one_pickings_heat_apart_summed_by_hand() -> None:
    heat = by_heat(OPEN, D(2031, 4, 1), D(2031, 7, 1), 10, 12).sowings
    for one, other in itertools.pairwise(heat):
        between = sum(heat_at(day) for day in days_between(one.plant, other.plant - DAY))
        at_picking = [sum(heat_at(day) for day in days_between(one.pick_from + DAY, one.pick_from + n * DAY)) for n in (9, 12)]
        assert at_picking[0] - 25 <= between <= at_picking[1] + 25


def test_what_should_have_been_sown_by_now_is_said_and_never_proposed() -> None:
    found = for_picking(GLASS, D(2031, 5, 20), OCTOBER, 1, not_before=D(2031, 6, 1))
    assert all(sowing.sow >= D(2031, 6, 1) for sowing in found.sowings)
    assert found.gaps[0].first == D(2031, 5, 20) and found.gaps[0].why == "lettuces for then would have had to be sown by now"
    assert sorted(picked(found) + left_open(found)) == days_between(D(2031, 5, 20), OCTOBER)


def test_usual_days_are_days_that_can_be_served() -> None:
    for name in ("lettuce", "radish", "french_bean", "spinach"):
        planting = Planting(SITE, CROPS[name], House("open"))
        usual = usual_days(planting, D(2031, 3, 1))
        assert usual is not None and usual[0] < usual[1] <= usual[0] + 183 * DAY
        found = for_picking(planting, *usual, 1, planting.whole, not_before=D(2031, 3, 1))
        assert found.sowings[0].pick_from == usual[0] and found.sowings[-1].pick_to <= usual[1]


def test_a_house_by_its_own_climate_is_a_house_of_its_gain() -> None:
    """A tunnel whose nights run 4 °C above outside, once as a gain and once as a climate of its own."""
    place = {"id": "t", "kind": "place", "fields": {"cover": "tunnel", "night_gain_c": 4.0}}
    climates = household_climates(WITHY_END, [place], [])
    house, climate = house_at(climates, "t", [place])
    assert climate == "tunnel.t"
    by_climate = Planting(climates.site, CROPS["lettuce"], house, climate=climate)
    by_gain = Planting(climates.site, CROPS["lettuce"], House("tunnel", night_gain_c=4.0))
    for step in range(0, 300, 20):
        planted = D(2031, 3, 1) + step * DAY
        one, other = by_climate.ready(planted), by_gain.ready(planted)
        assert one is not None and other is not None and abs((one - other).days) <= 1
        assert by_climate.stands(planted) == by_gain.stands(planted)
