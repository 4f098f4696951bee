"""Nothing is hunted for: one comes back to where one stood, by arrow, key or the phone's own Back, and no press is dead."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

import pytest
from playwright.sync_api import Browser, expect

from tests.browser.phones import BETWEEN_TAPS_MS, Phone
from tests.browser.serving import LiveServer

SIZES = [{"width": 360, "height": 640}, {"width": 390, "height": 844}]
FAR = """() => {
  const rows = [...document.querySelectorAll("[data-job] .tick")];
  const row = rows[rows.length - 3].closest("[data-job]");
  row.scrollIntoView({block: "center"});
  return {job: row.dataset.job, y: Math.round(scrollY), top: Math.round(row.getBoundingClientRect().top)};
}"""
STANDS = "({y}) => Math.abs(scrollY - y) < 120 && scrollY > 0"
"""A row that was ticked is thinner than it was: by so much a page may be shorter above."""


@pytest.fixture(params=SIZES, ids=lambda size: f"{size['width']}x{size['height']}")
def thumb(request: pytest.FixtureRequest, browser: Browser, server: LiveServer) -> Iterator[Phone]:
    """A phone of that size, used by touch."""
    context = browser.new_context(viewport=request.param, has_touch=True, reduced_motion="reduce")
    context.set_default_timeout(15_000)
    yield Phone(context, server.url).open().settled()
    context.close()


def open_far_down(phone: Phone) -> dict[str, Any]:
    """A job far down the Round, opened; where the Round stood."""
    phone.until("() => document.querySelectorAll('[data-job]').length > 12")
    stood: dict[str, Any] = phone.page.evaluate(FAR)
    assert stood["y"] > 300
    phone.page.locator(f"[data-job='{stood['job']}'] .txt").tap()
    expect(phone.page.locator(".acts")).to_be_visible()
    assert phone.page.evaluate("() => scrollY") == 0
    return stood


def on_the_round(phone: Phone) -> None:
    expect(phone.page.locator(".timer")).to_be_visible()


@pytest.mark.parametrize("way", ["arrow", "done", "phone"])
def test_coming_back_to_the_round_is_where_one_stood(thumb: Phone, way: str) -> None:
    stood = open_far_down(thumb)
    if way == "arrow":
        thumb.page.get_by_role("button", name="Back").tap()
    elif way == "done":
        thumb.page.locator(".acts .key.done").tap()
    else:
        thumb.page.go_back()
    on_the_round(thumb)
    thumb.until(STANDS, stood)
    row = thumb.page.locator(f"[data-job='{stood['job']}']").first
    box = row.bounding_box()
    assert box is not None and abs(box["y"] - stood["top"]) < 120, "the row that was opened is under the thumb again"


def test_putting_off_comes_back_to_the_list_and_past_the_job(thumb: Phone) -> None:
    stood = open_far_down(thumb)
    thumb.page.get_by_role("button", name="Put off").tap()
    thumb.page.locator("main .line, main .key").filter(has_text="tomorrow").or_(
        thumb.page.locator("main button.line")
    ).first.tap()
    on_the_round(thumb)
    thumb.until(STANDS, stood)


def test_a_jot_comes_back_to_where_it_was_begun(thumb: Phone) -> None:
    thumb.go("diary")
    thumb.until("() => document.querySelectorAll('.entry').length > 30")
    thumb.page.evaluate("() => scrollTo(0, 900)")
    thumb.page.wait_for_timeout(BETWEEN_TAPS_MS)
    thumb.page.get_by_role("link", name="Jot").tap()
    thumb.page.get_by_role("button", name="More").tap()
    thumb.page.get_by_role("button", name="A note", exact=True).tap()
    thumb.page.locator("textarea").fill("the gate squeaks")
    thumb.page.get_by_role("button", name="Write it down").tap()
    expect(thumb.page.get_by_role("heading", name="Diary")).to_be_visible()
    thumb.until("() => scrollY > 700")


def test_no_press_of_the_phones_back_is_dead(thumb: Phone) -> None:
    """Round, Ground, Round, a job done: from there the phone goes back to Ground, and from there to the Round."""
    thumb.page.get_by_role("link", name="Ground").tap()
    expect(thumb.page.get_by_role("heading", name="Ground")).to_be_visible()
    thumb.page.get_by_role("link", name="Round", exact=True).tap()
    open_far_down(thumb)
    thumb.page.locator(".acts .key.done").tap()
    on_the_round(thumb)
    thumb.page.go_back()
    expect(thumb.page.get_by_role("heading", name="Ground")).to_be_visible()
    thumb.page.go_back()
    on_the_round(thumb)


def test_the_way_back_is_known_after_the_page_is_opened_anew(thumb: Phone) -> None:
    thumb.go("ground")
    thumb.page.locator(".place-row").first.tap()
    expect(thumb.page.get_by_role("button", name="Back")).to_be_visible()
    thumb.page.reload()
    thumb.page.wait_for_selector("html[data-ready=yes]", state="attached")
    thumb.page.get_by_role("button", name="Back").tap()
    expect(thumb.page.get_by_role("heading", name="Ground")).to_be_visible()
