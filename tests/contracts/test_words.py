"""What `python -m tests.words` prints is what growers read, all of it."""

from __future__ import annotations

import functools
import re

import pytest

from tests.contracts.scripts import SCRIPTS
from tests.words import all_words

ROOMS = sorted(path.parent.relative_to(SCRIPTS).as_posix() for path in (SCRIPTS / "rooms").rglob("room.js"))


@functools.cache
def all_of_them() -> list[tuple[str, int, str]]:
    """Where each stands, and what it is."""
    return list(all_words())


@pytest.mark.parametrize("room", ROOMS)
def test_every_room_has_words(room: str) -> None:
    assert any(f"web/scripts/{room}/" in path for path, _, _ in all_of_them())


@pytest.mark.parametrize(
    "words",
    [
        "This job is not on the list any more: it was done, let go, or what it hung on has changed.",
        "From {}, best {}{}.",  # filled in
        "Told by {}: written once, the larger number counts.",
        "Only approved products, and just as the label says.",
        "roots pot-bound",
        "nine nights in ten stay above {} °C from {}",  # of the kernel
    ],
)
def test_words_known_from_the_screen_are_among_them(words: str) -> None:
    assert words in {text.replace("\u00a0", " ") for _, _, text in all_of_them()}


def test_what_is_for_the_machine_is_not() -> None:
    told = {text for _, _, text in all_of_them()}
    assert not told & {"headrow", "use strict", "key solid", "0 0 38 52", "diary", "../../lib/dom.js"}
    assert not [text for text in told if re.search(r"\b(lab plain|var\(--)", text)]


def test_words_are_written_with_care() -> None:
    """No two spaces, no space before a stop, no word twice, no shouting."""
    for path, line, text in all_of_them():
        assert not re.search(r"[a-z]  [a-z]|[a-z] [.,;:](?:\s|$)|\b([a-z]{2,}) \1\b|!(?:\s|$)", text), f"{path}:{line}: {text}"


def test_words_that_no_grower_says_are_not_on_the_phone() -> None:
    """A fixture is something put up, a weight is asked for as such, nobody is side-shooted, and no program's talk is heard."""
    said = [(path, line, text) for path, line, text in all_of_them() if path.startswith("web/")]
    for path, line, text in said:
        assert not re.search(r"\b(fixtures?|how heavy|side-shooted|sync|offline|invalid|deed)\b", text, re.IGNORECASE), (
            f"{path}:{line}: {text}"
        )
