"""No signal, no server, a closed browser: everything goes on, and is shared later."""

from __future__ import annotations

import json
import urllib.request
from collections.abc import Callable, Iterator
from pathlib import Path
from typing import Any

import pytest
from playwright.sync_api import BrowserContext, BrowserType, Error, expect

from tests.browser.conftest import ON
from tests.browser.phones import BETWEEN_TAPS_MS, SIZE, Phone
from tests.browser.serving import LiveServer, told_by
from tests.conftest import FLAGS, chromium_path

Pocket = Callable[[], BrowserContext]


@pytest.fixture
def pocket(playwright_types: BrowserType, tmp_path: Path) -> Iterator[Pocket]:
    """A phone with a disk of its own: the browser can be closed and opened again."""
    opened: list[BrowserContext] = []

    def open_() -> BrowserContext:
        more: dict[str, Any] = {"args": FLAGS, "viewport": SIZE, "has_touch": True, "reduced_motion": "reduce"}
        try:
            context = playwright_types.launch_persistent_context(str(tmp_path / "profile"), **more)
        except Error:
            path = chromium_path()
            context = playwright_types.launch_persistent_context(str(tmp_path / "profile"), executable_path=path, **more)
        context.set_default_timeout(15_000)
        opened.append(context)
        return context

    yield open_
    for context in opened:
        context.close()


def server_jobs(server: LiveServer, on: str = ON) -> Any:
    with urllib.request.urlopen(f"{server.url}api/jobs?on={on}") as answer:
        return json.loads(answer.read())["jobs"]


def test_cold_start_with_a_dead_server_ticks_jots_and_is_shared_later(server: LiveServer, pocket: Pocket) -> None:
    context = pocket()
    Phone(context, server.url).open().settled().worker_ready()
    context.close()
    server.kill()

    context = pocket()
    phone = Phone(context, server.url).open()
    phone.row("Pot up 16").locator(".well").click()
    expect(phone.page.locator(".lab.done", has_text="Pot up 16")).to_be_visible()
    expect(phone.page.locator(".head .soft")).to_contain_text("1 change kept here")
    context.close()

    context = pocket()
    phone = Phone(context, server.url).open()
    expect(phone.page.locator(".lab.done", has_text="Pot up 16")).to_be_visible()
    phone.go("jot/lose/batch.2031.melon")
    phone.page.get_by_label("How many", exact=True).last.fill("2")
    phone.page.get_by_role("button", name="Write it down").click()
    expect(phone.page.locator(".head .soft")).to_contain_text("2 changes kept here")
    mine = phone.jobs(ON)
    server.start()
    phone.share()
    assert server_jobs(server) == mine == phone.jobs(ON)
    assert not phone.errors


def test_flight_mode_and_back(server: LiveServer, phones: Callable[..., Phone]) -> None:
    phone = phones(server.url).open().settled().worker_ready()
    phone.context.set_offline(True)
    phone.page.reload()
    phone.page.wait_for_selector(".lab")
    for room, words in (("ground", "Ground"), ("season", "Season"), ("diary", "Diary"), ("shed", "Shed"), ("jot", "Jot")):
        phone.go(room)
        expect(phone.page.locator("h1", has_text=words).first).to_be_visible()
    phone.go("round")
    phone.row("Earth up").locator(".well").click()
    expect(phone.page.locator(".head .soft")).to_contain_text("kept here")
    phone.context.set_offline(False)
    phone.share()
    assert [
        deed["fields"]["did"]
        for deed in records(server)
        if deed["fields"].get("job", "").startswith("batch.2031.potato.earth_up")
    ]


def records(server: LiveServer) -> list[Any]:
    found: list[Any] = json.loads(told_by("export", "--data", server.data))["records"]
    return [record for record in found if record["kind"] == "diary"]


