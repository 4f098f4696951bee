"""A cold start: the list of last time at once, the whole book a moment later; what is ticked in between is kept."""

from __future__ import annotations

from collections.abc import Callable

import pytest
from playwright.sync_api import expect

from tests.browser.conftest import ON
from tests.browser.phones import Phone
from tests.browser.serving import LiveServer

KEPT_AFTER_MS = 1800
"""The list is kept a second and a half after its last change."""
KEPT = "() => localStorage.getItem('mudproof.opening') !== null"


@pytest.fixture
def phone(fresh_phone: Phone) -> Phone:
    """One whose scripts and requests a test may bend: nobody uses it after."""
    return fresh_phone


SLOW_STORE = """(() => {
  if (globalThis.slowStore) return;
  globalThis.slowStore = true;
  const open = IDBFactory.prototype.open;
  const late = new Promise((go) => { globalThis.letOpen = go; });
  IDBFactory.prototype.open = function (...given) {
    const real = open.apply(this, given);
    const set = (name) => Object.defineProperty(real, name, {set(work) {
      real.addEventListener(name.slice(2), (event) => void late.then(() => work.call(real, event)));
    }});
    set("onsuccess");
    return real;
  };
})();"""
"""The phone's store opens only once the test lets it; within the three seconds after which the app gives it up."""


def slow(phone: Phone) -> Phone:
    """Start the app anew, its store not open yet."""
    phone.context.add_init_script(SLOW_STORE)
    phone.page.goto(phone.url)
    return phone


def let_open(phone: Phone) -> None:
    phone.page.evaluate("() => globalThis.letOpen()")
    phone.page.wait_for_selector("html[data-ready=yes]", state="attached")


def test_the_list_stands_before_the_store_is_open_and_holds_still_when_it_is(phone: Phone) -> None:
    phone.until(KEPT)
    words = phone.page.locator(".head b").inner_text()
    first = phone.page.locator(".lab .title").first.inner_text()
    slow(phone)
    expect(phone.page.locator(".lab .title").first).to_have_text(first)
    expect(phone.page.locator(".head b")).to_have_text(words)
    phone.page.evaluate("() => { globalThis.row = document.querySelector('.lab'); }")
    let_open(phone)
    phone.settled()
    assert phone.page.evaluate("() => document.contains(globalThis.row)"), "rows hold still under a thumb"
    assert phone.page.locator("[aria-expanded]").count() and not phone.errors


def test_what_is_ticked_before_the_book_is_read_is_done_after(phone: Phone) -> None:
    phone.until(KEPT)
    slow(phone)
    phone.row("Earth up").locator(".well").click()
    let_open(phone)
    expect(phone.page.locator(".lab.done", has_text="Earth up")).to_be_visible()
    phone.settled()
    (deed,) = [deed for deed in phone.deeds() if "earth_up" in deed.get("job", "")]
    assert deed["on"] == ON


def test_the_list_of_another_day_or_of_another_version_is_not_shown(phone: Phone) -> None:
    for name in ("today", "version"):
        phone.page.wait_for_timeout(KEPT_AFTER_MS)
        phone.page.evaluate(
            "(name) => { const held = JSON.parse(localStorage.getItem('mudproof.opening'));"
            " localStorage.setItem('mudproof.opening', JSON.stringify({...held, [name]: '2031-05-18'})); }",
            name,
        )
        slow(phone)
        phone.page.wait_for_function("() => globalThis.slowStore && globalThis.letOpen")
        expect(phone.page.locator(".lab")).to_have_count(0)
        let_open(phone)
        phone.settled()


def test_who_holds_the_phone_is_known_at_once(server: LiveServer, phones: Callable[..., Phone]) -> None:
    phone = phones(server.url).open().settled()
    phone.go("shed")
    phone.page.get_by_role("button", name="Hazel").click()
    phone.go("round")
    phone.row("Thin beetroot").locator(".well").click()
    phone.page.wait_for_timeout(KEPT_AFTER_MS)
    slow(phone)
    phone.row("Earth up").locator(".well").click()
    let_open(phone)
    phone.until("() => document.querySelectorAll('.lab.done').length >= 2")
    ticked = [deed for deed in phone.deeds() if "earth_up" in deed.get("job", "") or "beetroot.thin" in deed.get("job", "")]
    assert len({deed["by"] for deed in ticked}) == 1 and len(ticked) == 2


def test_an_app_that_came_by_half_says_what_to_do(server: LiveServer, phones: Callable[..., Phone]) -> None:
    """A page over plain http whose server went away in the middle: no worker keeps the rest."""
    phone = phones(server.url)
    phone.context.add_init_script("delete Navigator.prototype.serviceWorker;")
    phone.context.route("**/scripts/work.js", lambda route: route.abort())
    phone.page.goto(server.url)
    expect(phone.page.get_by_role("alert")).to_contain_text("try again near the server")
    phone.context.unroute("**/scripts/work.js")
    phone.page.get_by_role("button", name="Try again").click()
    phone.settled()


SAME = """async () => {
  const [one, two] = await Promise.all(["first", "later"].map((name) => import(`/scripts/${name}.js`)));
  const { measureAs } = await import("/scripts/lib/quantities.js");
  const { settle } = await import("/scripts/kernel/settle.js");
  const there = (file, what) => Object.values(file).some((module) => Object.values(module ?? {}).includes(what));
  return [there(one, measureAs), there(two, settle)];
}"""


def test_a_module_at_its_own_address_is_the_very_one_that_came_with_the_first_screen(phone: Phone) -> None:
    """Else what is set in one (how the household measures) would be unknown to the other."""
    assert phone.page.evaluate(SAME) == [True, True]
