"""Every way into every room: with nothing said, with a name that nobody has, with a name that has gone."""

from __future__ import annotations

import re
from importlib.resources import files

import pytest

from tests.browser.conftest import ON
from tests.browser.phones import Phone
from tests.browser.serving import LiveServer
from tests.cases import sampled

NAMED = files("web").joinpath("scripts/rooms.js").read_text(encoding="utf-8").split("ALL = {")[1]
ROOMS = sorted({"round", *re.findall(r'"?([a-z-]+)"?(?:: \w+)?,', NAMED)} - {"guest"})
"""A guest's room opens on a guest's phone alone."""
TOMATO = "batch.2031.tomato"
NONSENSE = re.compile(r"undefined|NaN|\[object|\bnull\b")


@pytest.mark.only_looks
def test_no_way_into_a_room_shows_nonsense(phone: Phone) -> None:
    assert len(ROOMS) > 22
    wrong = []
    ways = [f"{name}{further}" for name in ROOMS for further in ("", "/nobody.has.this", "/nobody.has.this/nor.this")]
    for way in sampled(ways, 2):  # three to a room: so each room is come into with one name, or with none and with two
        phone.go(way)
        phone.page.wait_for_function("() => document.querySelector('#room')?.innerText.trim()")
        words = phone.page.inner_text("body")
        if NONSENSE.search(words) or phone.errors:
            wrong.append((way, NONSENSE.findall(words), list(phone.errors)))
            phone.errors.clear()
    assert wrong == []


BORN = ("constructor", "toString", "__proto__", "hasOwnProperty")
"""Names that every object of the browser's language is born with."""


@pytest.mark.only_looks
def test_ways_named_like_what_objects_are_born_with_lead_to_the_round(phone: Phone) -> None:
    for word in BORN:
        for way in (word, f"form/{word}/new", f"crop/{word}", f"year/{word}", f"jot/{word}", f"jot/look/{word}/{word}"):
            phone.go(way)
            phone.page.wait_for_function("() => document.querySelector('#room')?.innerText.trim()")
            assert not NONSENSE.search(phone.page.inner_text("body")) and not phone.errors, way


def test_a_household_that_calls_things_so_keeps_its_round(server: LiveServer, phone: Phone) -> None:
    rows = phone.page.locator(".lab").count()
    stamp = "01c000000000-0000-abcdefgh"
    word = "constructor"
    server.push(
        [
            {"id": "k.odd", "kind": word, "stamp": stamp, "fields": {"name": word}},
            {
                "id": "d.odd",
                "kind": "diary",
                "stamp": stamp,
                "fields": {"on": ON, "did": "look", "batch": TOMATO, "found": word, "level": "many"},
            },
            {"id": "e.odd", "kind": "diary", "stamp": stamp, "fields": {"on": ON, "did": word, "place": "tunnel", word: 3}},
            {"id": "v.odd", "kind": "variety", "stamp": stamp, "fields": {"name": word, "crop": word}},
        ]
    )
    phone.share()
    assert phone.page.locator(".lab").count() >= rows > 20
    for room in (
        "ground",
        "season",
        "diary",
        "shed",
        "varieties",
        "crops",
        "deed/d.odd",
        "deed/e.odd",
        f"batch/{TOMATO}",
        "round",
    ):
        phone.go(room)
        phone.page.wait_for_function("() => document.querySelector('#room')?.innerText.trim()")
        assert not NONSENSE.search(phone.page.inner_text("body")) and not phone.errors, room
