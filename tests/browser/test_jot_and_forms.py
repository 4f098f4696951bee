"""Jot in at most four taps; the Diary read and corrected; places, batches and jobs added by hand."""

from __future__ import annotations

from typing import Any

import pytest
from playwright.sync_api import Locator, expect

from tests.browser.conftest import ON
from tests.browser.phones import Phone

MOST_TAPS = 4


class Thumb:
    """Taps, counted from the Jot pot on."""

    def __init__(self, phone: Phone) -> None:
        self.phone = phone
        self.taps = 0

    def tap(self, what: Locator) -> None:
        what.click()
        self.taps += 1

    def key(self, words: str) -> None:
        self.tap(self.phone.page.get_by_role("button", name=words).first)

    def verb(self, words: str) -> None:
        """A verb's key; opening More is a tap too."""
        expect(self.phone.page.locator(".verbs")).to_be_visible()
        key = self.phone.page.locator(".verbs button", has_text=words)
        if key.count() == 0:
            self.key("More")
        self.tap(key.first)

    def line(self, words: str) -> None:
        self.tap(self.phone.page.locator(".line", has_text=words).first)


COUNTED = [
    ("Picked", "carrots", "pick"),
    ("Potted", "sweet peppers", "pot_up"),
    ("Pricked out", "basil", "prick_out"),
    ("Planted", "celeriac", "plant_out"),
    ("Tied in", "tomatoes", "train"),
    ("Lost some", "tomatoes", "lose"),
    ("Fed", "tomatoes", "feed"),
]


def test_deed_with_a_count_takes_four_taps(phone: Phone) -> None:
    for verb, plants, did in COUNTED:
        phone.go("round")
        before = {deed["id"] for deed in phone.deeds()}
        thumb = Thumb(phone)
        thumb.tap(phone.page.locator(".jot-pot"))
        expect(phone.page.locator(".verbs")).to_be_visible()
        more = phone.page.locator(".verbs button", has_text=verb).count() == 0
        thumb.verb(verb)
        thumb.line(plants)
        thumb.key("Write it down")
        expect(phone.page.locator(".undo"), did).to_contain_text("Written down")
        assert thumb.taps <= MOST_TAPS + more, did
        (deed,) = [deed for deed in phone.deeds() if deed["id"] not in before]
        assert deed["did"] == did and deed["on"] == ON and deed["batch"]
        assert deed.get("count", 0) >= 1 or deed.get("weight_g", 0) > 0, did


def test_sighting_takes_four_taps_and_opens_a_watch(phone: Phone) -> None:
    thumb = Thumb(phone)
    thumb.tap(phone.page.locator(".jot-pot"))
    thumb.verb("Saw")
    thumb.line("tomatoes")
    thumb.tap(phone.page.get_by_label("aphids: many"))
    expect(phone.page.locator(".undo")).to_contain_text("Written down")
    assert thumb.taps <= MOST_TAPS
    expect(phone.row("Treat tomatoes for aphids")).to_be_visible()


def test_watering_a_place_ticks_its_job(phone: Phone) -> None:
    thumb = Thumb(phone)
    thumb.tap(phone.page.locator(".jot-pot"))
    thumb.verb("Watered")
    thumb.line("Frames")
    thumb.key("Write it down")
    expect(phone.page.locator(".lab.done", has_text="Water Frames")).to_be_visible()
    assert thumb.taps <= MOST_TAPS


def test_reading_is_written_without_a_keyboard(phone: Phone) -> None:
    thumb = Thumb(phone)
    thumb.tap(phone.page.locator(".jot-pot"))
    thumb.verb("Measured")
    thumb.line("Tunnel")
    thumb.key("Write it down")
    expect(phone.page.locator(".undo")).to_contain_text("Written down")
    assert thumb.taps <= MOST_TAPS
    deed = [d for d in phone.deeds("measure") if d["on"] == ON][-1]
    assert deed["place"] == "place.tunnel" and deed["tmin"] <= deed["tmax"]


@pytest.mark.only_looks
def test_reading_the_wrong_way_round_is_held_back(phone: Phone) -> None:
    phone.go("jot/measure")
    phone.page.locator(".line", has_text="Tunnel").click()
    phone.page.get_by_label("Night minimum, °C", exact=True).last.fill("30")
    phone.page.get_by_label("Day maximum, °C", exact=True).last.fill("4")
    before = len(phone.deeds("measure"))
    phone.page.get_by_role("button", name="Write it down").click()
    expect(phone.page.get_by_role("alert")).to_contain_text("The lowest is above the highest")
    assert len(phone.deeds("measure")) == before


