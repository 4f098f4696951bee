"""From the thumb leaving a job's tick to the frame that shows it done, on a season of 5,000 records.

The floor is one put, committed, and two frames.
"""

from __future__ import annotations

from collections.abc import Iterator

from playwright.sync_api import Page

from tests.bench.plain_server import plain_server
from tests.bench.table import Limit, Row, median, under
from tests.bench.tools import SLOW_CPU, Tools, slow_down
from tests.browser.phones import SIZE, Phone

REPEATS = 12
PAUSE_MS = 900
"""Long enough for the sharing that follows a tick."""
INSTANT = under(100, "ms")
"""What still feels at once. Source: common practice."""
SLOW_INSTANT = under(200, "ms")
"""Interaction to next paint, good. Source: web.dev, Web Vitals."""
FLOOR = """() => new Promise((ready) => {
  indexedDB.deleteDatabase("plain").onsuccess = () => {
    const request = indexedDB.open("plain", 1);
    request.onupgradeneeded = () => request.result.createObjectStore("records", {keyPath: "id"});
    request.onsuccess = () => {
      const db = request.result;
      const button = document.querySelector("button");
      const channel = new MessageChannel();
      channel.port1.onmessage = () => { globalThis.shownAt = performance.now(); };
      let turn = 0;
      document.addEventListener("pointerup", (event) => { globalThis.tappedAt = event.timeStamp; });
      button.onclick = () => {
        const transaction = db.transaction("records", "readwrite");
        transaction.objectStore("records").put({id: `tick ${turn += 1}`, fields: {did: "water", on: "2031-08-10"}});
        transaction.oncomplete = () => {
          button.textContent = `Done ${turn}`;
          requestAnimationFrame(() => requestAnimationFrame(() => channel.port2.postMessage(0)));
        };
      };
      ready();
    };
  };
})"""
WATCH = """(job) => {
  globalThis.shownAt = 0;
  document.addEventListener("pointerup", (event) => { globalThis.tappedAt = event.timeStamp; }, {capture: true, once: true});
  const channel = new MessageChannel();
  channel.port1.onmessage = () => { globalThis.shownAt = performance.now(); };
  const watcher = new MutationObserver(() => {
    if (!document.querySelector(`.lab.done[data-job="${CSS.escape(job)}"]`)) return;
    watcher.disconnect();
    requestAnimationFrame(() => channel.port2.postMessage(0));
  });
  watcher.observe(document.body, {childList: true, subtree: true});
}"""
TOOK = "() => globalThis.shownAt - globalThis.tappedAt"


def rows(tools: Tools) -> Iterator[Row]:
    """On this machine as it is, and with the processor slowed."""
    with plain_server(tools.folder / "tick", []) as plain, tools.server() as live:
        for slow, words, limit in ((1, "", INSTANT), (SLOW_CPU, ", CPU 4x", SLOW_INSTANT)):
            floor = _floor(tools, plain.url, slow)
            ours = _ours(tools, live.url, slow)
            yield _row(floor, ours, words, limit)


def _row(floor: float, ours: float, words: str, limit: Limit) -> Row:
    return Row(f"tick to painted, 5,000 records{words}", floor, ours, "ms", limit)


def _floor(tools: Tools, url: str, slow: float) -> float:
    context = tools.browser.new_context(viewport=SIZE, has_touch=True)
    page = context.new_page()
    page.goto(url)
    slow_down(page, slow)
    page.evaluate(FLOOR)
    times = [_tap(page, "button") for _ in range(REPEATS)]
    context.close()
    return median(times)


def _ours(tools: Tools, url: str, slow: float) -> float:
    context = tools.browser.new_context(viewport=SIZE, has_touch=True, reduced_motion="reduce")
    phone = Phone(context, url).open().settled()
    phone.page.wait_for_timeout(PAUSE_MS)
    slow_down(phone.page, slow)
    times = []
    for _ in range(REPEATS):
        job = phone.page.locator(".lab:not(.done)", has=phone.page.locator(".well.tick")).first.get_attribute("data-job")
        phone.page.evaluate(WATCH, job)
        times.append(_tap(phone.page, f'.lab[data-job="{job}"] .well.tick'))
        phone.settled().page.wait_for_timeout(PAUSE_MS)
    context.close()
    return median(times)


def _tap(page: Page, selector: str) -> float:
    page.evaluate("() => { globalThis.shownAt = 0; }")
    page.locator(selector).first.tap()
    page.wait_for_function("() => globalThis.shownAt > 0")
    return float(page.evaluate(TOOK))
