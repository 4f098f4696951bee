"""Nothing is hunted for: one comes back to where one stood, by arrow, key or the phone's own Back, and no press is dead."""

from __future__ import annotations

import re
from typing import Any

import pytest
from playwright.sync_api import expect

from tests.browser.phones import BETWEEN_TAPS_MS, Phone
from tests.browser.serving import LiveServer

FAR = """() => {
  const rows = [...document.querySelectorAll("[data-job] .tick")];
  const row = rows[rows.length - 3].closest("[data-job]");
  row.scrollIntoView({block: "center"});
  return {job: row.dataset.job, y: Math.round(scrollY), top: Math.round(row.getBoundingClientRect().top)};
}"""
STANDS = "({y}) => Math.abs(scrollY - y) < 120 && scrollY > 0"
"""A row that was ticked is thinner than it was: by so much a page may be shorter above."""


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


@pytest.mark.every_size
def test_coming_back_to_the_round_is_where_one_stood(thumb: Phone) -> None:
    for way in ("arrow", "phone", "done"):
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
        assert box is not None and abs(box["y"] - stood["top"]) < 120, f"by {way}: the row is under the thumb again"
        thumb.page.wait_for_timeout(BETWEEN_TAPS_MS)


def test_putting_off_comes_back_to_the_list_and_past_the_job(thumb: Phone) -> None:
    stood = open_far_down(thumb)
    thumb.page.get_by_role("button", name="Put off to another day").tap()
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


@pytest.mark.only_looks
def test_the_way_back_is_known_after_the_page_is_opened_anew(thumb: Phone) -> None:
    thumb.go("ground")
    thumb.page.locator(".place-row").first.tap()
    expect(thumb.page.get_by_role("button", name="Back")).to_be_visible()
    thumb.page.reload()
    thumb.page.wait_for_selector("html[data-ready=yes]", state="attached")
    thumb.page.get_by_role("button", name="Back").tap()
    expect(thumb.page.get_by_role("heading", name="Ground")).to_be_visible()


FINISHES = [
    ("form/site/site", "Change it"), ("form/place/place.tunnel", "Change it"), ("form/batch/new", "Write it down"),
    ("form/fixture/new", "Write it down"), ("form/job/new", "Write it down"), ("form/variety/new", "Write it down"),
    ("form/person/new", "Write it down"), ("plan/crop=tomato", "Put it in the book"),
    ("plan/mode=growing/crop=tomato", "Write it down"), ("own-crop", "Write it down"), ("successions/lettuce", "Put "),
]  # fmt: skip
ON_TOP = """(words) => {
  const keys = [...document.querySelectorAll("main .key")];
  const found = keys.find((key) => key.textContent.startsWith(words));
  if (!found) return false;
  const box = found.getBoundingClientRect();
  const hit = (y) => found.contains(document.elementFromPoint(box.left + box.width / 2, y));
  return box.bottom <= innerHeight && hit(box.top + 4) && hit(box.bottom - 4);
}"""


@pytest.mark.only_looks
@pytest.mark.every_size
def test_the_key_that_finishes_is_on_the_first_screen_of_every_form(thumb: Phone) -> None:
    for way, words in FINISHES:
        thumb.go(way)
        expect(thumb.page.get_by_role("button", name="Back")).to_be_visible()
        thumb.until(ON_TOP, words)
    deed = thumb.deeds("pick")[-1]["id"]
    thumb.go(f"deed/{deed}")
    thumb.until(ON_TOP, "Correct it")


