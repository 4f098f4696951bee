"""Soil temperature against the physics it is from, and windows against frozen and cold ground."""

from __future__ import annotations

import math
from typing import Any

import pytest

from server.calendars.read import read_calendars
from server.calendars.read_climates import read_climates
from server.season.climate import DAYS, covered_year, read_site
from server.season.named_climates import site_fields
from server.season.soil import DAY_S, YEAR_S, damping_depth_m, soil_year, warm_enough
from server.season.windows import Line
from tests.builders import WITHY_END
from tests.cases import sampled

CROPS = read_calendars().crops


def test_damping_depths_are_those_of_the_textbooks() -> None:
    """About 12 cm for the day's wave and 2.2 m for the year's at 0.5e-6 m2/s; the year's is sqrt(365) = 19.1 times the day's.

    Textbooks of soil physics; from memory.
    """
    assert damping_depth_m(DAY_S) == pytest.approx(0.117, abs=0.002)
    assert damping_depth_m(YEAR_S) == pytest.approx(2.24, abs=0.03)
    assert damping_depth_m(YEAR_S) / damping_depth_m(DAY_S) == pytest.approx(math.sqrt(365.25))


@pytest.mark.parametrize("depth_cm", [0.0, 5.0, 50.0, 100.0, 224.0])
def test_a_yearly_wave_is_damped_and_late_as_the_heat_equation_has_it(depth_cm: float) -> None:
    """T = mean + A exp(-z/d) cos(w t - z/d): the closed solution for a half-space (Kusuda and Achenbach 1965)."""
    nights = tuple(8 - 10 * math.cos(2 * math.pi * day / DAYS) for day in range(DAYS))
    depths = depth_cm / 100 / damping_depth_m(YEAR_S)
    for day, value in enumerate(soil_year(nights, nights, depth_cm)):
        assert value == pytest.approx(8 - 10 * math.exp(-depths) * math.cos(2 * math.pi * day / DAYS - depths), abs=0.01)


def test_near_the_surface_soil_is_the_air_but_for_a_day_or_two() -> None:
    site = read_site(WITHY_END)
    soil = soil_year(*covered_year(site, "open"))
    air = [(night + day) / 2 for night, day in zip(site.nights_c, site.days_c, strict=True)]
    assert max(abs(one - other) for one, other in zip(soil, air, strict=True)) < 0.8


def test_it_is_never_warm_enough_where_it_never_is() -> None:
    site = read_site(WITHY_END)
    assert warm_enough(*covered_year(site, "open"), site.order, 30.0) is None
    first, last = warm_enough(*covered_year(site, "open"), site.order, 7.0) or (0, 0)
    assert 70 <= first <= 100 and 300 <= last <= 335, "from the second half of March into November"


def climates() -> list[dict[str, Any]]:
    """Sites of the named climates."""
    return [site_fields(climate) for climate in sampled(read_climates().values(), 3)]


@pytest.mark.parametrize("crop", sorted(name for name, table in CROPS.items() if "soil_c" in table["numbers"]))
def test_nothing_goes_into_ground_too_cold_for_it_in_any_named_climate(crop: str) -> None:
    table = CROPS[crop]
    step = next(one for one in table["steps"] if one["where"] == "final" and one["id"] in table["windows"])
    for fields in climates():
        site = read_site(fields)
        line = Line(site, table, "open")
        window = line.window(step["id"])
        year = covered_year(site, "open")
        if window is None or warm_enough(*year, site.order, table["numbers"]["soil_c"]["value"]) is None:
            continue
        soil = soil_year(*year)[site.order[window[1] % DAYS]]
        assert soil >= table["numbers"]["soil_c"]["value"] - 0.01, (fields.get("name"), line.date(window[1]), soil)
