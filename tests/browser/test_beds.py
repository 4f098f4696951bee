"""A bed on the phone: drawn to scale, looked at on any day, planted closer or wider, and what comes next in it."""

from __future__ import annotations

import re
from typing import Any

import pytest
from playwright.sync_api import expect

from tests.browser.phones import POLL_MS, Phone
from tests.browser.serving import LiveServer


def fields_of(phone: Phone, id_: str) -> dict[str, Any]:
    (row,) = [row["record"] for row in phone.kept()["records"] if row["record"]["id"] == id_]
    fields: dict[str, Any] = row["fields"]
    return fields


def test_a_bed_is_drawn_plant_by_plant_with_no_server_and_read_off_a_tape(phone: Phone, server: LiveServer) -> None:
    """Fourteen tomatoes 53 cm apart in two rows of a bed 1.2 m wide: the first at half of that, rows at a quarter."""
    page = phone.page
    phone.go("place/place.tunnel.bed3")
    plan = page.get_by_role("img", name=re.compile("The bed from above"))
    expect(plan).to_be_visible()
    server.kill()
    phone.go("place/place.tunnel.bed4")
    expect(page.get_by_role("heading", name="bed 4")).to_be_attached()
    phone.go("place/place.tunnel.bed3")
    expect(plan.locator("circle")).to_have_count(14)
    expect(page.get_by_role("button", name=re.compile("14.tomatoes.*53.cm apart"))).to_be_visible()
    page.get_by_text("Read off the tape").click()
    expect(page.get_by_text("Rows 30, 90", exact=False)).to_be_visible()
    expect(page.get_by_text(re.compile("Plants at 27, 80, 133, 186, 239, 292, 345"))).to_be_visible()


@pytest.mark.only_looks
def test_time_can_be_moved_a_week_a_year_and_back(phone: Phone) -> None:
    page = phone.page
    phone.go("place/place.tunnel.bed2")
    when = page.locator(".bed-time [role=status]")
    expect(when).to_have_text("as it stands today")
    for _ in range(7):
        page.get_by_role("button", name="A week later").click()
    expect(when).to_have_text(re.compile("as expected, 7.July"))
    expect(page.get_by_role("button", name=re.compile("4.cucumbers"))).to_be_visible()
    expect(page.get_by_role("button", name=re.compile("20.basil"))).to_be_visible()
    page.get_by_role("button", name="The year before").click()
    expect(when).to_have_text(re.compile("as it was, 7.July 2030"))
    expect(page.get_by_role("button", name=re.compile("12.tomatoes"))).to_be_visible()
    page.get_by_role("button", name="Back to today").click()
    expect(when).to_have_text("as it stands today")


def test_one_tap_says_how_close_and_can_be_taken_back(phone: Phone, server: LiveServer) -> None:
    page = phone.page
    phone.go("place/place.tunnel.bed4")
    group = page.get_by_role("group", name="How close")
    expect(group).to_be_visible()
    was = fields_of(phone, "batch.2031.melon")
    server.kill()
    way = group.get_by_role("button").first
    words = way.locator("b").inner_text()
    way.click()
    expect(page.locator(".undo")).to_contain_text("so it is planned")
    cm = float(words.split("at ")[1].split("\u00a0")[0])
    assert fields_of(phone, "batch.2031.melon")["spacing_cm"] == cm
    expect(group.get_by_role("button", pressed=True)).to_contain_text(words)
    page.get_by_role("button", name="Undo").click()
    phone.until(
        "async (cm) => { const {openStore} = await moduleAt('store/indexed-db');"
        " const store = await openStore({device: 'aaaaaaaa', now: Date.now});"
        " const all = await store.all(); await store.close();"
        " return all.find((one) => one.id === 'batch.2031.melon').fields.spacing_cm === cm; }",
        was["spacing_cm"],
    )


@pytest.mark.only_looks
def test_what_ripens_in_a_gap_is_planned_with_its_day(phone: Phone) -> None:
    page = phone.page
    phone.go("place/place.tunnel.bed1")
    next_ = page.get_by_role("region", name="What comes next here")
    next_.get_by_role("button", name=re.compile("^Free from 19.May")).click()
    radish = next_.get_by_role("button", name=re.compile("^Radishes"))
    expect(radish).to_contain_text("picked from")
    radish.click()
    expect(page.get_by_label("Which crop")).to_have_value("radish")
    expect(page.get_by_label("Where they end")).to_have_value("place.tunnel.bed1")
    expect(page.get_by_label("Your own day for the first step")).to_have_value("2031-05-19")


def test_a_family_that_comes_back_is_cautioned_and_never_barred(phone: Phone) -> None:
    page = phone.page
    phone.go("plan")
    page.get_by_label("Which crop").select_option("potato")
    page.get_by_label("Where they end").select_option("place.top.bed4")
    expect(page.get_by_text(re.compile("of the same family .Potato family., stood here until 2031"))).to_be_visible()
    page.get_by_role("button", name="Put it in the book").click()
    expect(page.locator(".undo")).to_contain_text("In the book")


