"""Phones that join, are turned out and come again; nothing they wrote is lost. And https at home, with no signal."""

from __future__ import annotations

import base64
import datetime
import hashlib
import re
from collections.abc import Callable
from pathlib import Path

from cryptography import x509
from cryptography.hazmat.primitives.serialization import Encoding, PublicFormat
from playwright.sync_api import Browser, expect

from tests.browser.phones import SIZE, Phone
from tests.browser.serving import HomeServer, LiveServer
from tests.conftest import FLAGS, chromium_path

TODAY = "() => document.documentElement.dataset.today || new Intl.DateTimeFormat('sv-SE').format(new Date())"
NOTES = """async () => {
  const {openStore} = await moduleAt("store/indexed-db");
  const store = await openStore({device: "aaaaaaaa", now: Date.now});
  const all = await store.live();
  await store.close();
  return all.map((one) => one.fields.note).filter(Boolean);
}"""


def note(phone: Phone, words: str) -> None:
    """Write a note down in the Jot."""
    phone.go("jot/note")
    phone.page.get_by_role("textbox").first.fill(words)
    phone.page.get_by_role("button", name="Write it down").click()
    phone.until(f"async (words) => (await ({NOTES})()).includes(words)", words)


def notes(phone: Phone) -> set[str]:
    return {str(deed.get("note")) for deed in phone.deeds("note")}


def join(phone: Phone, code: str, name: str) -> None:
    page = phone.page
    page.get_by_role("button", name="Join", exact=True).first.click()
    page.get_by_label("Code").fill(code)
    page.get_by_label("What this phone is called").fill(name)
    page.get_by_role("button", name="Join", exact=True).last.click()
    expect(page.get_by_text("Joined. The household's records come now.")).to_be_visible()


def test_phones_join_are_turned_out_and_come_again_with_what_they_wrote(
    plain_home: HomeServer, phones: Callable[..., Phone]
) -> None:
    one = phones(plain_home.url).open()
    expect(one.page.get_by_text("This phone has not joined yet")).to_be_visible()
    note(one, "written before it joined")
    one.go("round")
    one.page.get_by_role("button", name="Join", exact=True).first.click()
    one.page.get_by_label("Code").fill("WRNG-CDXZ")
    one.page.get_by_role("button", name="Join", exact=True).last.click()
    expect(one.page.get_by_role("alert")).to_contain_text("That code is not good, or no longer.")
    one.go("round")
    join(one, plain_home.code(), "Hazel's phone")

    one.go("phones")
    expect(one.page.get_by_text("Hazel's phone")).to_be_visible()
    one.page.get_by_role("button", name="One more phone").click()
    code = one.page.locator(".big").inner_text()
    expect(one.page.get_by_role("img", name="The address and the code, for a camera")).to_be_visible()
    other = phones(plain_home.url).open(f"#/join/{code}")
    other.page.get_by_label("What this phone is called").fill("Jim's phone")
    other.page.get_by_role("button", name="Join", exact=True).last.click()
    expect(other.page.get_by_role("status").filter(has_text="Say yes on the other phone.")).to_contain_text("“Jim's phone”")
    other.open("#/join")
    expect(other.page.get_by_text("Say yes on the other phone.")).to_be_visible()
    other.go("diary")
    question = one.page.get_by_role("alert", name="Jim's phone asks to join")
    question.get_by_role("button", name="Let it in").click()
    expect(question).to_have_count(0)
    expect(other.page.get_by_role("heading", name="Diary")).to_be_visible()
    other.page.get_by_role("button", name="Join", exact=True).first.click()
    expect(other.page.get_by_text("Joined. The household's records come now.")).to_be_visible()
    expect(other.page.get_by_text("Not joined.")).to_have_count(0)
    other.until(f"async () => (await ({NOTES})()).includes('written before it joined')")

    expect(one.page.get_by_role("button", name="Turn out Jim's phone")).to_be_visible(timeout=15_000)
    one.page.get_by_role("button", name="One more phone").click()
    stranger = phones(plain_home.url).open(f"#/join/{one.page.locator('.big').inner_text()}")
    stranger.page.get_by_label("What this phone is called").fill("Somebody else")
    stranger.page.get_by_role("button", name="Join", exact=True).last.click()
    one.page.get_by_role("button", name="Not this one").click()
    expect(stranger.page.get_by_role("alert")).to_contain_text("This phone was not let in")
    assert notes(stranger) == set()
    one.page.get_by_role("button", name="Turn out Jim's phone").click()
    one.page.get_by_role("button", name="Turn it out").click()
    expect(one.page.get_by_text("Jim's phone is turned out")).to_be_visible()
    note(other, "written while turned out")
    other.go("round")
    expect(other.page.get_by_text("Not joined.")).to_be_visible()
    assert "written while turned out" in notes(other) and "written before it joined" in notes(other), "nothing is deleted"
    join(other, plain_home.code(), "Jim's phone again")
    one.go("round")
    one.page.evaluate("() => window.dispatchEvent(new Event('online'))")
    one.until(f"async () => (await ({NOTES})()).includes('written while turned out')")


