"""Whatever words come into any field of any record, every room shows them as words."""

from __future__ import annotations

import itertools
from typing import Any

import pytest

from tests.browser.phones import Phone
from tests.browser.serving import LiveServer
from tests.cases import sampled

MARKUP = [
    "<img src=x onerror=alert(1)>",
    "<script>alert(2)</script>",
    '"><svg/onload=alert(3)>',
    "{{7*7}}${7*7}<%= 7*7 %>",
    "'; DROP TABLE records; --",
    "&lt;b&gt;&#x3c;b&#x3e;",
]
CORPUS = [
    " ".join(MARKUP),
    "javascript:alert(4)",
    "=cmd|' /C calc'!A0",
    "a" * 400,
    "\u0301" * 40 + "Z\u0346\u0347 \U0001f345 \u05d0\u05d1 \u0645\u0631\u062d\u0628\u0627",
]
"""Markup, an address, a formula, one long word, and scripts of the world."""
WORDS = "words"
"""Stands where a field takes words."""
ROOMS = ["round", "ground", "season", "diary", "shed", "jot", "varieties", "crops", "year", "phones", "plan/crop=tomato",
         "place/h.place", "place/h.bed", "batch/h.batch", "job/h.job", "deed/h.deed", "form/place/h.place",
         "form/variety/h.variety", "form/batch/h.batch", "form/fixture/h.fixture", "form/site/site", "crop/tomato/h.variety",
         "readings/h.place", "jot/look/h.batch", "jot/note", "begin", "seed-list", "own-crop", "fullness", "takes",
         "vessels", "layout/h.place", "again/h.place", "form/vessel/h.vessel"]  # fmt: skip
BAD = "main script, main iframe, main svg[onload], main img:not(.photo), main a[href^='javascript']"


def records(first: int) -> list[dict[str, Any]]:
    """One record of every kind; each of its fields that takes words has the next of the corpus, from the first-th on."""
    kinds: list[tuple[str, str, dict[str, Any]]] = [
        ("site", "site", {"name": WORDS, "tz": WORDS}),
        ("person", "h.person", {"name": WORDS, "mark": WORDS}),
        ("place", "h.place", {"name": WORDS, "sort": "house", "cover": "glass", "walk": 1, "notes": WORDS}),
        ("place", "h.bed", {"name": WORDS, "sort": "bed", "within": "h.place", "length_cm": 400, "width_cm": 120,
                            "notes": WORDS}),
        ("fixture", "h.fixture", {"name": WORDS, "sort": "shelf", "place": "h.place", "up": True, "in_way_of": ["plant_out"],
                                  "notes": WORDS}),
        ("variety", "h.variety", {"name": WORDS, "crop": "tomato", "notes": WORDS}),
        ("crop", "crop.h_own", {"crop": "h_own", "like": "kale", "one": WORDS, "many": WORDS, "family": WORDS, "name": WORDS}),
        ("batch", "h.batch", {"variety": "h.variety", "year": 2031, "want": 6, "for_place": "h.bed", "name": WORDS,
                              "notes": WORDS}),
        ("diary", "h.deed", {"on": "2031-05-19", "did": "treat", "batch": "h.batch", "place": "h.bed", "note": WORDS,
                             "product": WORDS, "rate": WORDS, "by": "h.person", "found": "aphid", "level": "many"}),
        ("diary", "h.odd", {"on": "2031-05-18", "did": "note", "note": WORDS, "oddity": {"deep": [WORDS]}}),
        ("job", "h.job", {"hand": True, "title": WORDS, "place": "h.place", "from": "2031-05-01", "for": "h.person"}),
        ("vessel", "h.vessel", {"name": WORDS, "sort": "pot", "litres": 1, "length_cm": 13}),
        ("layout", "h.layout", {"house": "h.place", "name": WORDS, "spots": {"h.bed": [0, 0, 400, 120]}}),
        ("supply", "h.supply", {"what": WORDS, "unit": WORDS, "held": 3, "on": "2031-05-01"}),
        ("bought", "h.bought", {"what": WORDS, "unit": WORDS, "amount": 3, "on": "2031-05-19", "by": "h.person"}),
        ("lesson", "h.lesson", {"crop": "tomato", "step": "sow", "field": WORDS, "text": WORDS, "from_year": 2030}),
        ("oddity", "h.oddity", {"name": WORDS}),
    ]  # fmt: skip
    corpus = itertools.cycle([*CORPUS[first:], *CORPUS[:first]])

    def filled(value: Any) -> Any:
        if isinstance(value, dict):
            return {key: filled(one) for key, one in value.items()}
        if isinstance(value, list):
            return [filled(one) for one in value]
        return next(corpus) if value == WORDS else value

    return [
        {"id": id_, "kind": kind, "stamp": f"01ffffffff{n:02x}-0000-abcdefgh", "fields": filled(fields)}
        for n, (kind, id_, fields) in enumerate(kinds)
    ]


@pytest.mark.parametrize("first", sampled(range(len(CORPUS)), 3))
def test_hostile_words_in_every_field_are_only_ever_words(server: LiveServer, phone: Phone, first: int) -> None:
    page = phone.page
    alarms: list[str] = []
    page.on("dialog", lambda dialog: (alarms.append(dialog.message), dialog.dismiss()))
    refused: list[str] = []
    page.on("console", lambda message: refused.append(message.text) if "Content Security Policy" in message.text else None)
    server.push(records(first))
    phone.share()
    for room in ROOMS:
        phone.go(room)
        page.wait_for_timeout(40)
        assert page.locator(BAD).count() == 0, room
        wide = page.evaluate("() => document.documentElement.scrollWidth - document.documentElement.clientWidth")
        assert wide <= 0, (room, wide)
    assert not alarms and not refused and not phone.errors
