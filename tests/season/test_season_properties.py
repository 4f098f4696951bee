"""What must hold of any plan anywhere: later frosts, warmer years, better seed and the other hemisphere."""

from __future__ import annotations

import datetime
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from server.calendars.read import read_calendars
from server.calendars.read_climates import read_climates
from server.season.calendar_schema import COVERS
from server.season.climate import DAYS, Site, daily_curve, month_and_day, nights_hold, read_site
from server.season.frost import frost_chance
from server.season.heat_sums import forecast, running_heat
from server.season.house import House
from server.season.rulebook import make_rulebook
from server.season.seed_quantity import expected_pct, seeds_to_sow
from server.season.successions import Planting, for_picking
from server.season.windows import Line
from tests.builders import WITHY_END, site_record
from tests.cases import sampled

CALENDARS = read_calendars()
CROPS = CALENDARS.crops
CLIMATES = read_climates()
SPRING = st.integers(75, 165)  # mid March to mid June, places in a leap year
D = datetime.date
ALL = pytest.mark.parametrize("crop", sampled(sorted(CROPS), 2))


def month_day(day: int) -> str:
    month, date = month_and_day(day % DAYS)
    return f"{month:02d}-{date:02d}"


def half_a_year_on(fields: dict[str, Any]) -> dict[str, Any]:
    """The same climate as far south, its months and frosts half a year later."""
    moved = {
        name: month_day((D(2024, int(fields[name][:2]), int(fields[name][3:])) - D(2024, 1, 1)).days + 183)
        for name in ("last_frost", "first_frost")
    }
    return fields | {"lat": -fields["lat"], "normals": [*fields["normals"][6:], *fields["normals"][:6]]} | moved


def places(site: Site, crop: str, cover: str) -> dict[str, int]:
    """Every window, gate and end of a crop's path on the line of days from midwinter."""
    line, found = Line(site, CROPS[crop], cover), {}
    for step in CROPS[crop]["steps"]:
        window, gate = line.window(step["id"]), line.gate(step["id"])
        if window is not None:
            found |= {f"{step['id']} {name}": place for name, place in zip(("from", "aim", "by"), window, strict=True)}
        if gate is not None:
            found[f"{step['id']} gate"] = gate
        if "until" in step:
            found[f"{step['id']} until"] = line.anchor(step["until"]["of"]) + round(7 * step["until"].get("weeks", 0))
    return found


@ALL
@given(SPRING, st.integers(1, 30), st.sampled_from(COVERS))
def test_a_later_last_frost_never_gives_an_earlier_planting(crop: str, last: int, later: int, cover: str) -> None:
    early, late = (places(read_site(WITHY_END | {"last_frost": month_day(day)}), crop, cover) for day in (last, last + later))
    assert early.keys() == late.keys()
    assert all(early[name] <= late[name] for name in early if name.startswith(("sow", "plant_out", "chit")))


@ALL
@given(st.floats(0, 4), st.sampled_from(COVERS))
def test_warmer_nights_never_open_a_gate_or_plant_later(crop: str, warmer: float, cover: str) -> None:
    normals = [[low + warmer, high + warmer] for low, high in WITHY_END["normals"]]
    usual = places(read_site(WITHY_END), crop, cover)
    warm = places(read_site(WITHY_END | {"normals": normals}), crop, cover)
    assert all(warm[name] <= usual[name] for name in usual if name.split()[0] in ("sow", "plant_out"))


@given(st.sampled_from(sorted(CLIMATES)), st.floats(0, 5), st.floats(50, 900), st.integers(0, 365))
def test_warmer_never_gathers_heat_later(id_: str, warmer: float, wanted: float, start: int) -> None:
    climate = CLIMATES[id_]
    fields = {"lat": climate.lat, "last_frost": climate.last_frost, "first_frost": climate.first_frost}
    usual = read_site(fields | {"normals": [list(pair) for pair in climate.normals]})
    warm = read_site(fields | {"normals": [[low + warmer, high + warmer] for low, high in climate.normals]})
    first = D(2031, 1, 1) + datetime.timedelta(days=start)
    here, there = (forecast(site, House("open"), first, wanted, 8, None) for site in (usual, warm))
    for name in ("early", "likely", "late"):
        sooner, later = getattr(there, name), getattr(here, name)
        assert later is None or (sooner is not None and sooner <= later)


@given(st.floats(0, 4), st.floats(-2, 12), st.sampled_from(COVERS))
def test_warmer_nights_never_hold_later(warmer: float, threshold: float, cover: str) -> None:
    normals = [[low + warmer, high + warmer] for low, high in WITHY_END["normals"]]
    usual, warm = (nights_hold(read_site(fields), cover, threshold) for fields in (WITHY_END, WITHY_END | {"normals": normals}))
    assert warm[1] or not usual[1]
    assert not usual[1] or warm[0] <= usual[0]


