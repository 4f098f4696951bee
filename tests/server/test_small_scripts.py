"""Scripts travel small; their maps lead back to the source as written."""

from __future__ import annotations

import gzip
import json
import re
from importlib.resources import files
from pathlib import Path

import brotli
import pytest
from starlette.testclient import TestClient

from server.handlers.small_scripts import small, source_map

WEB = Path(str(files("web")))
SCRIPTS = sorted(path.relative_to(WEB).as_posix() for path in WEB.rglob("*.js"))
DIGITS = "ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789+/"


def numbers(text: str) -> list[int]:
    """Base-64 variable-length quantities, as ECMA-426 (source maps) describes them: sign in the lowest bit."""
    found, value, shift = [], 0, 0
    for digit in map(DIGITS.index, text):
        value |= (digit & 31) << shift
        shift += 5
        if digit < 32:
            found.append(-(value >> 1) if value & 1 else value >> 1)
            value = shift = 0
    return found


def places(told: dict[str, str]) -> list[tuple[int, int, int, int]]:
    """Line and column there, line and column in the source, of each stretch."""
    found = []
    line = column = 0
    for made_line, text in enumerate(told["mappings"].split(";")):
        made_column = 0
        for part in filter(None, text.split(",")):
            steps = numbers(part)
            assert len(steps) == 4 and steps[1] == 0
            made_column, line, column = made_column + steps[0], line + steps[2], column + steps[3]
            found.append((made_line, made_column, line, column))
    return found


def test_digits_are_read_as_the_published_example_writes_them() -> None:
    """16 is `gB` and -1 is `D` in base-64 VLQ (the worked examples of the source map proposal, from memory)."""
    assert numbers("gB") == [16] and numbers("D") == [-1]


@pytest.mark.parametrize("name", SCRIPTS)
def test_every_stretch_of_a_small_script_is_found_in_its_source(name: str) -> None:
    source = (WEB / name).read_text(encoding="utf-8")
    made = small(name, source.encode()).decode()
    told = json.loads(source_map(f"/{name}", source, made))
    assert told["version"] == 3 and told["sourcesContent"] == [source]
    lines, ours = source.split("\n"), made.split("\n")
    found = places(told)
    assert len(found) >= len(ours) - 1 and found
    for made_line, made_column, line, column in found:
        letter, there = ours[made_line][made_column : made_column + 1], lines[line][column : column + 1]
        assert letter == there or (letter in ("", " ") and there in ("", " ")), (name, line)


TEXT = re.compile(r"""//[^\n]*|/\*.*?\*/|("(?:\\.|[^"\\\n])*"|`(?:\\.|[^`\\])*`)""", re.DOTALL)
"""Comments are passed over; plain strings and templates are caught. No template stands in another (tests/contracts)."""


@pytest.mark.parametrize("name", SCRIPTS)
def test_no_letter_of_any_text_goes(name: str) -> None:
    source = (WEB / name).read_text(encoding="utf-8")
    made = small(name, source.encode()).decode()
    assert [text for text in TEXT.findall(made) if text] == [text for text in TEXT.findall(source) if text]


def test_what_went_that_was_no_space_or_comment_is_never_served() -> None:
    with pytest.raises(ValueError, match="became"):
        source_map("/a.js", "const a = 1;", "const a=2;")


def test_a_script_is_packed_as_the_browser_takes_it_and_says_where_its_map_is(client: TestClient) -> None:
    url = "/scripts/shell/register.js"
    plain = client.get(url, headers={"accept-encoding": "identity"})
    assert b"/**" not in plain.content and plain.headers["sourcemap"] == f"{url}.map"
    for name, unpack in (("br", brotli.decompress), ("gzip", gzip.decompress)):
        with client.stream("GET", url, headers={"accept-encoding": f"{name}, zstd"}) as answer:
            assert answer.headers["content-encoding"] == name
            assert unpack(b"".join(answer.iter_raw())) == plain.content
    assert client.get(f"{url}.map").json()["sourcesContent"][0].startswith("// @ts-check")
    assert client.get("/icons/pot.svg.map").status_code == 404


def test_a_first_visit_asks_for_everything_in_one_turn(client: TestClient) -> None:
    first = client.get("/", headers={"sec-fetch-dest": "document"}).text
    kept = client.get("/", headers={"sec-fetch-dest": "empty"}).text
    assert '<link rel="modulepreload" href="/scripts/later.js">' in first
    assert '<link rel="later" href="/scripts/later.js">' in kept
    for page in (first, kept):
        assert page.count(".js") == 2 and page.count("stylesheet") == 1
