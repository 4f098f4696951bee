"""Sunrise, sunset and day length against a second almanac library and against FAO-56."""

from __future__ import annotations

import datetime
import math

import ephem
import pytest
from hypothesis import example, given
from hypothesis import strategies as st

from server.calendars.read import read_calendars
from server.season.climate import month_and_day, read_site
from server.season.rulebook import DARK_ALL_DAY, make_rulebook
from server.season.sun import day_length_h, daylight_hours, short_day_weeks, short_days, sun_day
from tests.builders import site_record

DATES = st.dates(datetime.date(2000, 1, 1), datetime.date(2050, 12, 31))


def ephem_sun(lat: float, lon: float, noon_utc: datetime.datetime) -> tuple[datetime.datetime, datetime.datetime]:
    """Sunrise before and sunset after a noon by ephem, upper limb, 34' of refraction."""
    where = ephem.Observer()
    where.lat, where.lon, where.pressure, where.horizon = str(lat), str(lon), 0, "-0:34"
    where.date = ephem.Date(noon_utc.replace(tzinfo=None))
    sun = ephem.Sun()
    rise, down = where.previous_rising(sun).datetime(), where.next_setting(sun).datetime()
    return rise.replace(tzinfo=datetime.UTC), down.replace(tzinfo=datetime.UTC)


# FAO Irrigation and Drainage Paper 56: example 9 (20° S, 3 September), and N at 53° N by its equations 24, 25, 34
@pytest.mark.parametrize(
    ("lat", "day", "hours"),
    [(-20, 246, 11.7), (53, 15, 7.87), (53, 105, 13.71), (53, 166, 16.65), (53, 258, 12.37), (53, 349, 7.35)],
)
def test_daylight_hours_are_those_of_fao_56(lat: float, day: int, hours: float) -> None:
    assert daylight_hours(lat, day) == pytest.approx(hours, abs=0.05)


def test_daylight_hours_never_leave_the_day_even_at_the_poles() -> None:
    assert [daylight_hours(lat, day) for lat, day in ((90, 172), (90, 355), (-90, 172), (0, 80))] == [
        24,
        0,
        0,
        pytest.approx(12, abs=0.01),
    ]


@pytest.mark.parametrize(("on", "hours"), [((2025, 6, 21), 16.932), ((2025, 12, 21), 7.564), ((2025, 3, 20), 12.191)])
def test_day_length_at_53_north_is_the_almanacs(on: tuple[int, int, int], hours: float) -> None:
    """ephem 4.2 at 53 N 1 W."""
    assert day_length_h(53, datetime.date(*on), -1) == pytest.approx(hours, abs=0.02)


@example(-44.0, -95.0, datetime.date(2000, 4, 5)).via("a date of UTC with two sunsets")
@given(st.floats(-60, 60), st.floats(-179, 179), DATES)
def test_sunrise_and_sunset_agree_with_ephem_to_half_a_minute(lat: float, lon: float, on: datetime.date) -> None:
    day = sun_day(lat, lon, on, "UTC")
    assert day.sunrise is not None and day.sunset is not None
    middle = day.sunrise + (day.sunset - day.sunrise) / 2
    rise, down = ephem_sun(lat, lon, middle)
    assert abs((day.sunrise - rise).total_seconds()) < 30 and abs((day.sunset - down).total_seconds()) < 30


def test_at_65_degrees_the_sun_agrees_with_ephem_all_year() -> None:
    """Where it grazes the horizon a height that is a little off is minutes off: every fifth day, north and south."""
    for lat in (65.0, -65.0):
        for step in range(0, 365, 5):
            on = datetime.date(2031, 1, 1) + datetime.timedelta(days=step)
            day = sun_day(lat, 25.0, on, "UTC")
            assert day.sunrise is not None and day.sunset is not None
            rise, down = ephem_sun(lat, 25.0, day.sunrise + (day.sunset - day.sunrise) / 2)
            assert abs((day.sunrise - rise).total_seconds()) < 30 and abs((day.sunset - down).total_seconds()) < 30, (lat, on)


@given(st.floats(-55, 55), st.floats(-179, 179), DATES)
def test_civil_dusk_agrees_with_ephem_to_half_a_minute(lat: float, lon: float, on: datetime.date) -> None:
    day = sun_day(lat, lon, on, "UTC")
    assert day.sunset is not None and day.dusk is not None
    where = ephem.Observer()
    where.lat, where.lon, where.pressure, where.horizon = str(lat), str(lon), 0, "-6"
    where.date = ephem.Date((day.sunset - datetime.timedelta(minutes=1)).replace(tzinfo=None))
    dark = where.next_setting(ephem.Sun(), use_center=True).datetime().replace(tzinfo=datetime.UTC)
    assert abs((day.dusk - dark).total_seconds()) < 30


def test_times_are_in_the_sites_own_zone_on_both_sides_of_a_clock_change() -> None:
    """Clocks in the United Kingdom go back on 26 October 2025: sunset an hour earlier by the clock."""
    before = sun_day(53, -1, datetime.date(2025, 10, 25), "Europe/London")
    after = sun_day(53, -1, datetime.date(2025, 10, 26), "Europe/London")
    assert before.sunset is not None and after.sunset is not None
    assert (before.sunset.hour, after.sunset.hour) == (17, 16)
    assert before.sunset.utcoffset() == datetime.timedelta(hours=1) and after.sunset.utcoffset() == datetime.timedelta(0)


