"""Photos taken with no signal, shown at once, sent when there is one, seen on the other phone; a hash that holds on http."""

from __future__ import annotations

import base64
import hashlib
import random
from collections.abc import Callable
from typing import Any

import pytest
from playwright.sync_api import expect

from server.store.backups import is_sound, sum_of
from tests.browser.phones import Phone
from tests.browser.serving import LiveServer

PICTURE = """async ([w, h]) => {
  const canvas = document.createElement("canvas");
  canvas.width = w; canvas.height = h;
  const pen = canvas.getContext("2d");
  for (let at = 0; at < 400; at += 1) {
    pen.fillStyle = `hsl(${at * 37},80%,50%)`;
    pen.fillRect((at * 97) % w, (at * 61) % h, w / 9, h / 9);
  }
  const blob = await new Promise((resolve) => canvas.toBlob(resolve, "image/png"));
  return btoa(Array.from(new Uint8Array(await blob.arrayBuffer()), (byte) => String.fromCharCode(byte)).join(""));
}"""
WAITING = """async () => (await (await import("/scripts/store/photos.js")).photosWaiting()).length"""


def take(phone: Phone, w: int = 2400, h: int = 1800) -> None:
    """Write a note down with a photo."""
    page = phone.page
    data = base64.b64decode(page.evaluate(PICTURE, [w, h]))
    phone.go("jot/note")
    page.get_by_placeholder("a word about it").fill("blight on the end row")
    page.locator("input[type=file]").set_input_files({"name": "p.png", "mimeType": "image/png", "buffer": data})
    expect(page.locator(".photos img")).to_be_visible()
    page.get_by_role("button", name="Write it down").click()
    expect(page.get_by_text("Written down: a note")).to_be_visible()


def test_a_photo_taken_with_no_signal_is_there_at_once_and_on_the_other_phone_later(
    server: LiveServer, phones: Callable[..., Phone]
) -> None:
    one = phones(server.url).open().settled().worker_ready()
    other = phones(server.url).open().settled()
    one.context.set_offline(True)
    take(one)
    one.go("diary")
    expect(one.page.locator(".entry", has_text="blight on the end row").locator("img")).to_be_visible()
    assert one.page.evaluate(WAITING) == 2
    one.context.set_offline(False)
    one.go("round")
    one.share()
    one.until(f"async () => (await ({WAITING})()) === 0")
    other.share()
    other.go("diary")
    entry = other.page.locator(".entry", has_text="blight on the end row")
    expect(entry.locator("img")).to_be_visible()
    entry.click()
    other.page.get_by_role("button", name="Photo 1 of 1, large").click()
    large = other.page.locator(".photo-large img")
    expect(large).to_be_visible()
    other.until("() => document.querySelector('.photo-large img')?.naturalWidth === 1600")
    other.context.set_offline(True)
    other.go("diary")
    expect(entry.locator("img")).to_be_visible()  # the small one stays where it was seen


def test_nothing_of_where_it_was_taken_goes_along_and_the_server_holds_what_the_phone_made(
    server: LiveServer, phones: Callable[..., Phone]
) -> None:
    phone = phones(server.url).open().settled()
    take(phone)
    phone.until(f"async () => (await ({WAITING})()) === 0")
    files = list((server.data / "photos").rglob("*.jpg"))
    assert len(files) == 2
    for file in files:
        data = file.read_bytes()
        assert is_sound(file) and sum_of(file)[1] and b"Exif" not in data


@pytest.mark.only_looks
def test_a_photo_that_was_left_out_is_neither_written_nor_sent(phone: Phone) -> None:
    page = phone.page
    data = base64.b64decode(page.evaluate(PICTURE, [300, 200]))
    phone.go("jot/note")
    page.locator("input[type=file]").set_input_files({"name": "p.png", "mimeType": "image/png", "buffer": data})
    page.get_by_role("button", name="Leave photo 1 out").click()
    expect(page.locator(".photos img")).to_have_count(0)
    phone.until(f"async () => (await ({WAITING})()) === 0")