@pytest.mark.every_size
def test_a_number_that_is_opened_or_kept_stays_under_the_thumb(thumb: Phone) -> None:
    """Also where another one was open above it, which closes then."""
    thumb.go("crop/tomato")
    lines = thumb.page.locator("[data-number]")
    expect(lines.nth(5)).to_be_attached()
    lines.nth(1).tap()
    thumb.page.wait_for_timeout(BETWEEN_TAPS_MS)
    lines.nth(4).scroll_into_view_if_needed()
    thumb.page.evaluate("() => document.querySelectorAll('[data-number]')[4].scrollIntoView({block: 'center'})")
    before = lines.nth(4).bounding_box()
    lines.nth(4).tap()
    expect(lines.nth(4)).to_have_attribute("aria-expanded", "true")
    after = lines.nth(4).bounding_box()
    assert before is not None and after is not None
    keep = thumb.page.get_by_role("button", name="Keep this")
    expect(keep).to_be_in_viewport(ratio=1)
    moved_for_the_editor = after["y"] < before["y"]
    assert abs(after["y"] - before["y"]) < 3 or moved_for_the_editor, (
        "it moves only so far as shows the whole of what was opened"
    )
    stood = lines.nth(4).bounding_box()
    thumb.page.get_by_role("button", name="more").last.tap()
    keep.tap()
    expect(lines.nth(4)).to_have_attribute("aria-expanded", "false")
    kept = lines.nth(4).bounding_box()
    assert stood is not None and kept is not None and abs(kept["y"] - stood["y"]) < 3


@pytest.mark.only_looks
def test_what_is_no_number_is_not_kept_as_the_calendars_own(thumb: Phone) -> None:
    thumb.go("crop/tomato")
    thumb.page.locator("[data-number]").nth(1).tap()
    field = thumb.page.locator(".stepper input")
    field.fill("many")
    thumb.page.get_by_role("button", name="Keep this").tap()
    expect(thumb.page.get_by_role("alert")).to_contain_text("figures")
    expect(thumb.page.locator(".undo")).to_be_hidden()


WHOLE = """(scheme) => {
  document.documentElement.dataset.scheme = scheme;
  const foot = document.querySelector(".dock").getBoundingClientRect().top;
  const rows = [...document.querySelectorAll("[data-job] > .in")].map((row) => row.getBoundingClientRect());
  return rows.filter((box) => box.top >= 0 && box.bottom <= foot + 1).length;
}"""


@pytest.mark.only_looks
@pytest.mark.every_size
def test_the_first_screen_holds_whole_jobs(thumb: Phone) -> None:
    tall = thumb.page.viewport_size is not None and thumb.page.viewport_size["height"] > 700
    assert thumb.page.evaluate(WHOLE, "day") >= (4 if tall else 3)
    assert thumb.page.evaluate(WHOLE, "sun") >= (3 if tall else 2)


OLD = """(words) => new Promise((resolve) => {
  indexedDB.open("mudproof").onsuccess = (event) => {
    const db = event.target.result;
    const tx = db.transaction("records", "readwrite");
    const records = tx.objectStore("records");
    records.getAll().onsuccess = ({target}) => {
      const mine = target.result.find(({record}) => record.fields.job?.includes(words) && record.fields.on === "2031-05-19");
      delete mine.record.fields.at;
      records.put(mine);
    };
    tx.oncomplete = () => { db.close(); resolve(); };
  };
})"""


def test_what_was_done_a_while_ago_is_thin_and_folded_by_place(thumb: Phone) -> None:
    """A row that was ticked stays where it stood, and thin; opened anew some while later it lies under a fold of its place."""
    thumb.row("Prick out 24").locator(".well").tap()
    row = thumb.page.locator(".lab.done", has_text="Prick out 24")
    expect(row).to_be_visible()
    thumb.until("() => document.querySelector('.lab.done').offsetHeight <= 60")
    thumb.go("ground")
    thumb.go("round")
    expect(row).to_be_visible()
    thumb.page.evaluate(OLD, "basil")  # nobody says when it was: not just now
    thumb.page.reload()
    thumb.page.wait_for_selector("html[data-ready=yes]", state="attached")
    thumb.go("ground")
    thumb.go("round")
    expect(thumb.page.locator(".placehead").first).to_be_visible()
    expect(row).to_have_count(0)
    thumb.page.get_by_label("Lean-to").get_by_role("button", name="1 done").tap()
    expect(row).to_be_visible()


