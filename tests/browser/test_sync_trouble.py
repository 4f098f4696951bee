"""Bad lines, full phones, wrong clocks, two windows: nothing is lost and everything is said."""

from __future__ import annotations

import contextlib
import json
import shutil
import sqlite3
from collections.abc import Callable, Iterator
from pathlib import Path
from typing import Any

import pytest
from playwright.sync_api import expect

from tests.browser.conftest import ON
from tests.browser.phones import ALL, BETWEEN_TAPS_MS, NOTED, Phone
from tests.browser.serving import Line, LiveServer, told_by

Make = Callable[..., Phone]


@pytest.fixture
def line(server: LiveServer) -> Iterator[Line]:
    """A line to the server that can go bad."""
    made = Line(server.port)
    yield made
    made.close()


def exported(server: LiveServer) -> list[Any]:
    found: list[Any] = json.loads(told_by("export", "--data", server.data))["records"]
    return found


def test_reply_lost_after_the_server_wrote_is_no_second_deed(server: LiveServer, line: Line, phones: Make) -> None:
    phone = phones(line.url).open().settled()
    line.drop_replies_to = b"earth_up"
    phone.row("Earth up").locator(".well").click()
    expect(phone.page.locator(".head .soft")).to_contain_text("1 change kept")
    phone.page.wait_for_timeout(50)
    while not line.dropped:
        phone.page.wait_for_timeout(50)
    expect(phone.page.locator(".head .soft")).to_contain_text("1 change kept")
    line.drop_replies_to = b""
    phone.share()
    assert len([r for r in exported(server) if "earth_up" in r["fields"].get("job", "")]) == 1


def test_line_that_takes_and_never_answers_holds_up_nothing(server: LiveServer, line: Line, phones: Make) -> None:
    phone = phones(line.url).open().settled()
    line.silent = True
    phone.row("Earth up").locator(".well").click()
    expect(phone.page.locator(".lab.done", has_text="Earth up")).to_be_visible()
    phone.page.wait_for_timeout(BETWEEN_TAPS_MS)
    phone.row("Thin beetroot").locator(".well").click()
    expect(phone.page.locator(".lab.done", has_text="Thin beetroot")).to_be_visible()
    expect(phone.page.locator(".head .soft")).to_contain_text("2 changes kept")


def test_edit_made_while_a_push_is_under_way_is_sent_too(server: LiveServer, line: Line, phones: Make) -> None:
    phone = phones(line.url).open().settled()
    line.hold.clear()
    phone.row("Earth up").locator(".well").click()
    done = phone.page.locator(".lab.done", has_text="Earth up")
    done.scroll_into_view_if_needed()  # a tap that follows on a roll is none, nor is one so soon after another
    phone.page.wait_for_timeout(BETWEEN_TAPS_MS)
    done.locator(".well").click()
    expect(done).to_have_count(0)
    line.hold.set()
    phone.share()
    (deed,) = [r for r in exported(server) if "earth_up" in r["fields"].get("job", "")]
    assert deed["fields"]["gone"] is True


def test_refused_change_is_shown_with_its_reason_and_its_words(server: LiveServer, phones: Make) -> None:
    phone = phones(server.url).open().settled()
    phone.page.evaluate(
        """async (on) => {
          const {openStore} = await moduleAt("store/indexed-db");
          const store = await openStore({device: localStorage.getItem("mudproof.device"), now: Date.now});
          await store.write([{id: "bad1", kind: "diary", fields: {on, did: "pick", count: -4, note: "from an old phone"}},
                             {id: "good1", kind: "diary", fields: {on, did: "note", note: "beside it"}}]);
          await store.close();
        }""",
        ON,
    )
    phone.go("shed")
    phone.page.get_by_role("button", name="Share now").click()
    refused = phone.page.locator(".entry", has_text="from an old phone")
    expect(refused).to_contain_text("The count must be a whole number from 0 to 100,000; it was -4.")
    assert "good1" in {record["id"] for record in exported(server)}
    refused.get_by_role("button", name="Throw away").click()
    expect(refused).to_have_count(0)


