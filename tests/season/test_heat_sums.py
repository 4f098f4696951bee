"""Heat sums against numerical integration, published worked values and the band that a forecast states."""

from __future__ import annotations

import datetime
import itertools
import math
import re

import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.integrate import quad
from scipy.stats import norm

from server.calendars.read import read_calendars
from server.season.climate import heat, read_site
from server.season.degree_days import single_sine
from server.season.heat_sums import Forecast, day_heat, forecast, leap_place, running_heat
from server.season.house import House
from tests.builders import WITHY_END

SITE = read_site(WITHY_END)
MAY = datetime.date(2031, 5, 15)
TUNNEL = House("tunnel")


@given(st.floats(-15, 30), st.floats(0, 30), st.floats(-2, 16), st.floats(0.5, 25), st.booleans())
def test_single_sine_is_the_integral_of_the_sine(tmin: float, spread: float, lower: float, room: float, cut: bool) -> None:
    """scipy.integrate.quad over one day, told where the curve crosses its thresholds."""
    mean, half, upper = tmin + spread / 2, spread / 2, lower + room

    def rate(turn: float) -> float:
        warm = max(mean + half * math.sin(turn) - lower, 0.0)
        return min(warm, room) if cut else warm

    bends = [-math.pi / 2, math.pi / 2]
    if half > 0:
        bends += [math.asin((edge - mean) / half) for edge in (lower, upper) if abs(edge - mean) < half]
    bends.sort()
    area = sum(quad(rate, left, right)[0] for left, right in itertools.pairwise(bends)) / math.pi
    assert single_sine(tmin, tmin + spread, lower, upper if cut else None) == pytest.approx(area, abs=1e-6)


@given(st.floats(-10, 25), st.floats(0, 25), st.floats(0, 15), st.floats(15.5, 35), st.floats(0, 5))
def test_warmer_is_never_less_heat_and_a_cut_off_never_more(
    tmin: float, spread: float, lower: float, upper: float, more: float
) -> None:
    cool = single_sine(tmin, tmin + spread, lower, upper)
    assert 0 <= cool <= single_sine(tmin, tmin + spread, lower) + 1e-9
    assert single_sine(tmin + more, tmin + spread + more, lower, upper) >= cool - 1e-9
    assert cool <= upper - lower + 1e-9


# Days a generation takes at one steady temperature: heat wanted / (temperature - threshold), from the studies named
@pytest.mark.parametrize(
    ("wanted", "lower", "temp", "days"),
    [
        (108.9, 6.2, 20, 7.9),  # Kersting, Satar & Uygun 1999, J. Appl. Ent. 123:23-27, cotton aphid
        (113.9, 4.0, 15, 10.4),  # Whalon & Smilowitz 1979, Am. Potato J. 56, green peach aphid
        (381.0, 8.3, 20, 32.6),  # Osborne 1982, Environ. Entomol. 11:483-485, glasshouse whitefly
        (268.0, 7.9, 20, 22.1),  # McDonald, Bale & Walters 1998, western flower thrips
    ],
)
def test_a_generation_at_steady_warmth_takes_the_published_days(wanted: float, lower: float, temp: float, days: float) -> None:
    steady = {MAY + datetime.timedelta(days=n): (temp, temp) for n in range(60)}
    found = forecast(SITE, TUNNEL, MAY, wanted, lower, None, steady)
    assert found.early == found.likely == found.late == MAY + datetime.timedelta(days=math.ceil(days) - 1)


def test_the_typical_years_heat_is_the_rulebooks() -> None:
    """The same day by two ways: the rulebook's tenths for the cover, and the sum here."""
    tenths = heat(SITE, "tunnel", 10, 30)
    for month in range(1, 13):
        on = datetime.date(2031, month, 20)
        assert day_heat(SITE, TUNNEL, on, 10, 30) == pytest.approx(tenths[leap_place(on)] / 10, abs=0.051)


def test_a_reading_takes_the_typical_days_place() -> None:
    typical = running_heat(SITE, TUNNEL, MAY, MAY + datetime.timedelta(days=9), 10)
    hot = {MAY + datetime.timedelta(days=4): (14.0, 31.0)}
    laid_in = running_heat(SITE, TUNNEL, MAY, MAY + datetime.timedelta(days=9), 10, None, hot)
    assert laid_in[:4] == typical[:4]
    assert laid_in[4] - laid_in[3] == pytest.approx(12.5)
    assert [b - a for a, b in itertools.pairwise(laid_in[4:])] == pytest.approx(
        [b - a for a, b in itertools.pairwise(typical[4:])]
    )
    assert running_heat(SITE, TUNNEL, MAY, MAY - datetime.timedelta(days=1), 10) == []