@given(SPRING, st.integers(0, 30), st.integers(0, 365))
def test_a_later_last_frost_is_never_less_frost(last: int, later: int, day: int) -> None:
    early, late = (read_site(WITHY_END | {"last_frost": month_day(place)}) for place in (last, last + later))
    assert frost_chance(early, day) <= frost_chance(late, day) + 1e-9


@ALL
@given(st.integers(1, 99), st.integers(1, 60))
def test_better_seed_never_takes_more_seeds(crop: str, pct: int, plants: int) -> None:
    shares = []
    for better in (pct, pct + 1):
        numbers = CROPS[crop]["numbers"] | {"germination_pct": {"value": better}}
        shares.append(expected_pct(CROPS[crop] | {"numbers": numbers}) / 100)
    assert seeds_to_sow(plants, shares[1]) <= seeds_to_sow(plants, shares[0])


@ALL
@pytest.mark.parametrize("cover", COVERS)
def test_plans_at_53_north_and_53_south_are_half_a_year_apart(crop: str, cover: str) -> None:
    """Day for day, every window, gate and end, within two days: months are of unlike length."""
    fields = WITHY_END | {"lat": 53.0}
    north, south = read_site(fields), read_site(half_a_year_on(fields))
    here, there = places(north, crop, cover), places(south, crop, cover)
    assert here.keys() == there.keys() and here
    for name, place in here.items():
        days = (south.order[there[name] % DAYS] - north.order[place % DAYS]) % DAYS
        assert abs(days - 183) <= 2, (name, days)
        assert there[name] // DAYS == place // DAYS or abs(there[name] - place) <= 3, name


def test_rulebooks_at_53_north_and_south_are_alike_but_for_their_dates() -> None:
    fields = WITHY_END | {"lat": 53.0}
    north, south = (make_rulebook(CALENDARS, [site_record(**f)]) for f in (fields, half_a_year_on(fields)))
    assert north["seeds"] == south["seeds"] and north["care"] == south["care"]
    for name, series in north["heat"].items():
        assert sum(south["heat"][name]) == pytest.approx(sum(series), rel=0.01)
        turned = south["heat"][name][183:] + south["heat"][name][:183]
        assert max(abs(a - b) for a, b in zip(series, turned, strict=True)) <= 6  # tenths of a degree-day
    for crop, entry in north["crops"].items():
        assert {key: entry[key] for key in entry if key not in ("steps", "frost_season")} == {
            key: south["crops"][crop][key] for key in entry if key not in ("steps", "frost_season")
        }


@given(st.integers(0, 200), st.integers(5, 90))
def test_successions_at_53_south_are_those_of_53_north_half_a_year_on(start: int, length: int) -> None:
    fields = WITHY_END | {"lat": 53.0}
    first = D(2031, 4, 1) + datetime.timedelta(days=start)
    last = first + datetime.timedelta(days=length)
    half = datetime.timedelta(days=183)
    north, south = (Planting(read_site(f), CROPS["lettuce"], House("tunnel")) for f in (fields, half_a_year_on(fields)))
    here, there = for_picking(north, first, last, 1), for_picking(south, first + half, last + half, 1)
    open_here, open_there = (sum((gap.last - gap.first).days + 1 for gap in found.gaps) for found in (here, there))
    assert abs(open_here - open_there) <= 4
    for one, other in zip(here.sowings, there.sowings, strict=False):
        assert abs((other.pick_from - one.pick_from).days - 183) <= 4


@given(st.lists(st.floats(-15, 30), min_size=12, max_size=12), st.integers(1, 11))
def test_turning_the_months_turns_the_curve(monthly: list[float], months: int) -> None:
    """The year has no seam: begun in another month it is as smooth a curve."""
    curve = daily_curve(monthly)
    turned = daily_curve(monthly[months:] + monthly[:months])
    jumps, turned_jumps = (max(abs(a - b) for a, b in zip(c, (*c[1:], c[0]), strict=True)) for c in (curve, turned))
    assert turned_jumps <= 1.25 * jumps + 0.05


@pytest.mark.parametrize("cover", COVERS)
def test_running_heat_never_falls(cover: str) -> None:
    site = read_site(WITHY_END)
    totals = running_heat(site, House(cover), D(2031, 11, 1), D(2032, 10, 31), 5, 30)
    assert totals == sorted(totals) and len(totals) == 366
