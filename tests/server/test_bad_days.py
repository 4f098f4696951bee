"""Doors on a bad day: bugs of ours, slow and endless bodies, strange callers, and news."""

from __future__ import annotations

import asyncio
import gzip
import json

import pytest
from starlette.requests import Request
from starlette.testclient import TestClient

from server.errors import BadRequest, TooLarge
from server.handlers.body import read_body
from server.store import records
from server.sync.pokes import Pokes
from tests.server.conftest import change, push, run, stamp


def test_an_unforeseen_failure_keeps_its_headers_and_its_shape(client: TestClient, monkeypatch: pytest.MonkeyPatch) -> None:
    async def broken(store: object) -> list[object]:
        raise ZeroDivisionError("a bug of ours")

    monkeypatch.setattr(records, "knowledge_records", broken)
    answer = client.get("/api/jobs?on=2031-05-19")
    assert answer.status_code == 500 and "stays on the phone" in answer.json()["error"]["say"]
    assert answer.headers["content-security-policy"].startswith("default-src 'none'")
    assert answer.headers["x-content-type-options"] == "nosniff"
    assert "a bug of ours" not in answer.text


@pytest.mark.parametrize("origin", ["http://[::1", "http://127.0.0.1.elsewhere.test", "127.0.0.1", "http://", "\u00e9"])
def test_an_origin_that_is_none_is_another_site(client: TestClient, origin: str) -> None:
    answer = client.post("/api/sync", json={"changes": []}, headers={"origin": origin.encode("utf-8")})
    assert answer.status_code == 403


def test_only_asking_whether_there_is_news_ends_at_once(client: TestClient) -> None:
    assert client.head("/api/pokes").headers["content-type"].startswith("text/event-stream")


def test_health_says_so_when_nothing_can_be_written(client: TestClient) -> None:
    portal, rooms = client.portal, client.app.state.rooms  # type: ignore[attr-defined]
    assert portal is not None
    portal.call(rooms.store.writer.execute, "PRAGMA query_only = ON")
    answer = client.get("/health")
    assert answer.status_code == 503 and "error" in answer.json()


def test_a_body_that_never_ends_is_given_up() -> None:
    """By its size when it says nothing of it, and by the time when it trickles."""

    def slow(parts: list[bytes], pause_s: float) -> Request:
        left = iter(parts)

        async def receive() -> dict[str, object]:
            await asyncio.sleep(pause_s)
            return {"type": "http.request", "body": next(left), "more_body": True}

        return Request({"type": "http", "method": "POST", "headers": []}, receive)

    with pytest.raises(TooLarge):
        run(read_body(slow([b"x" * 60] * 3, 0), most=100))
    with pytest.raises(BadRequest, match="too slow"):
        run(read_body(slow([b"x"] * 100_000, 0.01), most=10**9, slowest_s=0.05))


def zipped(client: TestClient, body: bytes) -> int:
    headers = {"content-type": "application/json", "content-encoding": "gzip"}
    return client.post("/api/sync", content=body, headers=headers).status_code


def test_a_zipped_push_is_read_and_a_bomb_is_not(client: TestClient) -> None:
    good = gzip.compress(json.dumps({"changes": [change("d1")]}).encode())
    assert zipped(client, good) == 200
    assert [record["id"] for record in push(client, [])["records"]] == ["d1"]  # type: ignore[union-attr]
    assert zipped(client, gzip.compress(b" " * 200_000_000, 9)) == 413
    assert zipped(client, b"not gzip at all") == 400
    assert zipped(client, good[:-9]) == 400


def test_news_is_told_at_once_and_silence_is_filled() -> None:
    async def listen() -> list[bytes]:
        pokes = Pokes()
        heard = []
        stream = pokes.stream(7, quiet_s=0.02)
        heard.append(await anext(stream))
        heard.append(await anext(stream))
        await pokes.tell(9)
        heard.append(await anext(stream))
        await pokes.tell(8)  # an older number is no news
        heard.append(await anext(stream))
        await pokes.close()
        assert [part async for part in stream] == []
        return heard

    first, quiet, news, still = run(listen())
    assert b"data: 7\n\n" in first and quiet == still == b": quiet\n\n" and news == b"event: new\ndata: 9\n\n"


def test_climates_come_nearest_first_where_a_place_is_given(client: TestClient) -> None:
    far = client.get("/api/climates").json()["climates"]
    near = client.get("/api/climates?lat=-43.5&lon=172.6").json()["climates"]
    assert len(near) == len(far) > 10 and "Christchurch" in near[0]["name"]
    assert [one["km"] for one in near] == sorted(one["km"] for one in near)
    for wrong in ("lat=153&lon=0", "lat=x&lon=0", "lat=nan&lon=0", "lat=&lon="):
        assert client.get(f"/api/climates?{wrong}").status_code == 400


def test_a_push_pokes_whoever_listens(client: TestClient) -> None:
    rooms = client.app.state.rooms  # type: ignore[attr-defined]
    told: list[int] = []

    async def hear(seq: int) -> None:
        told.append(seq)

    rooms.pokes.tell = hear
    first = push(client, [change("d1")])
    push(client, [change("d1")], since=first["upto"])
    push(client, [change("d2")], since=first["upto"])
    assert told == [1, 2], "once for each push that brought something, none for a repeated one"


def test_what_is_written_during_a_first_load_comes_after_it(client: TestClient) -> None:
    """The end of a first load is fixed when it begins, so that its pages neither repeat nor skip."""
    for start in range(0, 2600, 200):
        push(client, [change(f"d{start + n}") for n in range(200)], since=1)
    first = push(client, [])
    assert first["more"] is True
    push(client, [change("late", made=stamp(counter=9))], since=first["upto"])
    rest = push(client, [], page=first["page"], epoch=first["epoch"])
    ids = [record["id"] for record in first["records"] + rest["records"]]  # type: ignore[operator]
    assert len(ids) == len(set(ids)) == 2600 and "late" not in ids and rest["upto"] == 2600
    after = push(client, [], since=rest["upto"])
    assert [record["id"] for record in after["records"]] == ["late"]  # type: ignore[union-attr]
