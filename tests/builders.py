"""Builders shared by tests: the made-up household's site and its rulebook."""

from __future__ import annotations

import functools
from typing import Any

from server.calendars.read import read_calendars
from server.season.rulebook import make_rulebook

WITHY_END: dict[str, Any] = {
    "name": "Withy End",
    "lat": 53.1,
    "lon": -3.2,
    "tz": "Europe/London",
    "units": "metric",
    "last_frost": "05-12",
    "first_frost": "10-18",
    "normals": [
        [2.5, 8.0], [2.3, 8.3], [3.5, 10.3], [4.9, 13.0], [7.5, 16.0], [10.2, 18.6],
        [12.2, 20.5], [12.1, 20.2], [10.1, 17.8], [7.5, 14.2], [4.9, 10.7], [2.9, 8.4],
    ],
}  # fmt: skip
FIRST_STAMP = "000000000001-0000-aaaaaaaa"


def site_record(**changes: Any) -> dict[str, Any]:
    """The site of Withy End, with fields changed."""
    return {"id": "site", "kind": "site", "stamp": FIRST_STAMP, "fields": {**WITHY_END, **changes}}


@functools.lru_cache(maxsize=1)
def withy_end_rulebook() -> dict[str, Any]:
    """The rulebook for Withy End from the real calendars."""
    return make_rulebook(read_calendars(), [site_record()])