def test_covers_gather_more_the_warmer_they_are() -> None:
    last = MAY + datetime.timedelta(days=60)
    sums = [running_heat(SITE, House(cover), MAY, last, 10, 30)[-1] for cover in ("open", "frame", "tunnel", "glass")]
    assert sums == sorted(sums) and sums[0] < sums[1] < sums[3]
    heated = running_heat(SITE, House("glass", heated_to_c=18), MAY, last, 10, 30)[-1]
    assert heated > sums[3]


@given(st.floats(20, 600), st.floats(0, 2.5), st.floats(0.1, 0.95), st.integers(0, 60))
def test_early_likely_and_late_come_in_that_order_and_readings_narrow_them(
    wanted: float, spread: float, band: float, known: int
) -> None:
    wide = forecast(SITE, TUNNEL, MAY, wanted, 10, 30, None, spread, band)
    assert wide.early is not None and wide.likely is not None
    assert wide.early <= wide.likely and (wide.late is None or wide.likely <= wide.late)
    place = [MAY + datetime.timedelta(days=n) for n in range(known)]
    typical = {on: (SITE.nights_c[leap_place(on)] + 1.0, SITE.days_c[leap_place(on)] + 4.0) for on in place}
    narrow = forecast(SITE, TUNNEL, MAY, wanted, 10, 30, typical, spread, band)
    assert narrow.likely == wide.likely and narrow.early is not None
    assert wide.early <= narrow.early
    assert wide.late is None or (narrow.late is not None and narrow.late <= wide.late)


def test_the_band_holds_its_share_of_seasons() -> None:
    """Seasons drawn evenly from the stated spread by scipy's normal quantiles: eight in ten fall between early and late."""
    found = forecast(SITE, TUNNEL, MAY, 400, 10, 30)
    assert found.early is not None and found.late is not None
    inside = 0
    for share in range(5, 1000, 10):
        warmer = float(norm.ppf(share / 1000)) * 1.3
        days = (MAY + datetime.timedelta(days=n) for n in range(300))
        total = 0.0
        reached = next(on for on in days if (total := total + day_heat(SITE, TUNNEL, on, 10, 30, None, warmer)) >= 400)
        inside += found.early <= reached <= found.late
    assert inside == pytest.approx(80, abs=4)


def test_what_never_comes_is_said() -> None:
    assert forecast(SITE, House("open"), MAY, 1e6, 10) == Forecast(None, None, None)
    late_only = forecast(SITE, House("open"), datetime.date(2031, 9, 20), 60, 12, None, None, 2.0)
    assert late_only.early is not None and late_only.late is not None and late_only.late.year == 2032
    with pytest.raises(ValueError, match="band=1"):
        forecast(SITE, TUNNEL, MAY, 100, 10, band=1)


def test_a_tomato_planted_in_mid_may_ripens_from_mid_july() -> None:
    """UK growing guides: under cover first tomatoes in July; the tomato calendar asks for 430 to 500 °C d over 10 °C."""
    found = forecast(SITE, House("glass"), MAY, 430, 10, 30)
    assert found.likely is not None and datetime.date(2031, 6, 25) <= found.likely <= datetime.date(2031, 7, 31)


# Days from planting of transplant tables, at the mean that the calendar states: aim over mean less base lies within them.
STATED = [("tomato", 60, 85), ("sweet_pepper", 60, 90), ("chilli", 70, 110), ("aubergine", 65, 90), ("cucumber", 40, 60),
          ("melon", 75, 100), ("courgette", 35, 55), ("squash", 85, 120), ("sweetcorn", 70, 100)]  # fmt: skip


@pytest.mark.parametrize(("crop", "fewest", "most"), STATED)
def test_heat_to_picking_is_worked_from_published_days_at_a_stated_warmth(crop: str, fewest: int, most: int) -> None:
    table = read_calendars().crops[crop]
    heat = next(step["after"] for step in table["steps"] if step["verb"] == "pick")
    told = re.search(rf"(\d+) of the {fewest} to {most} days of transplant tables at (\d+) °C", heat["source"])
    assert told is not None, heat["source"]
    days, mean = int(told[1]), int(told[2])
    assert fewest <= days <= most
    assert round(heat["heat"]["aim"] / (mean - table["numbers"]["base_c"]["value"])) == days


def test_peas_and_sweetcorn_have_their_published_degree_days() -> None:
    """Delaware's weekly crop update: 1,250 °F days above 40 °F; Oregon State Extension: 1,539 above 50 °F from seed."""
    pea = next(step["after"] for step in read_calendars().crops["pea"]["steps"] if step["verb"] == "pick")
    assert round(1250 * 5 / 9) == pea["heat"]["min"]
    corn = next(step["after"] for step in read_calendars().crops["sweetcorn"]["steps"] if step["verb"] == "pick")
    raised = 21 * (20 - 10)  # three weeks in a propagator's 20 °C
    assert abs(1539 * 5 / 9 - raised - corn["heat"]["aim"]) <= 20
