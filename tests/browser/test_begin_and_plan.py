"""First run in three questions, a batch planned before it is in the book, and plants that grow already."""

from __future__ import annotations

import re
from collections.abc import Callable
from typing import Any

import pytest
from playwright.sync_api import expect

from tests.browser.phones import Phone
from tests.browser.serving import LiveServer

SIZES = [(360, 640), (390, 844)]


def records(phone: Phone, kind: str) -> list[dict[str, Any]]:
    return [row["record"]["fields"] for row in phone.kept()["records"] if row["record"]["kind"] == kind]


def test_three_questions_bring_a_plan(empty: LiveServer, phones: Callable[..., Phone]) -> None:
    phone = phones(empty.url).open()
    page = phone.page
    page.get_by_role("button", name="Begin").click()
    page.get_by_label("Find a region").fill("midlands")
    page.locator(".board .line", has_text="English midlands").click()
    expect(page.locator(".undo")).to_contain_text("You grow in: English midlands.")
    page.get_by_role("button", name="On to the places").click()
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


def begun(server: LiveServer, phones: Callable[..., Phone], **more: Any) -> Phone:
    """A phone at the first question."""
    phone = phones(server.url, **more).open()
    phone.page.get_by_role("button", name="Begin").click()
    expect(phone.page.locator(".board .line").first).to_be_visible()
    return phone


@pytest.mark.parametrize("size", SIZES, ids=str)
def test_where_is_the_phones_own_place_and_what_was_assumed_can_be_changed(
    empty: LiveServer, phones: Callable[..., Phone], size: tuple[int, int]
) -> None:
    spot = {"latitude": 51.45, "longitude": -2.6}
    phone = begun(empty, phones, geolocation=spot, permissions=["geolocation"], timezone_id="Europe/London")
    page = phone.page
    page.set_viewport_size({"width": size[0], "height": size[1]})
    page.get_by_role("button", name="Where this phone is").click()
    # great circles from Bristol: Cardiff is some 40 km off, nearer than any other of the names
    expect(page.locator(".undo")).to_contain_text("The nearest climate: South Wales, about Cardiff.")
    (site,) = records(phone, "site")
    assert (site["lat"], site["lon"], site["tz"]) == (51.45, -2.6, "Europe/London")
    assert len(site["normals"]) == 12 and site["last_frost"]
    page.locator("summary", has_text="What we assumed").click()
    rows = page.locator("details .line")
    expect(rows.first).to_be_visible()  # what is not drawn yet gives its words in one
    assert [words.split("\n")[0] for words in rows.all_inner_texts()] == [
        "Nights and heat of the months", "Last frost", "First frost", "Light", "Time",
    ]  # fmt: skip
    expect(rows.first).to_contain_text("Source: Met Office")
    rows.nth(1).click()
    page.get_by_label("Last frost of spring").fill("20 April")
    page.get_by_role("button", name="Change it").click()
    expect(rows.nth(1)).to_contain_text("20 April")


def test_where_is_typed_and_far_from_any_name_is_said(empty: LiveServer, phones: Callable[..., Phone]) -> None:
    phone = begun(empty, phones)
    page = phone.page
    page.locator("summary", has_text="By latitude and longitude").click()
    page.get_by_role("button", name="The climate nearest to that").click()
    expect(page.locator("main")).to_contain_text("Give degrees north")
    page.get_by_label("Degrees north").fill("-42,9")
    page.get_by_label("Degrees east").fill("147.3")
    page.get_by_role("button", name="The climate nearest to that").click()
    expect(page.locator(".undo")).to_contain_text("Hobart")
    page.locator(".undo").get_by_role("button", name="Undo").click()
    expect(page.get_by_role("button", name="Where this phone is")).to_be_visible()


@pytest.mark.parametrize("size", SIZES, ids=str)
def test_where_each_crop_stands_is_asked_and_never_left_out_unsaid(
    empty: LiveServer, phones: Callable[..., Phone], size: tuple[int, int]
) -> None:
    phone = begun(empty, phones)
    page = phone.page
    page.set_viewport_size({"width": size[0], "height": size[1]})
    page.get_by_role("button", name="3. What grows").click()
    page.get_by_role("button", name="kale", exact=True).click()
    page.get_by_role("button", name="Put this batch in the book").click()
    expect(page.get_by_role("alert")).to_contain_text("Where are they to stand: kale? Choose a place")
    assert records(phone, "batch") == []
    page.get_by_role("button", name="2. Places").click()
    page.get_by_role("button", name="Open beds", exact=True).click()
    expect(page.locator(".lab svg")).to_be_visible()
    page.get_by_role("button", name="Add it").click()
    expect(page.locator(".line", has_text="Open beds")).to_be_visible()
    page.get_by_role("button", name="3. What grows").click()
    where = page.get_by_label("Where the kale stand")
    assert where.locator("option:checked").inner_text().startswith("Open beds")
    where.select_option(label="Open beds, bed 3")
    page.get_by_role("button", name="Put this batch in the book").click()
    expect(page.locator(".batch-row")).to_contain_text("bed 3")
    (batch,) = records(phone, "batch")
    (bed,) = [row["record"] for row in phone.kept()["records"] if row["record"]["fields"].get("name") == "bed 3"]
    assert batch["for_place"] == bed["id"]


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


def test_where_summers_are_hot_the_time_of_the_year_is_chosen(empty: LiveServer, phones: Callable[..., Phone]) -> None:
    """NC State Extension, central North Carolina: lettuce in spring and again from August; from memory."""
    phone = begun(empty, phones)
    page = phone.page
    page.get_by_label("Find a region").fill("raleigh")
    page.locator(".board .line").first.click()
    expect(page.locator(".undo")).to_contain_text("You grow in")
    phone.until(
        "async () => { const {openStore} = await import('/scripts/store/indexed-db.js');"
        " const store = await openStore({device: 'aaaaaaaa', now: Date.now}); const book = await store.meta('rulebook');"
        " await store.close(); return book.crops.lettuce.turns.length > 0; }"
    )
    phone.go("plan")
    page.get_by_label("Which crop").select_option("lettuce")
    begins = page.get_by_role("group", name="Begun")
    expect(begins.get_by_role("button")).to_have_count(2)
    keys = begins.get_by_role("button")
    expect(keys.first).to_have_attribute("aria-pressed", "true")  # the one that comes next
    plan = page.get_by_role("region", name="The plan")
    keys.filter(has_text=re.compile("to .*(March|April)")).click()
    expect(plan).to_contain_text(re.compile(r"Sow\s\d+\slettuces in modules: \d+\s(February|March)"))
    keys.filter(has_text=re.compile("to .*(August|September)")).click()
    expect(plan).to_contain_text(re.compile(r"Sow\s\d+\slettuces in modules: \d+\s(July|August)"))
    page.get_by_role("button", name="Put it in the book").click()
    expect(page.get_by_role("heading", name="lettuces")).to_be_visible()
    (batch,) = records(phone, "batch")
    assert batch["turn"] == 1


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
