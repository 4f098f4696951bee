"""Joining, and whoever tries to come in without: no cookie, turned out, guessed, replayed, from another site."""

from __future__ import annotations

import datetime
import re
import sqlite3
from pathlib import Path

import pytest
from starlette.datastructures import Headers
from starlette.testclient import TestClient

from server.app import DOORS, make_app
from server.handlers.doorkeeper import OPEN, token_of
from server.settings import Settings
from server.store.backups import FILE
from server.trust.codes import LASTS_MS, LETTERS, MOST_WRONG, TRIES_A_MINUTE, Codes, Invitation, TooManyTriesError
from server.trust.waiting import Asking, WaitingRoom
from tests.server.conftest import KEY, NOW, Clock


def code(home: TestClient) -> str:
    """A code as the server's own machine gets one."""
    answer = home.post("/api/codes", json={}, headers=KEY)
    assert answer.status_code == 200
    return str(answer.json()["code"])


def join(home: TestClient, typed: str, name: str = "Hazel's phone") -> int:
    """Try to join; the answer's status. The cookie is then in the client's jar."""
    return home.post("/api/join", json={"code": typed, "name": name}).status_code


def test_a_phone_joins_once_with_a_code_and_stays_joined(home: TestClient) -> None:
    assert home.get("/api/me").json() == {"joining": True, "device": None, "waiting": None}
    typed = code(home)
    assert re.fullmatch(f"[{LETTERS}]{{4}}-[{LETTERS}]{{4}}", typed)
    answer = home.post("/api/join", json={"code": typed.lower().replace("-", " "), "name": "  Hazel's   phone "})
    cookie = answer.headers["set-cookie"]
    assert cookie.startswith("__Host-mudproof=") and "Max-Age=34560000" in cookie
    assert all(word in cookie for word in ("Path=/", "HttpOnly", "SameSite=Lax", "Secure"))
    assert answer.json()["device"]["name"] == "Hazel's phone"
    assert home.get("/api/me").json()["device"]["name"] == "Hazel's phone"
    assert home.post("/api/sync", json={"since": 0, "changes": []}).status_code == 200


def doors() -> list[tuple[str, str]]:
    """Every door of the app's own talk, with a method it takes."""
    found = []
    for route in DOORS:
        if route.path.startswith("/api/") and route.path not in OPEN:
            path = route.path.replace("{crop}", "kale").replace("{device}", "phone.x")
            found.append(("POST" if route.methods and "POST" in route.methods else "GET", path))
    return found


@pytest.mark.parametrize(("method", "path"), doors())
def test_no_door_opens_without_a_cookie_or_with_a_wrong_one(home: TestClient, method: str, path: str) -> None:
    for cookie in (
        "",
        "__Host-mudproof=guess",
        "__Host-mudproof=" + "A" * 43,
        "mudproof=x; __Host-mudproof=",
        '__Host-mudproof="',
    ):
        body = b"{}" if method == "POST" else None
        headers = {"content-type": "application/json"} | ({"cookie": cookie} if cookie else {})
        answer = home.request(method, path, content=body, headers=headers)
        assert answer.status_code == 401, (path, cookie)
        assert answer.json()["error"]["say"].startswith("This phone has not joined")


def test_the_page_itself_opens_so_that_one_can_join_at_all(home: TestClient) -> None:
    assert home.get("/").status_code == 200 and home.get("/health").status_code == 200
    assert home.get("/scripts/main.js").status_code == 200


def test_a_code_is_good_for_one_phone_and_ten_minutes(home: TestClient, clock: Clock) -> None:
    typed = code(home)
    assert join(home, typed) == 200 and join(home, typed) == 400
    late = code(home)
    clock.now += datetime.timedelta(milliseconds=LASTS_MS)
    assert join(home, late) == 400


def test_guessing_is_slow_and_ends_the_codes(home: TestClient, clock: Clock) -> None:
    typed = code(home)
    assert [join(home, f"BBBB-BBB{letter}") for letter in "BCDFG"] == [400] * MOST_WRONG
    assert join(home, typed) == 400, "five wrong tries end every code"
    assert [join(home, "x") for _ in range(TRIES_A_MINUTE - MOST_WRONG)][-1] == 429
    clock.now += datetime.timedelta(minutes=1)
    assert join(home, code(home)) == 200


def test_two_who_try_the_same_code_at_once_are_not_both_let_in() -> None:
    codes = Codes()
    made, _ = codes.make(Invitation(), 0)
    assert [codes.take(made, 1) is not None for _ in range(3)] == [True, False, False]
    for at in range(TRIES_A_MINUTE - 3):
        codes.take("x", 2 + at)
    with pytest.raises(TooManyTriesError):
        codes.take("x", 30)


