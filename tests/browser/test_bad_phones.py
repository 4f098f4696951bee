"""A phone whose browser lets it down: garbage, forbidden and full places, no store, a cleared store, holes in the shell.

The app opens, says in a sentence what is safe and what is not, and mends itself once the server is there.
"""

from __future__ import annotations

import json
from collections.abc import Callable

import pytest
from playwright.sync_api import Route, expect

from tests.browser.phones import Phone
from tests.browser.serving import LiveServer

Make = Callable[..., Phone]
KEPT = "() => localStorage.getItem('mudproof.opening') !== null"
FORBIDDEN = """Object.defineProperty(window, "localStorage", {get() { throw new DOMException("denied", "SecurityError"); }});"""
FULL = """Storage.prototype.setItem = function () { throw new DOMException("full", "QuotaExceededError"); };"""
NO_STORE = """IDBFactory.prototype.open = function () { throw new DOMException("no store here", "InvalidStateError"); };"""
HANGS = """IDBFactory.prototype.open = function () { return new EventTarget(); };"""
SITE = {"id": "site", "kind": "site", "fields": {}}
GARBAGE = {
    "no records": {"jobs": []},
    "jobs of another sort": {"jobs": 7, "records": [], "rulebook": {}},
    "a job that is none": {"jobs": [None], "records": [SITE], "rulebook": {}},
    "a job without its parts": {"jobs": [{"id": "a", "state": "ready"}], "records": [SITE], "rulebook": {}},
    "a record without fields": {"jobs": [], "records": [{"id": "site", "kind": "site"}], "rulebook": {}},
    "no rulebook": {"jobs": [], "records": [SITE], "rulebook": None},
    "a list for an opening": [1, 2],
}
SPOIL = """([name, given]) => {
  const held = JSON.parse(localStorage.getItem(name));
  const made = Array.isArray(given) ? given : {version: held.version, today: held.today, ...given};
  localStorage.setItem(name, JSON.stringify(made));
}"""
CLEAR = "() => new Promise((done) => { const gone = indexedDB.deleteDatabase('mudproof'); gone.onsuccess = done; })"
HOLE = """async (path) => {
  for (const name of await caches.keys()) if (name.startsWith("mudproof-shell-")) await (await caches.open(name)).delete(path);
}"""
WHOLE = """async (path) => {
  for (const name of await caches.keys()) if (await (await caches.open(name)).match(path)) return true;
  return false;
}"""


def test_a_corrupt_list_of_last_time_is_passed_over(phone: Phone) -> None:
    for name, what in GARBAGE.items():
        phone.until(KEPT)
        phone.page.evaluate(SPOIL, ["mudproof.opening", what])
        phone.open().settled()
        expect(phone.row("Earth up"), name).to_be_visible()
        assert phone.errors == [], name


@pytest.mark.parametrize("block", [FORBIDDEN, FULL], ids=["forbidden", "full"])
def test_a_place_beside_the_store_that_cannot_be_used_costs_nothing_written(
    server: LiveServer, phones: Make, block: str
) -> None:
    phone = phones(server.url)
    phone.context.add_init_script(block)
    phone.open().settled()
    phone.row("Earth up").locator(".well").click()
    expect(phone.page.locator(".lab.done", has_text="Earth up")).to_be_visible()
    phone.go("shed")
    phone.page.get_by_role("button", name="Sun").click()
    phone.go("jot/note")
    phone.page.locator("textarea").fill("still here")
    phone.go("round")
    phone.share()
    phone.open().settled()
    expect(phone.page.locator(".lab.done", has_text="Earth up")).to_be_visible()
    assert phone.errors == []


def test_without_a_store_the_list_is_there_and_what_is_safe_is_said(server: LiveServer, phones: Make) -> None:
    phone = phones(server.url)
    phone.context.add_init_script(NO_STORE)
    phone.open().settled()
    note = phone.page.locator(".bar-note", has_text="Nothing is kept here")
    expect(note).to_contain_text("safe once it says all shared")
    phone.row("Earth up").locator(".well").click()
    expect(phone.page.locator(".lab.done", has_text="Earth up")).to_be_visible()
    phone.settled()
    assert "batch.2031.potato.earth_up" in json.dumps(server.get_json("api/jobs?state=done&on=2031-05-19"))
    phone.go("join")
    expect(phone.page.locator("main")).to_contain_text("keeps nothing")
    expect(phone.page.get_by_role("button", name="Join")).to_have_count(0)
    phone.go("round")
    server.kill()
    phone.row("Thin beetroot").locator(".well").click()
    expect(phone.page.locator(".head .soft")).to_contain_text("1 change not safe yet")


