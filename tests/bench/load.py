"""Fifty phones at once over ten seasons of records: how long each waits, against one phone alone; and the server's memory."""

from __future__ import annotations

import concurrent.futures
import http.client
import json
import statistics
import time
from collections.abc import Iterator
from pathlib import Path
from typing import Any

from server.store import records
from server.store.connection import open_store
from tests.bench.season import seasons
from tests.bench.table import Row
from tests.bench.tools import Tools, run_apart
from tests.browser.serving import LiveServer

PHONES = 50
TURNS = 6
SEASONS = 10


def rows(tools: Tools) -> Iterator[Row]:
    """A tick pushed and news pulled, fifty at once; the rulebook asked for by all; a first load by ten."""
    folder = tools.folder / "load"
    run_apart(_fill(folder))
    with tools.server(folder) as server:
        newest = _ask(server, "POST", "/api/sync", {"since": 0, "changes": []})["upto"]
        before = _memory_mb(server)
        alone = _phone(server, 0, newest)
        at_once = _all(server, newest)
        floor = statistics.median(alone)
        yield Row(f"a tick shared, {PHONES} phones at once, the middle one", floor, statistics.median(at_once), "ms")
        yield Row("  the slowest in twenty", floor, _slow(at_once), "ms")
        floor = _timed(lambda: _ask(server, "GET", "/api/rulebook"))
        with concurrent.futures.ThreadPoolExecutor(PHONES) as pool:
            asked = [pool.submit(_timed, lambda: _ask(server, "GET", "/api/rulebook")) for _ in range(PHONES)]
        slow = _slow([one.result() for one in asked])
        yield Row(f"  the rulebook, {PHONES} at once, the slowest in twenty", floor, slow, "ms")
        one = _timed(lambda: _first_load(server))
        with concurrent.futures.ThreadPoolExecutor(10) as pool:
            loads = [pool.submit(_timed, lambda: _first_load(server)) for _ in range(10)]
        yield Row(f"  a first load of {SEASONS} seasons, ten at once", one, max(load.result() for load in loads), "ms")
        yield Row("  the server's memory, before and after", before, _memory_mb(server), "MB")


async def _fill(folder: Path) -> None:
    store = await open_store(folder)
    whole = seasons(SEASONS)
    await records.mark_as_demo(store)
    for at in range(0, len(whole), 5000):
        await records.put(store, whole[at : at + 5000])
    await store.close()


def _ask(server: LiveServer, method: str, path: str, body: dict[str, Any] | None = None) -> Any:
    line = http.client.HTTPConnection("127.0.0.1", server.port, timeout=120)
    text = None if body is None else json.dumps(body)
    line.request(method, path, text, {"content-type": "application/json"})
    answer = json.loads(line.getresponse().read())
    line.close()
    return answer


def _phone(server: LiveServer, number: int, since: int) -> list[float]:
    """One phone's turns: a tick pushed, what is new pulled. [ms]"""
    times = []
    for turn in range(TURNS):
        stamp = f"{1_900_000_000_000 + turn:012x}-{number:04x}-{'abcdefgh'}"
        fields = {"on": "2031-08-10", "did": "look", "place": "place.tunnel"}
        change = {"id": f"load.{number}.{turn}", "kind": "diary", "stamp": stamp, "fields": fields}
        body = {"since": since, "device": "abcdefgh", "changes": [change]}
        times.append(_timed(lambda body=body: _ask(server, "POST", "/api/sync", body)))  # type: ignore[misc]
    return times


def _all(server: LiveServer, since: int) -> list[float]:
    with concurrent.futures.ThreadPoolExecutor(PHONES) as pool:
        found = [pool.submit(_phone, server, number, since) for number in range(1, PHONES + 1)]
    return [time_ms for one in found for time_ms in one.result()]


def _first_load(server: LiveServer) -> None:
    page = None
    while True:
        reply = _ask(server, "POST", "/api/sync", {"since": 0, "page": page, "changes": []})
        page = reply["page"]
        if page is None:
            return


def _timed(work: Any) -> float:
    start = time.perf_counter()
    work()
    return (time.perf_counter() - start) * 1000


def _slow(times: list[float]) -> float:
    return sorted(times)[int(len(times) * 0.95)]


def _memory_mb(server: LiveServer) -> float:
    assert server.process is not None
    status = Path(f"/proc/{server.process.pid}/status").read_text()
    line = next(line for line in status.splitlines() if line.startswith("VmRSS"))
    return int(line.split()[1]) / 1024
