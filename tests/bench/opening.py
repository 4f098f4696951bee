"""A cold start with no network: the browser is started anew, the server is gone, and the first job must be on the screen.

The floor is a bare page from a service worker of its own, treated alike.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from pathlib import Path

from playwright.sync_api import BrowserContext

from tests.bench.plain_server import plain_server
from tests.bench.table import Row, at_most, both, in_turn, under
from tests.bench.tools import SLOW_CPU, Tools, slow_down
from tests.browser.phones import SIZE, Phone
from tests.conftest import FLAGS, chromium_path

REPEATS = 7
SHOWN = """(() => {
  const look = () => {
    if (!document.querySelector("SELECTOR")) return requestAnimationFrame(look);
    const channel = new MessageChannel();
    channel.port1.onmessage = () => { globalThis.shownAt = performance.now(); };
    requestAnimationFrame(() => channel.port2.postMessage(0));
  };
  look();
})();"""
"""After the frame that holds the element has been handed over. Counted from the start of the navigation."""


def rows(tools: Tools) -> Iterator[Row]:
    """Cold start to the first job on the screen."""
    bare, app = tools.folder / "bare-profile", tools.folder / "app-profile"
    with plain_server(tools.folder / "bare", []) as server:
        bare_url = server.url
        _visit(tools, bare, lambda context: _open_bare(context, bare_url))
    with tools.server() as live:
        app_url = live.url
        _visit(tools, app, lambda context: _open_app(context, app_url))
    floor, ours = in_turn(
        REPEATS, lambda: _shown_after(tools, bare, bare_url, "h1"), lambda: _shown_after(tools, app, app_url, ".lab")
    )
    limit = both(at_most(3), under(1000, "ms"))
    yield Row("cold start offline to the first job, 5,000 records, CPU 4x", floor, ours, "ms", limit)


def _launch(tools: Tools, profile: Path) -> BrowserContext:
    return tools.browsers.launch_persistent_context(
        profile, args=FLAGS, executable_path=chromium_path(), viewport=SIZE, reduced_motion="reduce"
    )


def _visit(tools: Tools, profile: Path, visit: Callable[[BrowserContext], None]) -> None:
    context = _launch(tools, profile)
    visit(context)
    context.close()


def _open_bare(context: BrowserContext, url: str) -> None:
    page = context.pages[0]
    page.goto(f"{url}#worker")
    page.wait_for_function("() => navigator.serviceWorker.controller !== null")


def _open_app(context: BrowserContext, url: str) -> None:
    phone = Phone(context, url).open().settled().worker_ready()
    phone.page.wait_for_function("() => localStorage.getItem('mudproof.opening') !== null")


def _shown_after(tools: Tools, profile: Path, url: str, selector: str) -> float:
    context = _launch(tools, profile)
    page = context.pages[0]
    page.add_init_script(SHOWN.replace("SELECTOR", selector))
    slow_down(page, SLOW_CPU)
    page.goto(url)
    page.wait_for_function("() => globalThis.shownAt > 0")
    shown = float(page.evaluate("() => globalThis.shownAt"))
    context.close()
    return shown
