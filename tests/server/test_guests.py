"""Guests: the round of some places until some day; whatever reaches further is refused by itself."""

from __future__ import annotations

import base64
import datetime
import hashlib
import threading
from typing import Any

import pytest
from starlette.testclient import TestClient

import seed_scenario
from server.handlers import kept_list
from tests.server.conftest import KEY, Clock, change
from tests.server.test_joining import doors

TODAY, UNTIL = "2031-05-19", "2031-05-26"


@pytest.fixture
def app(home: TestClient) -> TestClient:
    """The made-up household on its home network; this client is a phone of its own."""
    code = home.post("/api/codes", json={}, headers=KEY).json()["code"]
    assert home.post("/api/join", json={"code": code, "name": "Hazel"}).status_code == 200
    changes = seed_scenario.load(TODAY)
    for at in range(0, len(changes), 200):
        assert home.post("/api/sync", json={"since": 0, "changes": changes[at : at + 200]}).json()["refused"] == []
    return home


@pytest.fixture
def guest(app: TestClient) -> tuple[TestClient, str]:
    """A guest of the tunnel for a week, in a browser of their own, and the phone's id."""
    asked = {"guest": {"places": ["place.tunnel"], "until": UNTIL}}
    code = app.post("/api/codes", json=asked).json()["code"]
    other = TestClient(app.app, base_url="https://mudproof.local")
    assert other.post("/api/join", json={"code": code, "name": "Neighbour"}).json()["device"] is None
    (waiting,) = app.get("/api/phones").json()["waiting"]
    assert waiting["guest"]
    told = app.post(f"/api/waiting/{waiting['id']}", json={"let_in": True}).json()["device"]
    assert told["guest"] == {"places": ["place.tunnel"], "until": UNTIL}
    return other, told["id"]


def stamp(counter: int = 0) -> str:
    ms = int(datetime.datetime(2031, 5, 19, 10, 40, tzinfo=datetime.UTC).timestamp() * 1000)
    return f"{ms:012x}-{counter:04x}-guestaaa"


def fresh(name: str) -> str:
    """An id as a phone makes one, the same for the same name."""
    return base64.b32encode(hashlib.sha256(name.encode()).digest()).decode().lower()[:26]


def send(phone: tuple[TestClient, str], id_: str, counter: int = 0, kind: str = "diary", **fields: Any) -> list[dict[str, Any]]:
    """Push one change; what was refused."""
    change = {"id": id_, "kind": kind, "stamp": stamp(counter), "fields": fields}
    answer = phone[0].post("/api/sync", json={"since": 0, "changes": [change]})
    assert answer.status_code == 200 and answer.json()["records"] == [], "a guest is told nothing but what became of its own"
    refused: list[dict[str, Any]] = answer.json()["refused"]
    return refused


def test_a_guest_sees_the_jobs_of_the_places_given_and_no_others(app: TestClient, guest: tuple[TestClient, str]) -> None:
    told = guest[0].get("/api/guest").json()
    everything = app.get("/api/jobs").json()["jobs"]
    mine = {job["id"] for job in told["jobs"]}
    tunnel = {
        job["id"]
        for job in everything
        if job["house"] == "place.tunnel" and job["verb"] != "decide" and job["state"] in ("ready", "waiting", "done")
    }
    assert tunnel <= mine <= {job["id"] for job in everything if job["house"] == "place.tunnel"}
    assert told["until"] == UNTIL and all(job["state"] != "later" or job["from"] <= UNTIL for job in told["jobs"])
    assert [place["name"] for place in told["places"]] == ["Tunnel"]


