"""What waits in the ground, row by row against the published rotation table."""

from __future__ import annotations

import functools
from typing import Any

import pytest

from server.calendars.read import read_calendars
from server.season.rulebook import make_rulebook

CONNECTICUT = {
    "clubroot": ("cabbage", (7, 7)), "black leg": ("cabbage", (3, 4)), "black rot": ("cabbage", (2, 3)),
    "leaf spot of beet": ("beetroot", (3, 3)), "anthracnose and bacterial blight": ("french_bean", (2, 2)),
    "Verticillium wilt": ("aubergine", (4, 4)), "fruit rots": ("aubergine", (3, 3)), "drop and bottom rot": ("lettuce", (3, 3)),
    "scab and leaf spot": ("cucumber", (2, 2)), "leaf spots and blight": ("melon", (2, 2)), "Fusarium": ("asparagus", None),
}  # fmt: skip
"""University of Connecticut Extension, crop rotation table: a host and the years without one; none: do not replant."""
FROM_MEMORY = {"white rot": (8, 20), "cyst nematode": (6, 6), "canker and root troubles": (3, 4)}


@functools.cache
def book() -> dict[str, Any]:
    return make_rulebook(read_calendars(), [])


def risks() -> dict[str, Any]:
    return {risk["name"]: risk for risk in book()["rotation"]}


@pytest.mark.parametrize(("name", "row"), CONNECTICUT.items())
def test_each_row_of_the_published_table_is_in_ours(name: str, row: tuple[str, tuple[int, int] | None]) -> None:
    host, years = row
    risk = risks()[name]
    assert host in risk["crops"] or book()["crops"][host]["family"] in risk["families"]
    assert (None if risk["years"] is None else tuple(risk["years"])) == years


def test_nothing_else_is_in_ours_but_what_says_that_it_is_from_memory() -> None:
    assert risks().keys() == CONNECTICUT.keys() | FROM_MEMORY.keys()
    sources = {risk["name"]: risk["source"] for risk in read_calendars().rotation["risks"]}
    assert all(sources[name].startswith("from memory") for name in FROM_MEMORY)


def test_every_host_is_a_crop_or_a_family_there_is() -> None:
    families = {crop["family"] for crop in book()["crops"].values()}
    for risk in book()["rotation"]:
        assert set(risk["crops"]) <= set(book()["crops"]) and set(risk["families"]) <= families
        assert risk["crops"] or risk["families"]


def test_verticillium_goes_from_one_family_to_another() -> None:
    """The table: aubergine, also no tomato, potato, pepper, strawberry, cane fruit."""
    named = set(risks()["Verticillium wilt"]["crops"])
    assert named >= {"aubergine", "tomato", "potato", "sweet_pepper", "strawberry", "raspberry", "blackberry"}
