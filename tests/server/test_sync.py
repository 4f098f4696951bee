"""What the server does with changes: good, bad, repeated, from wrong clocks, in pages."""

from __future__ import annotations

import datetime
import json
import shutil
from pathlib import Path
from typing import Any

import pytest
from starlette.testclient import TestClient

from server.app import make_app
from server.kernel.read import stamps
from server.settings import Settings
from tests.server.conftest import NOW, NOW_MS, change, push, stamp

BAD: list[tuple[str, Any]] = [
    ("a negative count", change(count=-4, on="2031-05-19", did="pick")),
    ("a count of one and a half", change(count=1.5, on="2031-05-19", did="pick")),
    ("a day that is none", change(on="2031-02-30", did="pick")),
    ("a time that is none", change(on="2031-05-19", at="25:00", did="pick")),
    ("a latitude of 153", change("site", "site", lat=153)),
    ("a night above its day", change("site", "site", normals=[[9, 3]] + [[1, 2]] * 11)),
    ("eleven months", change("site", "site", normals=[[1, 2]] * 11)),
    ("a level of our own making", change(on="2031-05-19", did="look", level="oodles")),
    ("a note of 4,001 letters", change(on="2031-05-19", did="note", note="x" * 4001)),
    ("letters that cannot be shown", change(on="2031-05-19", did="note", note="a\x00b")),
    ("half a letter", change(on="2031-05-19", did="note", note="\ud800")),
    ("letters that turn the line round", change(on="2031-05-19", did="note", note="\u202egnp.exe")),
    ("a boolean for a number", change("b1", "batch", want=True)),
    ("an id with a slash", change("../etc")),
    ("no id", {"kind": "diary", "stamp": stamp(), "fields": {"did": "note"}}),
    ("a kind with capitals", change("d1", "Diary")),
    ("a stamp of words", change("d1", made="now")),
    ("a stamp from a device of five letters", change("d1", made=stamp()[:-3])),
    ("no fields", {"id": "d1", "kind": "diary", "stamp": stamp(), "fields": {}}),
    ("65 fields", change("d1", "thing", **{f"f{n}": n for n in range(65)})),
    ("a field name with a space", {"id": "d1", "kind": "thing", "stamp": stamp(), "fields": {"a b": 1}}),
    ("a stamp for a field that is not there", change("d1") | {"stamps": {"other": stamp()}}),
    ("33 kB", change("d1", "thing", big=["x" * 1000] * 33)),
    ("something folded eight deep", change("d1", "thing", deep=[[[[[[[[1]]]]]]]])),
    ("gone as a word", change("d1", gone="yes")),
    ("a number longer than the road", change("b1", "batch", want=10**300)),
    ("a number past counting in a field of its own", change("t1", "thing", size=10**40)),
    ("half a letter in an id", change("d\ud800")),
    ("half a letter in a stamp", change("d1", made=stamp()[:-1] + "\ud800")),
    ("half a letter in a field's name", change("d1", "thing", **{"a\ud800": 1})),
    ("half a letter in a word of ours", change(on="2031-05-19", did="look", level="\ud800")),
    ("half a letter in a key", change("t1", "thing", deep={"a\ud800": 1})),
    ("a line's end after an id", change("d1\n")),
    ("a line's end after a day", change(on="2031-05-19\n", did="note")),
    ("figures of another script in a day", change(on="²²²²-05-19", did="note")),
    ("figures of another script in a time", change(on="2031-05-19", at="0٣:3٤", did="note")),
    ("a list", ["not", "a", "change"]),
    ("nothing", None),
]