def test_taking_down_the_trestle_frees_what_waited(phone: Phone) -> None:
    thumb = Thumb(phone)
    thumb.tap(phone.page.locator(".jot-pot"))
    thumb.verb("Took down")
    thumb.line("trestle")
    expect(phone.page.locator(".undo")).to_contain_text("Written down")
    assert thumb.taps <= MOST_TAPS
    phone.go("job/batch.2031.melon.plant_out")
    expect(phone.page.locator("h1.big")).to_contain_text("melons")
    assert "trestle" not in phone.page.locator("main").inner_text()


def test_moving_plants_takes_four_taps(phone: Phone) -> None:
    thumb = Thumb(phone)
    thumb.tap(phone.page.locator(".jot-pot"))
    expect(phone.page.locator(".verbs")).to_be_visible()
    more = phone.page.locator(".verbs button", has_text="Moved").count() == 0
    thumb.verb("Moved")
    thumb.line("melons")
    thumb.line("Long House")
    expect(phone.page.locator(".undo")).to_contain_text("Written down")
    assert thumb.taps <= MOST_TAPS + more


@pytest.mark.only_looks
def test_half_written_jot_survives_closing_the_page(phone: Phone) -> None:
    phone.go("jot")
    phone.page.locator(".verbs button", has_text="More").click()
    phone.page.locator(".verbs button", has_text="A note").click()
    phone.page.get_by_label("A word about it").fill("slow-worm under the boards")
    phone.open("#/jot")
    expect(phone.page.get_by_label("A word about it")).to_have_value("slow-worm under the boards")


def test_diary_is_searched_corrected_and_taken_back(phone: Phone) -> None:
    page = phone.page
    phone.go("diary")
    page.get_by_label("Search the diary").fill("trestle")
    expect(page.locator(".entry").first).to_contain_text("trestle")
    page.get_by_label("Search the diary").fill("zebra")
    expect(page.locator(".empty")).to_contain_text("Nothing in the diary answers that")
    page.get_by_label("Search the diary").fill("planted tomatoes")
    page.locator(".entry", has_text="14 tomatoes").first.click()
    page.get_by_label("How many").fill("-3")
    page.get_by_role("button", name="Correct it").click()
    expect(page.locator(".bad", has_text="whole number")).to_be_visible()
    page.get_by_label("How many").fill("13")
    page.get_by_role("button", name="Correct it").click()
    expect(page.locator(".undo")).to_contain_text("Corrected")
    assert [d["count"] for d in phone.deeds("plant_out") if d["batch"] == "batch.2031.tomato"] == [13]
    page.get_by_role("button", name="Take it back").click()
    expect(page.locator(".undo")).to_contain_text("Taken back")
    assert not [d for d in phone.deeds("plant_out") if d["batch"] == "batch.2031.tomato"]


def test_place_variety_and_batch_by_hand_bring_their_jobs(phone: Phone) -> None:
    page = phone.page
    phone.go("form/place/new/sort=house")
    page.get_by_label("What you call it").fill("Cold Pit")
    page.get_by_label("Over it").select_option("frame")
    page.get_by_label("Length, cm").fill("seven")
    page.get_by_role("button", name="Write it down").click()
    expect(page.locator(".bad", has_text="in figures")).to_be_visible()
    page.get_by_label("Length, cm").fill("7 m")
    page.get_by_role("button", name="Write it down").click()
    expect(page.locator(".undo")).to_contain_text("Written down")
    phone.go("form/variety/new")
    page.get_by_label("What the packet says").fill("Forty Letters Of Lettuce Called Long One")
    page.get_by_label("It is a kind of").select_option("lettuce")
    page.get_by_role("button", name="Write it down").click()
    expect(page.locator("h1", has_text="A batch")).to_be_visible()
    page.get_by_role("textbox", name="Plants wanted").fill("10")
    page.get_by_label("Where they end").select_option(label="Cold Pit")
    page.get_by_label("Your own day for the first step").fill(ON)
    page.get_by_role("button", name="Put it in the book").click()
    expect(page.locator("h1", has_text="Forty Letters")).to_be_visible()
    phone.go("round")
    row = phone.page.locator(".lab", has_text="Forty Letters")
    expect(row).to_contain_text("lettuces")
    assert page.evaluate("() => document.documentElement.scrollWidth <= document.documentElement.clientWidth")


