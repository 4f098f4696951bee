"""Jot knows where one stands, offers what can be meant, never more than there are, and says all that it wrote."""

from __future__ import annotations

from typing import Any

import pytest
from playwright.sync_api import expect

from tests.browser.phones import BETWEEN_TAPS_MS, Phone
from tests.cases import sampled


def jot(phone: Phone, verb: str) -> None:
    """The pot, then a verb's key."""
    phone.page.locator(".jot-pot").tap()
    tap_verb(phone, verb)


def tap_verb(phone: Phone, verb: str) -> None:
    expect(phone.page.locator(".verbs").first).to_be_visible()
    key = phone.page.locator(".verbs button", has_text=verb)
    if key.count() == 0:
        phone.page.locator(".verbs button", has_text="More").tap()
    key.first.tap()


def said(phone: Phone) -> Any:
    return phone.page.locator(".undo")


def in_room(phone: Phone, way: str) -> None:
    phone.go(way)
    expect(phone.page.get_by_role("button", name="Back", exact=True)).to_be_visible()


def test_from_a_bed_it_begins_there_and_asks_for_no_place(thumb: Phone) -> None:
    in_room(thumb, "place/place.tunnel.bed2")
    jot(thumb, "Weeded")
    expect(thumb.page.locator(".slip")).to_contain_text("Tunnel")
    thumb.page.get_by_role("button", name="Write it down").tap()
    expect(said(thumb)).to_contain_text("Written down: weeded bed 2")
    assert thumb.deeds("weed")[-1]["place"] == "place.tunnel.bed2"
    expect(thumb.page.get_by_role("heading", name="What stands here")).to_be_visible()


def test_from_plants_it_begins_with_them(thumb: Phone) -> None:
    in_room(thumb, "batch/batch.2031.tomato")
    thumb.page.locator(".jot-pot").tap()
    expect(thumb.page.locator(".slip")).to_contain_text("Tomatoes")
    tap_verb(thumb, "Lost some")
    expect(thumb.page.locator("h2.ask")).to_contain_text("How many tomatoes?")
    thumb.page.get_by_role("button", name="Write it down").tap()
    expect(said(thumb)).to_contain_text("Written down: lost 1 tomato")
    assert thumb.deeds("lose")[-1]["batch"] == "batch.2031.tomato"


@pytest.mark.only_looks
def test_from_a_job_it_begins_with_its_plants_and_its_verb_comes_first(thumb: Phone) -> None:
    thumb.row("Prick out 24 basil").locator(".txt").tap()
    expect(thumb.page.locator(".acts")).to_be_visible()
    thumb.page.locator(".jot-pot").tap()
    expect(thumb.page.locator(".verbs button").first).to_have_text("Pricked out")
    expect(thumb.page.locator(".slip")).to_contain_text("Basil")


@pytest.mark.only_looks
def test_one_may_be_elsewhere_all_the_same(thumb: Phone) -> None:
    in_room(thumb, "place/place.tunnel.bed2")
    thumb.page.locator(".jot-pot").tap()
    expect(thumb.page.locator(".slip")).to_contain_text("Tunnel, bed")
    thumb.page.locator(".slip button").nth(1).tap()
    expect(thumb.page.locator(".slip")).not_to_contain_text("Tunnel")
    tap_verb(thumb, "Weeded")
    expect(thumb.page.locator("h2.ask")).to_contain_text("Weeded where?")
    assert "Tunnel" in thumb.page.locator(".board .line").first.inner_text(), "what is near still comes first"


@pytest.mark.only_looks
def test_what_can_be_meant_is_sorted_and_found_by_typing(thumb: Phone) -> None:
    in_room(thumb, "place/place.tunnel")
    jot(thumb, "Picked")
    heads = thumb.page.locator("main h2.h")
    expect(heads.first).to_have_text("Here, Tunnel")
    assert heads.all_inner_texts() == [
        words for words in ["Here, Tunnel", "Due or bearing", "The rest"] if words in heads.all_inner_texts()
    ]
    first = thumb.page.locator(".board .line").first
    assert first.locator("b").inner_text() == "Carrots", "the crop in bold, before the variety"
    find = thumb.page.get_by_label("Find", exact=True)
    find.fill("parsn")
    expect(thumb.page.locator(".board .line")).to_have_count(1)
    expect(find).to_be_focused()
    find.fill("zzz")
    expect(thumb.page.locator(".board")).to_contain_text("called so")


@pytest.mark.only_looks
def test_numbers_offered_are_never_more_than_there_are(thumb: Phone) -> None:
    stand = thumb.page.evaluate(
        """async () => {
          const {standOf} = await moduleAt("kernel/stand");
          const {Settled} = await moduleAt("kernel/settle");
          const {openStore} = await moduleAt("store/indexed-db");
          const store = await openStore({device: "aaaaaaaa", now: Date.now});
          const settled = new Settled(await store.meta("rulebook"), await store.live(), "2031-05-19");
          await store.close();
          return standOf(settled).batches
            .filter((one) => one.state !== "over" && one.plants)
            .map(({id, plants}) => [id, plants]);
        }"""
    )
    assert len(stand) > 8
    for batch, plants in sampled(stand[:8], 2):
        for verb in ("lose", "train", "feed"):
            thumb.go(f"jot/{verb}/{batch}")
            expect(thumb.page.locator(".stepper")).to_be_visible()
            offered = thumb.page.evaluate(
                "() => [...document.querySelectorAll('.jumps.four .key')].map((key) => parseInt(key.textContent))"
            )
            assert all(number <= plants for number in offered), f"{verb} {batch}: {offered} of {plants}"
            more = thumb.page.get_by_role("button", name="How many: more")
            for _ in range(3):
                more.tap()
            begun = int(thumb.page.locator(".stepper input").input_value())
            assert begun <= max(plants, 1)


