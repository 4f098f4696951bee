"""A first sync and a push over a poor line (300 ms round trip, 1 Mbit/s each way), against one zipped request."""

from __future__ import annotations

import contextlib
import shutil
from collections.abc import Iterator
from pathlib import Path
from typing import Any

from playwright.sync_api import Page

from tests.bench.line import PoorLine, poor_line
from tests.bench.plain_server import plain_server
from tests.bench.season import season
from tests.bench.table import Row, at_most, median
from tests.bench.tools import Tools

REPEATS = 5
CHANGES = 200
OURS = """async () => {
  const {openStore} = await import("/scripts/store/indexed-db.js");
  const {shareAll, fetchRulebook} = await import("/scripts/sync/exchange.js");
  const store = await openStore({device: "bbbbbbbb", now: Date.now});
  const share = () => shareAll({store, fetch: (...given) => fetch(...given), now: Date.now, onRecords: () => {}});
  globalThis.bench = {store, share, rulebook: () => fetchRulebook({fetch: (...given) => fetch(...given), version: null})};
}"""
FLOOR = """async () => {
  const db = await new Promise((resolve) => {
    const request = indexedDB.open("plain", 1);
    request.onupgradeneeded = () => {
      request.result.createObjectStore("records", {keyPath: "id"});
      request.result.createObjectStore("outbox", {autoIncrement: true});
    };
    request.onsuccess = () => resolve(request.result);
  });
  const ended = (transaction) => new Promise((resolve) => { transaction.oncomplete = resolve; });
  globalThis.bench = {db, ended};
}"""
OUR_SYNC = """async () => {
  const start = performance.now();
  const {received} = await globalThis.bench.share();
  if (received.length < 5000) throw new Error(`only ${received.length} came`);
  return performance.now() - start;
}"""
RULEBOOK = """async () => {
  const start = performance.now();
  await globalThis.bench.rulebook();
  return performance.now() - start;
}"""
FLOOR_SYNC = """async () => {
  const {db, ended} = globalThis.bench;
  const start = performance.now();
  const records = await (await fetch("/records")).json();
  const transaction = db.transaction("records", "readwrite");
  for (const record of records) transaction.objectStore("records").put(record);
  await ended(transaction);
  return performance.now() - start;
}"""
OUR_CHANGES = """async (wishes) => {
  await globalThis.bench.share();
  await globalThis.bench.store.write(wishes);
}"""
OUR_PUSH = """async () => {
  const start = performance.now();
  const {sent} = await globalThis.bench.share();
  if (sent !== 200) throw new Error(`${sent} were taken`);
  return performance.now() - start;
}"""
FLOOR_CHANGES = """async (wishes) => {
  const {db, ended} = globalThis.bench;
  const transaction = db.transaction("outbox", "readwrite");
  for (const wish of wishes) transaction.objectStore("outbox").add(wish);
  await ended(transaction);
}"""
FLOOR_PUSH = """async () => {
  const {db, ended} = globalThis.bench;
  const start = performance.now();
  const asked = db.transaction("outbox").objectStore("outbox").getAll();
  await new Promise((resolve) => { asked.onsuccess = resolve; });
  const text = new Blob([JSON.stringify(asked.result)]).stream().pipeThrough(new CompressionStream("gzip"));
  const answer = await fetch("/push", {method: "POST", body: await new Response(text).arrayBuffer()});
  await answer.json();
  const transaction = db.transaction("outbox", "readwrite");
  transaction.objectStore("outbox").clear();
  await ended(transaction);
  return performance.now() - start;
}"""


def first_sync_rows(tools: Tools) -> Iterator[Row]:
    """A season onto an empty phone: time, and what went over the line."""
    with tools.server(_copy(tools, "first-sync")) as live, plain_server(tools.folder / "plain", season()) as plain:
        floor, ours, book = Runs(), Runs(), Runs()
        for _ in range(REPEATS):
            with _over_the_line(tools, plain.port, "", FLOOR) as (page, line):
                floor.add(page, line, FLOOR_SYNC)
            with _over_the_line(tools, live.port, "health", OURS) as (page, line):
                ours.add(page, line, OUR_SYNC)
                book.add(page, line, RULEBOOK)
    yield Row("first sync of 5,000 records, 300 ms, 1 Mbit/s", floor.ms, ours.ms, "ms", at_most(1.5))
    yield Row("  bytes on the wire, stamps included", floor.kb, ours.kb, "kB", at_most(1.4))
    yield Row("  time with the rulebook", floor.ms, ours.ms + book.ms, "ms")
    yield Row("  bytes with the rulebook", floor.kb, ours.kb + book.kb, "kB")


def push_rows(tools: Tools) -> Iterator[Row]:
    """What was written down in a week with no signal, sent and acknowledged."""
    with tools.server(_copy(tools, "push")) as live, plain_server(tools.folder / "plain-push", []) as plain:
        floor, ours = Runs(), Runs()
        for runs, port, path, prepare, changes, push in (
            (floor, plain.port, "", FLOOR, FLOOR_CHANGES, FLOOR_PUSH),
            (ours, live.port, "health", OURS, OUR_CHANGES, OUR_PUSH),
        ):
            with _over_the_line(tools, port, path, prepare) as (page, line):
                for turn in range(REPEATS):
                    page.evaluate(changes, _wishes(turn))
                    runs.add(page, line, push)
    yield Row("push of 200 offline changes, 300 ms, 1 Mbit/s", floor.ms, ours.ms, "ms", at_most(1.5))
    yield Row("  bytes on the wire, both ways", floor.kb, ours.kb, "kB")


class Runs:
    """Times and bytes of some runs."""

    def __init__(self) -> None:
        self._ms: list[float] = []
        self._kb: list[float] = []

    def add(self, page: Page, line: PoorLine, script: str) -> None:
        """One run over the slow line."""
        before = line.carried
        line.slow = True
        self._ms.append(float(page.evaluate(script)))
        line.slow = False
        self._kb.append((line.carried - before) / 1000)

    @property
    def ms(self) -> float:
        """Median time."""
        return median(self._ms)

    @property
    def kb(self) -> float:
        """Median of what went over the line, both ways, headers and all."""
        return median(self._kb)


@contextlib.contextmanager
def _over_the_line(tools: Tools, port: int, path: str, prepare: str) -> Iterator[tuple[Page, PoorLine]]:
    """A page with an empty store behind a line of its own; what it needs to be loaded is loaded."""
    with poor_line(port) as line, tools.page(line.url + path) as page:
        page.evaluate(prepare)
        yield page, line


def _copy(tools: Tools, name: str) -> Path:
    return Path(shutil.copytree(tools.household, tools.folder / name))


def _wishes(turn: int) -> list[dict[str, Any]]:
    """Diary records as they would be written by hand, under names not used before."""
    diary = [record for record in season() if record["kind"] == "diary"][-CHANGES:]
    return [{"id": f"{turn}{record['id']}"[:26], "kind": "diary", "fields": record["fields"]} for record in diary]
