"""Every crop at sites from Calgary to Sydney, under the sky and in a tunnel: each path comes out, or says why it cannot."""

from __future__ import annotations

from typing import Any

import pytest

from server.calendars.read import read_calendars
from server.calendars.read_climates import read_climates
from server.kernel.settle import settle
from server.season.named_climates import site_fields
from server.season.rulebook import make_rulebook
from tests.season.published_calendars import GAINESVILLE

CALENDARS = read_calendars()
SITES = [
    "english_midlands", "edinburgh", "rennes", "hamburg", "stockholm", "burlington_vermont", "chicago", "calgary", "raleigh",
    "sacramento", "madrid", "auckland", "canberra", "sydney", "gainesville",
]  # fmt: skip
"""Cold continental, oceanic, mediterranean, humid subtropical, and the south: fifteen of the named climates and one hotter."""
YEAR = 2031
BEFORE = f"{YEAR - 1}-07-01"
STAMP = "000000000000-0000-aaaaaaaa"
SAYS_WHY = ("in a usual year", "in a usual winter", "will hardly be picked")


def record(kind: str, id_: str, **fields: Any) -> dict[str, Any]:
    return {"id": id_, "kind": kind, "stamp": STAMP, "fields": {"name": "", **fields}}


def jobs_of(book: dict[str, Any], crop: str, cover: str, turn: int) -> list[dict[str, Any]]:
    """The jobs of a batch of ten that nothing was told of."""
    records = [
        record("place", "there", sort="house", cover=cover),
        record("place", "warm", sort="propagator", cover="indoors", heated_to_c=book["crops"][crop]["raise_c"]),
        record("variety", "variety", crop=crop),
        record("batch", "batch", variety="variety", want=10, for_place="there", year=YEAR, turn=turn),
    ]
    return [job for job in settle(book, records, BEFORE) if job["batch"] == "batch"]


def faults(book: dict[str, Any], crop: str, cover: str, turn: int) -> list[str]:
    """What does not come out."""
    know = book["crops"][crop]
    jobs = jobs_of(book, crop, cover, turn)
    found = [f"{job['id']} is pinched at birth: {job['pinched']}" for job in jobs if job["pinched"]]
    picks = [job for job in jobs if job["verb"] == "pick"]
    if not picks and not any(why.startswith(SAYS_WHY) for job in jobs for why in job["why"]):
        found.append("is never picked, and does not say why")
    season = next((step["season"] for step in know["steps"] if step["verb"] == "pick"), None)
    for pick in picks:
        if season is not None and not in_weeks(pick["from"][5:], season):
            found.append(f"is picked on {pick['from']}, out of its season {season}")
        began = min(job["aim"] for job in jobs)
        if season is None and months(began, pick["aim"]) > 12:
            found.append(f"is begun on {began} and picked on {pick['aim']}")
    return found


def in_weeks(day: str, season: dict[str, str]) -> bool:
    first, last = season["from"], season["to"]
    return first <= day <= last if first <= last else day >= first or day <= last


def months(first: str, last: str) -> int:
    return (int(last[:4]) - int(first[:4])) * 12 + int(last[5:7]) - int(first[5:7])


@pytest.mark.parametrize("site", SITES)
def test_every_path_comes_out_or_says_why(site: str) -> None:
    fields = GAINESVILLE if site == "gainesville" else site_fields(read_climates()[site])
    book = make_rulebook(CALENDARS, [record("site", "site", **fields)])
    assert not book["left_out"]
    wrong = {
        f"{crop} {cover} {turn}": found
        for crop, know in book["crops"].items()
        for cover in ("open", "tunnel")
        for turn in range(len(know["turns"]) + 1)
        if (found := faults(book, crop, cover, turn))
    }
    assert wrong == {}
