"""Runs the JavaScript half of the kernel in a real browser, many cases a call."""

from __future__ import annotations

import functools
import http.server
import json
import threading
from collections.abc import Iterator
from contextlib import contextmanager
from importlib.resources import files
from typing import Any

from playwright.sync_api import Browser, Page

PAGE = b"<!doctype html><meta charset=utf-8><title>kernel</title>"
SCRIPT = """async (cases) => {
  const [{settle, Settled}, {stand, standOf}, {fit}, {resting}, {mergeRecord, visible}, stamps, days,
         {catchUp}, {room}] = await Promise.all(
    ["settle", "stand", "fit", "rest", "read/merge", "read/stamps", "read/days", "catch-up", "room"].map(
      (name) => import(`/scripts/kernel/${name}.js`)));
  const doors = {
    settle: (c) => settle(c.rulebook, c.records, c.today),
    stand: (c) => stand(c.rulebook, c.records, c.today),
    room: (c) => room(c.rulebook, c.records, c.today),
    catch_up: (c) => catchUp(c.rulebook, c.records, c.today),
    fit: (c) => fit(settle(c.rulebook, c.records, c.today), c.minutes),
    taking: (c) => {
      const kept = new Settled(c.rulebook, c.records, c.today);
      const records = new Map(c.records.map((record) => [record.id, record]));
      const lists = [];
      for (const told of c.told) {
        kept.take(told);
        for (const record of told) records.set(record.id, record);
        const anew = settle(c.rulebook, [...records.values()], c.today);
        lists.push([JSON.stringify(kept.jobs()) === JSON.stringify(anew), anew.length]);
      }
      return [lists, kept.jobs(), standOf(kept)];
    },
    resting: (c) => resting(c.rulebook, c.records, c.today),
    merge: (c) => c.changes.reduce((mine, change) => mergeRecord(mine, change), null),
    visible: (c) => visible(c.record),
    tick: (c) => stamps.write(stamps.tick(c.last, c.now), "abcdefgh"),
    hear: (c) => stamps.write(stamps.hear(c.last, c.heard, c.now), "abcdefgh"),
    civil: (c) => days.civil(c.day).concat([days.dayNumber(...days.civil(c.day)), days.leapIndex(c.day)]),
    season: (c) => days.iso(days.inSeason(c.text, c.year)),
  };
  const given = JSON.parse(cases);
  return given.cases.map((c) => {
    if ("rulebook" in c) c.rulebook = given.rulebooks[c.rulebook];
    try { return JSON.stringify(doors[c.door](c)); } catch (error) { return `threw ${error.stack}`; }
  });
}"""


class _Scripts(http.server.SimpleHTTPRequestHandler):
    def do_GET(self) -> None:
        if self.path == "/":
            self.send_response(200)
            self.send_header("content-type", "text/html")
            self.end_headers()
            self.wfile.write(PAGE)
        else:
            super().do_GET()

    def log_message(self, format: str, *args: Any) -> None:
        """Quiet."""


@contextmanager
def scripts_server() -> Iterator[str]:
    """Serves the web folder on a free port."""
    handler = functools.partial(_Scripts, directory=str(files("web")))
    with http.server.ThreadingHTTPServer(("127.0.0.1", 0), handler) as server:
        thread = threading.Thread(target=server.serve_forever, daemon=True)
        thread.start()
        yield f"http://127.0.0.1:{server.server_port}/"
        server.shutdown()
        thread.join()


@contextmanager
def kernel_page(browser: Browser) -> Iterator[Page]:
    """A page from which the kernel can be imported."""
    with scripts_server() as url:
        page = browser.new_page()
        page.goto(url)
        yield page
        page.close()


def ask(page: Page, cases: list[dict[str, Any]]) -> list[Any]:
    """The answers of the JavaScript half, one a case; an exception comes back as text beginning with `threw`."""
    books = {id(case["rulebook"]): case["rulebook"] for case in cases if "rulebook" in case}  # half a megabyte, sent once each
    at = {known: place for place, known in enumerate(books)}
    told = [case | {"rulebook": at[id(case["rulebook"])]} if "rulebook" in case else case for case in cases]
    answers = page.evaluate(SCRIPT, json.dumps({"rulebooks": list(books.values()), "cases": told}, ensure_ascii=False))
    return [answer if answer is None or answer.startswith("threw") else json.loads(answer) for answer in answers]
