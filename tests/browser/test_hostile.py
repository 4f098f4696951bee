"""Whatever words come into any field of any record, every room shows them as words."""

from __future__ import annotations

from typing import Any

import pytest

from tests.browser.phones import Phone
from tests.browser.serving import LiveServer

MARKUP = [
    "<img src=x onerror=alert(1)>",
    "<script>alert(2)</script>",
    '"><svg/onload=alert(3)>',
    "{{7*7}}${7*7}<%= 7*7 %>",
    "'; DROP TABLE records; --",
    "&lt;b&gt;&#x3c;b&#x3e;",
]
CORPUS = {
    "markup": " ".join(MARKUP),
    "address": "javascript:alert(4)",
    "formula": "=cmd|' /C calc'!A0",
    "one long word": "a" * 400,
    "scripts of the world": "\u0301" * 40 + "Z\u0346\u0347 \U0001f345 \u05d0\u05d1 \u0645\u0631\u062d\u0628\u0627",
}
ROOMS = ["round", "ground", "season", "diary", "shed", "jot", "varieties", "crops", "year", "phones", "plan/crop=tomato",
         "place/h.place", "place/h.bed", "batch/h.batch", "job/h.job", "deed/h.deed", "form/place/h.place",
         "form/variety/h.variety", "form/batch/h.batch", "form/fixture/h.fixture", "form/site/site", "crop/tomato/h.variety",
         "readings/h.place", "jot/look/h.batch", "jot/note", "begin", "seed-list", "own-crop", "fullness", "takes",
         "vessels", "layout/h.place", "again/h.place", "form/vessel/h.vessel"]  # fmt: skip
BAD = "main script, main iframe, main svg[onload], main img:not(.photo), main a[href^='javascript']"


def records(words: str) -> list[dict[str, Any]]:
    """One record of every kind, the words in each of its fields that takes words."""
    kinds: list[tuple[str, str, dict[str, Any]]] = [
        ("site", "site", {"name": words, "tz": words}),
        ("person", "h.person", {"name": words, "mark": words}),
        ("place", "h.place", {"name": words, "sort": "house", "cover": "glass", "walk": 1, "notes": words}),
        ("place", "h.bed", {"name": words, "sort": "bed", "within": "h.place", "length_cm": 400, "width_cm": 120,
                            "notes": words}),
        ("fixture", "h.fixture", {"name": words, "sort": "shelf", "place": "h.place", "up": True, "in_way_of": ["plant_out"],
                                  "notes": words}),
        ("variety", "h.variety", {"name": words, "crop": "tomato", "notes": words}),
        ("crop", "crop.h_own", {"crop": "h_own", "like": "kale", "one": words, "many": words, "family": words, "name": words}),
        ("batch", "h.batch", {"variety": "h.variety", "year": 2031, "want": 6, "for_place": "h.bed", "name": words,
                              "notes": words}),
        ("diary", "h.deed", {"on": "2031-05-19", "did": "treat", "batch": "h.batch", "place": "h.bed", "note": words,
                             "product": words, "rate": words, "by": "h.person", "found": "aphid", "level": "many"}),
        ("diary", "h.odd", {"on": "2031-05-18", "did": "note", "note": words, "oddity": {"deep": [words]}}),
        ("job", "h.job", {"hand": True, "title": words, "place": "h.place", "from": "2031-05-01", "for": "h.person"}),
        ("vessel", "h.vessel", {"name": words, "sort": "pot", "litres": 1, "length_cm": 13}),
        ("layout", "h.layout", {"house": "h.place", "name": words, "spots": {"h.bed": [0, 0, 400, 120]}}),
        ("supply", "h.supply", {"what": words, "unit": words, "held": 3, "on": "2031-05-01"}),
        ("bought", "h.bought", {"what": words, "unit": words, "amount": 3, "on": "2031-05-19", "by": "h.person"}),
        ("lesson", "h.lesson", {"crop": "tomato", "step": "sow", "field": words, "text": words, "from_year": 2030}),
        ("oddity", "h.oddity", {"name": words}),
    ]  # fmt: skip
    return [
        {"id": id_, "kind": kind, "stamp": f"01ffffffff{n:02x}-0000-abcdefgh", "fields": fields}
        for n, (kind, id_, fields) in enumerate(kinds)
    ]


@pytest.mark.parametrize("words", CORPUS.values(), ids=CORPUS)
def test_hostile_words_in_every_field_are_only_ever_words(server: LiveServer, phone: Phone, words: str) -> None:
    page = phone.page
    alarms: list[str] = []
    page.on("dialog", lambda dialog: (alarms.append(dialog.message), dialog.dismiss()))
    refused: list[str] = []
    page.on("console", lambda message: refused.append(message.text) if "Content Security Policy" in message.text else None)
    server.push(records(words))
    phone.share()
    for room in ROOMS:
        phone.go(room)
        page.wait_for_timeout(40)
        assert page.locator(BAD).count() == 0, room
        wide = page.evaluate("() => document.documentElement.scrollWidth - document.documentElement.clientWidth")
        assert wide <= 0, (room, wide)
    assert not alarms and not refused and not phone.errors