@pytest.mark.parametrize(("what", "bad"), BAD, ids=[what for what, _ in BAD])
def test_a_bad_change_is_refused_by_itself_and_the_good_go_through(client: TestClient, what: str, bad: Any) -> None:
    good = [change("g1"), change("g2", made=stamp(counter=1))]
    body = json.dumps({"since": 0, "changes": [good[0], bad, good[1]]})
    answer = client.post("/api/sync", content=body, headers={"content-type": "application/json"}).json()
    assert [row["id"] for row in answer["taken"]] == ["g1", "g2"]
    assert {record["id"] for record in answer["records"]} == {"g1", "g2"}
    assert len(answer["refused"]) >= 1
    for refusal in answer["refused"]:
        assert refusal["why"][0].isupper() or refusal["why"][0] == "“"
        assert refusal["why"].endswith(".") and "Traceback" not in refusal["why"]


def test_unknown_kinds_and_fields_are_kept_and_passed_on(client: TestClient) -> None:
    newer = change("w1", "weather", wind_kmh=40, gusts=[1, 2.5, {"peak": "west"}])
    odd = change("d1", on="2031-05-19", did="graft", scion={"of": "pear"})
    records = {record["id"]: record for record in push(client, [newer, odd])["records"]}  # type: ignore[union-attr]
    assert records["w1"]["fields"] == newer["fields"]
    assert records["d1"]["fields"]["scion"] == {"of": "pear"}


def test_the_same_push_twice_is_one_and_takes_no_new_number(client: TestClient) -> None:
    first = push(client, [change("d1"), change("d2", made=stamp(counter=1))])
    again = push(client, [change("d1"), change("d2", made=stamp(counter=1))], since=first["upto"])
    assert again["taken"] == first["taken"]
    assert again["upto"] == first["upto"] and again["records"] == []


def test_fields_merge_apart_and_the_later_stamp_wins(client: TestClient) -> None:
    push(client, [change("b1", "batch", made=stamp(NOW_MS - 9), want=12, notes="old")])
    push(client, [change("b1", "batch", made=stamp(NOW_MS - 5, device="bbbbbbbb"), want=14)])
    late = push(client, [change("b1", "batch", made=stamp(NOW_MS - 7, device="cccccccc"), want=99, notes="new")])
    (record,) = late["records"]  # type: ignore[misc]
    assert record["fields"] == {"notes": "new", "want": 14}
    assert record["stamp"] == stamp(NOW_MS - 7, device="cccccccc")
    assert record["stamps"] == {"want": stamp(NOW_MS - 5, device="bbbbbbbb")}


def test_a_late_push_reaches_a_phone_that_had_read_on(client: TestClient) -> None:
    """One phone is offline for a week; what it then gives bears old stamps but a new number."""
    push(client, [change("d2", made=stamp(NOW_MS))])
    upto = push(client, [])["upto"]
    week_old = change("d1", made=stamp(NOW_MS - 7 * 86_400_000))
    push(client, [week_old], since=upto)
    found = push(client, [], since=upto)
    assert [record["id"] for record in found["records"]] == ["d1"]  # type: ignore[union-attr]


def test_first_load_comes_in_pages_newest_season_first(client: TestClient) -> None:
    made = []
    for number in range(5200):
        year = 2029 + number % 3
        made.append(change(f"d{number}", made=stamp(NOW_MS - number - 1), on=f"{year}-05-01", did="note"))
    made.append(change("place1", "place", made=stamp(NOW_MS - 9999), name="Tunnel"))
    for start in range(0, len(made), 200):
        push(client, made[start : start + 200], since=1)
    seen: list[dict[str, Any]] = []
    page, pages = None, 0
    while True:
        answer = push(client, [], page=page)
        seen += answer["records"]  # type: ignore[arg-type]
        page, pages = answer["page"], pages + 1
        if not answer["more"]:
            break
    assert pages == 3 and len(seen) == len({record["id"] for record in seen}) == 5201
    assert seen[0]["id"] == "place1"
    years = [record["fields"]["on"][:4] for record in seen[1:]]
    assert years == sorted(years, reverse=True)
    assert answer["upto"] == 5201


def after(answer: dict[str, Any], device: str) -> str:
    """A stamp by a phone that has heard an answer."""
    heard = stamps.read(answer["clock"])
    return stamps.write(stamps.hear(stamps.Reading(0, 0), heard, NOW_MS), device)


