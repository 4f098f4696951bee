"""Fixtures every room's tests may use. The browser is started once a run."""

from __future__ import annotations

import shutil
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest
from playwright.sync_api import Browser, BrowserType, Error, sync_playwright

from tests.browser.serving import HomeServer
from tests.cases import register_profiles

register_profiles()

FLAGS = [
    "--no-sandbox",
    "--disable-gpu",
    "--disable-quic",
    "--no-first-run",
    "--disable-background-networking",
    "--disable-component-update",
    "--disable-sync",
    "--renderer-process-limit=1",
]


def pytest_collection_modifyitems(items: list[pytest.Item]) -> None:
    """Whatever asks for the browser needs one, wherever it stands."""
    for item in items:
        if {"browser", "playwright_types"} & set(getattr(item, "fixturenames", ())):
            item.add_marker(pytest.mark.browser)


def chromium_path() -> str | None:
    """The system's Chromium, used where Playwright has not brought its own; the one without windows first, which costs less."""
    names = ("chromium-headless-shell", "chromium", "chromium-browser", "google-chrome")
    return next(filter(None, map(shutil.which, names)), None)


def launch(browser_type: BrowserType, **more: Any) -> Browser:
    """Playwright's own Chromium, else the system's."""
    try:
        return browser_type.launch(args=FLAGS, **more)
    except Error:
        path = chromium_path()
        if path is None:
            raise
        return browser_type.launch(args=FLAGS, **{**more, "executable_path": path})


@pytest.fixture(scope="session")
def playwright_types() -> Iterator[BrowserType]:
    """Chromium as a type, for tests that start their own."""
    with sync_playwright() as playwright:
        yield playwright.chromium


@pytest.fixture(scope="session")
def browser(playwright_types: BrowserType) -> Iterator[Browser]:
    """The one browser of a run."""
    started = launch(playwright_types)
    yield started
    started.close()


@pytest.fixture
def plain_home(tmp_path: Path) -> Iterator[HomeServer]:
    """A household's own server over plain http, as a process."""
    made = HomeServer(tmp_path / "own", plain=True)
    made.start()
    yield made
    made.kill()
