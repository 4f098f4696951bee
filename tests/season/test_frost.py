"""Chance of frost by date, nights that hold with a certainty, houses that gain and houses that are heated."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy import stats

from server.season.climate import DAYS, MONTH_START, Site, nights_hold, read_site
from server.season.frost import FROST_DAY_SPREAD_D, NIGHT_SPREAD_C, TOLD_SHARES, frost_chance, frost_days, nights_hold_from
from server.season.house import House, house_day_c, house_night_c, keeps_frost_out, read_house
from tests.builders import WITHY_END

TURNED = [*WITHY_END["normals"][6:], *WITHY_END["normals"][:6]]
NORTH = read_site(WITHY_END)
SOUTH = read_site(WITHY_END | {"lat": -53.1, "normals": TURNED, "last_frost": "11-11", "first_frost": "04-18"})
UNHEATED = [House("tunnel"), House("glass"), House("frame"), House("tunnel", night_gain_c=3.0)]


def place(site: Site, day: int | None) -> int:
    assert day is not None
    return site.order.index(day)


def test_one_year_in_ten_has_a_frost_after_the_households_day() -> None:
    """Normal distribution of frost days, as scipy has it: nine in ten years are over by the household's own day."""
    assert frost_chance(NORTH, NORTH.last_frost + 1) == pytest.approx(0.1, abs=0.01)
    assert frost_chance(NORTH, NORTH.first_frost - 1) == pytest.approx(0.1, abs=0.01)
    usual = stats.norm(NORTH.last_frost - stats.norm.ppf(0.9) * FROST_DAY_SPREAD_D, FROST_DAY_SPREAD_D)
    for day in (90, 110, 130, 150):
        assert frost_chance(NORTH, day) == pytest.approx(usual.sf(day - 0.5), abs=1e-9)


def test_the_middle_years_last_frost_is_in_the_second_half_of_april() -> None:
    """Daily English series 1991-2021 with minima 2 °C down: middle year 21 April, nine in ten by 11 May, for guides' 12 May."""
    chances = [frost_chance(NORTH, day) for day in range(MONTH_START[3], MONTH_START[5])]
    middle = next(day for day, chance in enumerate(chances) if chance < 0.5)
    assert 15 <= middle + 1 <= 30


@pytest.mark.parametrize("site", [NORTH, SOUTH])
@pytest.mark.parametrize("house", [None, *UNHEATED])
def test_chance_of_frost_falls_to_midsummer_and_rises_after(site: Site, house: House | None) -> None:
    chances = [frost_chance(site, day, house) for day in site.order]
    spring, autumn = chances[: site.warmest + 1], chances[site.warmest + 1 :]
    assert spring == sorted(spring, reverse=True) and autumn == sorted(autumn)
    assert min(chances) < 0.001 and chances[0] > 0.99 and chances[-1] > 0.9


@pytest.mark.parametrize("house", UNHEATED)
def test_no_unheated_house_is_ever_called_frost_free(house: House) -> None:
    assert not keeps_frost_out(house)
    assert min(frost_chance(NORTH, day, house) for day in range(0, 40)) > 0.98
    assert frost_chance(NORTH, DAYS - 1, house) > 0.9


def test_a_tunnels_degree_brings_the_last_frost_forward_by_one_to_three_weeks() -> None:
    """Savage 1980, Agrochemophysica 12:5-13: about one degree at night; spring nights at 53 N warm by 0.09 °C a day."""
    outside = next(day for day in range(60, 200) if frost_chance(NORTH, day) < 0.1)
    inside = next(day for day in range(60, 200) if frost_chance(NORTH, day, House("tunnel")) < 0.1)
    assert 7 <= outside - inside <= 21


def test_a_house_colder_than_outside_has_later_frosts() -> None:
    hollow = House("open", night_gain_c=-1.5)
    assert frost_chance(NORTH, NORTH.last_frost, hollow) > frost_chance(NORTH, NORTH.last_frost) + 0.1
    assert 0 <= frost_chance(NORTH, 0, hollow) <= 1 and 0 <= frost_chance(NORTH, DAYS - 1, hollow) <= 1


