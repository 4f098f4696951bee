"""Frost days from a site's normals alone, against real years: daily series named in frost_years.toml."""

from __future__ import annotations

import tomllib
from pathlib import Path
from typing import Any

import pytest

from server.season.climate import MONTH_START, read_site
from server.season.frost import frost_days

SERIES: list[dict[str, Any]] = tomllib.loads((Path(__file__).parent / "frost_years.toml").read_text())["series"]


def told(series: dict[str, Any]) -> tuple[dict[str, tuple[float, float]], int]:
    """For each share a household is told: how often real springs and autumns were worse. And how many years there are."""
    site = read_site({"lat": series["lat"], "normals": series["normals"]})
    at = {day: place for place, day in enumerate(site.order)}

    def place(day: str) -> int:
        return at[MONTH_START[int(day[:2]) - 1] + int(day[3:]) - 1]

    days = frost_days(site)
    assert days is not None
    years = len(series["last_frosts"])
    passed = {}
    for name, (last, first) in days.items():
        late = sum(1 for day in series["last_frosts"] if day and place(day) > at[last])
        early = sum(1 for day in series["first_frosts"] if day and place(day) < at[first])
        passed[name] = (late / years, early / years)
    return passed, years


@pytest.mark.parametrize("series", SERIES, ids=[one["name"] for one in SERIES])
def test_no_climate_is_told_a_safe_day_that_its_years_often_pass(series: dict[str, Any]) -> None:
    passed, years = told(series)
    assert years >= 28
    assert max(passed["tenth"]) <= 0.2, passed
    assert max(passed["fiftieth"]) <= 0.1, passed


def test_told_shares_are_about_what_the_years_had() -> None:
    """Over all 300 springs and autumns: one in ten is that or a little less, never more; half is about half."""
    every = [(told(one)[0], len(one["last_frosts"])) for one in SERIES]
    years = sum(count for _, count in every)
    assert years > 280
    for name, least, most in (("half", 0.3, 0.6), ("tenth", 0.04, 0.11), ("fiftieth", 0.0, 0.03)):
        for side in (0, 1):
            share = sum(passed[name][side] * count for passed, count in every) / years
            assert least <= share <= most, (name, side, share)
