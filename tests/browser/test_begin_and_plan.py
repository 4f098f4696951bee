"""First run in three questions, a batch planned before it is in the book, and plants that grow already."""

from __future__ import annotations

import re
from collections.abc import Callable

from playwright.sync_api import expect

from tests.browser.phones import Phone
from tests.browser.serving import LiveServer


def records(phone: Phone, kind: str) -> list[dict[str, object]]:
    return [row["record"]["fields"] for row in phone.kept()["records"] if row["record"]["kind"] == kind]


def test_three_questions_bring_a_plan(empty: LiveServer, phones: Callable[..., Phone]) -> None:
    phone = phones(empty.url).open()
    page = phone.page
    page.get_by_role("button", name="Begin").click()
    page.get_by_role("button", name="Say where").click()
    page.get_by_role("button", name="A climate like mine").click()
    page.locator(".board .line").first.click()
    page.get_by_role("button", name="Write it down").click()
    page.get_by_role("button", name="2. Places").click()
    for name in ("Tunnel", "Open beds", "Propagator"):
        page.get_by_role("button", name=name, exact=True).click()
        page.get_by_role("button", name="Add it").click()
        expect(page.locator(".line", has_text=name)).to_be_visible()
    places = records(phone, "place")
    assert len(places) == 3 + 3 + 4 + 1
    assert {one["cover"] for one in places if one["sort"] == "house"} == {"tunnel", "open", "indoors"}
    page.get_by_role("button", name="3. What grows").click()
    for name in ("tomatoes", "kale"):
        page.get_by_role("button", name=name, exact=True).click()
    expect(page.locator(".entry", has_text=re.compile(r"Sow\s\d+\stomatoes"))).to_contain_text("picking from")
    assert records(phone, "batch") == [], "the plan stands there before anything is written"
    page.get_by_role("button", name="Put these 2 in the book").click()
    expect(page.locator(".batch-row")).to_have_count(2)
    by_crop = {one["name"]: one for one in records(phone, "variety")}
    assert set(by_crop) == {"Tomatoes", "Kale"}
    page.get_by_role("button", name="Undo").click()
    expect(page.locator(".batch-row")).to_have_count(0)


def test_batch_is_planned_with_no_signal_and_then_in_the_book(fresh_phone: Phone) -> None:
    phone = fresh_phone
    page = phone.worker_ready().page
    phone.context.set_offline(True)
    phone.go("plan")
    page.get_by_label("Which crop").select_option("tomato")
    page.get_by_label("Where they end").select_option(label="Tunnel, bed 3")
    plan = page.get_by_role("region", name="The plan")
    # Source: binomial, scipy.stats.binom.sf(5, 11, 0.75) = 0.966 and sf(5, 10, 0.75) = 0.922
    expect(plan).to_contain_text("11 seeds, so that 6 plants come with 95 % certainty where 75 in 100 come up")
    expect(plan.locator("summary", has_text="Plant 6 tomatoes in bed 3")).to_be_visible()
    expect(plan.locator("summary", has_text="Pick tomatoes")).to_be_visible()
    page.get_by_role("button", name="Plants wanted: more").click()
    expect(plan).to_contain_text("so that 7 plants come")
    page.get_by_label("Your own day for the first step").fill("2031-12-20")
    page.get_by_label("Your own day for the first step").dispatch_event("change")
    # common practice: tomatoes sown before midwinter for an unheated tunnel are pot-bound long before they can be planted
    expect(plan).to_contain_text(re.compile(r"\d+\sdays too early: the plants would be ready long before they can go out"))
    before = len(records(phone, "batch"))
    page.get_by_role("button", name="Put it in the book").click()
    expect(page.get_by_role("heading", name="tomatoes")).to_be_visible()
    batches = records(phone, "batch")
    assert len(batches) == before + 1
    assert any(one.get("sow_on") == "2031-12-20" and one["year"] == 2032 and one["want"] == 7 for one in batches)


def test_plants_that_grow_already_are_put_in_as_they_stand(empty: LiveServer, phones: Callable[..., Phone]) -> None:
    tunnel = {"name": "Tunnel", "sort": "house", "cover": "tunnel", "walk": 1}
    empty.push([{"id": "tunnel", "kind": "place", "stamp": "0190a0000000-0000-abcdefgh", "fields": tunnel}])
    phone = phones(empty.url).open()
    phone.page.wait_for_function("() => document.querySelector('.head .soft')?.textContent.startsWith('all shared')")
    page = phone.page
    phone.go("plan/mode=growing")
    today = page.evaluate("() => new Intl.DateTimeFormat('sv-SE').format(new Date())")
    page.get_by_label("Which crop").select_option("chilli")
    page.get_by_role("button", name="potted up").click()
    page.get_by_role("button", name="1 L", exact=True).click()
    page.get_by_label("Where they stand").select_option(label="Tunnel")
    page.get_by_role("button", name="Write it down").click()
    expect(page.get_by_text("1 batch put in so far.")).to_be_visible()
    (deed,) = records(phone, "diary")
    assert (deed["did"], deed["count"], deed["pot_l"], deed["on"]) == ("pot_up", 6, 1, today)
    phone.go("round")
    page.wait_for_function("() => document.querySelector('.head .soft')?.textContent.startsWith('all shared')")
    jobs = empty.get_json("/api/jobs")["jobs"]
    assert any(job["verb"] in ("harden_off", "plant_out") for job in jobs), "the list is right from there"
    assert not [job for job in jobs if job["verb"] in ("sow", "prick_out", "pot_up") and job["state"] != "done"], (
        "nothing is asked of the past"
    )
