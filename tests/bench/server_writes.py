"""Pushes of 50 records made durable by the server's store, against raw SQLite with the same pragmas."""

from __future__ import annotations

import contextlib
import json
import time
from collections.abc import Awaitable, Callable, Iterator
from pathlib import Path
from typing import Any

from server.store import records
from server.store.connection import Store, open_store
from server.sync.exchange import exchange
from server.sync.messages import read_push
from tests.bench.plain_server import plain_database, put_rows
from tests.bench.season import season
from tests.bench.table import Row, at_least, median, timed_ms
from tests.bench.tools import Tools, run_apart

ROWS = 50
NOW_MS = 4_000_000_000_000
"""A server's clock after every stamp of the season, so that none has to be brought down."""


def rows(tools: Tools) -> Iterator[Row]:
    """The store alone, and the whole exchange with checking and reply."""
    whole = season()
    batches = [whole[start : start + ROWS] for start in range(0, len(whole), ROWS)]
    floor = _raw(tools.folder / "raw.db", batches)
    put = run_apart(_ours(tools.folder / "put", batches, _put))
    push = run_apart(_ours(tools.folder / "exchange", batches, _exchange))
    yield Row("server, 50-row durable pushes, the store", floor, put, "rows/s", at_least(0.5))
    yield Row("  the whole exchange, checks and reply", floor, push, "rows/s")


def _rate(times_ms: list[float]) -> float:
    return ROWS * 1000 / median(times_ms)


def _raw(path: Path, batches: list[list[dict[str, Any]]]) -> float:
    with contextlib.closing(plain_database(path)) as db:
        texts = [[(record["id"], json.dumps(record, ensure_ascii=False)) for record in batch] for batch in batches]
        return _rate([timed_ms(lambda batch=batch: put_rows(db, batch)) for batch in texts])  # type: ignore[misc]


async def _ours(
    folder: Path, batches: list[list[dict[str, Any]]], push: Callable[[Store, list[dict[str, Any]], int], Awaitable[float]]
) -> float:
    store = await open_store(folder)
    try:
        return _rate([await push(store, batch, number) for number, batch in enumerate(batches)])
    finally:
        await store.close()


async def _put(store: Store, batch: list[dict[str, Any]], number: int) -> float:
    start = time.perf_counter()
    await records.put(store, batch)
    return (time.perf_counter() - start) * 1000


async def _exchange(store: Store, batch: list[dict[str, Any]], number: int) -> float:
    body = {"since": number * ROWS, "epoch": store.session, "device": "cccccccc", "changes": batch}
    text = json.dumps(body, ensure_ascii=False).encode()
    start = time.perf_counter()
    reply, _ = await exchange(store, read_push(text), NOW_MS)
    json.dumps(reply)
    assert not reply["refused"]
    return (time.perf_counter() - start) * 1000
