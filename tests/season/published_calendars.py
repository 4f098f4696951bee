"""Reads `published_calendars.toml`: when published planting calendars have crops sown or planted in the open."""

from __future__ import annotations

import tomllib
from pathlib import Path
from typing import Any, NamedTuple


class Region(NamedTuple):
    """A published calendar: its source, the climate it is held against, and each crop's times."""

    source: str
    climate: str
    kind: str
    times: dict[str, str]


def read_regions() -> dict[str, Region]:
    """Regions by name."""
    tables = tomllib.loads(Path(__file__).with_suffix(".toml").read_text(encoding="utf-8"))
    return {name: Region(**table) for name, table in tables.items()}


GAINESVILLE: dict[str, Any] = {
    "name": "Gainesville, Florida", "lat": 29.7, "lon": -82.3, "tz": "America/New_York",
    "last_frost": "03-10", "first_frost": "11-20",
    "normals": [
        [6, 19], [8, 21], [10, 24], [13, 27], [17, 31], [21, 33], [22, 33], [22, 33], [20, 31], [15, 28], [10, 24], [7, 20],
    ],
}  # fmt: skip
"""Normals of 1991-2020 to the degree, from memory: no named climate of the app is so warm."""
REGIONS = read_regions()
