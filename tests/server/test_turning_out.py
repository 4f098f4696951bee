"""Turning a phone out wins against whatever that phone has under way: it neither writes nor is told anything after."""

from __future__ import annotations

import asyncio
import json
from typing import Any

import pytest
from starlette.testclient import TestClient

from server.handlers.context import Rooms
from server.store import records
from server.store.devices import Device, read_devices
from tests.server.conftest import KEY, change

Ended = tuple[int, bytes]


@pytest.fixture
def lost(home: TestClient) -> tuple[str, str]:
    """A phone that has joined and is lost: its id and its cookie."""
    code = home.post("/api/codes", json={}, headers=KEY).json()["code"]
    answer = home.post("/api/join", json={"code": code, "name": "lost"})
    cookie = answer.headers["set-cookie"].split(";")[0]
    home.cookies.clear()
    return answer.json()["device"]["id"], cookie


def in_loop(home: TestClient, work: Any, *given: Any) -> Any:
    """Run a coroutine function in the application's own loop."""
    portal = home.portal
    assert portal is not None
    return portal.call(work, *given)


class Request:
    """One request of the lost phone, its body handed over part by part."""

    def __init__(self, home: TestClient, cookie: str, path: str, method: str = "POST") -> None:
        self.app = home.app
        self.parts: asyncio.Queue[tuple[bytes, bool]] = asyncio.Queue()
        self.sent: list[dict[str, Any]] = []
        headers = {"host": "mudproof.local", "cookie": cookie, "content-type": "application/json"}
        self.scope = {
            "type": "http", "method": method, "path": path, "raw_path": path.encode(), "query_string": b"", "scheme": "https",
            "http_version": "1.1", "root_path": "", "server": ("mudproof.local", 443), "client": ("10.0.0.9", 1),
            "headers": [(name.encode(), value.encode()) for name, value in headers.items()],
        }  # fmt: skip

    async def receive(self) -> dict[str, Any]:
        body, more = await self.parts.get()
        return {"type": "http.request", "body": body, "more_body": more}

    async def send(self, message: dict[str, Any]) -> None:
        self.sent.append(message)

    def begin(self) -> asyncio.Task[None]:
        return asyncio.ensure_future(self.app(self.scope, self.receive, self.send))  # type: ignore[arg-type]

    @property
    def ended(self) -> Ended:
        return self.sent[0]["status"], b"".join(part.get("body", b"") for part in self.sent[1:])


BODY = json.dumps({"since": 0, "changes": [change("d9", note="too late")]}).encode()


async def turned_out(room: Rooms, id_: str) -> Device:
    return await room.devices.change(id_, gone_ms=room.now_ms())


async def on_disk(room: Rooms, id_: str) -> int | None:
    device = (await read_devices(room.store)).get(id_)
    assert device is not None
    return device.gone_ms


@pytest.mark.parametrize("order", range(6))
def test_no_note_of_having_been_here_wins_it_back(home: TestClient, lost: tuple[str, str], order: int) -> None:
    """What is written about a phone at the same time: seen, renewed, renamed, turned out; all orders of asking."""
    id_, _ = lost
    room: Rooms = home.app.state.rooms  # type: ignore[attr-defined]

    async def race() -> int | None:
        asks = [{"seen_ms": room.now_ms() + 1}, {"name": "renamed"}, {"renewed_ms": room.now_ms() + 2}]
        asks.insert(order % 4, {"gone_ms": room.now_ms()})
        if order >= 4:
            asks.reverse()
        async with asyncio.TaskGroup() as group:
            for ask in asks:
                group.create_task(room.devices.change(id_, **ask))  # type: ignore[arg-type]
        held = room.devices.get(id_)
        assert held is not None and held.gone_ms is not None and held.name == "renamed"
        return await on_disk(room, id_)

    assert in_loop(home, race) is not None


def test_a_body_that_is_still_coming_is_not_taken(home: TestClient, lost: tuple[str, str]) -> None:
    id_, cookie = lost
    room: Rooms = home.app.state.rooms  # type: ignore[attr-defined]

    async def race() -> tuple[Ended, list[Any]]:
        request = Request(home, cookie, "/api/sync")
        task = request.begin()
        request.parts.put_nowait((BODY[:20], True))
        await asyncio.sleep(0.05)
        await turned_out(room, id_)
        request.parts.put_nowait((BODY[20:], False))
        await task
        return request.ended, await records.all_records(room.store)

    (status, body), held = in_loop(home, race)
    assert status == 401 and b"was turned out" in body and held == []


def test_a_push_that_waits_behind_it_is_not_stored(home: TestClient, lost: tuple[str, str]) -> None:
    """Both wait for the one writer: the phone was in when it asked, and is out when its turn comes."""
    id_, cookie = lost
    room: Rooms = home.app.state.rooms  # type: ignore[attr-defined]

    async def race() -> tuple[Ended, list[Any]]:
        await records.put(room.store, [change("secret", note="of the household")])
        request = Request(home, cookie, "/api/sync")
        request.parts.put_nowait((BODY, False))
        async with room.store.write():
            out = asyncio.ensure_future(turned_out(room, id_))
            await asyncio.sleep(0.02)
            task = request.begin()
            await asyncio.sleep(0.05)
        await out
        await task
        return request.ended, [one["id"] for one in await records.all_records(room.store)]

    (status, body), held = in_loop(home, race)
    assert status == 401 and b"of the household" not in body and held == ["secret"]


def test_an_answer_under_way_is_not_given(home: TestClient, lost: tuple[str, str], monkeypatch: pytest.MonkeyPatch) -> None:
    id_, cookie = lost
    room: Rooms = home.app.state.rooms  # type: ignore[attr-defined]

    async def race() -> Ended:
        await records.put(room.store, [change("secret", note="of the household")])
        proper = records.newest

        async def newest(store: Any) -> Any:
            if room.devices.get(id_).gone_ms is None:  # type: ignore[union-attr]
                await turned_out(room, id_)
            return await proper(store)

        monkeypatch.setattr(records, "newest", newest)
        request = Request(home, cookie, "/api/sync")
        request.parts.put_nowait((b'{"since": 0}', False))
        await request.begin()
        return request.ended

    status, body = in_loop(home, race)
    assert status == 401 and b"of the household" not in body


def test_news_under_way_ends_without_a_word_of_trouble(home: TestClient, lost: tuple[str, str]) -> None:
    id_, cookie = lost
    room: Rooms = home.app.state.rooms  # type: ignore[attr-defined]

    async def leave() -> None:
        request = Request(home, cookie, "/api/pokes", "GET")
        left: asyncio.Queue[dict[str, Any]] = asyncio.Queue()
        request.receive = left.get  # type: ignore[method-assign]
        under_way = request.begin()
        while not request.sent:
            await asyncio.sleep(0)
        await turned_out(room, id_)
        left.put_nowait({"type": "http.disconnect"})
        await under_way  # raises what the server would log

    in_loop(home, leave)


def test_a_phone_may_turn_itself_out(home: TestClient, lost: tuple[str, str]) -> None:
    id_, cookie = lost
    answer = home.post(f"/api/phones/{id_}/turn-out", json={}, headers={"cookie": cookie})
    assert answer.status_code == 200 and answer.json() == {"turned_out": id_}
    assert home.post("/api/sync", json={"since": 0, "changes": []}, headers={"cookie": cookie}).status_code == 401
