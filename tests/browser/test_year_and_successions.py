"""How the year runs, crop by crop, and sowings one after another."""

from __future__ import annotations

import re
from collections.abc import Callable
from typing import Any

import pytest
from playwright.sync_api import expect

from tests.browser.phones import Phone
from tests.browser.serving import LiveServer

COURSE = """async ([crop, cover, from, to]) => {
  const {courseOf, wrapped, wrappedWindows} = await moduleAt("rooms/season/year-course");
  const {openStore} = await moduleAt("store/indexed-db");
  const store = await openStore({device: "aaaaaaaa", now: Date.now});
  const book = await store.meta("rulebook");
  await store.close();
  const course = courseOf(book, crop, cover, {from, to});
  return {...course, pieces: wrapped(course.stages, {from, to}), begin: wrappedWindows(course.windows, {from, to})};
}"""
NORTH = ["2031-01-01", "2031-12-31"]


def course(phone: Phone, crop: str, cover: str, axis: list[str]) -> dict[str, Any]:
    found: dict[str, Any] = phone.page.evaluate(COURSE, [crop, cover, *axis])
    return found


@pytest.mark.only_looks
def test_every_crop_has_a_picture_and_its_year_is_in_the_order_of_time(phone: Phone) -> None:
    page = phone.page
    phone.go("year")
    crops = page.evaluate("""async () => {
      const {openStore} = await moduleAt("store/indexed-db");
      const store = await openStore({device: "aaaaaaaa", now: Date.now});
      const book = await store.meta("rulebook");
      await store.close();
      return Object.keys(book.crops);
    }""")
    expect(page.locator(".batch-row")).to_have_count(len(crops))
    assert len(crops) >= 60
    for crop in crops:
        stages = course(phone, crop, "open", NORTH)["stages"]
        assert stages, crop
        assert all(stage["from"] <= stage["to"] for stage in stages), crop
        assert [stage["from"] for stage in stages] == sorted(stage["from"] for stage in stages), crop


@pytest.mark.only_looks
def test_garlic_runs_over_the_new_year_and_comes_in_again_at_its_beginning(phone: Phone) -> None:
    """Common practice at 53 N: cloves in from October, lifted in July."""
    found = course(phone, "garlic", "open", NORTH)
    planted = [(piece["from"][5:7], piece["to"][5:7]) for piece in found["pieces"] if piece["stage"] == "planted"]
    assert ("01", "07") in planted and any(start in ("10", "11") and end == "12" for start, end in planted)
    assert any(piece["stage"] == "picking" and piece["from"][5:7] == "07" for piece in found["pieces"])


@pytest.mark.only_looks
def test_one_crops_year_says_its_windows_their_reasons_and_the_households_own_years(phone: Phone) -> None:
    page = phone.page
    phone.go("year/tomato")
    page.get_by_role("button", name="Tunnel").click()
    board = page.locator(".lab.plain")
    # common practice at 53 N: sown in March, planted in a cold tunnel in May
    expect(board.locator(".row", has_text="Sow")).to_contain_text("March")
    expect(board.locator(".row", has=page.get_by_role("heading", name="Plant"))).to_contain_text("May")
    expect(board).to_contain_text("weeks before planting")
    expect(page.get_by_role("region", name="2031")).to_contain_text(re.compile(r"\d\sbatches"))
    page.get_by_role("button", name="Its numbers").click()
    expect(page.locator("button.line", has_text="Plants apart")).to_be_visible()


def test_in_the_south_the_year_begins_in_july_and_tomatoes_are_sown_in_spring(
    empty: LiveServer, phones: Callable[..., Phone]
) -> None:
    """Common practice at 37 S: tomatoes sown from August to October."""
    normals = [[13, 26], [14, 26], [12, 24], [10, 20], [8, 17], [6, 14], [5, 14], [6, 15], [7, 17], [9, 20], [10, 22], [12, 24]]
    fields = {"lat": -37.0, "lon": 145.0, "last_frost": "09-25", "first_frost": "05-25", "normals": normals}
    empty.push([{"id": "site", "kind": "site", "stamp": "0190a0000000-0000-abcdefgh", "fields": fields}])
    phone = phones(empty.url).open().settled()
    found = course(phone, "tomato", "open", ["2030-07-01", "2031-06-30"])
    assert found["stages"][0]["from"][5:7] in ("08", "09", "10")
    phone.go("year")
    expect(phone.page.locator(".months-head text").first).to_have_text("Jul")