def test_a_phone_is_turned_out_at_once_and_may_come_again(home: TestClient) -> None:
    assert join(home, code(home), "Lost phone") == 200
    (lost,) = home.get("/api/phones").json()["phones"]
    stolen = home.cookies["__Host-mudproof"]
    assert join(home, code(home), "Jim") == 200
    assert {phone["name"] for phone in home.get("/api/phones").json()["phones"]} == {"Lost phone", "Jim"}
    assert home.post(f"/api/phones/{lost['id']}/turn-out", json={}).status_code == 200
    assert [phone["name"] for phone in home.get("/api/phones").json()["phones"]] == ["Jim"]
    assert home.post(f"/api/phones/{lost['id']}/turn-out", json={}).status_code == 404
    jims = home.cookies["__Host-mudproof"]
    home.cookies.clear()
    home.cookies.set("__Host-mudproof", stolen, domain="mudproof.local")
    answer = home.post("/api/sync", json={"since": 0, "changes": []})
    assert answer.status_code == 401 and "was turned out" in answer.json()["error"]["say"]
    assert join(home, code(home), "Found again") == 200
    assert home.cookies["__Host-mudproof"] not in (stolen, jims)


def asks_with_a_phones_code(home: TestClient, name: str) -> tuple[str, str]:
    """A second phone comes with a code that the first one made, and waits. Gives both their secrets; the first is at hand."""
    assert join(home, code(home), "Hazel's phone") == 200
    first = str(home.cookies["__Host-mudproof"])
    typed = home.post("/api/codes", json={}).json()["code"]
    home.cookies.clear()
    answer = home.post("/api/join", json={"code": typed, "name": name})
    assert answer.json() == {"device": None, "name": name}
    second = str(home.cookies["__Host-mudproof"])
    be(home, first)
    return first, second


def be(home: TestClient, secret: str) -> None:
    home.cookies.clear()
    home.cookies.set("__Host-mudproof", secret, domain="mudproof.local")


def test_with_a_code_of_another_phone_one_is_let_in_by_name(home: TestClient) -> None:
    """Whoever read the code over a shoulder still needs a yes. Source: RFC 8628, section 5.4 (the user confirms the device)."""
    first, second = asks_with_a_phones_code(home, "Jim's phone")
    (waiting,) = home.get("/api/phones").json()["waiting"]
    assert (waiting["name"], waiting["guest"]) == ("Jim's phone", False)
    be(home, second)
    assert home.get("/api/me").json() == {"joining": True, "device": None, "waiting": "Jim's phone"}
    for path in ("/api/sync", f"/api/waiting/{waiting['id']}"):
        refused = home.post(path, json={"let_in": True})
        assert refused.status_code == 401 and "waits to be let in" in refused.json()["error"]["say"]
    be(home, first)
    assert home.post(f"/api/waiting/{waiting['id']}", json={"let_in": "yes"}).status_code == 400
    assert home.post(f"/api/waiting/{waiting['id']}", json={"let_in": True}).json()["device"]["name"] == "Jim's phone"
    assert home.post(f"/api/waiting/{waiting['id']}", json={"let_in": True}).status_code == 404
    be(home, second)
    assert home.get("/api/me").json()["device"]["name"] == "Jim's phone"
    assert home.post("/api/sync", json={"since": 0, "changes": []}).status_code == 200


def test_a_no_or_no_answer_leaves_a_phone_outside(home: TestClient, clock: Clock) -> None:
    first, second = asks_with_a_phones_code(home, "Somebody")
    (waiting,) = home.get("/api/phones").json()["waiting"]
    assert home.post(f"/api/waiting/{waiting['id']}", json={"let_in": False}).json() == {"device": None}
    be(home, second)
    assert home.get("/api/me").json()["waiting"] is None
    assert home.post("/api/sync", json={"since": 0, "changes": []}).status_code == 401
    be(home, first)
    typed = home.post("/api/codes", json={}).json()["code"]
    home.cookies.clear()
    assert join(home, typed, "Somebody slow") == 200
    be(home, first)
    (waiting,) = home.get("/api/phones").json()["waiting"]
    clock.now += datetime.timedelta(milliseconds=LASTS_MS)
    assert home.get("/api/phones").json()["waiting"] == []
    assert home.post(f"/api/waiting/{waiting['id']}", json={"let_in": True}).status_code == 404


def test_of_a_token_only_its_hash_is_kept(home: TestClient, tmp_path: Path) -> None:
    assert join(home, code(home)) == 200
    token = home.cookies["__Host-mudproof"]
    assert len(token) == 43, "256 bits"
    with sqlite3.connect(tmp_path / FILE) as db:
        text = "\n".join(db.iterdump())
    assert token not in text and "devices" in text


