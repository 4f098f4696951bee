"""The other work, the store, bought plants and saved seed, as they are chosen and told on a phone."""

from __future__ import annotations

import re
from typing import Any

import pytest
from playwright.sync_api import expect

from tests.browser.phones import Phone
from tests.browser.serving import LiveServer

MULCH = "upkeep.mulch_bed.place.top.bed1"


def fields_of(phone: Phone, id_: str) -> dict[str, Any]:
    (record,) = [row["record"] for row in phone.kept()["records"] if row["record"]["id"] == id_]
    fields: dict[str, Any] = record["fields"]
    return fields


def said(phone: Phone, words: str) -> None:
    expect(phone.page.locator(".undo")).to_contain_text(words)


def test_work_that_is_chosen_with_no_server_is_on_the_list_after_all_that_presses(phone: Phone, server: LiveServer) -> None:
    page = phone.page
    phone.go("shed")
    page.get_by_role("button", name=re.compile("^Other work")).click()  # not the fold of the Round, which is leaving
    expect(page.get_by_role("button", name="Mulch bare ground")).to_be_visible()
    server.kill()
    page.get_by_role("button", name="Mulch bare ground").click()
    key = page.get_by_role("group", name="Top beds").get_by_role("button", name="bed 1")
    expect(key).to_have_attribute("aria-pressed", "false")
    key.click()
    said(phone, "On the list: bed 1")
    expect(key).to_have_attribute("aria-pressed", "true")
    assert fields_of(phone, MULCH) == {"work": "mulch_bed", "place": "place.top.bed1", "since": "2031-05-19", "gone": False}
    phone.go("round")
    page.get_by_text("of the other work").click()
    expect(phone.row("Mulch bed 1")).to_be_visible()
    phone.go("upkeep/mulch_bed")
    page.get_by_role("group", name="Top beds").get_by_role("button", name="bed 1").click()
    said(phone, "Not on the list any more")
    assert fields_of(phone, MULCH)["gone"] is True


@pytest.mark.only_looks
def test_what_nobody_chose_is_not_on_the_list(phone: Phone) -> None:
    assert not [job for job in phone.jobs("2031-05-19") if job["id"].startswith("upkeep.mulch_bed")]
    assert [job for job in phone.jobs("2031-05-19") if job["id"].startswith("upkeep.weed")]


def test_lime_is_worked_out_from_soil_and_test(phone: Phone) -> None:
    page = phone.page
    phone.go("upkeep/lime")
    page.get_by_role("button", name="Clay").click()
    page.get_by_role("textbox", name="pH of bed 2").fill("5.6")
    phone.until(
        "async () => { const {openStore} = await import('/scripts/store/indexed-db.js');"
        " const store = await openStore({device: 'aaaaaaaa', now: Date.now});"
        " const all = await store.all(); await store.close();"
        " const found = all.find((one) => one.id === 'upkeep.lime.place.top.bed2').fields;"
        " return found.soil === 'clay' && found.ph_tenths === 56; }"
    )
    (lime,) = [job for job in phone.jobs("2031-11-20") if job["id"] == "upkeep.lime.place.top.bed2"]
    needs = [(need["amount"], need["unit"]) for need in lime["needs"]]
    assert needs == [(10_800, "g")], "0.9 of pH at 8 t/ha: 720 g a square metre on 15"


def test_what_is_picked_goes_into_the_cellar_by_weight_and_is_used_from_there(phone: Phone) -> None:
    page = phone.page
    phone.go("jot/pick/batch.2031.carrot_early")
    page.get_by_role("button", name="Weigh").click()
    page.get_by_role("button", name="Into Cellar").click()
    page.get_by_label("Grams", exact=True).last.fill("2400")
    page.get_by_role("button", name="Write it down").click()
    said(phone, "2.4 kg")
    assert phone.deeds("pick")[-1]["to_place"] == "place.cellar"
    phone.go("place/place.cellar")
    expect(page.get_by_text("2.4 kg carrots")).to_be_visible()
    phone.go("jot/use/batch.2031.carrot_early")
    page.get_by_label("Grams", exact=True).last.fill("900")
    page.get_by_role("button", name="Write it down").click()
    said(phone, "Written down: used")
    phone.go("place/place.cellar")
    expect(page.get_by_text("1.5 kg carrots")).to_be_visible()


def test_plants_that_are_bought_are_ordered_and_never_sown(phone: Phone) -> None:
    page = phone.page
    phone.go("plan/crop=celeriac")
    page.get_by_role("group", name="Raised from").get_by_role("button", name="Plants to buy").click()
    plan = page.get_by_role("region", name="The plan")
    expect(plan).to_contain_text("Order")
    expect(plan).not_to_contain_text("Sow ")
    page.get_by_label("Where they end").select_option("place.top.bed1")
    page.get_by_role("button", name="Put it in the book").click()
    said(phone, "In the book")
    (batch,) = [row["record"]["fields"] for row in phone.kept()["records"] if row["record"]["fields"].get("begins")]
    assert batch["begins"] == "plants"
    assert [job for job in phone.jobs("2031-05-19") if job["verb"] == "order" and "celeriac" in job["title"]]


def test_some_are_left_for_seed_with_one_tap_and_undone_with_another(phone: Phone) -> None:
    page = phone.page
    phone.go("batch/batch.2031.tomato")
    key = page.get_by_role("button", name="Some left for seed")
    key.click()
    said(phone, "left for seed")
    expect(key).to_have_attribute("aria-pressed", "true")
    expect(page.get_by_text("Gather seed of tomatoes")).to_be_visible()
    key.click()
    expect(key).to_have_attribute("aria-pressed", "false")
    expect(page.get_by_text("Gather seed of tomatoes")).to_have_count(0)


def test_a_sowing_that_no_plan_knew_makes_its_batch(phone: Phone) -> None:
    page = phone.page
    phone.go("jot/sow")
    page.get_by_role("button", name="Something no plan knows").click()
    page.get_by_label("Which crop").select_option("radish")
    stage = page.get_by_role("group", name="Stage").get_by_role("button", name="sown")
    expect(stage).to_have_attribute("aria-pressed", "true")
    page.get_by_label("Where they stand").select_option("place.top.bed3")
    page.get_by_role("button", name="Write it down").click()
    said(phone, "In the book")
    sown = phone.deeds("sow")[-1]
    assert (sown["on"], sown["to_place"]) == ("2031-05-19", "place.top.bed3")
    assert fields_of(phone, sown["batch"])["for_place"] == "place.top.bed3"


def test_its_rhythm_can_be_the_households_own(phone: Phone) -> None:
    page = phone.page
    phone.go("upkeep/turn_heap")
    page.get_by_role("button", name="Days until it comes again: more").click()
    expect(page.get_by_text("days, your own")).to_be_visible()
    assert fields_of(phone, "upkeep.turn_heap")["every_days"] == 43
    page.get_by_role("button", name="As the calendar has it").click()
    expect(page.get_by_text("days, at the soonest")).to_be_visible()
    assert fields_of(phone, "upkeep.turn_heap")["every_days"] is None