def test_a_guests_tick_is_on_everybodys_list_and_can_be_taken_back(app: TestClient, guest: tuple[TestClient, str]) -> None:
    job = next(job for job in guest[0].get("/api/guest").json()["jobs"] if job["state"] == "ready")
    tick = {**job["writes"], "on": TODAY, "at": "10:41", "job": job["id"], "part": job["part"], "guest": guest[1]}
    for _ in range(2):
        assert send(guest, fresh("tick1"), **tick) == [], "a repeated push is the same push"
    states = {one["id"]: one["state"] for one in app.get("/api/jobs").json()["jobs"]}
    assert states.get(job["id"]) in (None, "done")
    assert send(guest, fresh("tick1"), counter=1, gone=True) == []
    states = {one["id"]: one["state"] for one in app.get("/api/jobs").json()["jobs"]}
    assert states[job["id"]] == "ready"


def test_a_guest_writes_notes_about_the_places_given(app: TestClient, guest: tuple[TestClient, str]) -> None:
    note = {"on": TODAY, "did": "note", "place": "place.tunnel.bed3", "note": "door was open", "guest": guest[1]}
    assert send(guest, fresh("note1"), **note) == []
    assert send(guest, fresh("note1"), counter=1, note="door was open, shut it") == []


def test_whatever_reaches_further_is_refused_by_itself(app: TestClient, guest: tuple[TestClient, str]) -> None:
    jobs = guest[0].get("/api/guest").json()["jobs"]
    job = next(job for job in jobs if job["state"] == "ready" and job["writes"]["did"] != "clear")
    outside = next(
        job for job in app.get("/api/jobs").json()["jobs"] if job["house"] == "place.top" and job["state"] == "ready"
    )
    mine = {"on": TODAY, "guest": guest[1]}
    deed = next(record for record in seed_scenario.load(TODAY) if record["kind"] == "diary")
    tries: list[tuple[str, str, dict[str, Any]]] = [
        ("job outside", "diary", {**outside["writes"], **mine, "job": outside["id"], "part": 1}),
        ("another deed under a job", "diary", {**job["writes"], **mine, "did": "clear", "job": job["id"], "part": 1}),
        ("another batch under a job", "diary", {**job["writes"], **mine, "batch": "batch.2031.pepper", "job": job["id"]}),
        ("a deed without a job", "diary", {**mine, "did": "clear", "place": "place.tunnel.bed3"}),
        ("a note elsewhere", "diary", {**mine, "did": "note", "place": "place.top", "note": "x"}),
        ("a note about nowhere", "diary", {**mine, "did": "note", "note": "x"}),
        ("as another guest", "diary", {**mine, "did": "note", "place": "place.tunnel", "guest": "phone.other"}),
        ("as one of the household", "diary", {**mine, "did": "note", "place": "place.tunnel", "by": "person.hazel"}),
        ("before the guest came", "diary", {**mine, "on": "2031-05-01", "did": "note", "place": "place.tunnel"}),
        ("after the guest has gone", "diary", {**mine, "on": "2031-06-01", "did": "note", "place": "place.tunnel"}),
        ("a photo", "diary", {**mine, "did": "note", "place": "place.tunnel", "photos": ["photo1"]}),
        ("a new place", "place", {"name": "mine"}),
        ("the site", "site", {"lat": 0}),
        ("a job let go", "job", {"let_go": True}),
        ("an unknown kind", "oddity", {"x": 1}),
    ]
    for number, (what, kind, fields) in enumerate(tries):
        refused = send(guest, fresh(f"try{number}"), kind=kind, **fields)
        assert [one["why"][:25] for one in refused] == ["As a guest you can tick t"], what
    for fields in ({"gone": True}, {"note": "changed"}, {"count": 1}):
        assert len(send(guest, deed["id"], counter=99, **fields)) == 1, "somebody else's entry"
    assert send(guest, fresh("note2"), did="note", place="place.tunnel", note="good", **mine) == [], (
        "the good one beside them goes through"
    )
    assert len(send(guest, fresh("note2"), counter=2, place="place.top")) == 1, "and cannot be moved elsewhere after"


