"""How the browser's scripts are to be: functions that fit on a screen, rooms in three pieces, colours in one place."""

from __future__ import annotations

import re

from tests.contracts.scripts import FUNCTIONS, ROOT, SCRIPTS, nodes, place, tree, words
from tests.contracts.test_import_rules import SHARED_PARTS, browser_imports

MOST_LINES = 60
MOST_PARAMETERS = 5
ROOMS = sorted(path.parent for path in (SCRIPTS / "rooms").rglob("room.js"))
OF_THE_PAGE = {"document", "window", "localStorage", "navigator", "fetch", "location", "Date"}
STYLES = ROOT / "web" / "styles"
RAW_COLOUR = re.compile(r"#[0-9a-fA-F]{3,8}\b|\b(?:rgba?|hsla?|hwb|lab|lch|oklab|oklch|color)\(")


def test_no_function_is_longer_than_a_screen_or_takes_a_handful_more() -> None:
    for path in SCRIPTS.rglob("*.js"):
        for node in nodes(tree(path)):
            if node.type in FUNCTIONS:
                lines = node.end_point.row - node.start_point.row + 1
                assert lines <= MOST_LINES, f"{place(path, node)}: {lines} lines"
                parameters = node.child_by_field_name("parameters")
                taken = [one for one in parameters.named_children if one.type != "comment"] if parameters else []
                assert len(taken) <= MOST_PARAMETERS, f"{place(path, node)}: {len(taken)} parameters"


def test_every_room_is_in_three_pieces() -> None:
    for folder in ROOMS:
        for piece in ("seen.js", "draw.js"):
            assert (folder / piece).exists(), f"{folder.relative_to(SCRIPTS)} has no {piece}"


def test_what_is_seen_is_worked_out_without_a_page_and_drawn_without_writing() -> None:
    for folder in ROOMS:
        for target in browser_imports(folder / "seen.js"):
            assert target[0] in ("household", "kernel", "lib") or target[0] == "rooms", (
                f"{folder.name}/seen.js: {'/'.join(target)}"
            )
            assert target[-1] not in ("dom.js", "draw.js", "room.js"), f"{folder.name}/seen.js: {'/'.join(target)}"
        used = {words(node) for node in nodes(tree(folder / "seen.js")) if node.type == "identifier"}
        assert not used & OF_THE_PAGE, f"{folder.name}: {used & OF_THE_PAGE}"
        for target in browser_imports(folder / "draw.js"):
            assert target[0] != "store" and target[-1] not in ("wishes.js", "writing.js", "room.js"), (
                f"{folder.name}/draw.js: {'/'.join(target)}"
            )


def test_folders_of_rooms_hold_rooms() -> None:
    for folder in (path for path in (SCRIPTS / "rooms").rglob("*") if path.is_dir()):
        assert folder in ROOMS or folder.name == SHARED_PARTS, folder.relative_to(SCRIPTS)


def test_no_template_stands_in_another() -> None:
    """The library that makes scripts small takes the inner one for code, and spaces out of its text."""
    for path in (ROOT / "web").rglob("*.js"):
        for node in nodes(tree(path)):
            if node.type == "template_substitution":
                inner = [one for one in nodes(node) if one.type == "template_string"]
                assert not inner, f"{path.name}:{node.start_point.row + 1}"


def test_colours_are_raw_in_the_tokens_alone() -> None:
    for path in [*STYLES.rglob("*.css"), *SCRIPTS.rglob("*.js")]:
        if path.name != "tokens.css":
            text = path.read_text(encoding="utf-8")
            if path.suffix == ".js":
                text = " ".join(words(node) for node in nodes(tree(path)) if node.type == "string_fragment")
            assert not RAW_COLOUR.search(text), f"{path.name}: {RAW_COLOUR.search(text)}"


def test_colours_that_no_style_can_reach_are_those_of_the_tokens() -> None:
    """The browser's own bars and the icons are coloured before and without any style sheet."""
    tokens = set(RAW_COLOUR.findall((STYLES / "tokens.css").read_text(encoding="utf-8")))
    for path in [
        ROOT / "web" / "manifest.webmanifest",
        *(ROOT / "web").rglob("*.svg"),
        *(ROOT / "web" / "templates").glob("*.html"),
    ]:
        for colour in RAW_COLOUR.findall(path.read_text(encoding="utf-8")):
            full = "#" + "".join(letter * 2 for letter in colour[1:]) if len(colour) == 4 else colour
            assert full in tokens, f"{path.name}: {colour}"
