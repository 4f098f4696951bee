"""Every crop at sites from Calgary to Sydney, under the sky and in a tunnel: each path comes out, or says why it cannot."""

from __future__ import annotations

from typing import Any

import pytest

from server.calendars.read import read_calendars
from server.calendars.read_climates import read_climates
from server.season.named_climates import site_fields
from server.season.rulebook import make_rulebook
from server.season.soundness import unsound_at
from tests.cases import sampled
from tests.season.published_calendars import GAINESVILLE

CALENDARS = read_calendars()
SITES = [
    "english_midlands", "edinburgh", "rennes", "hamburg", "stockholm", "burlington_vermont", "chicago", "calgary", "raleigh",
    "sacramento", "madrid", "auckland", "canberra", "sydney", "gainesville",
]  # fmt: skip
"""Cold continental, oceanic, mediterranean, humid subtropical, and the south: fifteen of the named climates and one hotter.
`mudproof check --everywhere` goes through all of them, under every cover."""


def book_at(site: str) -> dict[str, Any]:
    fields = GAINESVILLE if site == "gainesville" else site_fields(read_climates()[site])
    return make_rulebook(CALENDARS, [{"id": "site", "kind": "site", "stamp": "000000000000-0000-aaaaaaaa", "fields": fields}])


@pytest.mark.parametrize("site", sampled(SITES, 2))
def test_every_path_comes_out_or_says_why(site: str) -> None:
    book = book_at(site)
    assert not book["left_out"]
    assert unsound_at(book, ("open", "tunnel")) == []


def test_a_path_that_does_not_come_out_is_told() -> None:
    book = book_at("english_midlands")
    broken = {**book, "crops": {"tomato": {**book["crops"]["tomato"], "steps": [*book["crops"]["tomato"]["steps"]]}}}
    steps = broken["crops"]["tomato"]["steps"]
    at = next(index for index, step in enumerate(steps) if step["verb"] == "pick")
    steps[at] = {**steps[at], "season": {"from": "02-01", "to": "02-03"}, "until": None}
    told = unsound_at(broken, ("open",))
    assert "tomato: the weeks of 'pick' are 02-01 to 02-03" in told
