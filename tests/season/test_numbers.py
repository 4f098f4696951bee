"""Heat, emergence, seed numbers and climate against published values, the source named beside each."""

from __future__ import annotations

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.stats import binom

from server.season.climate import MONTH_DAYS, MONTH_START, daily_curve, heat, nights_hold, read_site
from server.season.constants import DEFAULT_NORMALS, NIGHT_GAIN_C
from server.season.degree_days import single_sine
from server.season.emergence import days_at, whole_degrees
from server.season.seed_quantity import seed_table, seeds_to_sow
from tests.builders import WITHY_END

# Baskerville & Emin 1969 (Ecology 50:514-517); values agree with dense numerical integration of the sine
SINE = [
    (12, 24, 10, None, 8.0000), (6, 20, 10, None, 3.9361), (4, 16, 10, None, 1.9099), (5, 15, 10, None, 5 / math.pi),
    (2, 9, 10, None, 0.0), (-2, 12, 4.4, None, 2.5364), (8, 34, 10, 30, 10.5606), (16, 38, 10, 30, 14.8675),
    (10, 30, 10, 30, 10.0), (14, 31, 12.5, None, 10.0),
]  # fmt: skip


@pytest.mark.parametrize(("tmin", "tmax", "lower", "upper", "expected"), SINE)
def test_single_sine_gives_the_published_heat(
    tmin: float, tmax: float, lower: float, upper: float | None, expected: float
) -> None:
    assert single_sine(tmin, tmax, lower, upper) == pytest.approx(expected, abs=0.001)


@given(st.floats(-10, 20), st.floats(0.5, 25), st.floats(0, 15), st.floats(16, 35))
def test_single_sine_agrees_with_numerical_integration(tmin: float, spread: float, lower: float, upper: float) -> None:
    steps = 4000
    mean, half = tmin + spread / 2, spread / 2
    temps = [mean + half * math.sin(2 * math.pi * (n + 0.5) / steps) for n in range(steps)]
    expected = sum(min(max(t - lower, 0), upper - lower) for t in temps) / steps
    assert single_sine(tmin, tmin + spread, lower, upper) == pytest.approx(expected, abs=0.002)


def test_a_night_above_its_day_is_refused() -> None:
    with pytest.raises(ValueError, match="tmin_c=9"):
        single_sine(9, 4, 10)


@pytest.mark.parametrize(("plants", "germination", "seeds"), [(10, 0.80, 16), (4, 0.90, 6), (20, 0.95, 23)])
def test_seeds_for_plants_at_95_percent(plants: int, germination: float, seeds: int) -> None:
    """Binomial, computed with scipy 1.x: smallest N with P(Binomial(N, p) >= n) >= 0.95."""
    assert seeds_to_sow(plants, germination) == seeds


@given(st.integers(1, 120), st.integers(30, 100))
def test_seed_numbers_agree_with_scipy(plants: int, pct: int) -> None:
    seeds = seeds_to_sow(plants, pct / 100)
    assert binom.sf(plants - 1, seeds, pct / 100) >= 0.95 - 1e-9
    assert seeds == plants or binom.sf(plants - 1, seeds - 1, pct / 100) < 0.95 + 1e-9
    assert seed_table(pct / 100, plants)[-1] == seeds


@given(st.integers(1, 60), st.integers(30, 99))
def test_more_germination_never_takes_more_seed(plants: int, pct: int) -> None:
    assert seeds_to_sow(plants, (pct + 1) / 100) <= seeds_to_sow(plants, pct / 100)


# Harrington & Minges 1954, in Knott's Handbook for Vegetable Growers: days to emergence
TOMATO = [(0, None), (5, None), (10, 43.0), (15, 14.0), (20, 8.0), (25, 6.0), (30, 6.0), (35, 9.0), (40, None)]


def test_emergence_gives_the_table_at_its_points_and_nothing_beyond() -> None:
    for temp, days in TOMATO:
        assert days_at(TOMATO, temp) == days
    assert days_at(TOMATO, 4) is None and days_at(TOMATO, 45) is None


def test_emergence_between_points_goes_by_rate_not_by_days() -> None:
    """Half way between 43 and 14 days the rate is the mean of 1/43 and 1/14: 21.1 days, not 28.5."""
    assert days_at(TOMATO, 12.5) == pytest.approx(2 / (1 / 43 + 1 / 14), abs=0.01)


@given(st.floats(10, 29))
def test_warmer_never_comes_up_later_up_to_the_best(temp: float) -> None:
    cool, warm = days_at(TOMATO, temp), days_at(TOMATO, temp + 1)
    assert cool is not None and warm is not None and warm <= cool + 1e-9


def test_whole_degrees_leave_out_what_does_not_come_up() -> None:
    table = whole_degrees(TOMATO)
    assert table["20"] == 8 and table["25"] == 6 and "5" not in table and "40" not in table


@given(st.lists(st.floats(-15, 30), min_size=12, max_size=12))
def test_daily_curve_keeps_each_months_mean_and_joins_its_ends(monthly: list[float]) -> None:
    curve = daily_curve(monthly)
    for month, mean in enumerate(monthly):
        start, length = MONTH_START[month], MONTH_DAYS[month]
        assert sum(curve[start : start + length]) / length == pytest.approx(mean, abs=0.05)
    steps = [abs(a - b) for a, b in zip(curve, (*curve[1:], curve[0]), strict=True)]
    assert steps[-1] <= 1.5 * max(steps[:-1]) + 1e-9


def test_an_unheated_tunnel_gains_about_a_degree_and_is_never_called_frost_free() -> None:
    """Savage 1980, Agrochemophysica 12:5-13: night minimum +1.3 C on average in a single plastic tunnel."""
    assert 0 < NIGHT_GAIN_C["tunnel"] <= 1.3
    site = read_site(WITHY_END)
    assert min(site.nights_c) + NIGHT_GAIN_C["tunnel"] < 5


def test_southern_site_is_half_a_year_off() -> None:
    turned = [*WITHY_END["normals"][6:], *WITHY_END["normals"][:6]]
    south = read_site(WITHY_END | {"lat": -37.0, "normals": turned, "last_frost": "11-12", "first_frost": "04-18"})
    north = read_site(WITHY_END)
    for cover in ("open", "tunnel", "glass"):
        assert abs(nights_hold(north, cover, 8)[0] - nights_hold(south, cover, 8)[0]) <= 3
        assert sum(heat(south, cover, 10, 30)) == pytest.approx(sum(heat(north, cover, 10, 30)), rel=0.01)


def test_frost_days_come_from_normals_where_nobody_says() -> None:
    site = read_site({"lat": 53.0, "normals": [list(pair) for pair in DEFAULT_NORMALS]})
    may = MONTH_START[4]
    assert MONTH_START[3] < site.last_frost < may + 31 and MONTH_START[9] < site.first_frost < MONTH_START[11]


def test_later_nights_never_open_a_gate_earlier() -> None:
    site = read_site(WITHY_END)
    days = [nights_hold(site, "tunnel", threshold / 2)[0] for threshold in range(0, 24)]
    assert days == sorted(days)