def test_more_than_the_book_knows_can_still_be_typed(thumb: Phone) -> None:
    thumb.go("jot/lose/batch.2031.tomato")
    thumb.page.locator(".stepper input").fill("400")
    thumb.page.get_by_role("button", name="Write it down").tap()
    expect(said(thumb)).to_contain_text("lost 400 tomatoes")


def test_what_is_drilled_is_sown_by_row_or_pinch(thumb: Phone) -> None:
    jot(thumb, "Sowed")
    thumb.page.get_by_label("Find", exact=True).fill("carrots")
    thumb.page.locator(".board .line").first.tap()
    expect(thumb.page.locator("h2.ask").first).to_contain_text("How much of the carrots?")
    assert not thumb.page.locator(".stepper").count()
    thumb.page.get_by_role("button", name="2 rows").tap()
    thumb.page.get_by_role("button", name="Write it down").tap()
    expect(said(thumb)).to_contain_text("Written down: sowed carrots")
    expect(said(thumb)).to_contain_text("2 rows")
    deed = thumb.deeds("sow")[-1]
    assert deed["rows"] == 2 and "count" not in deed
    thumb.go("diary")
    expect(thumb.page.locator(".entry", has_text="2 rows")).to_be_visible()


def test_a_sighting_offers_what_the_crop_can_have_and_is_said_in_full(thumb: Phone) -> None:
    jot(thumb, "Saw")
    thumb.page.get_by_label("Find", exact=True).fill("carrots")
    thumb.page.locator(".board .line").first.tap()
    can = thumb.page.locator(".board .sec b").all_inner_texts()
    hosts = thumb.page.evaluate(
        """async () => {
          const {care} = await (await fetch("/api/rulebook")).json();
          return Object.values(care).filter((one) => one.hosts.includes("carrot")).map((one) => one.name);
        }"""
    )
    assert sorted(can) == sorted(hosts) and 0 < len(can) < 12
    first = thumb.page.locator(".board").first
    assert first.locator(".sec").count() == min(3, len(can)), "the three most likely stand first"
    thumb.page.get_by_label(f"{can[0]}: many").tap()
    expect(said(thumb)).to_contain_text(f"Written down: saw many {can[0]} on carrots")


def test_something_else_is_told_in_words(thumb: Phone) -> None:
    thumb.go("jot/look/batch.2031.tomato")
    thumb.page.get_by_role("button", name="Something else").tap()
    thumb.page.get_by_role("button", name="Write it down").tap()
    expect(thumb.page.get_by_role("alert")).to_contain_text("Say in a word")
    thumb.page.locator("textarea").fill("silver streaks")
    thumb.page.wait_for_timeout(BETWEEN_TAPS_MS)
    thumb.page.get_by_role("button", name="Write it down").tap()
    expect(said(thumb)).to_contain_text("saw something else on tomatoes")
    expect(said(thumb)).to_contain_text("“silver streaks”")
    thumb.go("diary")
    expect(thumb.page.locator(".entry", has_text="Saw something else on tomatoes")).to_be_visible()


VERBS = ["A note", "Weeded", "Mulched", "Earthed up", "Pruned", "Covered", "Uncovered", "Vented"]


def test_the_work_that_is_not_planting_is_among_the_verbs(thumb: Phone) -> None:
    for verb in VERBS:
        thumb.go("round")
        jot(thumb, verb)
        if verb == "A note":
            thumb.page.locator("textarea").fill("a wren in the tunnel")
        else:
            thumb.page.locator(".board .line").first.tap()
        thumb.page.get_by_role("button", name="Write it down").tap()
        expect(said(thumb)).to_contain_text(f"Written down: {verb.lower()}")
    thumb.go("diary")
    for verb in VERBS:
        expect(thumb.page.locator(".entry b", has_text="Note" if verb == "A note" else verb).first).to_be_visible()
    assert not thumb.errors


@pytest.mark.only_looks
def test_the_phones_back_goes_back_by_questions(thumb: Phone) -> None:
    jot(thumb, "Picked")
    thumb.page.locator(".board .line").first.tap()
    expect(thumb.page.get_by_role("button", name="Write it down")).to_be_visible()
    thumb.page.go_back()
    expect(thumb.page.locator("h2.ask")).to_contain_text("which plants?")
    thumb.page.go_back()
    expect(thumb.page.locator(".verbs").first).to_be_visible()
    thumb.page.go_back()
    expect(thumb.page.locator(".timer")).to_be_visible()


def test_the_arrow_and_the_phones_back_do_not_quarrel(thumb: Phone) -> None:
    jot(thumb, "Picked")
    thumb.page.locator(".board .line").first.tap()
    thumb.page.get_by_role("button", name="Back").tap()
    expect(thumb.page.locator("h2.ask")).to_contain_text("which plants?")
    thumb.page.locator(".board .line").first.tap()
    thumb.page.get_by_role("button", name="Write it down").tap()
    expect(thumb.page.locator(".timer")).to_be_visible()
    thumb.page.get_by_role("link", name="Ground").tap()
    expect(thumb.page.get_by_role("heading", name="Ground")).to_be_visible()
    thumb.page.go_back()
    expect(thumb.page.locator(".timer")).to_be_visible()