@pytest.mark.parametrize(
    ("lat", "lon", "tz"),
    [(1.9, -157.4, "Pacific/Kiritimati"), (-44, -176.5, "Pacific/Chatham"), (64.5, -165.4, "America/Nome")],
)
def test_the_sites_own_date_is_meant_where_clock_and_sun_lie_far_apart(lat: float, lon: float, tz: str) -> None:
    on = datetime.date(2025, 3, 20)
    day = sun_day(lat, lon, on, tz)
    assert day.sunrise is not None and day.sunset is not None
    assert day.sunrise.date() == day.sunset.date() == on


def test_a_sunset_after_midnight_belongs_to_the_day_it_ends() -> None:
    """65.5 N in Iceland keeps Greenwich time at 18° W: in June the sun sets after midnight by the clock."""
    day = sun_day(65.5, -18, datetime.date(2025, 6, 12), "Atlantic/Reykjavik")
    assert day.sunset is not None and day.sunset.date() == datetime.date(2025, 6, 13)
    assert 22 < day.day_h < 23 and day.dusk is None and day.polar is None


@pytest.mark.parametrize(
    ("lat", "month", "polar", "hours"), [(70, 6, "day", 24), (70, 12, "night", 0), (-70, 6, "night", 0), (90, 6, "day", 24)]
)
def test_polar_day_and_night_are_said(lat: float, month: int, polar: str, hours: float) -> None:
    day = sun_day(lat, 25, datetime.date(2025, month, 21), "Europe/Oslo")
    assert (day.polar, day.day_h, day.sunrise, day.sunset) == (polar, hours, None, None)
    assert (day.dusk is None) == (polar == "day"), "at 70 degrees midwinter noon has twilight, that ends"


@given(st.floats(-90, 90), st.floats(-180, 180), DATES)
@example(66.8, 0.0, datetime.date(2025, 6, 1))
def test_no_day_anywhere_fails(lat: float, lon: float, on: datetime.date) -> None:
    hours = day_length_h(lat, on, lon)
    assert 0 <= hours <= 24 and math.isfinite(hours)


@given(st.floats(10, 60), DATES)
def test_the_south_has_what_the_north_has_half_a_year_on(lat: float, on: datetime.date) -> None:
    """Not to the minute: the year's halves differ by 7.6 days, and a day at 60° changes by at most 0.11 h."""
    other = on + datetime.timedelta(days=183)
    assert day_length_h(-lat, other) == pytest.approx(day_length_h(lat, on), abs=0.6)


def test_short_days_at_53_north_are_late_october_to_mid_february() -> None:
    """Computed apart for 53 N: under 10 h from 25 October to 16 February."""
    first, second = short_days(53, -1, 2025)
    assert first == (datetime.date(2025, 1, 1), datetime.date(2025, 2, 16))
    assert second == (datetime.date(2025, 10, 25), datetime.date(2025, 12, 31))
    assert short_day_weeks(53, -1, 2025) == [1, 2, 3, 4, 5, 6, 7, *range(44, 53)]


def test_short_days_in_the_south_are_one_span_and_none_near_the_equator() -> None:
    ((first, last),) = short_days(-43, 172, 2025)
    assert (first.month, last.month) == (5, 8) and short_days(20, 0, 2025) == []


@pytest.mark.parametrize(("lat", "lon", "tz"), [(91, 0, "UTC"), (0, 181, "UTC"), (0, 0, "Europe/Nowhere"), (0, 0, "../etc")])
def test_what_is_no_place_is_refused(lat: float, lon: float, tz: str) -> None:
    with pytest.raises(ValueError, match=r"expected|no time zone"):
        sun_day(lat, lon, datetime.date(2025, 1, 1), tz)


def test_midnight_sun_and_polar_night_are_told_apart() -> None:
    """Utqiagvik, 71.29 N: the sun stays up from 11 May to 2 August and down from 18 November to 22 January (almanacs; from
    memory); at its midwinter noon there is civil twilight for hours. Svalbard, 78.2 N, has none: it is dark all day."""
    midsummer = sun_day(71.29, -156.79, datetime.date(2031, 6, 21), "America/Anchorage")
    midwinter = sun_day(71.29, -156.79, datetime.date(2031, 12, 21), "America/Anchorage")
    assert midsummer.polar == "day" and midsummer.dusk is None and midsummer.day_h == 24
    assert midwinter.polar == "night" and midwinter.dusk is not None and midwinter.day_h == 0
    darkest = sun_day(78.22, 15.63, datetime.date(2031, 12, 21), "Europe/Oslo")
    assert darkest.polar == "night" and darkest.dusk is None


def test_the_rulebook_says_light_all_night_or_dark_all_day() -> None:
    records = [site_record(lat=78.22, lon=15.63)]
    dusk = make_rulebook(read_calendars(), records)["dusk"]
    assert dusk[0] == DARK_ALL_DAY and dusk[25] is None


def test_a_southern_site_without_normals_has_its_months_turned() -> None:
    """An English winter must not fall into a southern summer."""
    north, south = read_site({"lat": 53.0}), read_site({"lat": -41.3})
    assert max(range(366), key=lambda day: north.nights_c[day]) in range(180, 230)
    assert max(range(366), key=lambda day: south.nights_c[day]) in (*range(0, 50), *range(360, 366))
    assert month_and_day(south.last_frost)[0] == 11 and month_and_day(south.first_frost)[0] == 4
