"""How many fit, by the door and in a terminal."""

from __future__ import annotations

import json

import pytest
from starlette.testclient import TestClient

from server.__main__ import main


def test_the_door_tells_each_way_best_first(client: TestClient) -> None:
    found = client.get("/api/fit?length_cm=300&width_cm=120&spacing_cm=30").json()["choices"]
    assert found[0] == {"pattern": "square", "turned": False, "count": 40, "spacing_cm": 30, "row_cm": 30, "left_over": 0}
    assert [one["count"] for one in found] == [40, 39, 38]
    rows = client.get("/api/fit?length_cm=300&width_cm=120&spacing_cm=15&row_cm=45&end_cm=10").json()["choices"]
    assert {(one["pattern"], one["turned"], one["count"]) for one in rows} >= {("rows", False, 57)}


@pytest.mark.parametrize(
    "asked",
    ["", "length_cm=300&width_cm=120", "length_cm=-3&width_cm=120&spacing_cm=30", "length_cm=300&width_cm=120&spacing_cm=0",
     "length_cm=nan&width_cm=120&spacing_cm=30", "length_cm=300&width_cm=wide&spacing_cm=30",
     "length_cm=1e9&width_cm=120&spacing_cm=30", "length_cm=300&width_cm=120&spacing_cm=30&end_cm=-1"],
)  # fmt: skip
def test_nonsense_is_refused_with_a_sentence(client: TestClient, asked: str) -> None:
    answer = client.get(f"/api/fit?{asked}")
    assert answer.status_code == 400 and "must be a number of centimetres" in answer.json()["error"]["say"]


def test_the_command_prints_the_same(capsys: pytest.CaptureFixture[str]) -> None:
    main(["fit", "300", "120", "30"])
    lines = capsys.readouterr().out.splitlines()
    assert lines[0].split() == ["40", "square", "at", "30", "cm"] and len(lines) == 3
    main(["fit", "300", "120", "30", "--json"])
    assert json.loads(capsys.readouterr().out)["choices"][0]["count"] == 40
    with pytest.raises(SystemExit):
        main(["fit", "300", "120", "none"])
    assert "The distance between plants must be a number" in capsys.readouterr().out