def test_full_phone_says_so_and_keeps_the_words_on_screen(phone: Phone) -> None:
    phone.go("jot/note")
    phone.page.get_by_label("A word about it").fill("the hinge of the tunnel door is broken")
    phone.page.evaluate(
        """() => { const put = IDBObjectStore.prototype.put;
          window.mend = () => { IDBObjectStore.prototype.put = put; };
          IDBObjectStore.prototype.put = function (...given) {
            if (this.transaction.mode === "readwrite" && this.name === "records") {
              throw new DOMException("no room", "QuotaExceededError"); }
            return put.apply(this, given); }; }"""
    )
    phone.page.get_by_role("button", name="Write it down").click()
    expect(phone.page.get_by_role("alert")).to_contain_text("the phone is full")
    expect(phone.page.get_by_label("A word about it")).to_have_value("the hinge of the tunnel door is broken")
    phone.page.evaluate("window.mend()")
    phone.page.get_by_role("button", name="Write it down").click()
    expect(phone.page.locator(".undo")).to_contain_text("Written down")
    assert [d["note"] for d in phone.deeds("note") if d["on"] == ON] == ["the hinge of the tunnel door is broken"]


def test_lost_connection_to_the_store_is_opened_again(phone: Phone) -> None:
    """What a phone does to a page in the background: the connection goes away without a word."""
    cdp = phone.context.new_cdp_session(phone.page)
    phone.row("Earth up").locator(".well").click()
    phone.share()
    cdp.send("Storage.clearDataForOrigin", {"origin": phone.url.rstrip("/"), "storageTypes": "indexeddb"})
    phone.row("Thin beetroot").locator(".well").click()
    expect(phone.page.locator(".lab.done", has_text="Thin beetroot")).to_be_visible()
    assert [d["did"] for d in phone.deeds() if d.get("job", "").endswith("beetroot.thin")] == ["train"]


def test_cleared_phone_says_what_happened_and_fetches_everything_again(server: LiveServer, phone: Phone) -> None:
    cdp = phone.context.new_cdp_session(phone.page)
    cdp.send("Storage.clearDataForOrigin", {"origin": phone.url.rstrip("/"), "storageTypes": "indexeddb"})
    phone.open()
    expect(phone.page.locator(".undo")).to_contain_text("cleared by the browser")
    phone.settled()
    expect(phone.row("Earth up")).to_be_visible()


@pytest.mark.parametrize(("years", "words"), [(2, "years fast"), (-2, "years slow")])
def test_wrong_clock_is_told_and_shuts_nobody_out(server: LiveServer, phones: Make, years: int, words: str) -> None:
    bet = phones(server.url)
    bet.context.add_init_script(
        f"""{{ const Real = Date, shift = {years} * 365.25 * 86400000;
        globalThis.Date = class extends Real {{
          constructor(...given) {{ if (given.length) super(...given); else super(Real.now() + shift); }}
          static now() {{ return Real.now() + shift; }} }}; }}"""
    )
    bet.open().settled()
    bet.row("Earth up").locator(".well").click()
    expect(bet.page.locator(".lab.done", has_text="Earth up")).to_be_visible()
    bet.share()
    bet.go("shed")
    expect(bet.page.locator(".lab.plain")).to_contain_text(f"2 {words}")
    jim = phones(server.url).open().settled()
    jim.page.locator(".lab.done", has_text="Earth up").locator(".well").click()
    expect(jim.page.locator(".lab.done", has_text="Earth up")).to_have_count(0)
    jim.share()
    (deed,) = [r for r in exported(server) if "earth_up" in r["fields"].get("job", "")]
    assert deed["fields"]["gone"] is True


def test_two_windows_of_one_browser_are_one_phone(phone: Phone) -> None:
    other = Phone(phone.context, phone.url)
    other.page = phone.context.new_page()
    other.open().settled()
    phone.row("Earth up").locator(".well").click()
    expect(other.page.locator(".lab.done", has_text="Earth up")).to_be_visible()
    other.row("Thin beetroot").locator(".well").click()
    expect(phone.page.locator(".lab.done", has_text="Thin beetroot")).to_be_visible()
    stamps = [row["record"]["stamp"] for row in phone.kept()["records"] if row["record"]["fields"].get("job")]
    assert len(stamps) == len(set(stamps))


def test_restored_server_is_given_back_what_it_lacks(server: LiveServer, phones: Make, tmp_path: Path) -> None:
    phone = phones(server.url).open().settled().worker_ready()
    server.kill()
    shutil.copytree(server.data, tmp_path / "backup")
    server.start()
    phone.row("Earth up").locator(".well").click()
    phone.share()
    server.kill()
    shutil.rmtree(server.data)
    shutil.copytree(tmp_path / "backup", server.data)
    assert not [r for r in exported(server) if "earth_up" in r["fields"].get("job", "")], "before any phone finds it"
    server.start()
    phone.go("shed")
    phone.page.get_by_role("button", name="Share now").click()
    expect(phone.page.get_by_role("button", name="Share now")).to_be_visible()
    phone.go("round")
    phone.share()
    assert [r for r in exported(server) if "earth_up" in r["fields"].get("job", "")]


