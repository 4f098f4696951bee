"""The Round on a phone: read, ticked, undone, fitted into minutes, walked by keyboard."""

from __future__ import annotations

import json
import subprocess
import sys
import urllib.request
from collections.abc import Callable

import pytest
from playwright.sync_api import expect

from tests.browser.conftest import ON
from tests.browser.phones import BETWEEN_TAPS_MS, Phone
from tests.browser.serving import ROOT, LiveServer
from tests.cases import sampled


@pytest.mark.only_looks
def test_round_groups_jobs_by_house_in_walking_order(phone: Phone) -> None:
    names = phone.page.locator(".placehead .plate i").all_inner_texts()
    assert names == ["Lean-to", "Long House", "Tunnel", "Frames", "Top beds", "Far beds"]
    expect(phone.row("Pot up 16")).to_contain_text("today")
    expect(phone.row("Sow 25")).to_contain_text("3 days past")
    assert not phone.errors


def test_one_answer_in_three_places(server: LiveServer, phone: Phone) -> None:
    """Browser, door and command line give the same list, letter for letter."""
    with urllib.request.urlopen(f"{server.url}api/jobs?on={ON}") as answer:
        door = json.loads(answer.read())["jobs"]
    command = [sys.executable, "-m", "server", "jobs", "--data", str(server.data), "--on", ON, "--json"]
    terminal = json.loads(subprocess.run(command, cwd=ROOT, capture_output=True, check=True).stdout)["jobs"]
    assert phone.jobs(ON) == door == terminal
    assert len(door) > 100


def test_tick_writes_a_deed_and_undo_takes_it_back(phone: Phone) -> None:
    row = phone.row("Pot up 16 sweet peppers")
    row.locator(".well").click()
    done = phone.page.locator(".lab.done", has_text="Pot up 16 sweet peppers")
    expect(done).to_be_visible()
    (deed,) = [d for d in phone.deeds("pot_up") if d["on"] == ON]
    assert (deed["count"], deed["pot_l"], deed["part"]) == (16, 1, 1) and deed["job"].endswith("pot_up_2")
    phone.page.wait_for_timeout(BETWEEN_TAPS_MS)
    phone.page.locator(".undo").get_by_role("button", name="Undo").click()
    expect(done).to_have_count(0)
    expect(phone.row("Pot up 16 sweet peppers").locator(".well")).to_contain_text("Done")
    assert not [d for d in phone.deeds("pot_up") if d["on"] == ON]


TOLD_IN_ORDER = """async () => {
  const { Settled } = await moduleAt("kernel/settle");
  const take = Settled.prototype.take;
  globalThis.order = [];
  const before = document.querySelectorAll(".lab.done").length;
  Settled.prototype.take = function (...given) { globalThis.order.push("settled"); return take.apply(this, given); };
  const frames = () => {
    if (document.querySelectorAll(".lab.done").length > before) globalThis.order.push("a frame shows it done");
    if (globalThis.order.length < 40) requestAnimationFrame(frames);
  };
  requestAnimationFrame(frames);
  globalThis.rows = [...document.querySelectorAll(".lab")];
}"""


def test_a_tick_is_painted_before_the_list_is_settled_and_other_rows_hold_still(phone: Phone) -> None:
    phone.page.evaluate(TOLD_IN_ORDER)
    phone.row("Pot up 16 sweet peppers").locator(".well").click()
    phone.page.wait_for_function("() => globalThis.order.includes('settled')")
    assert phone.page.evaluate("() => globalThis.order[0]") == "a frame shows it done"
    expect(phone.page.locator(".lab.done", has_text="Pot up 16 sweet peppers")).to_be_visible()
    still, rows = phone.page.evaluate("() => [globalThis.rows.filter((row) => row.isConnected).length, globalThis.rows.length]")
    assert rows > 20 and still >= rows - 3, "a deed touches its own row and what hangs on it, not the list"


def test_watch_row_has_two_keys(phone: Phone) -> None:
    phone.go("jot/look/batch.2031.tomato")
    phone.page.get_by_label("red spider mite: few").click()
    treat = phone.row("Treat tomatoes for red spider mite")
    expect(treat).to_be_visible()
    treat.locator(".well").click()
    expect(phone.page.locator(".lab.done", has_text="Treat tomatoes")).to_be_visible()