def test_a_heater_keeps_its_degrees_and_frost_out_only_from_three_up() -> None:
    warm = House("glass", heated_to_c=10)
    assert min(house_night_c(NORTH, warm, day) for day in range(DAYS)) == 10
    assert keeps_frost_out(warm) and frost_chance(NORTH, 10, warm) == 0
    assert not keeps_frost_out(House("glass", heated_to_c=1))
    assert all(house_day_c(NORTH, House("tunnel", heated_to_c=28), day) >= 28 for day in range(0, DAYS, 30))


def test_houses_are_read_from_places() -> None:
    assert read_house({"cover": "tunnel", "night_gain_c": 2}) == House("tunnel", 2.0)
    assert read_house({"cover": "glass", "heated_to_c": 7}) == House("glass", None, 7.0)
    assert read_house({"cover": "cave"}) == read_house({}) == House("open")


@given(st.floats(-3, 16), st.floats(0.5, 0.98), st.sampled_from(["open", "tunnel", "glass"]))
def test_each_night_from_the_day_on_holds_with_the_certainty_by_scipy(threshold: float, sure: float, cover: str) -> None:
    house = House(cover)
    day = nights_hold_from(NORTH, house, threshold, sure)
    chance = stats.norm.sf(threshold, loc=[house_night_c(NORTH, house, d) for d in range(DAYS)], scale=NIGHT_SPREAD_C)
    if day is None:
        assert chance[NORTH.order[NORTH.warmest]] < sure + 1e-9
        return
    assert all(chance[d] >= sure - 1e-9 for d in range(day, NORTH.warmest + 1))
    assert day == 0 or chance[day - 1] < sure + 1e-9


@given(st.floats(2, 11), st.floats(0.5, 0.9), st.floats(0, 0.08))
def test_more_certainty_or_a_higher_threshold_is_never_earlier(threshold: float, sure: float, more: float) -> None:
    first = nights_hold_from(NORTH, House("glass"), threshold, sure)
    for later in (
        nights_hold_from(NORTH, House("glass"), threshold, sure + more),
        nights_hold_from(NORTH, House("glass"), threshold + 10 * more, sure),
    ):
        assert later is None or (first is not None and later >= first)


def test_half_certainty_is_the_mean_night() -> None:
    for threshold in (6.0, 8.0, 10.0):
        assert nights_hold_from(NORTH, House("tunnel"), threshold, 0.5) == nights_hold(NORTH, "tunnel", threshold)[0]


def test_a_heated_house_holds_all_winter_and_a_cold_site_never() -> None:
    assert nights_hold_from(NORTH, House("glass", heated_to_c=12), 10, 0.99) == 0
    assert nights_hold_from(NORTH, House("open"), 12, 0.9) is None
    with pytest.raises(ValueError, match="sure=1"):
        nights_hold_from(NORTH, House("open"), 5, 1)


def test_the_south_is_half_a_year_off() -> None:
    for sure in (0.5, 0.8):
        north, south = (place(site, nights_hold_from(site, House("tunnel"), 5, sure)) for site in (NORTH, SOUTH))
        assert abs(north - south) <= 2
    for weeks in range(0, 50, 5):
        day = SOUTH.order[7 * weeks]
        assert frost_chance(SOUTH, day) == pytest.approx(frost_chance(NORTH, 7 * weeks), abs=0.12)


def test_days_told_of_frost_are_those_of_its_chances() -> None:
    """The household's own days are those of one year in ten; a tunnel gains days, not winters."""
    told = frost_days(NORTH)
    assert told is not None
    for told_day, own in zip(told["tenth"], (NORTH.last_frost, NORTH.first_frost), strict=True):
        assert abs(told_day - own) <= 1
    for name, share in TOLD_SHARES.items():
        spring, autumn = told[name]
        assert frost_chance(NORTH, spring) >= share > frost_chance(NORTH, (spring + 1) % DAYS)
        assert frost_chance(NORTH, autumn) >= share > frost_chance(NORTH, autumn - 1)
    tunnel = frost_days(NORTH, House("tunnel"))
    assert tunnel is not None and tunnel["tenth"][0] < told["tenth"][0] and tunnel["tenth"][1] > told["tenth"][1]
    assert frost_days(NORTH, House("glass", heated_to_c=5)) is None
