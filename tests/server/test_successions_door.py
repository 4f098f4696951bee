"""The door to sowings one after another."""

from __future__ import annotations

import datetime

import pytest
from starlette.testclient import TestClient

D = datetime.date


def test_a_lettuce_a_day_and_every_day_is_served_or_said(client: TestClient) -> None:
    """Common practice: under cold glass lettuces can be cut from the middle of May into October."""
    place = {"id": "g", "kind": "place", "stamp": "0190a0000000-0000-abcdefgh", "fields": {"name": "G", "cover": "glass"}}
    client.post("/api/sync", json={"since": 0, "changes": [place]})
    asked = "/api/successions?crop=lettuce&place=g&mode=picking&from=2032-05-20&to=2032-10-10&a_day=1"
    told = client.get(asked).json()
    assert told["whole"] and told["by_heat"] and told["gaps"] == []
    assert told["sowings"][0]["pick_from"] == "2032-05-20" and told["sowings"][-1]["pick_to"] == "2032-10-10"
    assert sum(sowing["plants"] for sowing in told["sowings"]) == (D(2032, 10, 10) - D(2032, 5, 20)).days + 1


def test_days_nobody_gave_are_those_the_year_can_serve(client: TestClient) -> None:
    told = client.get("/api/successions?crop=radish").json()
    assert told["from"] < told["to"] and told["sowings"][0]["pick_from"] == told["from"]


def test_every_days_and_by_heat_answer_too(client: TestClient) -> None:
    for mode in ("days", "heat"):
        told = client.get(f"/api/successions?crop=lettuce&mode={mode}&from=2032-03-20&to=2032-07-01&every=14&plants=9").json()
        assert len(told["sowings"]) > 3 and all(sowing["plants"] == 9 for sowing in told["sowings"])


@pytest.mark.parametrize(
    ("query", "status"),
    [
        ("crop=triffid", 404),
        ("crop=lettuce&mode=moon", 400),
        ("crop=lettuce&from=soon", 400),
        ("crop=lettuce&from=2032-05-01&to=2032-04-01", 400),
        ("crop=lettuce&from=2032-05-01&to=2099-04-01", 400),
        *[(f"crop=lettuce&mode={mode}&to=2200-01-01", 400) for mode in ("picking", "days", "heat")],
        *[(f"crop=lettuce&mode={mode}&to=2034-12-31", 400) for mode in ("picking", "days", "heat")],
        ("crop=lettuce&from=9999-12-31", 400),
        ("crop=lettuce&from=0001-01-01&to=0001-02-01", 400),
        ("crop=lettuce&a_day=0", 400),
        ("crop=lettuce&a_day=nan", 400),
        ("crop=lettuce&every=1e9", 400),
        ("crop=lettuce&plants=many", 400),
    ],
)
def test_what_makes_no_sense_is_said_in_a_sentence(client: TestClient, query: str, status: int) -> None:
    answer = client.get(f"/api/successions?{query}")
    assert answer.status_code == status and answer.json()["error"]["say"].endswith(".")
