"""A wet thumb on a small phone: the strip that takes back covers no key, two quick taps do one job, rows hold still."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

import pytest
from playwright.sync_api import expect

from tests.browser.phones import BETWEEN_TAPS_MS, Phone

TOPS = """() => [...document.querySelectorAll("[data-job]")].map(
  (row) => [row.dataset.job, Math.round(row.getBoundingClientRect().top)])"""
COVERED = """() => {
  const strip = document.querySelector(".undo > .in").getBoundingClientRect();
  const last = [...document.querySelectorAll("main button, main a, main input, main textarea")].pop().getBoundingClientRect();
  return last.bottom > strip.top && last.top < strip.bottom;
}"""


def well(phone: Phone, words: str) -> tuple[float, float]:
    """The middle of a row's key on the screen."""
    box = phone.row(words).locator(".well").bounding_box()
    assert box is not None
    return box["x"] + box["width"] / 2, box["y"] + box["height"] / 2


def done(phone: Phone) -> list[Any]:
    return [deed["job"] for deed in phone.deeds() if deed.get("job") and deed["on"] == "2031-05-19"]


def titles(phone: Phone) -> list[str]:
    found: list[str] = phone.page.locator("[data-job] .title").all_inner_texts()
    return found


@pytest.mark.every_size
def test_two_quick_taps_in_one_place_do_one_job_and_rows_hold_still(thumb: Phone) -> None:
    before, others = len(done(thumb)), dict(thumb.page.evaluate(TOPS))
    first = thumb.page.locator("[data-job]").first
    name = first.get_attribute("data-job")
    box = first.locator(".well").bounding_box()
    assert box is not None
    at = (box["x"] + box["width"] / 2, box["y"] + box["height"] - 6)
    thumb.page.touchscreen.tap(*at)
    thumb.page.touchscreen.tap(*at)
    thumb.page.touchscreen.tap(at[0], at[1] + 40)
    expect(thumb.page.locator(".lab.done").first).to_be_visible()
    now = dict(thumb.page.evaluate(TOPS))
    assert {job: top for job, top in now.items() if job in others and top < 640} == {
        job: others[job] for job, top in now.items() if job in others and top < 640
    }, "nothing has moved while the thumb is there"
    thumb.until("() => document.querySelector('.lab.done').offsetHeight < 100")
    assert len(done(thumb)) == before + 1 and name in done(thumb)
    assert thumb.page.locator("[data-job]").first.get_attribute("data-job") == name, "it stays where it was, and is thin"


def test_a_tick_says_where_it_was(thumb: Phone) -> None:
    thumb.row("Prick out 24").locator(".well").tap()
    expect(thumb.page.locator(".undo")).to_contain_text("Written down: Prick out 24 basil; Lean-to")


@pytest.mark.only_looks
def test_what_a_tick_ends_is_said_before(thumb: Phone) -> None:
    row = thumb.page.locator(".lab", has_text="Clear lettuces").first
    expect(row).to_contain_text("ends the batch")
    expect(row.locator(".well")).to_have_attribute("aria-label", "Clear lettuces: decide, open it")
    row.locator(".txt").tap()
    expect(thumb.page.locator("main")).to_contain_text("Done ends the batch: 2 lettuces are gone then.")
    thumb.go("job/batch.2031.cabbage.spare")
    expect(thumb.page.get_by_role("button", name="Given away")).to_be_visible()


def test_rows_stay_in_their_order_while_the_round_is_open(thumb: Phone) -> None:
    order = [job for job, _ in thumb.page.evaluate(TOPS)]
    for words in ("Prick out 24", "Thin beetroot"):
        thumb.row(words).locator(".well").tap()
        expect(thumb.page.locator(".lab.done", has_text=words)).to_be_visible()
        thumb.page.wait_for_timeout(700)
    after = [job for job, _ in thumb.page.evaluate(TOPS)]
    assert [job for job in after if job in order] == [job for job in order if job in after]
    thumb.go("ground")
    thumb.go("round")
    expect(thumb.page.locator("[data-job]").first).to_be_visible()
    assert [job for job, _ in thumb.page.evaluate(TOPS)] != after, "opened anew, what is done stands behind"


def test_the_strip_goes_with_the_room_it_was_shown_in(thumb: Phone) -> None:
    strip = thumb.page.locator(".undo")
    thumb.row("Prick out 24").locator(".well").tap()
    expect(strip).to_contain_text("Written down: Prick out 24 basil")
    thumb.page.get_by_role("link", name="Jot").tap()
    expect(thumb.page.get_by_role("heading", name="Jot")).to_be_visible()
    expect(strip).to_be_hidden()
    assert len([job for job in done(thumb) if "basil" in job]) == 1, "nothing was taken back by going on"


