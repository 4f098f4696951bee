"""A live server over the demo household, and phones that meet it."""

from __future__ import annotations

import shutil
from collections.abc import Callable, Iterator
from pathlib import Path

import pytest
from playwright.sync_api import Browser

from tests.browser.phones import SIZE, Phone
from tests.browser.serving import LiveServer

ON = "2031-05-19"


@pytest.fixture(scope="session")
def filled(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A data directory with the demo household as of 19 May 2031."""
    folder = tmp_path_factory.mktemp("household")
    server = LiveServer(folder, ON)
    server.start()
    server.kill()
    return folder


@pytest.fixture
def server(filled: Path, tmp_path: Path) -> Iterator[LiveServer]:
    """The demo household served from a fresh copy."""
    shutil.copytree(filled, tmp_path / "data")
    made = LiveServer(tmp_path / "data", ON)
    made.start()
    yield made
    made.kill()


@pytest.fixture
def empty(tmp_path: Path) -> Iterator[LiveServer]:
    """A household's own server with nothing in it yet."""
    started = LiveServer(tmp_path / "own", None).start()
    yield started
    started.kill()


@pytest.fixture
def phones(browser: Browser) -> Iterator[Callable[..., Phone]]:
    """Makes phones; each is a browser context of its own."""
    contexts = []

    def make(url: str, **more: object) -> Phone:
        context = browser.new_context(viewport=SIZE, has_touch=True, reduced_motion="reduce", **more)  # type: ignore[arg-type]
        context.set_default_timeout(15_000)
        contexts.append(context)
        return Phone(context, url)

    yield make
    for context in contexts:
        context.close()


@pytest.fixture
def phone(server: LiveServer, phones: Callable[..., Phone]) -> Phone:
    """One phone with the household on it."""
    return phones(server.url).open().settled()
