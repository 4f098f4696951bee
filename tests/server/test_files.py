"""Doors that read a grower's own files. The files are made up."""

from __future__ import annotations

import datetime

import pytest
from starlette.testclient import TestClient

CSV = {"content-type": "application/octet-stream"}


def month(first: str, days: int) -> str:
    start = datetime.date.fromisoformat(first)
    rows = [f"{start + datetime.timedelta(days=n)};{n % 7}.5;{15 + n % 7}" for n in range(days)]
    return "Date;Min °C;Max °C\n" + "\n".join(rows)


def test_readings_come_back_by_day_and_nothing_is_kept(client: TestClient) -> None:
    answer = client.post("/api/readings", content=month("2024-05-01", 14) + "\nrubbish;1;2\n", headers=CSV)
    told = answer.json()
    assert answer.status_code == 200 and told["questions"] == [] and told["problem"] is None
    assert told["days"]["2024-05-01"] == [0.5, 15.0] and len(told["days"]) == 14
    assert told["left_out"] == 1 and told["bad"][0]["line"] == 16
    assert client.post("/api/sync", json={"since": 0, "changes": []}).json()["records"] == []


def test_unclear_units_are_asked_and_the_answer_is_taken(client: TestClient) -> None:
    rows = "Date,Min,Max\n" + "\n".join(f"2024-06-{day:02d},50,68" for day in range(1, 13))
    (question,) = client.post("/api/readings", content=rows, headers=CSV).json()["questions"]
    fahrenheit = next(choice for choice in question["choices"] if "F" in choice)
    told = client.post(f"/api/readings?answer.{question['id']}={fahrenheit}", content=rows, headers=CSV).json()
    # 50 °F is 10 °C and 68 °F is 20 °C: by definition of the scale
    assert told["days"]["2024-06-01"] == [10.0, 20.0]


@pytest.mark.parametrize("body", [b"", b"PK\x03\x04 a spreadsheet", b"\x00\xff\x00", b"no table at all"])
def test_what_is_no_table_is_said_in_a_sentence(client: TestClient, body: bytes) -> None:
    for door in ("/api/readings", "/api/seeds"):
        answer = client.post(door, content=body, headers=CSV)
        assert answer.status_code == 200
        assert answer.json()["problem"]


def test_too_large_a_file_is_refused_in_a_sentence(client: TestClient) -> None:
    answer = client.post("/api/readings", content=b"x" * 8_000_001, headers=CSV)
    assert answer.status_code == 413 and answer.json()["error"]["say"]


def test_seed_list_gives_varieties_and_asks_about_crops_it_does_not_know(client: TestClient) -> None:
    rows = "Variety,Crop,Germination %\nMade-up Red,tomato,80\nOdd One,tomatoe plant,70\n,carrot,60\n"
    told = client.post("/api/seeds", content=rows, headers=CSV).json()
    assert [(row["variety"], row["crop"], row["germination_pct"]) for row in told["good"]] == [("Made-up Red", "tomato", 80)]
    (strange,) = told["unknown"]
    assert strange["name"] == "tomatoe plant" and "tomato" in strange["near"]
    again = client.post("/api/seeds?answer.tomatoe plant=tomato", content=rows, headers=CSV).json()
    assert len(again["good"]) == 2 and again["left_out"] == 1
