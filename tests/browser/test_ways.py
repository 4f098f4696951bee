"""Every way into every room: with nothing said, with a name that nobody has, with a name that has gone."""

from __future__ import annotations

import re
from importlib.resources import files

from tests.browser.phones import Phone

WINDOW = files("web").joinpath("scripts/window.js").read_text(encoding="utf-8")
ROOMS = sorted({"round", "job", "put-off", *re.findall(r'^  "?([a-z-]+)"?: \(\) => import', WINDOW, re.MULTILINE)} - {"guest"})
"""A guest's room opens on a guest's phone alone."""
NONSENSE = re.compile(r"undefined|NaN|\[object|\bnull\b")


def test_no_way_into_a_room_shows_nonsense(phone: Phone) -> None:
    assert len(ROOMS) > 22
    wrong = []
    for name in ROOMS:
        for way in (name, f"{name}/nobody.has.this", f"{name}/nobody.has.this/nor.this"):
            phone.go(way)
            phone.page.wait_for_function("() => document.querySelector('#room')?.innerText.trim()")
            words = phone.page.inner_text("body")
            if NONSENSE.search(words) or phone.errors:
                wrong.append((way, NONSENSE.findall(words), list(phone.errors)))
                phone.errors.clear()
    assert wrong == []