@pytest.mark.only_looks
@pytest.mark.every_size
def test_why_stands_on_the_first_screen_of_an_opened_job(thumb: Phone) -> None:
    """Of every job that is ready and asks for no caution."""
    jobs = [job for job in thumb.jobs("2031-05-19") if job["state"] == "ready" and not job["cautions"] and job["why"]]
    assert len(jobs) > 8
    for job in jobs[:10]:
        thumb.go(f"job/{job['id']}")
        expect(thumb.page.locator(".acts")).to_be_visible()
        thumb.until(
            """() => {
              const heads = [...document.querySelectorAll(".sec.row")];
              const first = heads.find((row) => row.querySelector("h2").textContent === "Why")?.querySelector("li");
              const acts = document.querySelector(".acts").getBoundingClientRect();
              return first && first.getBoundingClientRect().bottom <= acts.top + 1;
            }"""
        )


@pytest.mark.only_looks
@pytest.mark.parametrize("size", [(640, 360), (844, 390)], ids=str)
def test_a_phone_on_its_side_keeps_room_for_what_is_read(thumb: Phone, size: tuple[int, int]) -> None:
    thumb.page.set_viewport_size({"width": size[0], "height": size[1]})
    for way in ("round", "job/batch.2031.basil.prick_out", "ground", "season"):
        thumb.go(way)
        thumb.page.wait_for_timeout(100)
        room = thumb.page.evaluate(
            """() => {
              const dock = document.querySelector(".dock").getBoundingClientRect();
              const acts = document.querySelector(".acts")?.getBoundingClientRect();
              const over = document.documentElement.scrollWidth;
              return {wide: dock.left, high: acts ? acts.top : innerHeight, dock: dock.height, over};
            }"""
        )
        assert room["high"] >= 200 and room["wide"] >= 400 and room["dock"] == size[1], way
        assert room["over"] <= size[0]


def walk(phone: Phone) -> list[str]:
    """Names of the places as Ground shows them, each behind its number."""
    found: list[str] = phone.page.locator(".carry-row, .place-row .plate").all_inner_texts()
    return [" ".join(words.split()) for words in found]


@pytest.mark.every_size
def test_the_walking_order_is_changed_by_keys_and_numbers_follow(thumb: Phone) -> None:
    thumb.go("ground")
    before = walk(thumb)
    assert [words.split()[0] for words in before] == [str(at + 1) for at in range(len(before))]
    thumb.page.get_by_role("button", name="Change the walking order").tap()
    thumb.page.get_by_role("button", name="Carry Tunnel up").tap()
    expect(thumb.page.locator(".undo")).to_contain_text("Tunnel is number 2 on the walk.")
    thumb.page.wait_for_timeout(BETWEEN_TAPS_MS)
    key = thumb.page.get_by_role("button", name="Carry Tunnel up")
    expect(key).to_be_focused()
    thumb.page.keyboard.press("Enter")
    expect(thumb.page.locator(".undo")).to_contain_text("Tunnel is number 1 on the walk.")
    after = walk(thumb)
    assert after[0].startswith("1 Tunnel") and [words.split()[0] for words in after] == [
        str(at + 1) for at in range(len(after))
    ]
    expect(thumb.page.get_by_role("button", name="Carry Tunnel up")).to_have_attribute("aria-disabled", "true")
    thumb.page.wait_for_timeout(BETWEEN_TAPS_MS)
    thumb.page.locator(".undo").get_by_role("button", name="Undo").tap()
    expect(thumb.page.locator(".carry-row").nth(1)).to_contain_text("Tunnel")
    thumb.page.get_by_role("button", name="The walk is right so").tap()
    thumb.page.get_by_role("link", name="Round", exact=True).tap()
    for at, name in enumerate(["1 Lean-to", "2 Tunnel"]):
        expect(thumb.page.locator(".placehead .plate").nth(at)).to_have_text(re.compile(r"\s*".join(name.split())))


def test_a_new_place_comes_last_and_no_two_numbers_are_alike(thumb: Phone) -> None:
    thumb.go("form/place/new/sort=house")
    thumb.page.get_by_label("What you call it").fill("Cold Pit")
    thumb.page.get_by_label("Over it").select_option("frame")
    thumb.page.get_by_role("button", name="Write it down").tap()
    expect(thumb.page.locator(".undo")).to_contain_text("Written down")
    thumb.go("ground")
    expect(thumb.page.locator(".place-row", has_text="Cold Pit")).to_be_visible()
    numbers = [words.split()[0] for words in walk(thumb)]
    assert numbers == [str(at + 1) for at in range(len(numbers))] and walk(thumb)[-1].endswith("Cold Pit")