@pytest.mark.only_looks
def test_what_is_no_picture_is_said_and_what_was_typed_stays(phone: Phone) -> None:
    page = phone.page
    phone.go("jot/note")
    page.get_by_placeholder("a word about it").fill("still here")
    page.locator("input[type=file]").set_input_files({"name": "p.jpg", "mimeType": "image/jpeg", "buffer": b"not a picture"})
    expect(page.get_by_role("alert")).to_have_text("That file is no picture this phone can read. Choose another.")
    expect(page.get_by_placeholder("a word about it")).to_have_value("still here")


FULL = """([database, store]) => {
  const put = IDBObjectStore.prototype.put, drop = IDBObjectStore.prototype.delete;
  IDBObjectStore.prototype.put = function (...given) {
    if (this.transaction.db.name === database && this.name === store && !window.roomMade)
      throw new DOMException("no room", "QuotaExceededError");
    return put.apply(this, given); };
  IDBObjectStore.prototype.delete = function (...given) {
    if (this.name === "photos") window.roomMade = true;
    return drop.apply(this, given); };
}"""
"""No room for what goes into a store, until a photo is let go. What it does on a disk that is really full was seen by hand: the
browser refuses the photo with this error, and small records still fit."""


def test_a_phone_full_of_photos_says_so_and_nothing_else_suffers(server: LiveServer, phone: Phone) -> None:
    page = phone.page
    page.evaluate(FULL, ["mudproof-photos", "photos"])
    data = base64.b64decode(page.evaluate(PICTURE, [300, 200]))
    phone.go("jot/note")
    page.get_by_placeholder("a word about it").fill("no room for the picture")
    page.locator("input[type=file]").set_input_files({"name": "p.png", "mimeType": "image/png", "buffer": data})
    expect(page.get_by_role("alert")).to_contain_text("The phone is full, so the photo is not kept.")
    expect(page.get_by_placeholder("a word about it")).to_have_value("no room for the picture")
    page.get_by_role("button", name="Write it down").click()
    expect(page.get_by_text("Written down: a note")).to_be_visible()
    phone.share()
    (deed,) = [deed for deed in phone.deeds("note") if deed.get("note") == "no room for the picture"]
    assert "photos" not in deed and phone.page.evaluate(WAITING) == 0 and not phone.errors


def test_on_a_full_phone_a_photo_that_the_server_has_makes_room_for_what_is_written(phone: Phone) -> None:
    take(phone)
    phone.share()
    phone.until(f"async () => (await ({WAITING})()) === 0")
    page = phone.page
    page.evaluate(FULL, ["mudproof", "records"])
    phone.go("jot/note")
    page.get_by_placeholder("a word about it").fill("written all the same")
    page.get_by_role("button", name="Write it down").click()
    expect(page.get_by_text("Written down: a note")).to_be_visible()
    phone.go("diary")
    entry = page.locator(".entry", has_text="blight on the end row")
    expect(entry.locator("img")).to_be_visible()
    entry.click()
    page.get_by_role("button", name="Photo 1 of 1, large").click()
    phone.until("() => document.querySelector('.photo-large img')?.naturalWidth === 1600")


@pytest.mark.only_looks
def test_our_own_hash_is_hashlibs(phone: Phone) -> None:
    """FIPS 180-4 through hashlib; lengths about the block's edge."""
    dice = random.Random(1)
    cases: list[Any] = [[dice.randrange(256) for _ in range(length)] for length in (0, 1, 3, 55, 56, 57, 63, 64, 65, 119, 1000)]
    found = phone.page.evaluate(
        """async (cases) => {
          const {digest} = await moduleAt("lib/sha256");
          const hex = (bytes) => [...bytes].map((byte) => byte.toString(16).padStart(2, "0")).join("");
          return cases.map((one) => hex(digest(Uint8Array.from(one))));
        }""",
        cases,
    )
    assert found == [hashlib.sha256(bytes(one)).hexdigest() for one in cases]
