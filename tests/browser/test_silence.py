"""After weeks without a word: catching up, decisions, what lapsed and what could be begun, by touch and with no signal."""

from __future__ import annotations

from typing import Any

import pytest
from playwright.sync_api import expect

from tests.browser.phones import BETWEEN_TAPS_MS, Phone
from tests.browser.serving import LiveServer

SILENT_SINCE = "2031-04-14"


def hush(phone: Phone, server: LiveServer) -> None:
    """Take back whatever was told since a day: five weeks without a word."""
    told = [row["record"] for row in phone.kept()["records"] if row["record"]["kind"] == "diary"]
    late = [record["id"] for record in told if record["fields"].get("on", "") > SILENT_SINCE]
    for start in range(0, len(late), 150):
        some = late[start : start + 150]
        changes = [
            {
                "id": id_,
                "kind": "diary",
                "stamp": f"{1_940_000_000_000 + start + at:012x}-0000-abcdefgh",
                "fields": {"gone": True},
            }
            for at, id_ in enumerate(some)
        ]
        server.push(changes)
    phone.share()


@pytest.mark.every_size
def test_five_weeks_are_caught_up_with_no_signal_and_taken_back_as_one(thumb: Phone, server: LiveServer) -> None:
    hush(thumb, server)
    page = thumb.page
    slip = page.get_by_role("button", name="Catch up")
    expect(slip).to_contain_text("No word since 14 April")
    expect(page.locator(".lab").first).to_be_visible()
    thumb.context.set_offline(True)
    slip.tap()
    lines = page.locator(".believed")
    expect(lines.first).to_be_visible()
    many = lines.count()
    assert many > 10
    chilli = page.locator('[data-batch="batch.2031.chilli"]')
    expect(chilli).to_contain_text("12 chillies")
    before = len(thumb.deeds())
    chilli.get_by_role("button", name="That's so").tap()
    expect(chilli).to_have_count(0)
    expect(page.locator(".undo")).to_contain_text("Written down: 12 chillies: ")
    wrote = thumb.deeds()[before:]
    assert wrote and all(deed["about"] == "2031-05-19" and deed["on"] < "2031-05-19" for deed in wrote)
    page.wait_for_timeout(BETWEEN_TAPS_MS)
    page.locator(".undo").get_by_role("button", name="Undo").tap()
    expect(chilli).to_be_visible()
    assert len(thumb.deeds()) == before
    over = page.evaluate("() => document.documentElement.scrollWidth - innerWidth")
    assert over <= 0
    thumb.context.set_offline(False)


def test_a_line_may_be_told_for_another_day_or_otherwise(thumb: Phone, server: LiveServer) -> None:
    hush(thumb, server)
    page = thumb.page
    page.get_by_role("button", name="Catch up").tap()
    chilli = page.locator('[data-batch="batch.2031.chilli"]')
    chilli.locator("input[type=date]").fill("2031-04-29")
    chilli.get_by_role("button", name="That's so").tap()
    expect(chilli).to_have_count(0)
    assert "2031-04-29" in [deed["on"] for deed in thumb.deeds() if deed.get("about")]
    page.wait_for_timeout(BETWEEN_TAPS_MS)
    other = page.locator(".believed").first
    batch = other.get_attribute("data-batch")
    other.get_by_role("button", name="All gone").tap()
    expect(page.locator(f'[data-batch="{batch}"]')).to_have_count(0)
    assert thumb.deeds("lose")[-1]["batch"] == batch


def fold(phone: Phone, words: str) -> Any:
    """A fold of the Round, opened."""
    head = phone.page.get_by_role("button", name=words)
    head.tap()
    return head


def test_what_lapsed_is_told_and_taken_back(thumb: Phone, server: LiveServer) -> None:
    hush(thumb, server)
    fold(thumb, "lapsed")
    row = thumb.page.locator(".lab", has_text="nobody told of it").first
    expect(row).to_contain_text("by the calendar")
    job = row.get_attribute("data-job")
    row.locator(".well").tap()
    thumb.page.get_by_role("button", name="Still to do").tap()
    expect(thumb.page.locator(".undo")).to_contain_text("Still to do: ")
    assert job in [one["id"] for one in thumb.jobs("2031-05-19") if one["state"] in ("ready", "waiting", "early", "later")]


