"""On any day the household's list is one that three people could walk: a season in progress, no heap of old jobs."""

from __future__ import annotations

import pytest

from tests.scenario.household import YEAR, chosen, jobs, ready

MONTHS = {  # the fewest and the most that can be done on the 15th
    1: (3, 10), 2: (3, 15), 3: (8, 20), 4: (8, 25), 5: (12, 25), 6: (12, 25), 7: (12, 25), 8: (8, 27), 9: (8, 25),
    10: (5, 20), 11: (2, 18), 12: (1, 15),
}  # fmt: skip
MOST_PAST = 3


def titles(on: str, state: str = "ready") -> list[str]:
    """Titles in walking order, with plain spaces."""
    return [job["title"].replace("\u00a0", " ") for job in jobs(f"{YEAR}-{on}") if job["state"] == state and not chosen(job)]


@pytest.mark.parametrize("month", MONTHS)
def test_round_in_the_middle_of_a_month_is_neither_bare_nor_a_heap(month: int) -> None:
    on = f"{YEAR}-{month:02d}-15"
    fewest, most = MONTHS[month]
    assert fewest <= len(ready(on)) <= most, [job["title"] for job in ready(on)]


@pytest.mark.parametrize("month", MONTHS)
@pytest.mark.parametrize("day", [1, 8, 15, 22, 28])
def test_few_jobs_are_ever_past_and_none_by_a_fortnight(month: int, day: int) -> None:
    past = [(job["id"], job["leeway"]) for job in ready(f"{YEAR}-{month:02d}-{day:02d}") if (job["leeway"] or 0) < 0]
    assert len(past) <= MOST_PAST and all(leeway > -14 for _, leeway in past), past


def test_chillies_pricked_out_leave_five_spare() -> None:
    assert "Prick out 17 chillies" in [
        job["title"].replace("\u00a0", " ") for job in jobs(f"{YEAR}-03-20") if job["batch"] == f"batch.{YEAR}.chilli"
    ]
    assert "Decide on 5 spare chillies" in titles("03-24")


def test_sighting_of_14_may_asks_for_the_aubergines_too() -> None:
    assert "Look for red spider mite on aubergines" in titles("05-15")
    assert not [title for title in titles("05-19") if "red spider mite" in title]
    assert "Look for red spider mite on cucumbers" in titles("05-19", "later")


def test_19_may_is_the_round_of_the_story() -> None:
    told = titles("05-19")
    assert 12 <= len(told) <= 25
    for title in (
        "Prick out 24 basil", "Sow 25 French beans in modules", "Pot up 16 sweet peppers to 1 L", "String 14 tomatoes",
        "Side-shoot 14 tomatoes", "Decide on 6 spare cabbages", "Connect the Frames' drip line", "Water Frames by hand",
        "Earth up potatoes", "Thin beetroot to 8 cm",
    ):  # fmt: skip
        assert title in told
    assert "Side-shoot 10 tomatoes" in titles("05-19", "done")
    (trestle,) = [job for job in jobs(f"{YEAR}-05-19") if job["id"] == "fixture.trestle.remove"]
    assert trestle["state"] == "waiting"
    assert [block["text"] for block in trestle["in_the_way"]] == ["6 spare cabbages moved"]


def test_melons_and_cucumbers_say_what_they_wait_for() -> None:
    by_id = {job["id"]: job for job in jobs(f"{YEAR}-05-19")}
    cucumbers, melons = (by_id[f"batch.{YEAR}.{name}.plant_out"] for name in ("cucumber", "melon"))
    assert f"batch.{YEAR}.carrot_early.clear" in [block.get("job") for block in cucumbers["in_the_way"]]
    assert "fixture.trestle.remove" in [block.get("job") for block in melons["in_the_way"]]


def test_shelf_over_the_border_is_in_the_way_of_the_strings() -> None:
    by_id = {job["id"]: job for job in jobs(f"{YEAR}-05-28")}
    tie_up = by_id[f"batch.{YEAR}.chilli.string"]
    assert "fixture.border_shelf.remove" in [block.get("job") for block in tie_up["in_the_way"]]


def test_frost_of_20_october_calls_for_picking_and_clearing() -> None:
    frosted = {job["verb"]: job for job in jobs(f"{YEAR}-10-20") if job["batch"] == f"batch.{YEAR}.tomato"}
    assert frosted["clear"]["by"] == f"{YEAR}-10-23"
    assert any("frost" in line for line in frosted["clear"]["why"])


def test_november_shows_the_end_of_the_season() -> None:
    assert [
        title
        for title in titles("11-15")
        if "tomato" in title or "Prick out" in title or (title.startswith("Sow") and "manure" not in title)
    ] == []
    done = {job["batch"] for job in jobs(f"{YEAR}-11-08") if job["state"] == "done"}
    assert f"batch.{YEAR}.bean_broad_new" in done
