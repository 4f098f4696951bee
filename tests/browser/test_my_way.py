"""Any number of any crop changed for this household, seen beside the calendar's, and taken back; crops of one's own."""

from __future__ import annotations

import re
from collections.abc import Callable

from playwright.sync_api import Route, expect

from tests.browser.conftest import ON
from tests.browser.phones import NOTED, Phone
from tests.browser.serving import LiveServer

RULEBOOK = """async ([crop, variety]) => {
  const {openStore} = await moduleAt("store/indexed-db");
  const store = await openStore({device: "aaaaaaaa", now: Date.now});
  const book = await store.meta("rulebook");
  await store.close();
  return (variety ? book.varieties[variety] : book.crops[crop])?.spacing_cm[2] ?? null;
}"""


OWN = """async (name) => {
  const {openStore} = await moduleAt("store/indexed-db");
  const store = await openStore({device: "aaaaaaaa", now: Date.now});
  const all = await store.live();
  await store.close();
  const variety = all.find((one) => one.kind === "variety" && one.fields.name === name);
  return all.find((one) => one.kind === "crop" && one.fields.variety === variety?.id)?.fields;
}"""
SEEDS_FOR = """async (name) => {
  const {openStore} = await moduleAt("store/indexed-db");
  const store = await openStore({device: "aaaaaaaa", now: Date.now});
  const [all, book] = [await store.live(), await store.meta("rulebook")];
  await store.close();
  const variety = all.find((one) => one.kind === "variety" && one.fields.name === name);
  return book.varieties[variety?.id]?.seeds_for ?? null;
}"""


def set_spacing(phone: Phone, value: int) -> None:
    page = phone.page
    page.locator("button.line", has_text="Plants apart").click()
    page.get_by_role("textbox", name="Plants apart").fill(str(value))
    page.get_by_role("button", name="Keep this").click()


def test_number_is_changed_with_no_signal_reaches_the_list_and_goes_back(fresh_phone: Phone) -> None:
    phone = fresh_phone
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


def test_numbers_never_seen_here_and_no_server_say_what_to_do(fresh_phone: Phone) -> None:
    phone = fresh_phone
    phone.worker_ready()
    phone.context.set_offline(True)
    phone.go("crop/garlic")
    expect(phone.page.get_by_role("alert")).to_contain_text("Open this page once near it; then they stay.")
    phone.context.set_offline(False)
    phone.page.get_by_role("button", name="Try again").click()
    expect(phone.page.locator("button.line", has_text="Plants apart")).to_be_visible()


def test_the_servers_late_answer_takes_nothing_from_under_the_fingers(phone: Phone) -> None:
    page = phone.page
    phone.go("crop/kale")
    expect(page.locator("button.line", has_text="Plants apart")).to_be_visible()
    phone.go("round")
    late: list[Route] = []
    page.route("**/api/crops/kale", lambda route: late.append(route))
    with page.expect_request("**/api/crops/kale"):
        phone.go("crop/kale")
    page.locator("button.line", has_text="Plants apart").click()
    typed = page.get_by_role("textbox", name="Plants apart")
    typed.fill("6")
    (asked,) = late
    asked.fulfill(json={**asked.fetch().json(), "singular": "curly kale"})  # otherwise than it was kept
    phone.until(f"async () => ({NOTED})('answer /api/crops/kale').then((answer) => answer.singular === 'curly kale')")
    expect(typed).to_be_focused()
    page.keyboard.type("1")
    page.get_by_role("button", name="Keep this").click()
    expect(page.locator("button.line", has_text="Plants apart")).to_contain_text(re.compile(r"61\scm"))


def test_what_comes_while_a_mouse_is_down_takes_no_click_away(phone: Phone, server: LiveServer) -> None:
    page = phone.page
    phone.go("crop/kale")
    page.locator("button.line", has_text="Plants apart").hover()
    page.mouse.down()
    deed = {"on": ON, "did": "note", "note": "from the other phone"}
    server.push([{"id": "d.other", "kind": "diary", "stamp": "01c000000000-0000-abcdefgh", "fields": deed}])
    before = page.evaluate(NOTED, "lastShared")
    page.evaluate("() => { window.dispatchEvent(new Event('online')); }")
    phone.until(f"async (before) => (await ({NOTED})('lastShared')) > before", before)
    assert any(row["record"]["id"] == "d.other" for row in phone.kept()["records"])
    page.mouse.up()
    expect(page.get_by_role("textbox", name="Plants apart")).to_be_visible()


PRESSED = """() => {
  const given = {pointerType: "mouse", button: 0, buttons: 1, bubbles: true};
  document.querySelector("#room").dispatchEvent(new PointerEvent("pointerdown", given));
}"""