def test_what_was_jotted_is_told_in_the_room_one_comes_back_to(thumb: Phone) -> None:
    thumb.go("jot/note")
    thumb.page.locator("textarea").fill("slugs by the gate")
    thumb.page.get_by_role("button", name="Write it down").tap()
    strip = thumb.page.locator(".undo")
    expect(strip).to_contain_text("Written down: a note")
    expect(thumb.page.locator("h1")).not_to_have_text("Jot")
    strip.get_by_role("button", name="Undo").tap()
    expect(strip).to_contain_text("Taken back: a note")
    assert thumb.deeds("note") == [] or "slugs by the gate" not in {deed.get("note") for deed in thumb.deeds("note")}


@pytest.mark.every_size
def test_the_strip_can_be_put_away_and_covers_no_last_key(thumb: Phone) -> None:
    thumb.row("Prick out 24").locator(".well").tap()
    strip = thumb.page.locator(".undo")
    expect(strip).to_be_visible()
    thumb.page.evaluate("() => window.scrollTo(0, document.documentElement.scrollHeight)")
    assert not thumb.page.evaluate(COVERED)
    thumb.page.wait_for_timeout(BETWEEN_TAPS_MS)
    box = strip.get_by_role("button", name="Put this away").bounding_box()
    assert box is not None and box["width"] >= 48 and box["height"] >= 48
    strip.get_by_role("button", name="Put this away").tap()
    expect(strip).to_be_hidden()


def test_a_second_quick_tap_never_falls_on_the_strip(thumb: Phone) -> None:
    """It comes up where rows were: what is meant for a row there must not take back what was done a moment ago."""
    before = len(done(thumb))
    row = thumb.row("Prick out 24")
    row.locator(".well").tap()
    strip = thumb.page.locator(".undo").get_by_role("button", name="Undo")
    strip.wait_for(state="visible")
    strip.tap()
    expect(thumb.page.locator(".lab.done", has_text="Prick out 24")).to_be_visible()
    assert len(done(thumb)) == before + 1


@pytest.mark.every_size
def test_the_strip_has_room_of_its_own(thumb: Phone) -> None:
    """It is a bar from edge to edge, as the dock is: nothing of a row looks out beside it or can be hit through it."""
    thumb.row("Prick out 24").locator(".well").tap()
    expect(thumb.page.locator(".undo .in")).to_be_visible()
    assert thumb.page.evaluate(
        """() => {
          const strip = document.querySelector(".undo").getBoundingClientRect();
          const dock = document.querySelector(".dock").getBoundingClientRect();
          const at = (x, y) => Boolean(document.elementFromPoint(x, y)?.closest(".undo, .dock"));
          const ys = [strip.top + 3, (strip.top + strip.bottom) / 2, strip.bottom - 4];
          const all = [2, innerWidth / 2, innerWidth - 2].every((x) => ys.every((y) => at(x, y)));
          return strip.left === 0 && strip.right === innerWidth && Math.abs(strip.bottom - dock.top) < 6 && all;
        }"""
    )


def test_what_is_taken_back_is_said_in_full(thumb: Phone, phones: Callable[..., Phone]) -> None:
    thumb.row("Prick out 24").locator(".well").tap()
    thumb.page.wait_for_timeout(BETWEEN_TAPS_MS)
    thumb.page.locator(".undo").get_by_role("button", name="Undo").tap()
    expect(thumb.page.locator(".undo")).to_contain_text(
        "Taken back: Prick out 24 basil; Lean-to, propagator. It is on the list again."
    )
    thumb.page.wait_for_timeout(500)
    thumb.row("Prick out 24").locator(".well").tap()
    done_row = thumb.page.locator(".lab.done", has_text="Prick out 24")
    expect(done_row).to_be_visible()
    thumb.page.wait_for_timeout(500)
    done_row.locator(".well").tap()
    expect(thumb.page.locator(".undo")).to_contain_text(
        "Taken back: Prick out 24 basil; Lean-to, propagator. It is on the list again."
    )


@pytest.mark.only_looks
@pytest.mark.every_size
def test_the_key_that_finishes_a_jot_is_always_on_the_screen(thumb: Phone) -> None:
    for way in ("jot/lose/batch.2031.melon", "jot/note", "jot/pick/batch.2031.parsnip"):
        thumb.go(way)
        key = thumb.page.get_by_role("button", name="Write it down")
        expect(key, way).to_be_in_viewport(ratio=1)
        thumb.page.evaluate("() => window.scrollTo(0, document.documentElement.scrollHeight)")
        expect(key, way).to_be_in_viewport(ratio=1)