def test_two_phones_that_ticked_the_same_job_show_one_deed_told_by_two(
    server: LiveServer, phones: Callable[..., Phone]
) -> None:
    jim, hazel = (phones(server.url).open().settled().worker_ready() for _ in range(2))
    for phone, name in ((jim, "Jim"), (hazel, "Hazel")):
        phone.go("shed")
        phone.page.get_by_role("button", name=name, exact=True).click()
        phone.go("round")
        phone.context.set_offline(True)
    jim.row("Pot up 16").locator(".well").click()
    hazel.go("job/batch.2031.pepper.pot_up_2")
    hazel.page.get_by_role("button", name="Only some").click()
    hazel.page.get_by_role("button", name="Done, 15 of 16").click()
    for phone in (jim, hazel):
        expect(phone.page.locator(".head .soft")).to_contain_text("kept here")
    for phone in (jim, hazel):
        phone.context.set_offline(False)
        phone.settled()
    jim.share()
    hazel.share()
    for phone in (jim, hazel):
        row = phone.page.locator(".lab.done", has_text="Pot up 16 sweet peppers")
        expect(row).to_contain_text("Hazel")
        expect(row).to_contain_text("Jim")
    assert jim.jobs(ON) == hazel.jobs(ON) == server_jobs(server)


def test_news_of_a_tick_reaches_the_other_phone_by_itself(server: LiveServer, phones: Callable[..., Phone]) -> None:
    one, other = (phones(server.url).open().settled() for _ in range(2))
    one.row("Earth up").locator(".well").click()
    expect(other.page.locator(".lab.done", has_text="Earth up")).to_be_visible()


def test_nine_days_without_a_server_then_the_same_lists_everywhere(server: LiveServer, phones: Callable[..., Phone]) -> None:
    one, other = (phones(server.url).open().settled().worker_ready() for _ in range(2))
    server.kill()
    for phone, words in ((one, ("Pot up 16", "Sow 25", "Feed 10")), (other, ("Thin parsnips", "Thin beetroot", "Sow 25"))):
        for word in words:
            phone.row(word).locator(".well").first.click()
            expect(phone.page.locator(".lab.done", has_text=word)).to_be_visible()
            phone.page.wait_for_timeout(BETWEEN_TAPS_MS)
        phone.page.reload()
        phone.page.wait_for_selector(".lab.done")
    server.start()
    for phone in (one, other, one):
        phone.share()
    expect(one.page.locator(".lab.done", has_text="Thin beetroot")).to_be_visible()
    later = "2031-05-28"
    assert one.jobs(later) == other.jobs(later) == server_jobs(server, later)
    assert len([deed for deed in one.deeds("sow") if deed["on"] == ON]) == 2


def test_saved_copy_brings_an_empty_server_back(server: LiveServer, phones: Callable[..., Phone], tmp_path: Path) -> None:
    phone = phones(server.url).open().settled()
    phone.row("Earth up").locator(".well").click()
    phone.go("shed")
    with phone.page.expect_download() as download:
        phone.page.get_by_role("button", name="Save a copy").click()
    copy = tmp_path / "copy.json"
    download.value.save_as(copy)
    fresh = tmp_path / "fresh"
    for _ in range(2):
        told_by("import", "--data", fresh, copy)
    jobs = json.loads(told_by("jobs", "--data", fresh, "--on", ON, "--json"))["jobs"]
    assert jobs == phone.jobs(ON)


def test_works_without_a_service_worker_and_says_what_that_costs(server: LiveServer, phones: Callable[..., Phone]) -> None:
    """What a page over plain http on a home network has: no worker, no locks, no channel."""
    phone = phones(server.url)
    phone.context.add_init_script(
        "delete Navigator.prototype.serviceWorker; delete Navigator.prototype.locks; delete window.BroadcastChannel;"
        "delete Navigator.prototype.storage; delete Crypto.prototype.randomUUID;"
    )
    phone.open().settled()
    phone.row("Earth up").locator(".well").click()
    expect(phone.page.locator(".lab.done", has_text="Earth up")).to_be_visible()
    phone.settled()
    phone.go("shed")
    expect(phone.page.locator(".board", has_text="over plain http")).to_be_visible()
    assert not phone.errors
