"""The door to a crop's numbers."""

from __future__ import annotations

from starlette.testclient import TestClient

from server.calendars.read import read_calendars


def push(client: TestClient, *changes: dict[str, object]) -> list[dict[str, object]]:
    refused: list[dict[str, object]] = client.post("/api/sync", json={"since": 0, "changes": list(changes)}).json()["refused"]
    return refused


def change(id_: str, **fields: object) -> dict[str, object]:
    return {"id": id_, "kind": "crop", "stamp": "0190a0000000-0000-abcdefgh", "fields": fields}


def test_a_crops_numbers_come_with_label_unit_range_and_source(client: TestClient) -> None:
    told = client.get("/api/crops/tomato").json()
    spacing = next(number for number in told["numbers"] if number["path"] == "numbers.spacing_cm")
    entry = read_calendars().crops["tomato"]["numbers"]["spacing_cm"]
    assert spacing["label"] == "Plants apart" and spacing["unit"] == "cm" and spacing["usual"] == entry["range"]
    assert spacing["value"] == entry["value"] and spacing["source"] == entry["source"]


def test_an_unknown_crop_is_said_in_a_sentence(client: TestClient) -> None:
    answer = client.get("/api/crops/triffid")
    assert answer.status_code == 404 and answer.json()["error"]["say"].startswith("There is no such crop.")


def test_own_number_reaches_the_rulebook_and_one_that_cannot_be_says_why_there(client: TestClient) -> None:
    good = change("own.kale.numbers.spacing_cm", crop="kale", path="numbers.spacing_cm", value=70)
    odd = change("own.kale.numbers.row_cm", crop="kale", path="numbers.row_cm", value=9999)
    assert push(client, good, odd) == []
    book = client.get("/api/rulebook").json()
    assert book["crops"]["kale"]["spacing_cm"][2] == 70
    assert book["left_out"]["own.kale.numbers.row_cm"].startswith("Rows apart of kale must be a number from 0.5 to 500")


def test_a_number_that_is_none_is_refused_by_itself(client: TestClient) -> None:
    refused = push(
        client,
        change("own.kale.x", crop="kale", path="numbers.row_cm", value="wide"),
        change("own.kale.y", crop="kale", path="a b", value=1),
    )
    assert [one["field"] for one in refused] == ["value", "path"]


def test_own_crop_has_a_door_of_its_own_and_a_whole_calendar_travels(client: TestClient) -> None:
    like = change("crop.oca", crop="oca", like="potato", one="oca tuber", many="oca")
    whole = change("crop.ours", crop="ours", calendar={**read_calendars().crops["kale"], "many": "ours"})
    assert push(client, like, whole) == []
    assert client.get("/api/crops/oca").json()["many"] == "oca"
    assert client.get("/api/rulebook").json()["crops"]["ours"]["many"] == "ours"


def test_a_calendar_goes_out_as_a_file_and_comes_back_changed(client: TestClient) -> None:
    text = client.get("/api/crops/kale/file").text
    ours = text.replace('id = "kale"', 'id = "ours"', 1).replace("value = 45", "value = 46", 1)
    told = client.post("/api/crop-file", content=ours.encode(), headers={"content-type": "application/octet-stream"}).json()
    assert told["faults"] == [] and told["calendar"]["id"] == "ours"
    assert push(client, change("crop.ours", crop="ours", calendar=told["calendar"])) == []
    assert "ours" in client.get("/api/rulebook").json()["crops"]


def test_a_damaged_file_names_place_and_mend_and_keeps_nothing(client: TestClient) -> None:
    text = client.get("/api/crops/kale/file").text
    for torn, says in (
        (text.replace("spacing_cm", "spacing_miles", 1), "spacing_miles"),
        (text.replace("[[steps]]", "[[steps", 1), "cannot be read"),
        (text.replace('id = "kale"', 'id = "My Kale!"', 1), "small letters"),
        ("", "is missing"),
    ):
        headers = {"content-type": "application/octet-stream"}
        told = client.post("/api/crop-file", content=torn.encode(), headers=headers).json()
        assert told["calendar"] is None and any(says in line for line in told["faults"]), says
    assert client.get("/api/crops/nothing/file").status_code == 404