def test_how_many_fit_is_read_off_a_typed_tape_and_nonsense_is_said(phone: Phone) -> None:
    """14 ft 5 in are 439.42 cm (NIST Handbook 44, appendix C)."""
    page = phone.page
    phone.go("plan")
    page.get_by_label("Which crop").select_option("tomato")
    page.get_by_label("Where they end").select_option("place.far.bed1")
    page.locator("summary", has_text="By the tape").click()
    page.get_by_label("Length by the tape").fill("14 ft 5")
    page.get_by_label("Width by the tape").fill("1.2 m")
    expect(page.get_by_text(re.compile("4.39.m × 1.2.m by the tape"))).to_be_visible()
    expect(page.get_by_role("group", name="How close").get_by_role("button").first).to_be_visible()
    for words, said in (("long", "Type the length in figures"), ("0", "more than nothing"), ("10000 m", "at most a kilometre")):
        page.get_by_label("Length by the tape").fill(words)
        expect(page.get_by_text(re.compile(said))).to_be_visible()
    assert page.get_by_label("Length by the tape").input_value() == "10000 m"
    page.get_by_label("Length by the tape").fill("")
    page.get_by_label("Kept free at the edges").fill("15")
    way = page.get_by_role("group", name="How close").get_by_role("button").first
    way.click()
    expect(way).to_have_attribute("aria-pressed", "true")
    page.get_by_role("button", name="Put it in the book").click()
    expect(page.locator(".undo")).to_contain_text("In the book")
    made = [one["record"]["fields"] for one in phone.kept()["records"] if one["record"]["kind"] == "batch"]
    (tomato,) = [one for one in made if one.get("for_place") == "place.far.bed1"]
    assert tomato["end_cm"] == 15 and tomato["spacing_cm"] and tomato["row_cm"]


def test_room_through_the_year_names_every_place_with_a_size(phone: Phone, server: LiveServer) -> None:
    page = phone.page
    phone.go("ground")
    page.get_by_role("button", name="Room through the year").click()
    expect(page.get_by_role("heading", name="Room through the year")).to_be_visible()
    server.kill()
    phone.go("ground")
    page.get_by_role("button", name="Room through the year").click()
    expect(page.locator(".room-of")).to_have_count(20)
    expect(page.get_by_role("button", name=re.compile("^propagator"))).to_contain_text("% taken now")


def test_a_house_is_laid_out_by_keys_another_way_kept_beside_it_and_decided_later(phone: Phone, server: LiveServer) -> None:
    page = phone.page
    phone.go("layout/place.tunnel")
    bed = page.get_by_role("button", name=re.compile("^bed.2, 400.cm by 120.cm"))
    expect(bed).to_be_visible()
    server.kill()
    page.get_by_role("button", name="Another layout").click()
    expect(page.get_by_role("button", name="Another way 1")).to_have_attribute("aria-pressed", "true")
    bed.focus()
    page.keyboard.press("ArrowDown")
    expect(page.get_by_role("button", name=re.compile("^bed.2.* and 50.cm from the left side"))).to_be_focused()
    assert "x_cm" not in fields_of(phone, "place.tunnel.bed2"), "the house stays as it is"
    page.get_by_role("button", name=re.compile("bed.2: ↓ right 10 cm")).click()
    expect(page.get_by_role("button", name=re.compile("^bed.2.* and 60.cm"))).to_be_visible()
    page.get_by_role("button", name="Undo the last move").click()
    expect(page.get_by_role("button", name=re.compile("^bed.2.* and 50.cm"))).to_be_visible()
    page.get_by_role("button", name="Decide later").click()
    expect(page.get_by_text("To be decided: it is on the list")).to_be_visible()
    page.get_by_role("button", name="Use this one").click()
    expect(page.locator(".undo")).to_contain_text("laid out so")
    assert fields_of(phone, "place.tunnel.bed2")["y_cm"] == 50
    phone.go("round")
    expect(phone.row("Decide on the layout of Tunnel")).to_be_visible()


def test_a_bed_is_dragged_with_a_mouse_and_comes_to_lie_on_an_edge(phone: Phone) -> None:
    page = phone.page
    page.set_viewport_size({"width": 1280, "height": 800})
    phone.go("layout/place.tunnel")
    bed = page.locator('[data-place="place.tunnel.bed1"] rect')
    box = bed.bounding_box()
    assert box
    page.mouse.move(box["x"] + 20, box["y"] + 20)
    page.mouse.down()
    page.mouse.move(box["x"] - 60, box["y"] + 20, steps=4)
    page.mouse.up()
    expect(page.get_by_role("button", name=re.compile("^bed.1.*, 0.cm from the door"))).to_be_visible()
    assert fields_of(phone, "place.tunnel.bed1")["x_cm"] == 0