def test_over_https_at_home_it_opens_with_no_server(browser: Browser, tmp_path: Path) -> None:
    """The root is trusted as a phone would trust it: the browser is told this key, and nothing else is let pass."""
    server = HomeServer(tmp_path / "own", plain=False)
    server.start()
    leaf = x509.load_pem_x509_certificate((server.data / "certificates" / "server.crt").read_bytes())
    key = leaf.public_key().public_bytes(Encoding.DER, PublicFormat.SubjectPublicKeyInfo)
    pin = base64.b64encode(hashlib.sha256(key).digest()).decode()
    own = browser.browser_type.launch_persistent_context(
        str(tmp_path / "profile"),
        executable_path=chromium_path(),
        args=[*FLAGS, f"--ignore-certificate-errors-spki-list={pin}"],
        viewport=SIZE,  # type: ignore[arg-type]
        has_touch=True,
    )
    try:
        phone = Phone(own, server.url).open().worker_ready()
        assert phone.page.evaluate("() => window.isSecureContext")
        join(phone, server.code(), "Hazel's phone")
        (cookie,) = own.cookies()
        assert cookie["name"] == "__Host-mudproof" and cookie["httpOnly"] and cookie["secure"]
        assert phone.page.evaluate("() => document.cookie") == ""
        server.kill()
        phone.page.reload()
        phone.page.wait_for_selector("html[data-ready=yes]", state="attached")
        note(phone, "with the server dead")
        server.start()
        phone.page.evaluate("() => window.dispatchEvent(new Event('online'))")
        phone.go("round")
        expect(phone.page.locator(".head .soft")).to_contain_text(re.compile("all shared"), timeout=20_000)
    finally:
        own.close()
        server.kill()


def test_a_guest_ticks_with_no_signal_writes_a_note_and_sees_nothing_else(tmp_path: Path, phones: Callable[..., Phone]) -> None:
    demo = LiveServer(tmp_path / "data", datetime.date.today().isoformat()).start()
    demo.kill()
    server = HomeServer(tmp_path / "data", plain=True)
    server.start()
    try:
        one = phones(server.url).open()
        join(one, server.code(), "Hazel's phone")
        one.settled()
        one.go("phones")
        one.page.get_by_role("button", name="A guest", exact=True).click()
        for key in one.page.get_by_role("region", name="A guest").locator("button[aria-pressed]").all():
            key.click()
        one.page.get_by_role("button", name="A code for the guest").click()
        code = one.page.locator(".big").inner_text()
        guest = phones(server.url).open(f"#/join/{code}")
        guest.page.get_by_role("button", name="Join", exact=True).last.click()
        expect(one.page.get_by_text("It would be a guest.")).to_be_visible()
        one.page.get_by_role("button", name="Let it in").click()
        expect(guest.page.get_by_role("heading", name="While they are away")).to_be_visible()
        guest.page.wait_for_selector("button[aria-label^='Done: ']")
        for way in ("round", "diary", "shed", "form/site/site", "crops"):
            guest.go(way)
            expect(guest.page.get_by_role("heading", name="While they are away")).to_be_visible()
        assert [row["record"]["kind"] for row in guest.kept()["records"]] == [], "no record of the household is on the phone"
        guest.context.set_offline(True)
        key = guest.page.locator("button[aria-label^='Done: ']").first
        title = str(key.get_attribute("aria-label")).removeprefix("Done: ")
        key.click()
        expect(guest.page.get_by_role("heading", name="Done by you")).to_be_visible()
        guest.page.get_by_role("textbox", name="A note").fill("the door was open")
        guest.page.get_by_role("button", name="Write it down").click()
        expect(guest.page.get_by_text(re.compile(r"2\schanges kept on this phone"))).to_be_visible()
        guest.context.set_offline(False)
        guest.page.evaluate("() => window.dispatchEvent(new Event('online'))")
        guest.until("async () => (await (await import('/scripts/store/indexed-db.js')).openStore("
                    "{device: 'aaaaaaaa', now: Date.now}).then(async (store) => "
                    "{ const left = await store.outboxCount(); await store.close(); return left; })) === 0")  # fmt: skip
        assert guest.kept()["refused"] == []
        one.go("round")
        one.page.evaluate("() => window.dispatchEvent(new Event('online'))")
        one.until(f"async () => (await ({NOTES})()).includes('the door was open')")
        ticked = [job for job in one.jobs(one.page.evaluate(TODAY)) if job["title"] == title and job["state"] == "ready"]
        assert ticked == [], title
        assert guest.errors == []
    finally:
        server.kill()
