"""When crops are begun, held against published planting calendars of nine regions of five climates."""

from __future__ import annotations

import pytest

from server.calendars.read import read_calendars
from server.calendars.read_climates import read_climates
from server.season.climate import DAYS, MONTH_START, Site, read_site
from server.season.named_climates import site_fields
from server.season.rulebook import make_rulebook
from server.season.turns import lines_of, unfit
from tests.builders import withy_end_rulebook
from tests.season.published_calendars import GAINESVILLE, REGIONS, Region

CROPS = read_calendars().crops
CLIMATES = read_climates()


def site_of(region: Region) -> Site:
    """The site a region's calendar is held against."""
    return read_site(GAINESVILLE if region.climate == "gainesville" else site_fields(CLIMATES[region.climate]))


def day(month_day: str) -> int:
    return MONTH_START[int(month_day[:2]) - 1] + int(month_day[3:]) - 1


def around(first: int, last: int) -> set[int]:
    """Days of a year from one to another, over its end too."""
    return {(first + step) % DAYS for step in range((last - first) % DAYS + 1)}


def published(times: str) -> set[int]:
    found: set[int] = set()
    for span in times.split(", "):
        first, last = span.split("..")
        found |= around(day(first), day(last))
    return found


def ours(site: Site, crop: str) -> tuple[set[int], list[int]]:
    """All days on which the open ground's setting step may be done, and the best day of each turn."""
    days: set[int] = set()
    best = []
    for line in lines_of(site, CROPS[crop], "open"):
        window = line.window(line.setting)
        assert window is not None
        first, aim, last = (site.order[place % DAYS] for place in window)
        days |= around(first, last)
        best.append(aim)
    return days, best


def near(place: int, days: set[int], within: int) -> bool:
    return bool(around((place - within) % DAYS, (place + within) % DAYS) & days)


PAIRS = [(name, crop) for name, region in REGIONS.items() for crop in region.times]
ASIDE_D = 14
"""How far a best day may lie outside what is published, whose times are to the half month. [d]"""
EXPLAINED = {
    ("central North Carolina", "leek"): "planted out as in Britain, in June; there in spring and autumn",
    ("Sacramento", "pumpkin"): "planted as soon as nights hold; there for late October",
    ("Melbourne", "brussels_sprout"): "summer is cool enough for the class; there they are made to ripen in winter",
    ("Melbourne", "swede"): "as Brussels sprouts: sown in spring here, in late summer there",
}


def meets(name: str, crop: str) -> bool:
    region = REGIONS[name]
    return bool(ours(site_of(region), crop)[0] & published(region.times[crop]))


@pytest.mark.parametrize("name", REGIONS)
def test_windows_meet_those_that_are_published(name: str) -> None:
    missed = {crop for crop in REGIONS[name].times if not meets(name, crop)}
    assert missed == {crop for region, crop in EXPLAINED if region == name}
    assert len(missed) <= 0.1 * len(REGIONS[name].times), "nine in ten of each region"


def test_best_days_lie_in_what_is_published() -> None:
    """At least one turn's best day in nine crops of ten, and over all no more than one best day in six far aside."""
    one, aside, all_best = 0, 0, 0
    for name, crop in PAIRS:
        region = REGIONS[name]
        times = published(region.times[crop])
        fits = [near(best, times, ASIDE_D) for best in ours(site_of(region), crop)[1]]
        one += any(fits)
        aside += fits.count(False)
        all_best += len(fits)
    assert one >= 0.9 * len(PAIRS)
    assert aside <= all_best / 6


def test_kinds_of_climate_are_five_and_more() -> None:
    assert len(REGIONS) >= 8
    assert len({region.kind for region in REGIONS.values()}) >= 5


def turns(fields: dict[str, object], crop: str) -> list[tuple[str, str]]:
    """First and last day of each turn of a crop's setting step in the open."""
    lines = lines_of(read_site(fields), CROPS[crop], "open")
    windows = [(line, line.window(line.setting)) for line in lines]
    return [(line.month_day(window[0]), line.month_day(window[2])) for line, window in windows if window]


@pytest.mark.parametrize("crop", sorted(CROPS))
@pytest.mark.parametrize("climate", ["english_midlands", "edinburgh", "hamburg", "helsinki", "calgary"])
def test_where_summers_are_cool_and_winters_cold_the_calendars_own_window_stands(climate: str, crop: str) -> None:
    (line,) = lines_of(read_site(site_fields(CLIMATES[climate])), CROPS[crop], "open")
    assert line.turn is None


def test_where_summers_are_hot_lettuce_has_spring_and_autumn() -> None:
    """UF/IFAS and NC State calendars: lettuce in spring and from August on; from memory."""
    spring, autumn = turns(site_fields(CLIMATES["raleigh"]), "lettuce")
    assert spring[1] <= "05-20" and "07-20" <= autumn[0] <= "08-31"


def test_where_winters_are_mild_cool_crops_run_from_autumn_to_spring() -> None:
    """UF/IFAS, north Florida: cabbage from late August into February; from memory."""
    mine, _ = ours(read_site(GAINESVILLE), "cabbage")
    assert published("09-01..02-15") <= mine
    assert not published("04-01..07-01") & mine


def test_what_no_time_of_the_year_suits_is_said() -> None:
    """Celery in a tunnel where the hottest month has a mean of 27 °C, over its class' 24 °C, and winter kills it."""
    (line,) = lines_of(read_site(site_fields(CLIMATES["raleigh"])), CROPS["celery"], "tunnel")
    assert unfit(line, line.setting) == "hot"


@pytest.mark.parametrize("crop", ["purple_sprouting", "spring_cabbage", "autumn_broad_bean"])
def test_vermonts_winter_kills_what_is_to_stand_it(crop: str) -> None:
    (line,) = lines_of(read_site(site_fields(CLIMATES["burlington_vermont"])), CROPS[crop], "open")
    assert unfit(line, line.setting) == "cold"
    (line,) = lines_of(read_site(site_fields(CLIMATES["english_midlands"])), CROPS[crop], "open")
    assert unfit(line, line.setting) is None


def test_leeks_are_lifted_before_vermonts_winter_and_stand_englands() -> None:
    there = make_rulebook(
        read_calendars(), [{"id": "site", "kind": "site", "stamp": "", "fields": site_fields(CLIMATES["burlington_vermont"])}]
    )
    pick = next(step for step in there["crops"]["leek"]["steps"] if step["verb"] == "pick")
    assert "0-11-15" <= pick["until"]["open"] <= "1-01-10"
    pick = next(step for step in withy_end_rulebook()["crops"]["leek"]["steps"] if step["verb"] == "pick")
    assert pick["until"] is None


@pytest.mark.parametrize("climate", ["raleigh", "sacramento", "auckland", "chicago", "tokyo", "cape_town"])
def test_turns_of_a_crop_never_share_a_day_and_are_in_order(climate: str) -> None:
    site = read_site(site_fields(CLIMATES[climate]))
    for crop, table in CROPS.items():
        taken: set[int] = set()
        for line in lines_of(site, table, "open"):
            window = line.window(line.setting)
            assert window is not None and window[0] <= window[1] <= window[2] < window[0] + DAYS, crop
            days = {place % DAYS for place in range(window[0], window[2] + 1)}
            assert not taken & days, crop
            taken |= days
