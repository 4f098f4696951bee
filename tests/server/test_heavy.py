"""Heavy work: beside the loop, bounded, with a deadline; it holds up nobody's sharing and nobody who stops the server."""

from __future__ import annotations

import asyncio
import threading

import pytest
from starlette.testclient import TestClient

from server.app import DOORS
from server.errors import TooBusy
from server.handlers.heavy import Heavy
from tests.server.conftest import KEY, run


def test_work_past_its_deadline_is_no_longer_waited_for_and_keeps_its_turn() -> None:
    """Whoever asks again and again piles nothing up: what was begun holds its turn until it ends."""
    go = threading.Event()
    begun: list[int] = []

    def slow(number: int) -> None:
        begun.append(number)
        go.wait(20)

    async def work() -> tuple[list[int], str]:
        heavy = Heavy(deadline_s=0.1, at_once=2)
        for number in range(5):
            with pytest.raises(TooBusy, match="takes too long"):
                await heavy.run("a", slow, number)
        before = list(begun)
        go.set()
        made = await Heavy(deadline_s=20).run("a", lambda: "made")
        return before, made

    assert run(work()) == ([0, 1], "made")


def test_one_phone_has_one_turn_at_once_and_another_phone_its_own() -> None:
    at_once: dict[str, int] = {"a": 0, "b": 0}
    most: dict[str, int] = {"a": 0, "b": 0}
    together = threading.Barrier(2, timeout=20)

    def count(who: str, meets: bool) -> None:
        at_once[who] += 1
        most[who] = max(most[who], at_once[who])
        if meets:
            together.wait()
        at_once[who] -= 1

    async def work() -> None:
        heavy = Heavy(deadline_s=20, at_once=2)
        await asyncio.gather(
            *(heavy.run("a", count, "a", number == 0) for number in range(5)), heavy.run("b", count, "b", True)
        )
        assert heavy._own_turn == {}

    run(work())
    assert most == {"a": 1, "b": 1}


def test_what_fails_is_told_to_whoever_asked() -> None:
    async def work() -> None:
        with pytest.raises(ZeroDivisionError):
            await Heavy().run(None, lambda: 1 // 0)

    run(work())


def test_a_server_stops_although_something_is_being_worked_out() -> None:
    """A loop waits for the threads of its own pool when it ends; not for these."""
    go = threading.Event()

    async def work() -> None:
        asking = asyncio.ensure_future(Heavy(deadline_s=60).run(None, go.wait, 60))
        await asyncio.sleep(0.05)
        asking.cancel()

    run(work())  # in a loop of its own, which ends with it
    assert [thread for thread in threading.enumerate() if thread.name == "heavy"], "it still waits, and the loop has ended"
    go.set()


ENDLESS = [
    "/api/jobs?on=2200-01-01",
    "/api/jobs?on=1900-01-01",
    "/api/jobs?on=2037-01-01",
    "/api/successions?crop=lettuce&to=2200-01-01",
    "/api/successions?crop=lettuce&from=1900-01-01&to=1900-02-01",
    "/api/successions?crop=lettuce&mode=days&every=0",
    "/api/successions?crop=lettuce&plants=1e12",
    "/api/photos/nothing/have",
    "/api/photos/" + "0" * 64,
    "/api/history/" + "x" * 5000,
    "/api/crops/" + "x" * 5000,
    "/api/climates?lat=1e308&lon=nan",
]


@pytest.mark.parametrize("path", ENDLESS)
def test_every_door_says_how_far_it_goes(client: TestClient, path: str) -> None:
    answer = client.get(path)
    assert answer.status_code in (200, 400, 404), answer.text
    if answer.status_code != 200:
        assert answer.json()["error"]["say"].endswith(".")


LARGE = 50 * 1024 * 1024


@pytest.mark.parametrize("path", [route.path for route in DOORS if "POST" in (route.methods or ()) and "me" not in route.path])
def test_every_door_says_how_much_it_takes(home: TestClient, path: str) -> None:
    """Before it has come: a body that says it is larger is not read."""
    path = path.replace("{device}", "phone.x").replace("{sha256}", "0" * 64)
    query = "?from=0&size=100" if "photos" in path else ""
    headers = {**KEY, "content-length": str(LARGE), "content-type": "application/octet-stream"}
    answer = home.post(f"{path}{query}", content=b"", headers=headers, follow_redirects=False)
    # what another app shares is never read: it is sent on
    assert answer.status_code == 303 if path == "/shared" else answer.status_code in (404, 413), (path, answer.text)