@pytest.mark.only_looks
def test_forty_five_minutes_are_never_more(phone: Phone) -> None:
    phone.page.get_by_role("button", name="45 min").click()
    head = phone.page.locator(".head b").inner_text()
    assert int(head.replace("\u00a0", " ").split(",")[1].strip().split(" ")[0]) <= 45
    expect(phone.row("Prick out 24")).to_be_visible()
    expect(phone.page.locator(".left-out")).to_contain_text("No time left to wait for")
    expect(phone.page.locator(".left-out")).to_contain_text("String 14 tomatoes")
    phone.page.get_by_role("button", name="any").click()
    expect(phone.page.locator(".left-out")).to_have_count(0)


@pytest.mark.only_looks
def test_later_jobs_are_folded_but_there(phone: Phone) -> None:
    fold = phone.page.locator(".later", has_text="later this week")
    fold.click()
    expect(fold).to_have_attribute("aria-expanded", "true")
    assert phone.page.locator(".board .line").count() > 3


def test_whole_round_by_keyboard(phone: Phone) -> None:
    page = phone.page
    page.locator(".lab .txt").first.focus()
    page.keyboard.press("ArrowDown")
    title = page.evaluate("document.activeElement.querySelector('.title').textContent")
    page.keyboard.press("Space")
    expect(page.locator(".lab.done", has_text=title.replace("\u00a0", " "))).to_be_visible()
    page.keyboard.press("u")
    expect(page.locator(".lab.done", has_text=title.replace("\u00a0", " "))).to_have_count(0)
    page.keyboard.press("j")
    expect(page.locator("h1", has_text="Jot")).to_be_visible()
    page.keyboard.press("Tab")
    page.locator(".verbs button").first.focus()
    page.keyboard.press("Enter")
    expect(page.locator(".slip button").first).to_contain_text("Saw")


@pytest.mark.only_looks
def test_job_page_says_why_and_waits_on_what_can_be_tapped(phone: Phone) -> None:
    phone.go("job/batch.2031.cucumber.plant_out")
    page = phone.page
    expect(page.locator("h1.big")).to_have_text("Plant 4\u00a0cucumbers in bed\u00a02")
    expect(page.locator(".block").first).to_contain_text("carrots cleared")
    expect(page.locator(".sec", has_text="Why")).to_contain_text("by what the thermometer in Tunnel read")
    page.locator(".block .t").first.click()
    expect(page.locator("h1.big")).to_have_text("Clear carrots")
    expect(page.locator(".sec", has_text="Why")).to_contain_text("plant 4\u00a0cucumbers")


OVERLAPS = """(id) => { location.hash = "#/job/" + encodeURIComponent(id);
  return new Promise((resolve) => requestAnimationFrame(() => requestAnimationFrame(() => {
    const words = [...document.querySelectorAll("#room svg text")].map((one) => [one.textContent, one.getBoundingClientRect()]);
    const hits = words.filter(([, box]) => box.left < 0 || box.right > innerWidth).map(([text]) => text);
    words.forEach(([text, a], at) => words.slice(at + 1).forEach(([other, b]) => {
      const beside = a.left >= b.right - 1 || b.left >= a.right - 1;
      if (!beside && a.top < b.bottom - 3 && b.top < a.bottom - 3) hits.push(`${text} ${other}`);
    }));
    resolve([words.length, hits]);
  }))); }"""


@pytest.mark.only_looks
def test_no_two_dates_of_a_bar_are_written_over_each_other(phone: Phone) -> None:
    jobs = phone.jobs(ON)
    phone.go(f"job/{jobs[0]['id']}")
    expect(phone.page.locator("#room svg text").first).to_be_visible()
    some = sampled((job["id"] for job in jobs if job["state"] != "done"), 2)
    found = {id_: phone.page.evaluate(OVERLAPS, id_) for id_ in some}
    assert len(found) > 75 and all(words >= 2 for words, _ in found.values())
    assert {id_: hits for id_, (_, hits) in found.items() if hits} == {}


def test_only_some_leaves_the_rest_on_the_list(phone: Phone) -> None:
    phone.go("job/batch.2031.pepper.pot_up_2")
    page = phone.page
    page.get_by_role("button", name="Only some").click()
    page.get_by_role("button", name="Done, 10 of 16").click()
    expect(phone.row("Pot up 6 sweet peppers")).to_be_visible()
    (deed,) = [d for d in phone.deeds("pot_up") if d["on"] == ON]
    assert deed["count"] == 10
    phone.row("Pot up 6 sweet peppers").locator(".well").click()
    expect(page.locator(".lab.done", has_text="Pot up 6")).to_be_visible()
    parts = [d["part"] for d in phone.deeds("pot_up") if d["on"] == ON]
    assert parts == [1, 2]