YEARS = 365 * 86_400_000


@pytest.mark.parametrize("server_ms", [0, 3 * 86_400_000, -3 * 86_400_000, 20 * YEARS, -20 * YEARS])
@pytest.mark.parametrize("phone_ms", [0, 100_000, 86_400_000, 2 * YEARS, -20 * YEARS])
def test_what_was_seen_can_be_corrected_whatever_any_clock_says(tmp_path: Path, server_ms: int, phone_ms: int) -> None:
    """Bet writes by her phone's clock; Jim, who was told of it, corrects it; hers, sent again, rules over nothing."""
    now = NOW + datetime.timedelta(milliseconds=server_ms)
    hers = [change("b1", "batch", made=stamp(NOW_MS + phone_ms, n, "betaaaaa"), want=n) for n in (1, 2)]
    with TestClient(make_app(Settings(tmp_path), lambda: now), base_url="http://127.0.0.1") as client:
        push(client, [change("b1", "batch", made=stamp(NOW_MS - 3_600_000, device="idaaaaaa"), want=7)])
        told = push(client, hers)
        first = push(client, [change("b1", "batch", made=after(told, "jimaaaaa"), want=30)])
        assert first["records"][0]["fields"]["want"] == 30 and first["restamped"] == []
        assert push(client, hers)["records"][0]["fields"]["want"] == 30


def test_a_server_whose_clock_is_put_right_forgets_nothing(tmp_path: Path) -> None:
    """Three days ahead for a while: what was written then can be changed when it is not."""
    moments = iter([NOW + datetime.timedelta(days=3)] + [NOW] * 20)
    with TestClient(make_app(Settings(tmp_path), lambda: next(moments)), base_url="http://127.0.0.1") as client:
        told = push(client, [change("b1", "batch", made=stamp(NOW_MS + 3 * 86_400_000, device="betaaaaa"), want=1)])
        again = push(client, [change("b1", "batch", made=after(told, "jimaaaaa"), want=2)])
        assert again["records"][0]["fields"]["want"] == 2
        assert after(again, "idaaaaaa") > after(told, "jimaaaaa")


def test_a_server_whose_clock_no_clock_has_carries_nobody_along(tmp_path: Path) -> None:
    year_2300 = datetime.datetime(2300, 1, 1, tzinfo=datetime.UTC)
    with TestClient(make_app(Settings(tmp_path), lambda: year_2300), base_url="http://127.0.0.1") as client:
        told = push(client, [change("b1", "batch", made=stamp(int(year_2300.timestamp() * 1000)), want=1)])
    assert stamps.read(told["clock"]).ms < stamps.NEVER_MS


def test_whoever_loses_is_told_what_won(client: TestClient) -> None:
    """The phone has been told all there is, and its later push changes nothing here: it lacks what won all the same."""
    told = push(client, [change("b1", "batch", made=stamp(NOW_MS, 5, "betaaaaa"), want=5)])
    lost = push(
        client, [change("b1", "batch", made=stamp(NOW_MS, 1, "jimaaaaa"), want=1)], since=told["upto"], epoch=told["epoch"]
    )
    assert [record["fields"]["want"] for record in lost["records"]] == [5] and lost["upto"] == told["upto"]


def test_a_stamp_that_no_clock_made_carries_nobody_along(client: TestClient) -> None:
    """The year 9999: it is brought down to after what was taken, the same each time, and is no reading to go by."""
    far = stamp(253_370_764_800_000, device="betaaaaa")
    push(client, [change("b1", "batch", made=stamp(NOW_MS, device="jimaaaaa"), want=1)])
    told = push(client, [change("b1", "batch", made=far, want=2)])
    (row,) = told["restamped"]
    assert row["from"] == far and stamp(NOW_MS) < row["to"] < stamp(NOW_MS + 1000)
    assert told["records"][0]["fields"]["want"] == 2 and told["clock"] < stamp(NOW_MS + 1000)
    assert push(client, [change("b1", "batch", made=far, want=2)])["restamped"] == told["restamped"]
    odd = push(client, [], heard="f" * 12 + "-0000")
    assert odd["clock"] == told["clock"]


