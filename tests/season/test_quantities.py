"""What the program says, in the units of a household: the table that the phone's half is held to as well."""

from __future__ import annotations

import tomllib
from pathlib import Path

import pytest

from server.season.quantities import METRIC, NB, Ways, as_measured, kept_together, ways_of

ROWS = tomllib.loads((Path(__file__).parent.parent / "quantities.toml").read_text())["rows"]


@pytest.mark.parametrize(("said", "us", "imperial"), ROWS, ids=[row[0] for row in ROWS])
def test_quantities_are_turned(said: str, us: str, imperial: str) -> None:
    said, us, imperial = (text.replace("_", NB) for text in (said, us, imperial))
    assert as_measured(said, Ways("F", "us")) == us
    assert as_measured(said, Ways("C", "imperial")) == imperial
    assert as_measured(said, METRIC) == said


def test_what_the_program_says_keeps_figure_and_unit_together() -> None:
    assert kept_together({"say": ["Pot up 6 melons to 1 L", "3 days"], "n": 2}) == {
        "say": [f"Pot up 6 melons to 1{NB}L", "3 days"],
        "n": 2,
    }


def test_a_site_that_says_nothing_or_nonsense_is_metric() -> None:
    assert ways_of(None) == ways_of({"units": "metric"}) == ways_of({"units": "cubits", "degrees": "K"}) == METRIC
    assert ways_of({"units": "us", "degrees": "F"}) == Ways("F", "us")
