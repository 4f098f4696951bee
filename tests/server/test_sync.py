"""What the server does with changes: good, bad, repeated, from wrong clocks, in pages."""

from __future__ import annotations

from typing import Any

import pytest
from starlette.testclient import TestClient

from tests.server.conftest import NOW_MS, change, push, stamp

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
    ("a list", ["not", "a", "change"]),
    ("nothing", None),
]


@pytest.mark.parametrize(("what", "bad"), BAD, ids=[what for what, _ in BAD])
def test_a_bad_change_is_refused_by_itself_and_the_good_go_through(client: TestClient, what: str, bad: Any) -> None:
    good = [change("g1"), change("g2", made=stamp(counter=1))]
    import json

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


def test_a_clock_two_years_ahead_is_bounded_and_shuts_nobody_out(client: TestClient) -> None:
    """Bet's phone is two years fast: her work is taken, told, and an edit made after it still wins."""
    ahead = NOW_MS + 2 * 365 * 86_400_000
    hers = [change("b1", "batch", made=stamp(ahead, n, "betaaaaa"), want=n) for n in (1, 2)]
    first = push(client, hers)
    assert len(first["restamped"]) == 2  # type: ignore[arg-type]
    assert first["records"][0]["fields"]["want"] == 2  # type: ignore[index]
    later = push(client, [change("b1", "batch", made=stamp(NOW_MS + 1000, device="jimaaaaa"), want=30)])
    assert later["records"][0]["fields"]["want"] == 30  # type: ignore[index]
    again = push(client, hers)
    assert again["restamped"] == first["restamped"]
    assert again["records"][0]["fields"]["want"] == 30  # type: ignore[index]


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
    from server.kernel.merge import visible

    assert visible(answer["records"][0])  # type: ignore[index]
