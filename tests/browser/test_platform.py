"""What a phone user expects: shortcuts, a figure on the app's picture, a lit screen, sharing into it, paper, going back."""

from __future__ import annotations

import contextlib
import json
import re
import shutil
from collections.abc import Callable
from importlib.resources import files

import pytest
from playwright.sync_api import BrowserType, Page, expect

from tests.browser.phones import POLL_MS, Phone
from tests.browser.serving import LiveServer
from tests.cases import sampled
from tests.conftest import launch

Make = Callable[..., Phone]
SIZES = sampled([(360, 640), (390, 844)], 2)
BADGE = "navigator.setAppBadge = async (count) => { window.badge = count; };"
AWAKE = """
  window.held = 0;
  Object.defineProperty(navigator, "wakeLock", {value: {request: async () => {
    window.held += 1;
    return {released: false, async release() { if (!this.released) window.held -= 1; this.released = true; }};
  }}});
"""
PLAIN = """
  delete Navigator.prototype.setAppBadge;
  delete Navigator.prototype.wakeLock;
"""
SHARE = """([words, picture]) => {
  const form = document.createElement("form");
  Object.assign(form, {action: "/shared", method: "post", enctype: "multipart/form-data"});
  const text = document.createElement("input");
  Object.assign(text, {name: "text", value: words});
  form.append(text);
  if (picture) {
    const canvas = document.createElement("canvas");
    canvas.width = canvas.height = 40;
    canvas.getContext("2d").fillRect(4, 4, 30, 30);
    const bytes = Uint8Array.from(atob(canvas.toDataURL("image/png").split(",")[1]), (one) => one.charCodeAt(0));
    const given = new DataTransfer();
    given.items.add(new File([bytes], "leaf.png", {type: "image/png"}));
    const file = document.createElement("input");
    Object.assign(file, {type: "file", name: "photos"});
    file.files = given.files;
    form.append(file);
  }
  document.body.append(form);
  form.submit();
}"""


def sized(phone: Phone, size: tuple[int, int]) -> Phone:
    phone.page.set_viewport_size({"width": size[0], "height": size[1]})
    return phone


def test_the_manifest_has_shortcuts_and_a_place_to_share_to() -> None:
    """Members and their shapes as the W3C's Web Application Manifest and Web Share Target have them."""
    manifest = json.loads(files("web").joinpath("manifest.webmanifest").read_text(encoding="utf-8"))
    assert {one["name"]: one["url"] for one in manifest["shortcuts"]} == {"Jot": "/#/jot", "Round": "/#/round"}
    target = manifest["share_target"]
    assert (target["action"], target["method"], target["enctype"]) == ("/shared", "POST", "multipart/form-data")
    assert target["params"]["files"] == [{"name": "photos", "accept": ["image/*"]}]


@pytest.mark.parametrize("size", SIZES, ids=str)
def test_a_shortcut_opens_jot_and_its_arrow_leads_to_the_round(server: LiveServer, phones: Make, size: tuple[int, int]) -> None:
    phone = sized(phones(server.url), size).open("#/jot")
    expect(phone.page.get_by_role("heading", name="Jot")).to_be_visible()
    phone.page.get_by_role("button", name="Close").click()
    expect(phone.page.locator(".timer")).to_be_visible()


@pytest.mark.parametrize("size", SIZES, ids=str)
def test_the_apps_picture_counts_what_runs_out_today(server: LiveServer, phones: Make, size: tuple[int, int]) -> None:
    phone = sized(phones(server.url), size)
    phone.context.add_init_script(BADGE)
    phone.open().settled()
    due = [job for job in phone.jobs("2031-05-19") if job["state"] == "ready" and job["leeway"] == 0 and not job["low"]]
    assert due
    phone.until("(count) => window.badge === count", len(due))
    phone.page.locator(f"[data-job='{due[0]['id']}'] .tick").first.click()
    phone.until("(count) => window.badge === count", len(due) - 1)


@pytest.mark.parametrize("size", SIZES, ids=str)
def test_the_screen_stays_on_while_one_is_on_the_round_and_wants_it(
    server: LiveServer, phones: Make, size: tuple[int, int]
) -> None:
    phone = sized(phones(server.url), size)
    phone.context.add_init_script(AWAKE)
    phone.open().settled()
    phone.page.wait_for_timeout(2000)
    assert phone.page.evaluate("() => window.held") == 0, "nobody has asked for it"
    phone.go("shed")
    phone.page.get_by_role("button", name="stays on").click()
    assert phone.page.evaluate("() => window.held") == 0, "the Shed is no round"
    phone.go("round")
    phone.until("() => window.held === 1")
    phone.go("job/batch.2031.basil.prick_out")
    phone.until("() => window.held === 1")
    phone.go("diary")
    phone.until("() => window.held === 0")


