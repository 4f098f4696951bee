"""What a house's own thermometer teaches: its night gain and its own year."""

from __future__ import annotations

import datetime
import random

import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.stats import trim_mean

from server.season.climate import DAYS, read_site
from server.season.heat_sums import leap_place
from server.season.house import House, house_day_c, house_night_c
from server.season.night_gain import night_gain
from server.season.own_climate import house_year
from tests.builders import WITHY_END

SITE = read_site(WITHY_END)
TUNNEL = House("tunnel")
FIRST = datetime.date(2031, 3, 1)


def nights(mins: list[float], first: datetime.date = FIRST) -> dict[datetime.date, tuple[float, float]]:
    return {first + datetime.timedelta(days=n): (low, low + 8) for n, low in enumerate(mins)}


def test_too_few_nights_teach_nothing() -> None:
    found = night_gain(nights([8.0] * 6), nights([2.0] * 6), 1.0)
    assert (found.gain_c, found.nights, found.learned, found.spread_c) == (1.0, 6, False, None)


def test_only_nights_read_on_both_sides_count() -> None:
    found = night_gain(nights([5.0] * 20), nights([3.0] * 20, FIRST + datetime.timedelta(days=10)), 1.0)
    assert found.nights == 10 and found.gain_c == pytest.approx((10 * 2 + 10 * 1) / 20)


@given(st.floats(-2, 6), st.floats(0, 3), st.integers(7, 300))
def test_the_gain_lies_between_the_covers_and_the_houses_and_nears_the_houses(own: float, prior: float, count: int) -> None:
    found = night_gain(nights([own] * count), nights([0.0] * count), prior)
    assert found.learned and min(own, prior) - 1e-9 <= found.gain_c <= max(own, prior) + 1e-9
    assert abs(found.gain_c - own) <= abs(prior - own) * 10 / (count + 10) + 1e-9


def test_a_fifth_of_wrong_nights_hardly_moves_it() -> None:
    """Against scipy's trimmed mean of the same nights, a quarter cut at either end."""
    rng = random.Random(20310301)
    outside = [rng.gauss(4, 3) for _ in range(100)]
    inside = [low + rng.gauss(2.0, 0.6) for low in outside]
    wild = [low + 15 if n % 5 == 0 else low for n, low in enumerate(inside)]
    found = night_gain(nights(wild), nights(outside), 1.0, prior_nights=0)
    trimmed = trim_mean([a - b for a, b in zip(wild, outside, strict=True)], 0.25)
    assert found.gain_c == pytest.approx(trimmed, abs=0.15) and found.gain_c == pytest.approx(2.0, abs=0.35)


def test_what_makes_no_sense_is_refused() -> None:
    with pytest.raises(ValueError, match="least=0"):
        night_gain({}, {}, 1, least=0)
    with pytest.raises(ValueError, match="reach_d=0"):
        house_year(SITE, TUNNEL, reach_d=0)


def typical(first: datetime.date, count: int, night_off: float, day_off: float) -> dict[datetime.date, tuple[float, float]]:
    found = {}
    for step in range(count):
        on = first + datetime.timedelta(days=step)
        place = leap_place(on)
        found[on] = (house_night_c(SITE, TUNNEL, place) + night_off, house_day_c(SITE, TUNNEL, place) + day_off)
    return found


def test_without_readings_the_year_is_the_normals() -> None:
    year = house_year(SITE, TUNNEL)
    assert year.nights_c == tuple(house_night_c(SITE, TUNNEL, day) for day in range(DAYS))
    assert year.days_c == tuple(house_day_c(SITE, TUNNEL, day) for day in range(DAYS))


def test_years_of_readings_win_over_the_normals() -> None:
    year = house_year(SITE, TUNNEL, typical(datetime.date(2026, 1, 1), 5 * 365, 2.0, 5.0))
    for day in range(DAYS):
        assert year.nights_c[day] - house_night_c(SITE, TUNNEL, day) == pytest.approx(2.0, abs=0.15)
        assert year.days_c[day] - house_day_c(SITE, TUNNEL, day) == pytest.approx(5.0, abs=0.35)


def test_one_month_speaks_for_its_season_and_not_for_the_other() -> None:
    year = house_year(SITE, TUNNEL, typical(datetime.date(2031, 4, 1), 30, 2.0, 0.0))
    moved = [year.nights_c[day] - house_night_c(SITE, TUNNEL, day) for day in range(DAYS)]
    assert max(moved) == moved[leap_place(datetime.date(2031, 4, 15))] or max(moved) - moved[105] < 0.02
    assert 1.0 < max(moved) < 2.0 and abs(moved[leap_place(datetime.date(2031, 10, 1))]) < 1e-6


def test_readings_at_new_year_speak_on_both_sides_of_it() -> None:
    year = house_year(SITE, TUNNEL, typical(datetime.date(2030, 12, 20), 24, -3.0, 0.0))
    moved = [year.nights_c[day] - house_night_c(SITE, TUNNEL, day) for day in range(DAYS)]
    assert moved[0] == pytest.approx(moved[-1], abs=0.05) and moved[0] < -1


@given(
    st.dictionaries(st.dates(FIRST, datetime.date(2032, 2, 28)), st.tuples(st.floats(-20, 30), st.floats(0, 30)), max_size=30)
)
def test_whatever_was_read_days_stay_above_nights_and_within_reason(
    read: dict[datetime.date, tuple[float, float]],
) -> None:
    year = house_year(SITE, TUNNEL, {on: (low, low + spread) for on, (low, spread) in read.items()})
    assert all(day >= night for night, day in zip(year.nights_c, year.days_c, strict=True))
    lows = [low for low, _ in read.values()] + [house_night_c(SITE, TUNNEL, day) for day in range(DAYS)]
    offs = max((abs(low - house_night_c(SITE, TUNNEL, leap_place(on))) for on, (low, _) in read.items()), default=0)
    assert min(lows) - offs <= min(year.nights_c) and max(year.nights_c) <= max(lows) + offs
