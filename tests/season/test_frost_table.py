"""What frost does to crops, held against a published table of critical temperatures.

Relative frost resistance of temperate crops, PMC10202904 Table 2 (open access): damage begins somewhere in the band, hardening,
variety and time shift it. Strawberry: open blossom, Univ. of Delaware weekly crop update (Johnson), converted from °F.
"""

from __future__ import annotations

import pytest

from server.calendars.read import read_calendars
from tests.builders import withy_end_rulebook

CROPS = read_calendars().crops

BANDS = [
    ("tomato", 0, 5), ("cucumber", 0, 5), ("potato", -2, 0), ("french_bean", -2, 0), ("sweetcorn", -2, 0), ("melon", -2, 0),
    ("cauliflower", -4, -2), ("calabrese", -4, -2), ("asparagus", -4, -2), ("pea", -4, -2), ("lettuce", -4, -2),
    ("beetroot", -7, -4), ("strawberry", -2.2, -1.1),
]  # fmt: skip
"""Crop, and between which temperatures damage begins. [°C]"""
HARDIER = [
    ("kale", -7),
    ("cabbage", -7),
    ("onion", -7),
    ("swede", -7),
    ("carrot", -7),
    ("parsnip", -7),
    ("spinach", -10),
    ("leek", -7),
]
"""Crops that the table has standing at least so much: no frost of a growing season ends them. [°C] Leek from memory."""


@pytest.mark.parametrize(("crop", "low_c", "high_c"), BANDS, ids=[row[0] for row in BANDS])
def test_harm_begins_where_the_table_has_it(crop: str, low_c: float, high_c: float) -> None:
    value = CROPS[crop]["numbers"]["frost_kills_c"]["value"]
    assert low_c <= value <= high_c


@pytest.mark.parametrize(("crop", "stands_c"), HARDIER, ids=[row[0] for row in HARDIER])
def test_what_stands_more_is_not_asked_about(crop: str, stands_c: float) -> None:
    number = CROPS[crop]["numbers"].get("frost_kills_c")
    assert number is None or number["value"] <= stands_c


def test_every_crop_says_what_frost_does() -> None:
    for name, table in CROPS.items():
        assert ("frost_kills_c" in table["numbers"]) == (table.get("frost") != "harmless"), name


def test_potatoes_come_again_and_strawberries_lose_flowers_in_their_weeks_alone() -> None:
    crops = withy_end_rulebook()["crops"]
    assert crops["potato"]["frost_does"] == "cuts back" and crops["potato"]["frost_season"] is None
    assert crops["strawberry"]["frost_does"] == "spoils flowers"
    season = crops["strawberry"]["frost_season"]
    assert "04-01" <= season["from"] <= "04-30" and "06-01" <= season["to"] <= "07-15"