def test_fixture_by_hand_stands_in_the_way_until_it_is_taken_down(phone: Phone) -> None:
    page = phone.page
    place = next(job["place"] for job in phone.jobs(ON) if job["verb"] == "plant_out" and not job["in_the_way"])
    phone.go(f"form/fixture/new/place={place}")
    page.get_by_label("What you call it").fill("the old table")
    page.locator("select").first.select_option("trestle")
    expect(page.get_by_label("Where").first).to_have_value(place)
    page.get_by_role("button", name="Planting out", exact=True).click()
    page.reload()
    expect(page.get_by_role("button", name="Planting out", exact=True)).to_have_attribute("aria-pressed", "true")
    page.get_by_role("button", name="Write it down").click()
    expect(page.locator(".undo")).to_contain_text("Written down")
    assert {job["verb"] for job in waiting_for_the_table(phone)} == {"plant_out"}
    phone.go(f"place/{place}")
    page.get_by_role("button", name="Take down: the old table").click()
    expect(page.locator(".undo")).to_contain_text("the old table taken down")
    assert waiting_for_the_table(phone) == []


def waiting_for_the_table(phone: Phone) -> list[dict[str, Any]]:
    return [job for job in phone.jobs(ON) if any("the old table" in one["text"] for one in job["in_the_way"])]


def test_person_by_hand_can_have_jobs_and_hold_the_phone(phone: Phone) -> None:
    page = phone.page
    phone.go("form/person/new")
    page.get_by_label("Name", exact=True).fill("Great-aunt Philippa-Rosamund of Withy End")
    page.get_by_role("button", name="Write it down").click()
    phone.go("shed")
    page.get_by_role("button", name="Great-aunt Philippa-Rosamund of Withy End").click()
    phone.go("round")
    phone.row("Earth up").locator(".well").click()
    (deed,) = [deed for deed in phone.deeds() if "earth_up" in deed.get("job", "")]
    (person,) = [
        row["record"] for row in phone.kept()["records"] if row["record"]["fields"].get("name", "").startswith("Great-aunt")
    ]
    assert deed["by"] == person["id"]
    assert page.evaluate("() => document.documentElement.scrollWidth <= document.documentElement.clientWidth")


def test_job_by_hand_is_on_the_list_and_ends_when_ticked(phone: Phone) -> None:
    page = phone.page
    phone.go("form/job/new")
    page.get_by_label("What is to be done").fill("Mend the tunnel door")
    page.get_by_label("Where").select_option(label="Tunnel")
    page.get_by_label("By", exact=True).fill(ON)
    page.get_by_role("button", name="Write it down").click()
    phone.go("round")
    row = phone.row("Mend the tunnel door")
    expect(row).to_contain_text("today")
    row.locator(".well").click()
    expect(page.locator(".lab.done", has_text="Mend the tunnel door")).to_be_visible()


@pytest.mark.only_looks
def test_place_in_which_something_stands_is_not_put_away(phone: Phone) -> None:
    phone.go("form/place/place.tunnel.bed3")
    phone.page.get_by_role("button", name="Put it away").click()
    expect(phone.page.get_by_role("alert").filter(has_text="Plants stand here")).to_be_visible()


HOSTILE = "<img src=x onerror=alert(1)><script>alert(2)</script>{{7*7}}'\"`=cmd|' /C calc'!A0"


def test_hostile_words_are_only_ever_words(phone: Phone) -> None:
    page = phone.page
    alarms: list[str] = []
    page.on("dialog", lambda dialog: (alarms.append(dialog.message), dialog.dismiss()))
    phone.go("form/place/place.tunnel")
    page.get_by_label("What you call it").fill(HOSTILE)
    page.get_by_role("button", name="Change it").click()
    phone.go("form/job/new")
    page.get_by_label("What is to be done").fill(HOSTILE)
    page.get_by_role("button", name="Write it down").click()
    for room in ("round", "ground", "season", "diary", "shed", "jot", "place/place.tunnel", "batch/batch.2031.tomato"):
        phone.go(room)
        page.wait_for_timeout(60)
        assert page.locator("main img, main script").count() == 0
    phone.go("ground")
    expect(page.locator(".plate", has_text="<script>")).to_be_visible()
    assert not alarms and not phone.errors