def test_last_years_plan_is_taken_over_moved_and_taken_back(phone: Phone, server: LiveServer) -> None:
    page = phone.page
    phone.go("again/place.tunnel")
    page.get_by_role("button", name="for 2032").click()
    expect(page.get_by_role("button", name=re.compile("14.tomatoes, Ladder Red: taken over"))).to_be_visible()
    server.kill()
    page.get_by_label(re.compile("Where 14.tomatoes, Ladder Red end")).select_option("place.tunnel.bed1")
    page.get_by_role("button", name=re.compile("4.cucumbers.*: taken over")).click()
    page.get_by_role("button", name=re.compile("^Take .* over")).click()
    expect(page.locator(".undo")).to_contain_text("In the book for 2032")
    made = [one["record"]["fields"] for one in phone.kept()["records"] if one["record"]["fields"].get("year") == 2032]
    (tomato,) = [one for one in made if one["variety"] == "variety.ladder_red"]
    assert tomato["for_place"] == "place.tunnel.bed1" and tomato["want"] == 14 and tomato["spacing_cm"] == 53
    assert not [one for one in made if one["variety"] == "variety.butt_lane"], "left out"
    expect(page.get_by_text("in the book for that year already").first).to_be_visible()
    page.get_by_role("button", name="Undo").click()
    expect(page.get_by_text("in the book for that year already")).to_have_count(0)


def test_a_place_cannot_lie_in_itself_and_two_in_each_other_are_still_both_there(phone: Phone) -> None:
    page = phone.page
    phone.go("form/place/place.tunnel")
    page.get_by_label("Inside").select_option("place.tunnel.bed1")
    page.get_by_role("button", name="Change it").click()
    expect(page.get_by_text("lies in this place already")).to_be_visible()
    stamp = "0199a0000000-0000-abcdefgh"
    moved = [{"id": "place.tunnel", "kind": "place", "stamp": stamp, "fields": {"within": "place.top"}},
             {"id": "place.top", "kind": "place", "stamp": stamp, "fields": {"within": "place.tunnel"}}]  # fmt: skip
    page.evaluate(
        "async (changes) => { const {openStore} = await moduleAt('store/indexed-db');"
        " const store = await openStore({device: 'aaaaaaaa', now: Date.now});"
        " await store.write(changes.map(({id, kind, fields}) => ({id, kind, fields}))); await store.close(); }",
        moved,
    )
    page.reload()
    phone.go("ground")
    expect(
        page.locator(".place-row").filter(has_text="Top beds").or_(page.locator(".place-row").filter(has_text="Tunnel"))
    ).to_have_count(1)
    phone.go("place/place.top")
    expect(page.get_by_role("button", name=re.compile("^bed.1")).first).to_be_visible()


@pytest.mark.only_looks
def test_a_batch_for_which_there_will_be_no_room_says_so_before_it_is_in_the_book(phone: Phone) -> None:
    page = phone.page
    phone.go("plan")
    page.get_by_label("Which crop").select_option("tomato")
    page.get_by_label("Where they end").select_option("place.tunnel.bed3")
    page.get_by_role("textbox", name="Plants wanted").fill("60")
    expect(page.get_by_text(re.compile("Tunnel, bed.3.is too full from"))).to_be_visible()
    page.get_by_role("textbox", name="Plants wanted").fill("2")
    expect(page.get_by_text(re.compile("Tunnel, bed.3.is too full from"))).to_have_count(0)


@pytest.mark.only_looks
def test_records_that_come_take_no_field_from_whoever_plans(phone: Phone) -> None:
    page = phone.page
    phone.go("plan")
    page.get_by_label("Which crop").select_option("tomato")
    wanted = page.get_by_role("textbox", name="Plants wanted")
    wanted.fill("1")
    page.evaluate("() => { new BroadcastChannel('mudproof').postMessage('rulebook'); }")  # as another window says it
    page.wait_for_timeout(5 * POLL_MS)
    expect(wanted).to_be_focused()
    page.keyboard.type("2")
    expect(page.get_by_role("region", name="The plan")).to_contain_text("12 plants come")


def test_a_tape_is_read_off_in_inches_where_the_household_measures_so(phone: Phone, server: LiveServer) -> None:
    """An inch is 2.54 cm (NIST Handbook 44, appendix C): rows at 30 and 90 cm of 120, plants from 26.5 cm on each 53."""
    stamp = "0199a0000000-0000-abcdefgh"
    server.push([{"id": "site", "kind": "site", "stamp": stamp, "fields": {"units": "us"}}])
    phone.share()
    page = phone.page
    phone.go("place/place.tunnel.bed3")
    page.get_by_text("Read off the tape").click()
    expect(page.get_by_text(re.compile("Rows 12, 35.in from the left edge of 47.in"))).to_be_visible()
    expect(page.get_by_text(re.compile("Plants at 10, 31, 52, 73, 94, 115, 136.in from the end"))).to_be_visible()