FAST = """{ const Real = Date, shift = DAYS * 86400000;
  globalThis.Date = class extends Real {
    constructor(...given) { if (given.length) super(...given); else super(Real.now() + shift); }
    static now() { return Real.now() + shift; } }; }"""


@pytest.mark.parametrize("days", [2, -40])
def test_what_a_phone_with_a_wrong_date_writes_is_of_the_households_day(empty: LiveServer, phones: Make, days: int) -> None:
    """Once its clock is known to be wrong: at once, and on the next day with no signal. It is said where it is noticed."""
    empty.push([{"id": "h.place", "kind": "place", "stamp": "01f000000000-0000-abcdefgh", "fields": {"name": "Shed bed"}}])
    phone = phones(empty.url)
    phone.context.add_init_script(FAST.replace("DAYS", str(days)))
    phone.open()
    word = f"{abs(days)} days {'fast' if days > 0 else 'slow'}"
    expect(phone.page.locator(".undo")).to_contain_text(word)
    expect(phone.page.locator(".undo")).to_contain_text("household's clocks")
    today = phone.page.evaluate("(days) => new Date(Date.now() - days * 86400000).toLocaleDateString('sv')", days)

    def note(words: str) -> None:
        phone.go("jot/note")
        phone.page.locator("textarea").fill(words)
        phone.page.get_by_role("button", name="Write it down").click()
        expect(phone.page.locator(".undo")).to_contain_text("Written down")

    note("with signal")
    phone.worker_ready()
    empty.kill()
    phone.open()
    note("without")
    assert {deed["note"]: deed["on"] for deed in phone.deeds("note")} == {"with signal": today, "without": today}
    phone.go("shed")
    expect(phone.page.locator("main")).to_contain_text("not to be reached")
    empty.start()
    phone.page.evaluate("() => { window.dispatchEvent(new Event('online')); }")
    phone.go("shed")
    expect(phone.page.locator("main")).to_contain_text(f"This phone's clock is {word}.")


SPOIL = """() => new Promise((done) => {
  indexedDB.open("mudproof").onsuccess = (event) => {
    const db = event.target.result;
    const tx = db.transaction(["records", "meta"], "readwrite");
    tx.objectStore("records").get("place.tunnel").onsuccess = (got) => {
      const row = got.target.result;
      delete row.record.fields.cover;
      tx.objectStore("records").put(row);
    };
    tx.objectStore("records").delete("place.frames");
    tx.objectStore("meta").delete("restedOn");
    tx.oncomplete = () => { db.close(); done(); };
  };
})"""


def test_a_phone_whose_store_was_spoilt_finds_out_and_is_made_whole(server: LiveServer, phones: Make) -> None:
    """Behind our back a field and a record are gone. Once a day the digest is made anew from what is really there."""
    phone = phones(server.url).open().settled()
    whole = {row["id"]: row["record"] for row in phone.kept()["records"]}
    phone.until(f"async () => Boolean(await ({NOTED})('restedOn'))")  # else the day's look is noted behind the spoiling
    phone.page.evaluate(SPOIL)
    phone.open().settled()
    phone.share()
    phone.until("async () => (await (" + ALL + ")()).records.some((row) => row.id === 'place.frames')")
    phone.share()
    assert {row["id"]: row["record"] for row in phone.kept()["records"]} == whole
    assert {one["id"]: one for one in exported(server)} == whole


def test_a_row_that_the_server_can_no_longer_read_is_given_back(server: LiveServer, phones: Make) -> None:
    phone = phones(server.url).open().settled()
    before = {one["id"]: one for one in exported(server)}
    server.kill()
    with contextlib.closing(sqlite3.connect(server.data / "mudproof.db")) as db:
        db.execute("UPDATE records SET body = '{' WHERE id IN ('place.tunnel', 'site')")
        db.commit()
    server.start()
    new = phones(server.url).open()
    new.go("shed")
    expect(new.page.locator("main")).to_contain_text(
        "The server could not read 2 records and left them out: place.tunnel, site."
    )
    phone.share()
    phone.share()
    assert {one["id"]: one for one in exported(server)} == before
