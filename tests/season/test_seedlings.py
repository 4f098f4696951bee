"""Seed by temperature: how many seedlings come at each, against the printed table, and what a sowing takes there.

Source: Harrington & Minges 1954, percentage of normal seedlings, as in Knott's Handbook for Vegetable Growers.
"""

from __future__ import annotations

import pytest

from server.calendars.read import read_calendars
from server.season.climate import read_site
from server.season.crop_knowledge import make_crop
from server.season.emergence import whole_degrees, whole_shares
from server.season.seed_quantity import seed_table

CALENDARS = read_calendars()
PRINTED = [
    ("beetroot", 5, 53), ("carrot", 35, 74), ("celery", 10, 70), ("cucumber", 15, 95), ("french_bean", 30, 47),
    ("lettuce", 25, 99), ("lettuce", 30, 12), ("parsnip", 10, 79), ("pea", 30, 86), ("spinach", 20, 52), ("spinach", 30, 32),
    ("spring_onion", 35, 73), ("sweet_pepper", 15, 70), ("sweetcorn", 10, 47), ("tomato", 10, 82), ("tomato", 35, 46),
]  # fmt: skip


@pytest.mark.parametrize(("crop", "temp_c", "pct"), PRINTED)
def test_seedlings_are_as_printed(crop: str, temp_c: int, pct: int) -> None:
    rows = {row["temp_c"]: row for row in CALENDARS.crops[crop]["emergence"]}
    assert rows[temp_c]["normal_pct"] == pct
    assert "Harrington & Minges 1954" in rows[temp_c]["source"]


def test_lettuce_in_heat_takes_many_times_the_seed() -> None:
    made = make_crop(read_site(None), CALENDARS.crops["lettuce"], CALENDARS.standing["missed"])
    shares = made["emerge_pct"]
    assert "20" not in shares and "25" not in shares, "nearly all come where it is cool"
    assert shares["30"] == 10, "12 of 99, in steps of five"
    assert shares["28"] > shares["29"] > shares["30"], "between two temperatures it falls evenly"
    usual = int(made["seeds_for"])
    assert seed_table(usual * shares["30"] // 100 // 5 * 5 / 100)[5] > 6 * seed_table(usual / 100)[5]


def test_only_where_something_comes_up_is_a_share_told() -> None:
    days = [(5.0, None), (10.0, 43.0), (20.0, 8.0), (35.0, 9.0), (40.0, None)]
    shares = whole_shares([(5.0, 0.0), (10.0, 82.0), (20.0, 98.0), (35.0, 46.0), (40.0, 0.0)], whole_degrees(days))
    assert set(shares) <= set(whole_degrees(days)) and "20" not in shares and shares["35"] == 45
    assert whole_shares([(10.0, None), (20.0, None)], whole_degrees(days)) == {}, "not counted is not none"
