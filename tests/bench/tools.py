"""What rows need to hand, each thing started when it is first asked for: a browser, plain pages, a full server."""

from __future__ import annotations

import asyncio
import concurrent.futures
import contextlib
import functools
import json
from collections.abc import Coroutine, Iterator
from pathlib import Path
from typing import Any, TypeVar

from playwright.sync_api import Browser, BrowserType, Page, sync_playwright

from server.store import records
from server.store.connection import open_store
from tests.bench.season import ON, rulebook, season
from tests.browser.serving import LiveServer
from tests.conftest import launch
from tests.kernel.browser_kernel import scripts_server

SLOW_CPU = 4
Made = TypeVar("Made")


class Tools:
    """One run's browser and folders."""

    def __init__(self, folder: Path, stack: contextlib.ExitStack) -> None:
        self.folder = folder
        self._stack = stack

    @functools.cached_property
    def browsers(self) -> BrowserType:
        """Chromium, as a type."""
        return self._stack.enter_context(sync_playwright()).chromium

    @functools.cached_property
    def browser(self) -> Browser:
        """The one browser of a run."""
        started = launch(self.browsers)
        self._stack.callback(started.close)
        return started

    @functools.cached_property
    def scripts_url(self) -> str:
        """Where a plain page lies, from which the app's modules can be imported."""
        return self._stack.enter_context(scripts_server())

    @functools.cached_property
    def household(self) -> Path:
        """A data directory with the season in it."""
        folder = self.folder / "household"
        run_apart(_fill(folder, season()))
        return folder

    @contextlib.contextmanager
    def server(self, household: Path | None = None) -> Iterator[LiveServer]:
        """The real server over a data directory, the season's if none is named."""
        started = LiveServer(household or self.household, ON)
        try:
            yield started.start()
        finally:
            started.kill()

    @contextlib.contextmanager
    def page(self, url: str, slow: float = 1) -> Iterator[Page]:
        """A page in a context of its own (so with an empty store), its main thread slowed so many times."""
        context = self.browser.new_context()
        try:
            page = context.new_page()
            page.goto(url)
            if slow != 1:
                slow_down(page, slow)
            yield page
        finally:
            context.close()


def slow_down(page: Page, times: float) -> None:
    """Make a page's main thread so many times slower."""
    page.context.new_cdp_session(page).send("Emulation.setCPUThrottlingRate", {"rate": times})


def run_apart(work: Coroutine[Any, Any, Made]) -> Made:
    """Run a coroutine in a thread of its own: this one belongs to the browser's loop."""
    with concurrent.futures.ThreadPoolExecutor(1) as pool:
        return pool.submit(asyncio.run, work).result()


def season_text() -> str:
    """Records, rulebook and day as JSON, for a page."""
    return json.dumps({"records": season(), "rulebook": rulebook(), "today": ON}, ensure_ascii=False)


async def _fill(folder: Path, given: list[dict[str, Any]]) -> None:
    store = await open_store(folder)
    try:
        await records.mark_as_demo(store)
        await records.put(store, given)
    finally:
        await store.close()
