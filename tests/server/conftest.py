"""An application over an empty data directory, asked without a network."""

from __future__ import annotations

import asyncio
import datetime
import threading
from collections.abc import Coroutine, Iterator
from pathlib import Path
from typing import Any

import pytest
from starlette.testclient import TestClient

from server.app import make_app
from server.settings import Settings
from tests.worked_ahead import work_ahead

NOW = datetime.datetime(2031, 5, 19, 10, 42, tzinfo=datetime.UTC)
NOW_MS = int(NOW.timestamp() * 1000)


@pytest.fixture(scope="session", autouse=True)
def worked_ahead() -> None:
    """Once a run, not once an application."""
    work_ahead()


@pytest.fixture
def client(tmp_path: Path) -> Iterator[TestClient]:
    """The whole application, its clock standing at 19 May 2031."""
    with TestClient(make_app(Settings(tmp_path), lambda: NOW), base_url="http://127.0.0.1") as made:
        yield made


KEY = {"authorization": "Bearer the-local-key"}


class Clock:
    """A time that the test moves."""

    def __init__(self) -> None:
        self.now = NOW

    def __call__(self) -> datetime.datetime:
        return self.now


@pytest.fixture
def clock() -> Clock:
    return Clock()


@pytest.fixture
def home(tmp_path: Path, clock: Clock) -> Iterator[TestClient]:
    """A server on the home network over https; the client is one browser."""
    settings = Settings(tmp_path, "0.0.0.0", names=("mudproof.local",), joining=True, secure=True)
    with TestClient(make_app(settings, clock, local_key="the-local-key"), base_url="https://mudproof.local") as made:
        yield made


def stamp(ms: int = NOW_MS, counter: int = 0, device: str = "abcdefgh") -> str:
    """A stamp."""
    return f"{ms:012x}-{counter:04x}-{device}"


def change(id_: str = "d1", kind: str = "diary", made: str | None = None, **fields: object) -> dict[str, object]:
    """A change with good defaults."""
    return {"id": id_, "kind": kind, "stamp": made or stamp(), "fields": fields or {"on": "2031-05-19", "did": "note"}}


def push(client: TestClient, changes: list[object], since: int = 0, **more: object) -> dict[str, object]:
    """One exchange, which must be taken as a whole."""
    answer = client.post("/api/sync", json={"since": since, "changes": changes, **more})
    assert answer.status_code == 200, answer.text
    found: dict[str, object] = answer.json()
    return found


def run(work: Coroutine[Any, Any, Any]) -> Any:
    """Run a coroutine in a thread of its own: a browser test may hold this one's loop."""
    result: list[Any] = []

    def inside() -> None:
        try:
            result.append((True, asyncio.run(work)))
        except BaseException as error:
            result.append((False, error))

    thread = threading.Thread(target=inside)
    thread.start()
    thread.join()
    good, value = result[0]
    if not good:
        raise value
    return value