@pytest.mark.parametrize("size", SIZES, ids=str)
def test_a_phone_that_can_do_none_of_it_says_nothing(server: LiveServer, phones: Make, size: tuple[int, int]) -> None:
    phone = sized(phones(server.url), size)
    phone.context.add_init_script(PLAIN)
    phone.open().settled()
    phone.page.wait_for_timeout(2000)
    phone.go("shed")
    expect(phone.page.get_by_text("Tick and Jot under")).to_be_visible()
    expect(phone.page.get_by_text("The screen, on a round")).to_have_count(0)
    assert phone.errors == [] and phone.page.locator(".undo").is_hidden()


@pytest.mark.parametrize("size", SIZES, ids=str)
def test_what_another_app_shares_becomes_a_jot_with_the_server_gone(
    server: LiveServer, phones: Make, size: tuple[int, int]
) -> None:
    phone = sized(phones(server.url), size).open().settled().worker_ready()
    server.kill()
    phone.page.evaluate(SHARE, ["seen by the gate", True])
    phone.page.wait_for_url("**/#/jot/shared")
    expect(phone.page.get_by_role("heading", name="Jot")).to_be_visible()
    expect(phone.page.locator("textarea")).to_have_value("seen by the gate")
    expect(phone.page.locator(".photos img")).to_have_count(1)
    phone.page.get_by_role("button", name="Write it down").click()
    expect(phone.page.locator(".undo")).to_contain_text("“seen by the gate”")
    note = phone.deeds("note")[-1]
    assert note["note"] == "seen by the gate" and len(note["photos"]) == 1


def test_what_did_not_come_along_is_said(server: LiveServer, phones: Make) -> None:
    """A phone whose worker is not there: the server answers, and nothing of it is read."""
    phone = phones(server.url, service_workers="block").open().settled()
    phone.page.evaluate(SHARE, ["lost", False])
    phone.page.wait_for_url("**/#/jot/shared")
    expect(phone.page.get_by_role("alert")).to_contain_text("did not come along")


def pages(pdf: bytes) -> int:
    """Pages of a PDF (ISO 32000-1, 7.7.3.3: each is an object of type Page)."""
    return len(re.findall(rb"/Type\s*/Page\b", pdf))


@pytest.mark.only_looks
def test_a_day_of_24_jobs_is_one_sheet_of_paper(phone: Phone) -> None:
    phone.page.evaluate(
        """() => {
          const rows = () => [...document.querySelectorAll(".lab:not(.done)")];
          for (let at = 0; rows().length < 24; at += 1) rows()[at].after(rows()[at].cloneNode(true));
        }"""
    )
    printed = "() => [...document.styleSheets].some((sheet) => sheet.href?.endsWith('/later.css'))"
    phone.page.wait_for_function(printed)
    assert pages(phone.page.pdf(format="A4", prefer_css_page_size=True)) == 1
    phone.page.emulate_media(media="print")
    for what in (".dock", ".timer", ".undo"):
        expect(phone.page.locator(what)).to_be_hidden()
    phone.go("season")
    expect(phone.page.locator(".batch-row").first).to_be_visible()
    assert pages(phone.page.pdf(format="A4", prefer_css_page_size=True)) <= 3


KEPT = """() => {
  window.mark = 1;
  addEventListener("pageshow", (event) => { window.kept = event.persisted; });
}"""

WHY_NOT = "() => JSON.stringify(performance.getEntriesByType('navigation')[0].notRestoredReasons)"
SHOWN = "() => window.mark === 1 ? 'kept' in window : document.readyState === 'complete'"


def comes_back(page: Page, server: LiveServer) -> bool:
    """Whether the page that stands there is the very same after one was elsewhere."""
    page.evaluate(KEPT)
    page.goto(server.url + "icons/pot.svg")
    page.evaluate("() => { setTimeout(() => history.back(), 30); }")
    for _ in range(200):  # a page that was kept has no load to wait for, and is there before it is told so
        page.wait_for_timeout(POLL_MS)
        if not page.url.endswith(".svg") and page.evaluate(SHOWN):
            break
    return bool(page.evaluate("() => window.mark === 1 && window.kept === true"))


def test_going_away_and_back_brings_the_very_page_again(server: LiveServer, playwright_types: BrowserType) -> None:
    """The back-forward cache of HTML, where the browser at hand has one: that is asked of a page which does nothing."""
    whole = shutil.which("chromium")
    own = launch(playwright_types, ignore_default_args=["--disable-back-forward-cache"], executable_path=whole)
    with contextlib.closing(own):  # a phone that lives on would give all it holds to the servers of later tests
        page = own.new_context().new_page()
        page.goto(server.url + "styles/layers.css")
        has_one = comes_back(page, server)
        phone = Phone(own.new_context(), server.url).open().settled().worker_ready()  # a worker that takes over later ends it
        assert comes_back(phone.page, server) == has_one, phone.page.evaluate(WHY_NOT)
        expect(phone.page.locator(".timer")).to_be_visible()
        phone.share()
