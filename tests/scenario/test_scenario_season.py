"""The made-up year is one that plants could have lived: nothing before its time, nothing out of nothing."""

from __future__ import annotations

import datetime
from typing import Any

import pytest

from tests.builders import WITHY_END, withy_end_rulebook
from tests.scenario.household import YEAR, deeds_by_batch, of_kind, standing, whole_year

PATH = ("sow", "emerge", "prick_out", "pot_up", "harden_off", "plant_out", "pick", "clear")
STAYS_IN = (
    "kale", "sprouting", "parsnip", "celeriac", "leek", "lamb", "garlic_new", "bean_broad_new", "strawberry", "rhubarb",
    "apple", "plum", "raspberry", "blackcurrant", "redcurrant",
)  # fmt: skip
"""Batches still in the ground when the year ends."""
FIFTEENTHS = [f"{YEAR}-{month:02d}-15" for month in range(1, 13)]


def key(batch: str) -> str:
    """The household's own word for a batch."""
    return batch.split(".", 2)[2]


@pytest.mark.parametrize("earlier", PATH)
def test_no_step_of_a_batch_is_done_before_the_one_ahead_of_it(earlier: str) -> None:
    for batch, deeds in deeds_by_batch().items():
        first: dict[str, str] = {}
        for deed in deeds:
            first.setdefault(deed["did"], deed["on"] + deed["at"])
        for later in PATH[PATH.index(earlier) + 1 :]:
            if earlier in first and later in first:
                assert first[earlier] <= first[later], (batch, earlier, later)


def test_nothing_is_done_to_a_batch_that_is_cleared() -> None:
    for batch, deeds in deeds_by_batch().items():
        cleared = [index for index, deed in enumerate(deeds) if deed["did"] == "clear"]
        assert cleared in ([], [len(deeds) - 1]), batch


def test_every_batch_is_begun_in_its_year_and_cleared_or_stays_in() -> None:
    years = {id_: fields["year"] for id_, fields in of_kind(whole_year(), "batch").items()}
    for batch, deeds in deeds_by_batch().items():
        assert deeds, batch
        assert deeds[0]["did"] in ("sow", "plant_out") and deeds[0]["on"].startswith(str(years[batch])), batch
        assert (deeds[-1]["did"] == "clear") is (key(batch) not in STAYS_IN), batch


def test_no_more_plants_go_on_than_came_up() -> None:
    """A tally of its own, apart from the kernel's: plants up, less those lost, bound every count that follows."""
    for batch, deeds in deeds_by_batch().items():
        seeds, up = 0, None
        for deed in deeds:
            count = deed.get("count")
            if count is None:
                continue
            if deed["did"] == "sow":
                seeds += count
            elif deed["did"] == "emerge":
                up = (up or 0) + count
                assert up <= seeds, (batch, deed)
            elif deed["did"] == "plant_out" and up is None:
                assert seeds in (0, count), (batch, deed)
                up = count
            elif deed["did"] in ("prick_out", "pot_up", "plant_out", "move", "lose"):
                assert up is not None and count <= up, (batch, deed)
                up -= count if deed["did"] == "lose" else 0
        assert up is None or up >= 0, batch


def test_plants_are_taken_only_from_where_they_were_put() -> None:
    for batch, deeds in deeds_by_batch().items():
        been: set[str] = set()
        for deed in deeds:
            if deed["did"] == "lose" or "to_place" in deed:
                assert "place" not in deed or deed["place"] in been, (batch, deed)
            if deed["did"] in ("sow", "plant_out", "prick_out", "pot_up", "harden_off", "move"):
                been |= {deed[name] for name in ("place", "to_place") if name in deed}


@pytest.mark.parametrize("on", FIFTEENTHS)
def test_all_that_stands_has_a_place_and_was_sown_or_set(on: str) -> None:
    for batch in standing(on).values():
        if batch["state"] == "over":
            assert batch["cells"] == [], batch
        for cell in batch["cells"]:
            assert cell["place"] is not None, batch
            assert cell["count"] is None or cell["count"] > 0, batch


def test_last_years_own_batches_are_over_when_the_season_begins() -> None:
    states = {id_: batch["state"] for id_, batch in standing(f"{YEAR}-01-01").items() if key(id_).endswith("_y1")}
    assert len(states) >= 13 and set(states.values()) == {"over"}


def test_frost_takes_only_what_the_story_says() -> None:
    """Min -1.2 °C in the Tunnel on 20 October: the tomatoes are still there, all else that is tender is out."""
    tunnel_tender = [
        id_
        for id_, batch in standing(f"{YEAR}-10-19").items()
        if withy_end_rulebook()["crops"][batch["crop"]]["tender"]
        and any((cell["place"] or "").startswith("place.tunnel") for cell in batch["cells"])
    ]
    assert tunnel_tender == [f"batch.{YEAR}.tomato"]


def test_readings_lie_near_what_the_site_is_used_to() -> None:
    """Nights and days under cover stay within 9 degrees of the month's own mean outdoors, warmer side counted too."""
    readings = [fields for fields in of_kind(whole_year(), "diary").values() if fields["did"] == "measure"]
    assert len(readings) > 60
    for reading in readings:
        low, high = WITHY_END["normals"][int(reading["on"][5:7]) - 1]
        assert reading["tmin"] < reading["tmax"], reading
        assert abs(reading["tmin"] - low) <= 9 and abs(reading["tmax"] - high - 4) <= 9, reading


def test_trouble_is_looked_at_again_until_it_is_clear() -> None:
    deeds: list[dict[str, Any]] = sorted(
        (fields for fields in of_kind(whole_year(), "diary").values() if fields["did"] == "look" and "found" in fields),
        key=lambda fields: (fields["on"], fields["at"]),
    )
    last: dict[tuple[str, str], dict[str, Any]] = {}
    for deed in deeds:
        last[(deed["batch"], deed["found"])] = deed
    assert len(last) >= 5
    assert all(deed["level"] == "none" for deed in last.values())


def test_chillies_were_potbound_last_year_and_twice_this() -> None:
    days = [
        datetime.date.fromisoformat(deed["on"]).year
        for batch, deeds in deeds_by_batch().items()
        for deed in deeds
        if "chilli" in batch and deed["did"] == "plant_out" and deed.get("condition") == "potbound"
    ]
    assert sorted(days) == [YEAR - 1, YEAR, YEAR]
