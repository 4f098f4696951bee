"""Saving one record and opening a season on a phone's slow processor, against plain IndexedDB."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from playwright.sync_api import Page

from tests.bench.table import Row, at_most, median
from tests.bench.tools import SLOW_CPU, Tools, season_text

SAVES = 60
LOADS = 9
PREPARE = """async (text) => {
  const {openStore} = await import("/scripts/store/indexed-db.js");
  const {Book} = await import("/scripts/store/book.js");
  const {newId, randomBytes} = await import("/scripts/lib/ids.js");
  const {records, rulebook} = JSON.parse(text);
  const given = {device: "aaaaaaaa", now: Date.now};
  const store = await openStore(given);
  const reply = {records, taken: [], refused: [], restamped: [], upto: 1, page: null, epoch: "e",
    now: Date.now(), reset: false};
  await store.applyReply(reply, []);
  await store.setMeta("rulebook", rulebook);
  const openPlain = () => new Promise((resolve) => {
    const request = indexedDB.open("plain", 1);
    request.onupgradeneeded = () => request.result.createObjectStore("records", {keyPath: "id"});
    request.onsuccess = () => resolve(request.result);
  });
  const plain = await openPlain();
  const ended = (transaction) => new Promise((resolve) => { transaction.oncomplete = resolve; });
  const filling = plain.transaction("records", "readwrite");
  for (const record of records) filling.objectStore("records").put(record);
  await ended(filling);
  globalThis.bench = {openStore, Book, given, store, plain, openPlain, ended, id: () => newId(Date.now(), randomBytes(16))};
}"""
SAVE = """async (repeats) => {
  const {store, plain, ended, id} = globalThis.bench;
  const fields = () => ({on: "2031-08-10", at: "10:15", did: "water", batch: "batch.2031.tomato", by: "person.jim"});
  const floor = [];
  const ours = [];
  for (let at = 0; at < repeats; at += 1) {
    await new Promise((resolve) => setTimeout(resolve, 5));
    let start = performance.now();
    const one = plain.transaction("records", "readwrite");
    one.objectStore("records").put({id: id(), kind: "diary", fields: fields()});
    await ended(one);
    floor.push(performance.now() - start);
    await new Promise((resolve) => setTimeout(resolve, 5));
    start = performance.now();
    await store.write([{id: id(), kind: "diary", fields: fields()}]);
    ours.push(performance.now() - start);
  }
  return {floor, ours};
}"""
LOAD = """async (repeats) => {
  const {store, plain, openPlain, openStore, Book, given, ended} = globalThis.bench;
  await store.close();
  plain.close();
  const floor = [];
  const ours = [];
  for (let at = 0; at < repeats; at += 1) {
    await new Promise((resolve) => setTimeout(resolve, 50));
    let start = performance.now();
    const db = await openPlain();
    const asked = db.transaction("records").objectStore("records").getAll();
    // the records are only made when the result is looked at
    const held = await new Promise((resolve) => { asked.onsuccess = () => resolve(asked.result); });
    floor.push(performance.now() - start);
    db.close();
    await new Promise((resolve) => setTimeout(resolve, 50));
    start = performance.now();
    const opened = await openStore(given);
    const book = new Book();
    book.bring(opened, {});
    await book.load();
    ours.push(performance.now() - start);
    if (book.records.length < held.length / 2) throw new Error("not the same season");
    await opened.close();
  }
  return {floor, ours};
}"""


def save_rows(tools: Tools) -> Iterator[Row]:
    """One record with its outbox row and the clock, committed."""
    found = _in_page(tools, SAVE, SAVES)
    yield Row("save one record, committed, CPU 4x", median(found["floor"]), median(found["ours"]), "ms", at_most(2))


def load_rows(tools: Tools) -> Iterator[Row]:
    """The store opened and a season read into the book."""
    found = _in_page(tools, LOAD, LOADS)
    yield Row("open and load 5,000 records, CPU 4x", median(found["floor"]), median(found["ours"]), "ms", at_most(1.3))


def _in_page(tools: Tools, script: str, repeats: int) -> dict[str, Any]:
    with tools.page(tools.scripts_url, slow=SLOW_CPU) as page:
        _prepare(page)
        found: dict[str, Any] = page.evaluate(script, repeats)
    return found


def _prepare(page: Page) -> None:
    page.evaluate(PREPARE, season_text())