def test_a_store_that_never_answers_is_said_with_a_key(server: LiveServer, phones: Make) -> None:
    phone = phones(server.url)
    phone.context.add_init_script(HANGS)
    phone.page.goto(server.url)
    expect(phone.page.get_by_role("alert")).to_contain_text("does not open")
    expect(phone.page.get_by_role("button", name="Try again")).to_be_visible()


def test_a_cleared_store_is_never_called_an_empty_season(server: LiveServer, phones: Make) -> None:
    """The browser clears what a phone held while its server is out of reach; then the server is back."""
    phone = phones(server.url).open().settled().worker_ready()
    server.kill()
    phone.page.goto("about:blank")
    other = phone.context.new_page()
    other.goto(server.url + "styles/layers.css")
    other.evaluate(CLEAR)
    other.close()
    phone.open()
    expect(phone.page.locator(".empty")).to_contain_text("This phone's copy is gone")
    expect(phone.page.locator(".empty")).to_contain_text("safe on the server")
    expect(phone.page.locator("main")).not_to_contain_text("Nothing grows here yet")
    server.start()
    phone.page.locator(".empty").get_by_role("button", name="Try again").click()
    phone.settled()
    expect(phone.row("Earth up")).to_be_visible()


def test_a_first_visit_whose_server_goes_away_is_no_empty_season(server: LiveServer, phones: Make) -> None:
    phone = phones(server.url)
    phone.context.route("**/api/**", lambda route: route.abort())
    phone.open()
    expect(phone.page.locator(".empty")).to_contain_text("The server does not answer")
    expect(phone.page.get_by_role("button", name="Begin")).to_have_count(0)
    phone.context.unroute("**/api/**")
    # at once: it tries again by itself too, and then the key is gone
    phone.page.evaluate("() => document.querySelector('.empty .key')?.click()")
    phone.settled()


def test_calendars_that_are_still_coming_are_not_said_to_lack(server: LiveServer, phones: Make) -> None:
    """The records come first, a second or more before the calendars from a small server."""
    phone = phones(server.url)
    held: list[Route] = []
    phone.context.route("**/api/rulebook", lambda route: held.append(route))
    phone.open()
    expect(phone.page.locator("main")).to_contain_text("The crop calendars are on their way to this phone.")
    expect(phone.page.locator("main")).to_contain_text("Turn the compost heap")
    for route in held:
        route.continue_()
    phone.context.unroute("**/api/rulebook")
    phone.settled()
    expect(phone.page.locator("main")).not_to_contain_text("The crop calendars")


def test_a_form_on_a_new_phone_begins_once_what_it_is_about_is_there(server: LiveServer, phones: Make) -> None:
    """A link to a batch's form, opened before anything of the household has come: saved empty it would wipe the batch."""
    phone = phones(server.url)
    phone.context.route("**/api/**", lambda route: route.abort())
    phone.open("#/form/batch/batch.2031.melon")
    expect(phone.page.locator(".empty")).to_contain_text("The server does not answer")
    expect(phone.page.get_by_label("Plants wanted")).to_have_count(0)
    phone.context.unroute("**/api/**")
    phone.page.evaluate("() => document.querySelector('.empty .key')?.click()")
    expect(phone.page.get_by_label("Plants wanted")).to_have_value("6")


@pytest.mark.parametrize("path", ["/", "/scripts/first.js", "/scripts/all-rooms.js"])
def test_a_hole_in_the_kept_app_is_said_and_mended(server: LiveServer, phones: Make, path: str) -> None:
    phone = phones(server.url).open().settled().worker_ready()
    phone.page.wait_for_timeout(300)
    phone.page.evaluate(HOLE, path)
    server.kill()
    phone.page.goto(server.url)
    if path == "/scripts/all-rooms.js":
        phone.page.wait_for_selector(".lab")
        phone.go("diary")
        words = "try again near the server"
    else:
        words = "safe"
    expect(phone.page.locator("body")).to_contain_text(words)
    server.start()
    phone.open().settled()
    phone.until(WHOLE, path)
