"""A live server over the demo household, and phones that meet it."""

from __future__ import annotations

import shutil
from collections.abc import Callable, Iterator
from pathlib import Path
from typing import Any

import pytest
from playwright.sync_api import Browser, BrowserContext

from tests.browser.phones import SIZE, Phone, put_down, wipe
from tests.browser.serving import LiveServer, lasting_port

ON = "2031-05-19"
BESIDE = "() => ({ ...localStorage })"
BESIDE_AGAIN = "(held) => { localStorage.clear(); Object.assign(localStorage, held); }"
SMALL = [{"width": 360, "height": 640}, {"width": 390, "height": 844}]


@pytest.fixture(scope="session")
def filled(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A data directory with the demo household as of 19 May 2031."""
    folder = tmp_path_factory.mktemp("household")
    server = LiveServer(folder, ON)
    server.start()
    server.kill()
    return folder


@pytest.fixture(scope="session")
def port() -> int:
    """Where every test's server is, so that a browser that has met one knows the scripts of the next."""
    return lasting_port()


@pytest.fixture(scope="session")
def untouched(filled: Path, tmp_path_factory: pytest.TempPathFactory) -> Iterator[LiveServer]:
    """The demo household served once for all tests that only look at it."""
    data = tmp_path_factory.mktemp("untouched") / "data"
    shutil.copytree(filled, data)
    made = LiveServer(data, ON, port=lasting_port()).start()
    yield made
    made.kill()


def only_looks(request: pytest.FixtureRequest) -> bool:
    """Whether the test says of itself that it writes nothing; it is believed, and asked afterwards."""
    return request.node.get_closest_marker("only_looks") is not None


@pytest.fixture
def server(request: pytest.FixtureRequest, filled: Path, tmp_path: Path, port: int) -> Iterator[LiveServer]:
    """The demo household served from a fresh copy, or as it stands where nothing is written."""
    if only_looks(request):
        yield request.getfixturevalue("untouched")
        return
    shutil.copytree(filled, tmp_path / "data")
    made = LiveServer(tmp_path / "data", ON, port=port)
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


@pytest.fixture(scope="session")
def kept_context(browser: Browser) -> Iterator[BrowserContext]:
    """A phone that goes from test to test: wiped after each, it keeps only what the browser made of the scripts.

    It has no service worker, which would fetch the whole app anew for every test; what the worker does is tried with `phones`.
    """
    context = browser.new_context(viewport=SIZE, has_touch=True, reduced_motion="reduce", service_workers="block")
    context.set_default_timeout(15_000)
    yield context
    context.close()


@pytest.fixture
def phone(request: pytest.FixtureRequest, server: LiveServer, kept_context: BrowserContext) -> Iterator[Phone]:
    """One phone with the household on it. What a phone makes of a first visit is tried with `phones`."""
    yield from used(Phone(kept_context, server.url), only_looks(request))


def used(phone: Phone, only_looked_at: bool) -> Iterator[Phone]:
    """A phone through one test: it forgets everything after it; one that was only looked at keeps what it always had."""
    phone.open().settled()
    if not only_looked_at:
        yield phone
        wipe(phone.context, phone.url)
        return
    before, beside = written(phone), phone.page.evaluate(BESIDE)
    yield phone
    after = written(phone)
    phone.page.evaluate(BESIDE_AGAIN, beside)
    put_down(phone.context)
    assert after == before, "a test that says it only looks has written something"


def written(phone: Phone) -> list[Any]:
    """All that a phone was told and has to tell, without what it notes for itself."""
    kept = phone.kept()
    return [[row["record"] for row in kept["records"]], kept["outbox"], kept["refused"]]


def pytest_generate_tests(metafunc: pytest.Metafunc) -> None:
    """On the smallest phone, where there is least room; what hangs on the size (`every_size`) on a usual one too."""
    if "thumb" in metafunc.fixturenames:
        sizes = SMALL if metafunc.definition.get_closest_marker("every_size") else SMALL[:1]
        metafunc.parametrize("thumb", sizes, indirect=True, ids=lambda size: f"{size['width']}x{size['height']}")


@pytest.fixture
def thumb(request: pytest.FixtureRequest, server: LiveServer, kept_context: BrowserContext) -> Iterator[Phone]:
    """The same on a small phone, used by touch."""
    phone = Phone(kept_context, server.url)
    phone.page.set_viewport_size(request.param)
    yield from used(phone, only_looks(request))


@pytest.fixture
def fresh_phone(server: LiveServer, phones: Callable[..., Phone]) -> Phone:
    """The same on a phone that nobody used before, with a service worker, as a household's are."""
    return phones(server.url).open().settled()
