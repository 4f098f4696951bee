"""Any number of any crop changed for this household, seen beside the calendar's, and taken back; crops of one's own."""

from __future__ import annotations

import re
from collections.abc import Callable

from playwright.sync_api import expect

from tests.browser.phones import Phone
from tests.browser.serving import LiveServer

RULEBOOK = """async ([crop, variety]) => {
  const {openStore} = await import("/scripts/store/indexed-db.js");
  const store = await openStore({device: "aaaaaaaa", now: Date.now});
  const book = await store.meta("rulebook");
  await store.close();
  return (variety ? book.varieties[variety] : book.crops[crop])?.spacing_cm[2] ?? null;
}"""


def set_spacing(phone: Phone, value: int) -> None:
    page = phone.page
    page.locator("button.line", has_text="Plants apart").click()
    page.get_by_role("textbox", name="Plants apart").fill(str(value))
    page.get_by_role("button", name="Keep this").click()


def test_number_is_changed_with_no_signal_reaches_the_list_and_goes_back(phone: Phone) -> None:
    page = phone.worker_ready().page
    phone.go("crop/kale")
    expect(page.locator("button.line", has_text="Plants apart")).to_contain_text(re.compile(r"\d+\scm"))
    before = page.evaluate(RULEBOOK, ["kale", None])
    phone.go("round")
    phone.context.set_offline(True)
    phone.go("crop/kale")  # its numbers were here before, so they are here now
    set_spacing(phone, before + 13)
    row = page.locator("button.line", has_text="Plants apart")
    expect(row).to_contain_text(re.compile(rf"yours {before + 13}\scm"))
    expect(row).to_contain_text(re.compile(rf"calendar {before}\scm"))
    phone.context.set_offline(False)
    phone.go("round")
    phone.share()
    phone.until(f"async (wanted) => (await ({RULEBOOK})(['kale', null])) === wanted", before + 13)
    phone.go("crop/kale")
    row.click()
    page.get_by_role("button", name=re.compile(r"Back to \d+\scm")).click()
    expect(row).not_to_contain_text("yours")
    page.get_by_role("button", name="Undo").click()
    expect(row).to_contain_text("yours")


def test_two_phones_that_change_two_numbers_both_have_their_way(server: LiveServer, phones: Callable[..., Phone]) -> None:
    one, other = phones(server.url).open().settled(), phones(server.url).open().settled()
    for phone in (one, other):
        phone.go("crop/leek")
        expect(phone.page.locator("button.line", has_text="Plants apart")).to_be_visible()
        phone.context.set_offline(True)
    set_spacing(one, 21)
    other.page.locator("button.line", has_text="Rows apart").click()
    other.page.get_by_role("textbox", name="Rows apart").fill("44")
    other.page.get_by_role("button", name="Keep this").click()
    for phone in (one, other):
        phone.context.set_offline(False)
        phone.go("round")
    for phone in (one, other, one):
        phone.share()
    for phone in (one, other):
        phone.go("crop/leek")
        expect(phone.page.locator("button.line", has_text="Plants apart")).to_contain_text(re.compile(r"yours 21\scm"))
        expect(phone.page.locator("button.line", has_text="Rows apart")).to_contain_text(re.compile(r"yours 44\scm"))


def test_a_number_that_does_not_fit_says_why_at_its_row(phone: Phone) -> None:
    page = phone.page
    phone.go("crop/tomato")
    page.get_by_role("button", name="Prick out tomatoes").click()
    page.locator("button.line", has_text="Soonest, once up").click()
    page.get_by_role("textbox", name="Soonest, once up").fill("40")
    page.get_by_role("button", name="Keep this").click()
    expect(page.locator("button.line", has_text="Soonest, once up")).to_contain_text("cannot be 40 beside its other numbers")


def test_a_varietys_own_numbers_hold_for_it_alone(phone: Phone) -> None:
    page = phone.page
    phone.go("varieties")
    row = page.locator("button.line", has_text="tomatoes").first
    row.click()
    variety = page.evaluate("() => location.hash.split('/')[3]")
    page.get_by_role("button", name="Its own numbers").click()
    set_spacing(phone, 66)
    expect(page.locator("button.line", has_text="Plants apart")).to_contain_text(re.compile(r"crop \d+\scm"))
    phone.until(f"async (variety) => (await ({RULEBOOK})(['tomato', variety])) === 66", variety)
    assert page.evaluate(RULEBOOK, ["tomato", None]) != 66


def test_a_crop_of_ones_own_can_be_planned_and_put_away(phone: Phone) -> None:
    page = phone.page
    phone.go("own-crop")
    page.get_by_role("button", name="Write it down").click()
    expect(page.locator(".bad:visible").first).to_have_text("This one is needed. Fill it in, please.")
    page.get_by_label("It grows like").select_option("kale")
    page.get_by_label("One of them is a").fill("walking-stick kale")
    page.get_by_label("Many are").fill("walking-stick kale")
    page.get_by_role("button", name="Write it down").click()
    expect(page.get_by_role("heading", name="Walking-stick kale")).to_be_visible()
    set_spacing(phone, 90)
    phone.until(f"async () => (await ({RULEBOOK})(['walking_stick_kale', null])) === 90")
    phone.go("plan/crop=walking_stick_kale")
    expect(page.get_by_role("region", name="The plan")).to_contain_text("walking-stick kale")
    phone.go("crop/walking_stick_kale")
    page.get_by_role("button", name="Put this crop away").click()
    expect(page.get_by_role("heading", name="Walking-stick kale")).not_to_be_visible()
    phone.until(f"async () => (await ({RULEBOOK})(['walking_stick_kale', null])) === null")


def test_numbers_never_seen_here_and_no_server_say_what_to_do(phone: Phone) -> None:
    phone.worker_ready()
    phone.context.set_offline(True)
    phone.go("crop/garlic")
    expect(phone.page.get_by_role("alert")).to_contain_text("Open this page once near it; then they stay.")
    phone.context.set_offline(False)
    phone.page.get_by_role("button", name="Try again").click()
    expect(phone.page.locator("button.line", has_text="Plants apart")).to_be_visible()