@pytest.mark.parametrize("id_", ["b2.sow", "own.tomato.numbers.base_c", "readings.a.2031-05", "site", "note1", "a" * 27])
def test_a_guest_takes_no_id_that_the_household_would_make(guest: tuple[TestClient, str], id_: str) -> None:
    note = {"on": TODAY, "did": "note", "place": "place.tunnel.bed3", "note": "door was open", "guest": guest[1]}
    assert len(send(guest, id_, **note)) == 1
    assert send(guest, fresh(id_), **note) == []


def test_no_other_door_opens_for_a_guest(guest: tuple[TestClient, str]) -> None:
    for method, path in doors():
        if path in ("/api/sync", "/api/guest", "/api/pokes"):
            continue
        body = b"{}" if method == "POST" else None
        answer = guest[0].request(method, path, content=body, headers={"content-type": "application/json"})
        assert answer.status_code == 403 and answer.json()["error"]["say"].startswith("As a guest"), path


def test_a_guests_time_ends_by_itself(guest: tuple[TestClient, str], clock: Clock) -> None:
    clock.now = datetime.datetime(2031, 5, 26, 12, tzinfo=datetime.UTC)
    assert guest[0].get("/api/guest").status_code == 200
    clock.now = datetime.datetime(2031, 5, 27, 12, tzinfo=datetime.UTC)
    for path in ("/api/guest", "/api/pokes"):
        answer = guest[0].get(path)
        assert answer.status_code == 401 and answer.json()["error"]["say"].startswith("Your time as a guest has ended.")
    assert guest[0].post("/api/sync", json={"since": 0, "changes": []}).status_code == 401


@pytest.mark.parametrize(
    "asked",
    [
        {"places": [], "until": UNTIL},
        {"places": ["place.nowhere"], "until": UNTIL},
        {"places": "place.tunnel", "until": UNTIL},
        {"places": ["place.tunnel"], "until": "2031-05-01"},
        {"places": ["place.tunnel"], "until": "soon"},
        {"places": ["place.tunnel"]},
        "everything",
    ],
)
def test_an_invitation_without_places_or_an_end_is_refused(app: TestClient, asked: object) -> None:
    answer = app.post("/api/codes", json={"guest": asked})
    assert answer.status_code == 400 and answer.json()["error"]["say"].startswith("Choose")


def test_a_guests_list_that_is_worked_out_holds_up_nobodys_sharing(
    app: TestClient, guest: tuple[TestClient, str], monkeypatch: pytest.MonkeyPatch
) -> None:
    proper, begun, go = kept_list.Settled, threading.Event(), threading.Event()

    def slow(*given: Any) -> Any:
        begun.set()
        assert go.wait(20)
        return proper(*given)

    monkeypatch.setattr(kept_list, "Settled", slow)
    answers: list[int] = []
    asking = threading.Thread(target=lambda: answers.append(guest[0].get("/api/guest").status_code))
    asking.start()
    assert begun.wait(20)
    for number in range(3):
        answer = app.post("/api/sync", json={"since": 0, "changes": [change(f"note{number}")]})
        assert answer.status_code == 200 and len(answer.json()["taken"]) == 1
    assert answers == [], "the guest still waits"
    go.set()
    asking.join(20)
    assert answers == [200]


def test_the_list_a_server_keeps_is_the_one_worked_out_anew(app: TestClient) -> None:
    """Asked again after each of some deeds, the kept list is the same as that of a server that has just begun."""
    room = app.app.state.rooms  # type: ignore[attr-defined]
    jobs = app.get("/api/jobs").json()["jobs"]
    for number, job in enumerate([job for job in jobs if job["state"] == "ready" and job["writes"].get("did")][:6]):
        deed = {**job["writes"], "on": TODAY, "job": job["id"], "count": job["count"] or 1}
        told = app.post("/api/sync", json={"since": 10**6, "changes": [change(f"deed{number}", **deed)]}).json()
        assert told["refused"] == [], told
        kept = app.get("/api/jobs").json()
        room.kept_list = kept_list.KeptList(room.store, room.heavy)
        assert app.get("/api/jobs").json() == kept
    assert len(kept["jobs"]) != len(jobs) or kept["jobs"] != jobs
