"""Ten everyday tasks, by touch, with their taps counted; none has an error that is not said."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

import pytest
from playwright.sync_api import Locator, expect

from tests.browser.phones import BETWEEN_TAPS_MS, Phone


class Thumb:
    """Taps, counted. Typing is none."""

    def __init__(self, phone: Phone) -> None:
        self.phone = phone
        self.page = phone.page
        self.taps = 0

    def tap(self, what: Locator) -> None:
        self.page.wait_for_timeout(BETWEEN_TAPS_MS)
        what.first.tap()
        self.taps += 1

    def key(self, words: str) -> None:
        self.tap(self.page.get_by_role("button", name=words))

    def row(self, words: str) -> None:
        self.tap(self.phone.row(words).locator(".txt"))

    def jot(self, verb: str) -> None:
        self.tap(self.page.locator(".jot-pot"))
        expect(self.page.locator(".verbs").first).to_be_visible()
        key = self.page.locator(".verbs button", has_text=verb)
        if not key.count():
            self.tap(self.page.locator(".verbs button", has_text="More"))
        self.tap(key)

    def line(self, words: str) -> None:
        self.tap(self.page.locator(".line", has_text=words))

    def said(self, words: str) -> None:
        expect(self.page.locator(".undo")).to_contain_text(words)


@pytest.fixture
def tapping(thumb: Phone) -> Thumb:
    """A thumb on the Round."""
    return Thumb(thumb)


def last(thumb: Thumb, did: str) -> dict[str, Any]:
    return thumb.phone.deeds(did)[-1]


def tick(thumb: Thumb) -> None:
    thumb.tap(thumb.phone.row("Prick out 24").locator(".well"))
    thumb.said("Written down: Prick out 24 basil")


def nine_of_fifteen(thumb: Thumb) -> None:
    thumb.row("Plant 15 celeriac")
    thumb.key("Only some")
    thumb.tap(thumb.page.get_by_role("button", name="Done, 9 of 15"))
    thumb.said("9 of 15")
    assert last(thumb, "plant_out")["count"] == 9


def undo(thumb: Thumb) -> None:
    tick(thumb)
    thumb.taps = 0
    thumb.tap(thumb.page.locator(".undo").get_by_role("button", name="Undo"))
    thumb.said("Taken back: Prick out 24 basil")


def put_off(thumb: Thumb) -> None:
    thumb.row("Harden off leeks")
    thumb.key("Put off to tomorrow")
    thumb.said("Put off to Tuesday 20 May")


def sown(thumb: Thumb) -> None:
    thumb.row("Sow 25 French beans")
    thumb.tap(thumb.page.locator(".acts .key.done"))
    thumb.said("Written down: Sow 25 French beans")
    assert last(thumb, "sow")["count"] == 25


def potted_12(thumb: Thumb) -> None:
    thumb.row("Pot up 16 sweet peppers")
    thumb.key("Only some")
    thumb.tap(thumb.page.get_by_role("button", name="Done, 12 of 16"))
    assert last(thumb, "pot_up")["count"] == 12


def planted_6(thumb: Thumb) -> None:
    thumb.row("Plant 12 chillies")
    thumb.key("Only some")
    thumb.tap(thumb.page.get_by_role("button", name="Done, 6 of 12"))
    thumb.said("6 of 12")


def aphids_many(thumb: Thumb) -> None:
    thumb.jot("Saw")
    thumb.line("Tomatoes")
    thumb.tap(thumb.page.get_by_label("aphids: many"))
    thumb.said("saw many aphids on tomatoes")


def picked_a_weight(thumb: Thumb) -> None:
    """What was weighed last time is asked for by weight."""
    thumb.phone.go("batch/batch.2031.carrot_early")
    expect(thumb.page.get_by_role("heading", name="So far")).to_be_visible()
    thumb.jot("Picked")
    if not thumb.page.get_by_label("Grams", exact=True).count():
        thumb.key("Weigh")
    thumb.page.get_by_label("Grams", exact=True).last.fill("2.3 kg")
    thumb.key("Write it down")
    thumb.said("2.3 kg")
    assert last(thumb, "pick")["weight_g"] == 2300


def what_is_in_the_way(thumb: Thumb) -> None:
    thumb.row("Take down the trestle")
    thumb.tap(thumb.page.locator(".block .t"))
    expect(thumb.page.locator("h1.big")).to_contain_text("Decide on")


TASKS: list[tuple[Callable[[Thumb], None], int]] = [
    (undo, 1), (tick, 1), (nine_of_fifteen, 3), (put_off, 2), (sown, 2), (potted_12, 4), (planted_6, 4), (aphids_many, 4),
    (picked_a_weight, 4), (what_is_in_the_way, 2),
]  # fmt: skip


def test_a_task_takes_few_taps(tapping: Thumb) -> None:
    for task, most in TASKS:
        tapping.phone.go("round")
        tapping.taps = 0
        task(tapping)
        assert tapping.taps <= most, (task.__name__, tapping.taps)
        assert tapping.phone.errors == [] and not tapping.page.locator("[role=alert]:visible").count(), task.__name__