def test_a_lettuce_a_day_is_proposed_put_in_and_taken_back(phone: Phone) -> None:
    page = phone.page
    phone.go("successions/lettuce")
    page.get_by_label("Where they end").select_option(label="Tunnel, bed 3")
    page.get_by_label("Pick from").fill("2031-08-10")
    page.get_by_label("Pick to").fill("2031-09-30")
    expect(page.locator("p.line").first).to_contain_text(re.compile(r"picked 10\sAugust"))
    plants = [int(text.split()[0]) for text in page.locator("p.line > .soft:last-child").all_inner_texts()]
    assert sum(plants) == 52  # one a day from 10 August to 30 September
    before, live = batches(phone), page.evaluate(COUNT)
    page.get_by_role("button", name=re.compile("Put these? ")).click()
    expect(page.get_by_role("heading", name="Season")).to_be_visible()
    made = [fields for fields in batches(phone) if fields not in before]
    assert [fields["want"] for fields in made] == plants
    assert all(fields["sow_on"] and fields["year"] == 2031 and fields["for_place"] for fields in made)
    page.get_by_role("button", name="Undo", exact=True).click()
    phone.until(f"async (many) => (await ({COUNT})()) === many", live)


COUNT = """async () => {
  const {openStore} = await moduleAt("store/indexed-db");
  const store = await openStore({device: "aaaaaaaa", now: Date.now});
  const all = await store.live();
  await store.close();
  return all.filter((one) => one.kind === "batch" && !one.fields.gone).length;
}"""


def batches(phone: Phone) -> list[dict[str, Any]]:
    rows = [row["record"] for row in phone.kept()["records"] if row["record"]["kind"] == "batch"]
    rows = [row["fields"] for row in sorted(rows, key=lambda row: str(row["id"])) if not row["fields"].get("gone")]
    return sorted(rows, key=lambda fields: str(fields.get("sow_on")))


@pytest.mark.only_looks
def test_gaps_are_said_and_by_heat_is_offered_only_where_heat_ripens(phone: Phone) -> None:
    page = phone.page
    phone.go("successions/lettuce")
    page.get_by_label("Pick from").fill("2031-05-20")
    page.get_by_label("Pick to").fill("2032-03-01")
    expect(page.locator("p.trouble", has_text="would have had to be sown by now").first).to_be_visible()
    page.get_by_role("button", name="By heat").click()
    expect(page.get_by_text("Days between pickings")).to_be_visible()
    expect(page.get_by_role("heading", name=re.compile(r"\d+\ssowings"))).to_be_visible()
    phone.go("successions/pak_choi")
    expect(page.get_by_role("heading", name=re.compile(r"\d+\ssowing"))).to_be_visible()
    page.get_by_role("button", name="Every so often").click()
    expect(page.get_by_role("button", name="By heat")).to_have_count(0)


def test_with_no_server_what_was_chosen_stays_and_is_asked_again(server: LiveServer, phones: Callable[..., Phone]) -> None:
    phone = phones(server.url).open().settled().worker_ready()
    page = phone.page
    phone.context.set_offline(True)
    phone.go("successions/lettuce")
    expect(page.get_by_role("alert")).to_contain_text("it does not answer now. What you chose stays here.")
    with page.expect_event("requestfailed", lambda request: f"a_day={8 / 7}" in request.url):  # asked a while after the tap
        page.get_by_role("button", name="Plants a week: more").click()
    phone.context.set_offline(False)
    page.get_by_role("button", name="Try again").click()
    expect(page.get_by_role("heading", name=re.compile(r"\d+\ssowing"))).to_be_visible()
    expect(page.get_by_role("textbox", name="Plants a week")).to_have_value("8")