def test_a_press_whose_end_never_comes_holds_nothing_back_for_good(phone: Phone, server: LiveServer) -> None:
    """As where the button is let go over another window."""
    page = phone.page
    phone.go("diary")
    page.evaluate(PRESSED)
    deed = {"on": ON, "did": "note", "note": "from the other phone"}
    server.push([{"id": "d.other", "kind": "diary", "stamp": "01c000000000-0000-abcdefgh", "fields": deed}])
    before = page.evaluate(NOTED, "lastShared")
    page.evaluate("() => { window.dispatchEvent(new Event('online')); }")
    phone.until(f"async (before) => (await ({NOTED})('lastShared')) > before", before)
    note = page.get_by_text("from the other phone")
    assert note.count() == 0
    page.mouse.move(30, 300)
    expect(note).to_be_visible()


LIST = """Variety,Crop,Germination,Seeds
Grey Harbour,kale,70,40
Grey Harbour,kale,70,40
Pump House,tomatoe plant,55,8
Odd Fish,sea holly,60,5
Empty Sleeve,kale,80,0
"""


def test_a_seed_list_is_asked_about_shown_taken_and_taken_back(phone: Phone) -> None:
    page = phone.page
    phone.go("varieties")
    page.get_by_role("button", name="From a list of seeds").click()
    page.locator("input[type=file]").set_input_files({"name": "s.csv", "mimeType": "text/csv", "buffer": LIST.encode()})
    expect(page.locator(".ask")).to_contain_text("What is “tomatoe plant”?")
    page.get_by_role("button", name="tomatoes", exact=True).click()
    expect(page.locator(".ask")).to_contain_text("What is “sea holly”?")
    page.get_by_role("button", name="Leave these out").click()
    expect(page.get_by_role("heading", name=re.compile(r"2\spackets can be taken"))).to_be_visible()
    page.locator("summary", has_text="left out").click()
    expect(page.locator("details li", has_text="line 6")).to_contain_text("'0', which makes no sense")
    page.get_by_role("button", name="Take these 2").click()
    expect(page.locator("button.line", has_text="Pump House")).to_be_visible()
    percent = f"async () => (await ({OWN})('Pump House'))?.value === 55"
    phone.until(percent)
    phone.until(f"async () => (await ({SEEDS_FOR})('Pump House')) === '55'")
    page.get_by_role("button", name="From a list of seeds").click()
    page.locator("input[type=file]").set_input_files({"name": "s.csv", "mimeType": "text/csv", "buffer": LIST.encode()})
    page.get_by_role("button", name="tomatoes", exact=True).click()
    page.get_by_role("button", name="Leave these out").click()
    page.get_by_role("button", name="Take these 2").click()
    expect(page.get_by_role("alert")).to_have_text("All of these are in the book already.")


def test_a_seed_list_taken_by_mistake_leaves_nothing(phone: Phone) -> None:
    page = phone.page
    before = {row["record"]["id"] for row in phone.kept()["records"] if not row["record"]["fields"].get("gone")}
    phone.go("seed-list")
    rows = b"Variety;Crop\nNever Mind;kale\n"
    page.locator("input[type=file]").set_input_files({"name": "s.csv", "mimeType": "text/csv", "buffer": rows})
    page.get_by_role("button", name="Take it").click()
    page.get_by_role("button", name="Undo", exact=True).click()
    page.wait_for_timeout(200)
    after = {row["record"]["id"] for row in phone.kept()["records"] if not row["record"]["fields"].get("gone")}
    assert after == before


def test_a_whole_calendar_of_ones_own_comes_from_a_file(phone: Phone) -> None:
    page = phone.page
    phone.go("crop/kale")
    expect(page.locator("a[download]")).to_be_visible()
    text = page.evaluate("async () => (await fetch(document.querySelector('a[download]').href)).text()")
    phone.go("own-crop")
    torn = text.replace("[[steps]]", "[[steps", 1)
    page.locator("input[type=file]").set_input_files({"name": "o.toml", "mimeType": "text/plain", "buffer": torn.encode()})
    expect(page.get_by_role("alert").last).to_contain_text("The file cannot be read")
    ours = text.replace('id = "kale"', 'id = "hedge_kale"', 1).replace('many = "kale"', 'many = "hedge kale"', 1)
    page.locator("input[type=file]").set_input_files({"name": "o.toml", "mimeType": "text/plain", "buffer": ours.encode()})
    expect(page.get_by_role("heading", name="Hedge kale")).to_be_visible()
    phone.until(f"async () => (await ({RULEBOOK})(['hedge_kale', null])) !== null")
    phone.go("crops")
    expect(page.locator("button.line", has_text="hedge kale")).to_contain_text("your own crop")