def test_a_decision_is_answered_and_taken_back(thumb: Phone) -> None:
    page = thumb.page
    row = thumb.row("Decide on stems for sweet peppers")
    row.locator(".well").tap()
    page.get_by_role("button", name="Two stems").tap()
    expect(page.locator(".undo")).to_contain_text("Two stems")
    deed = thumb.deeds("decide")[-1]
    assert deed["answer"] == "two" and deed["job"] == "batch.2031.pepper.stems"
    page.wait_for_timeout(BETWEEN_TAPS_MS)
    page.locator(".undo").get_by_role("button", name="Undo").tap()
    expect(thumb.row("Decide on stems for sweet peppers")).to_be_visible()
    assert "batch.2031.pepper" not in [deed["batch"] for deed in thumb.deeds("decide")]


def test_spares_ask_where_they_go(thumb: Phone) -> None:
    page = thumb.page
    fold(thumb, "spare plants")
    thumb.row("spare sweetcorn").locator(".well").tap()
    page.get_by_role("button", name="Given away").tap()
    expect(page.locator(".undo")).to_contain_text("Given away")
    deed = thumb.deeds("lose")[-1]
    assert deed["answer"] == "given" and deed["count"] == 4


def test_seedlings_are_told_all_some_or_none(thumb: Phone, server: LiveServer) -> None:
    told = {"batch": "batch.2031.basil", "on": "2031-05-19", "did": "sow", "count": 30}
    server.push([{"id": "again", "kind": "diary", "stamp": f"{1_940_000_000_000:012x}-0000-abcdefgh", "fields": told}])
    thumb.share()
    jobs = [job for job in thumb.jobs("2031-05-19") if job["verb"] == "emerge" and job["state"] in ("ready", "later")]
    assert jobs and [way["say"] for way in jobs[0]["ways"]] == ["All up", "Some", "None"]
    thumb.go(f"job/{jobs[0]['id']}")
    if jobs[0]["state"] == "ready":
        thumb.page.get_by_role("button", name="Some", exact=True).tap()
        thumb.page.get_by_role("button", name="Write it down").tap()
        expect(thumb.page.locator(".undo")).to_contain_text("Some, ")


def test_what_could_be_begun_stands_by_itself(thumb: Phone, server: LiveServer) -> None:
    stamp = f"{1_940_000_000_000:012x}-0000-abcdefgh"
    batch = {"variety": "v.swede", "year": 2031, "want": 20, "for_place": "place.top.1"}
    server.push(
        [
            {"id": "v.swede", "kind": "variety", "stamp": stamp, "fields": {"name": "Old Purple", "crop": "swede"}},
            {"id": "b.swede", "kind": "batch", "stamp": stamp, "fields": batch},
        ]
    )
    thumb.share()
    fold(thumb, "could be begun")
    expect(thumb.row("swedes")).to_contain_text("best 2 June")


def test_a_decision_is_written_by_hand_with_answers_of_its_own(thumb: Phone) -> None:
    page = thumb.page
    thumb.go("form/job/new")
    page.get_by_label("What is to be done").fill("Which bed for the leeks")
    page.get_by_label("To be decided: the answers").fill("Bed 3\n\nBed 4 ")
    page.get_by_role("button", name="Write it down").tap()
    expect(page.locator(".undo")).to_contain_text("Written down")
    thumb.go("round")
    thumb.row("Which bed for the leeks").locator(".well").tap()
    page.get_by_role("button", name="Bed 4").tap()
    expect(page.locator(".undo")).to_contain_text("Bed 4")
    assert thumb.deeds("decide")[-1]["answer"] == "Bed 4"
    expect(page.locator(".lab.done", has_text="Which bed for the leeks")).to_be_visible()


@pytest.mark.only_looks
def test_one_answer_alone_is_refused_at_its_field(thumb: Phone) -> None:
    page = thumb.page
    thumb.go("form/job/new")
    page.get_by_label("What is to be done").fill("Which bed for the leeks")
    page.get_by_label("To be decided: the answers").fill("Bed 3")
    page.get_by_role("button", name="Write it down").tap()
    expect(page.locator(".bad:visible")).to_have_text("Give 2 to 6 lines.")


def test_what_still_gives_is_not_cleared_by_a_tick(thumb: Phone) -> None:
    page = thumb.page
    row = thumb.row("Clear lettuces")
    row.locator(".well").tap()
    page.get_by_role("button", name="It still gives").tap()
    expect(page.locator(".undo")).to_contain_text("It still gives")
    thumb.go("round")
    expect(page.locator(".lab:not(.done)", has_text="Clear lettuces")).to_have_count(0)
    assert "batch.2031.lettuce1" not in [deed["batch"] for deed in thumb.deeds("clear")]