def test_put_off_and_let_go_obey_and_can_be_taken_back_from_the_diary(phone: Phone) -> None:
    page = phone.page
    phone.go("put-off/batch.2031.beetroot.thin")
    page.locator(".line", has_text="Saturday").click()
    expect(phone.row("Thin beetroot")).to_have_count(0)
    phone.go("job/batch.2031.parsnip.thin")
    page.get_by_role("button", name="Let go").click()
    expect(page.locator(".timer")).to_be_visible()
    phone.go("diary")
    let_go = page.locator(".entry", has_text="Let go")
    expect(let_go).to_contain_text("Thin parsnips")
    let_go.get_by_role("button").click()
    page.locator(".entry", has_text="Put off").get_by_role("button").click()
    phone.go("round")
    expect(phone.row("Thin beetroot")).to_be_visible()
    expect(phone.row("Thin parsnips")).to_be_visible()


def test_job_for_somebody_says_whom(phone: Phone) -> None:
    phone.go("job/batch.2031.beetroot.thin")
    phone.page.get_by_role("button", name="Jim").click()
    phone.go("round")
    expect(phone.row("Thin beetroot")).to_contain_text("for Jim")


def test_double_tap_is_one_tick(phone: Phone) -> None:
    phone.row("Pot up 16").locator(".well").dblclick()
    expect(phone.page.locator(".lab.done", has_text="Pot up 16")).to_be_visible()
    assert len([d for d in phone.deeds("pot_up") if d["on"] == ON]) == 1


def test_sixty_jobs_in_a_day_all_reach_the_screen(server: LiveServer, phones: Callable[..., Phone]) -> None:
    changes = [
        {"id": f"hand{n}", "kind": "job", "stamp": f"{n + 1:012x}-0000-abcdefgh",
         "fields": {"hand": True, "title": f"Mend pane {n} of the old glass in the far corner", "place": "place.tunnel",
                    "from": ON, "by_day": ON}}
        for n in range(60)
    ]  # fmt: skip
    request = urllib.request.Request(server.url + "api/sync", json.dumps({"since": 0, "changes": changes}).encode(),
                                     {"content-type": "application/json"})  # fmt: skip
    urllib.request.urlopen(request).close()
    phone = phones(server.url).open().settled()
    expect(phone.page.locator(".lab", has_text="Mend pane")).to_have_count(60)
    assert phone.page.evaluate("document.documentElement.scrollWidth <= document.documentElement.clientWidth")


@pytest.mark.only_looks
def test_old_seasons_rest_and_are_there_when_asked_for(phone: Phone) -> None:
    """Last year's batches are not in the way of opening the app, and yet a tap away."""
    page = phone.page
    phone.until(
        """async () => {
          const {openStore} = await moduleAt("store/indexed-db");
          const store = await openStore({device: "aaaaaaaa", now: Date.now});
          const years = await store.meta("restingYears");
          await store.close();
          return (years ?? []).includes(2030);
        }"""
    )
    resting = [row["id"] for row in phone.kept()["records"] if row["resting"]]
    old = next(id_ for id_ in resting if id_.startswith("batch.2030."))
    jobs = phone.jobs(ON)
    phone.open("#/season")
    page.get_by_role("button", name="2030").click()
    expect(page.locator(f'.batch-row[href="#/batch/{old}"]')).to_be_visible()
    phone.open(f"#/batch/{old}")
    expect(page.get_by_role("heading", name="So far")).to_be_visible()
    assert phone.jobs(ON) == jobs


@pytest.mark.parametrize("first_house", sampled([1, 7, 8, 60, 9, 48], 2))
def test_every_job_of_a_long_day_is_drawn(empty: LiveServer, phones: Callable[..., Phone], first_house: int) -> None:
    """What fits the screen is drawn first and the rest right after, wherever the cut falls between two houses."""
    made = [
        {"id": f"house{n}", "kind": "place", "fields": {"name": f"House {n}", "sort": "house", "cover": "open", "walk": n}}
        for n in (1, 2)
    ]
    made += [
        {"id": f"job{n}", "kind": "job", "fields": {"title": f"Mend pane {n}", "hand": True,
         "place": "house1" if n < first_house else "house2", "by_day": "2031-06-01"}}
        for n in range(first_house + 2)
    ]  # fmt: skip
    empty.push([record | {"stamp": f"{n:012x}-0000-abcdefgh"} for n, record in enumerate(made, 1)])
    phone = phones(empty.url).open().settled()
    expect(phone.page.locator(".lab")).to_have_count(first_house + 2)