def test_phones_notice_a_database_put_back_from_an_older_copy(tmp_path: Path) -> None:
    """The copy knows nothing of what came after it. By then its numbers have grown past the phone's cursor again."""
    data, copy = tmp_path / "data", tmp_path / "copy"

    def opened() -> TestClient:
        return TestClient(make_app(Settings(data), lambda: NOW), base_url="http://127.0.0.1")

    with opened() as client:
        push(client, [change(f"d{n}") for n in range(5)])
    shutil.copytree(data, copy)
    with opened() as client:
        told = push(client, [change(f"e{n}") for n in range(5)])
    shutil.rmtree(data)
    shutil.copytree(copy, data)
    with opened() as client:
        fresh = push(client, [change(f"f{n}") for n in range(20)])
        assert fresh["reset"] is False
        back = push(client, [], since=told["upto"], epoch=told["epoch"])
        assert back["reset"] is True and back["upto"] == 25
    with opened() as client:
        steady = push(client, [], since=fresh["upto"], epoch=fresh["epoch"])
        assert steady["reset"] is False


def test_a_name_keeps_its_kind(client: TestClient) -> None:
    push(client, [change("x1", "weather", want="lots")])
    answer = push(client, [change("x1", "batch", made=stamp(counter=1), want=3), change("g1")])
    assert [row["id"] for row in answer["taken"]] == ["g1"]  # type: ignore[union-attr]
    assert "already belongs to a weather" in answer["refused"][0]["why"]  # type: ignore[index]
    assert client.get("/api/jobs?on=2031-05-19").status_code == 200


def test_a_record_cannot_grow_without_end(client: TestClient) -> None:
    refused = 0
    for part in range(6):
        fields = {f"f{part}_{n}": n for n in range(60)}
        answer = push(client, [{"id": "x1", "kind": "weather", "stamp": stamp(counter=part), "fields": fields}])
        refused += len(answer["refused"])  # type: ignore[arg-type]
    assert refused == 2


def test_whole_numbers_are_whole_however_they_are_written(client: TestClient) -> None:
    body = f'{{"changes": [{{"id": "d1", "kind": "diary", "stamp": "{stamp()}", "fields": {{"count": 12.0}}}}]}}'
    answer = client.post("/api/sync", content=body, headers={"content-type": "application/json"}).json()
    assert answer["records"][0]["fields"] == {"count": 12} and isinstance(answer["records"][0]["fields"]["count"], int)


def test_another_epoch_or_a_cursor_from_the_future_starts_anew(client: TestClient) -> None:
    first = push(client, [change("d1")])
    assert first["reset"] is False
    assert push(client, [], since=first["upto"], epoch="another")["reset"] is True
    beyond = push(client, [], since=999)
    assert beyond["reset"] is True and [record["id"] for record in beyond["records"]] == ["d1"]  # type: ignore[union-attr]


def test_more_than_two_hundred_changes_leave_the_rest_for_later(client: TestClient) -> None:
    answer = push(client, [change(f"d{n}", made=stamp(counter=n)) for n in range(203)])
    assert len(answer["taken"]) == 200 and len(answer["refused"]) == 3  # type: ignore[arg-type]


def test_deleted_records_travel_and_come_back_with_an_edit(client: TestClient) -> None:
    push(client, [change("p1", "place", made=stamp(NOW_MS - 9), name="Tunnel")])
    push(client, [change("p1", "place", made=stamp(NOW_MS - 5), gone=True)])
    answer = push(client, [change("p1", "place", made=stamp(NOW_MS - 3), name="Long tunnel")])
    from server.kernel.read.merge import visible

    assert visible(answer["records"][0])  # type: ignore[index]