def test_a_cookie_is_renewed_each_week(home: TestClient, clock: Clock) -> None:
    assert join(home, code(home)) == 200
    assert "set-cookie" not in home.get("/api/me").headers
    clock.now += datetime.timedelta(days=8)
    assert home.cookies["__Host-mudproof"] in home.get("/api/phones").headers["set-cookie"]
    assert "set-cookie" not in home.get("/api/phones").headers


@pytest.mark.parametrize(
    "headers",
    [
        {"sec-fetch-site": "cross-site"},
        {"sec-fetch-site": "same-site"},
        {"origin": "https://evil.example"},
        {"origin": "null"},
        {"host": "evil.example"},
        {"content-type": "text/plain"},
        {"content-type": "application/x-www-form-urlencoded"},
    ],
)
def test_another_site_cannot_use_a_joined_phones_cookie(home: TestClient, headers: dict[str, str]) -> None:
    assert join(home, code(home)) == 200
    for path in ("/api/sync", "/api/codes", "/api/join", "/api/phones/phone.x/turn-out"):
        answer = home.post(path, content=b"{}", headers={"content-type": "application/json"} | headers)
        assert answer.status_code == 403, path


def test_the_local_key_is_only_the_machines_own(home: TestClient) -> None:
    for key in ("", "Bearer ", "Bearer wrong", "the-local-key", "Bearer the-local-keyy"):
        assert home.post("/api/codes", json={}, headers={"authorization": key}).status_code == 401


@pytest.mark.parametrize("body", [b"", b"[]", b"{", b'"x"', b'{"code": 5}', b'{"code": null, "name": {"a": 1}}', b"x" * 5000])
def test_nonsense_never_joins(home: TestClient, body: bytes) -> None:
    answer = home.post("/api/join", content=body, headers={"content-type": "application/json"})
    assert answer.status_code in (400, 413) and answer.json()["error"]["say"]


def test_without_joining_only_this_machine_is_answered(tmp_path: Path) -> None:
    with TestClient(make_app(Settings(tmp_path), lambda: NOW), base_url="http://127.0.0.1") as here:
        assert here.get("/api/me").json() == {"joining": False, "device": None, "waiting": None}
        assert here.get("/api/rulebook", headers={"host": "192.168.1.9:8470"}).status_code == 403


def test_a_strangers_asking_for_health_writes_nothing(home: TestClient) -> None:
    assert "database" not in home.get("/health").json()
    assert home.get("/health", headers=KEY).json()["database"] == "writable"


OTHERS = [
    "a=b",
    'a="b; c"',
    'a="unclosed',
    "a=b c",
    "a={json: [1,2]}",
    "naïve=é",
    "=nameless",
    "a",
    ";;;",
    "a=b=c",
    "a[b]=c",
    "a:b=c",
]


@pytest.mark.parametrize("others", OTHERS)
@pytest.mark.parametrize("first", [True, False])
def test_a_cookie_of_another_service_beside_ours_locks_nobody_out(others: str, first: bool) -> None:
    """Cookies go by host, not by port: a household's machine may serve more than this. RFC 6265, 8.5."""
    ours = "__Host-mudproof=token"
    line = f"{others}; {ours}" if first else f"{ours}; {others}"
    settings = Settings(Path("unused"), secure=True)
    assert token_of(Headers(raw=[(b"cookie", line.encode("latin-1"))]), settings) == "token"
    assert token_of(Headers(raw=[(b"cookie", others.encode("latin-1"))]), settings) is None
    split = [(b"cookie", others.encode("latin-1")), (b"cookie", ours.encode())]
    assert token_of(Headers(raw=split), settings) == "token"


def test_whoever_is_let_in_is_never_told_no_while_it_is_written_down() -> None:
    """A phone asks all the while; between the yes and its place among the phones it still waits."""
    room = WaitingRoom()
    asking = Asking("phone.1", "Bet's phone", "hash", Invitation(), until_ms=2_000)
    room.enter(asking)
    assert room.let_in("phone.1", 1_000) is asking
    assert room.with_token("hash", 1_000) is asking and room.let_in("phone.1", 1_000) is None and not room.all(1_000)
    room.written("phone.1")
    assert room.with_token("hash", 1_000) is None
    room.enter(asking)
    assert room.let_in("phone.1", 1_000) is asking
    room.enter(asking)  # it could not be written: it can be answered again
    assert room.all(1_000) == [asking] and room.leave("phone.1", 1_000) is asking and room.with_token("hash", 1_000) is None