@pytest.mark.only_looks
def test_ground_says_what_grows(thumb: Phone) -> None:
    thumb.go("ground")
    expect(thumb.page.locator(".place-row", has_text="Long House")).to_contain_text("66 leeks, 24 runner beans")
    assert "borders" not in thumb.page.locator("main").inner_text()


@pytest.mark.only_looks
def test_the_season_is_read_by_place_by_when_by_name_and_by_family(thumb: Phone) -> None:
    thumb.go("season")
    heads = thumb.page.locator("main h2.h")
    rows = thumb.page.locator(".batch-row")
    expect(rows.first).to_be_visible()
    many = rows.count()
    assert many > 30
    expect(heads.first).to_have_text("Growing now")
    expect(thumb.page.locator(".months-head")).to_contain_text("today")
    for order, first in (("Place", "Lean-to"), ("Family", "Bean family"), ("Name", "A")):
        thumb.page.get_by_role("button", name=order, exact=True).tap()
        expect(heads.first).to_have_text(first)
        expect(rows).to_have_count(many)
    find = thumb.page.get_by_label("Find in the season")
    find.fill("cucum")
    expect(rows).to_have_count(1)
    expect(find).to_be_focused()
    find.fill("onion family")
    expect(rows.first).to_be_visible()
    assert 1 < rows.count() < 12


@pytest.mark.only_looks
def test_what_comes_later_is_told_by_day(thumb: Phone) -> None:
    thumb.page.locator(".later", has_text="later this week").tap()
    days = thumb.page.locator("main h3.h")
    assert days.count() >= 2 and len(set(days.all_inner_texts())) == days.count()
    expect(days.first).to_have_text("Tuesday 20 May")


def test_no_crop_is_said_twice(thumb: Phone) -> None:
    """A variety that is called after its crop, as the first questions make it."""
    thumb.go("plan/crop=tomato")
    thumb.page.get_by_label("What the packet says").fill("Tomatoes")
    thumb.page.get_by_role("button", name="Put it in the book").tap()
    expect(thumb.page.locator(".undo")).to_contain_text("In the book")
    for way in ("season", "round", "jot/sow", "ground"):
        thumb.go(way)
        thumb.page.wait_for_timeout(150)
        assert "tomatoes tomatoes" not in " ".join(thumb.page.locator("main").inner_text().lower().replace(",", "").split())


GO_ON_AT_ONCE = """() => {
  document.querySelector(".back").click();
  location.hash = "#/shed";
  const until = performance.now() + 40; // so busy that the way back is gone before the other way is told of
  while (performance.now() < until);
}"""


@pytest.mark.only_looks
def test_whoever_goes_on_before_the_phone_went_back_is_brought_there(phone: Phone) -> None:
    for _ in range(3):
        phone.go("ground")
        expect(phone.page.locator("#room h1")).to_have_text("Ground")
        phone.go("form/person/new")
        expect(phone.page.get_by_label("Name", exact=True)).to_be_visible()
        phone.page.evaluate(GO_ON_AT_ONCE)
        expect(phone.page.locator("#room h1")).to_have_text("Shed")
        phone.page.wait_for_timeout(100)
        assert phone.page.evaluate("location.hash") == "#/shed"


def test_of_many_jobs_in_a_place_none_is_left_out(phone: Phone, server: LiveServer) -> None:
    panes = [
        {
            "id": f"hand.{at:02d}",
            "kind": "job",
            "stamp": f"01c0000000{at:02x}-0000-abcdefgh",
            "fields": {"hand": True, "title": f"Mend pane {at}", "place": "place.tunnel.bed3", "from": "2031-05-10"},
        }
        for at in range(60)
    ]
    server.push(panes)
    phone.share()
    phone.go("place/place.tunnel.bed3")
    page = phone.page
    expect(page.locator(".line", has_text="Mend pane")).to_have_count(60)
    expect(page.locator(".line", has_text="Mend pane 59")).to_be_hidden()
    page.locator("summary", has_text="more").click()
    expect(page.locator(".line", has_text="Mend pane 59")).to_be_visible()
