"""Scripts and styles as they travel: without comments and needless spaces, with a source map for whoever asks.

Sources stay as they are written. The map is in the form of ECMA-426 (source maps, version 3), a line at a time.
"""

from __future__ import annotations

import json
import re

import rcssmin
import rjsmin

DIGITS = "ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789+/"
CONTINUES = 32
AFTER_A_SPACE = re.compile(r"(?<=[\w\])*]) :(?=[^;{}]*\{)")
"""A selector's `a :b`. Inside `@layer` rcssmin takes it for a declaration and makes `a:b` of it, which is another selector;
`a *:b` is the same, and stays."""
COMMENTS = {"//": "\n", "/*": "*/"}


def small(url: str, body: bytes) -> bytes:
    """A file as it travels; other files than scripts and styles as they are.

    No template may stand in another in a script: rjsmin takes the inner one for code, and spaces out of its text.
    """
    if url.endswith(".js"):
        return str(rjsmin.jsmin(body.decode())).encode()
    return str(rcssmin.cssmin(AFTER_A_SPACE.sub(" *:", body.decode()))).encode() if url.endswith(".css") else body


def source_map(url: str, source: str, made: str) -> bytes:
    """Where each stretch of a small script stands in its source, with the source itself. made: what `small` gave."""
    lines = [""]
    held = (0, 0, 0)  # column there, line and column here, as told last
    line_told = -1
    for made_line, made_column, line, column in _stretches(source, made):
        while len(lines) <= made_line:
            lines.append("")
            held = (0, held[1], held[2])
        if line == line_told and lines[made_line]:
            continue
        line_told = line
        steps = (made_column - held[0], 0, line - held[1], column - held[2])
        lines[made_line] += ("," if lines[made_line] else "") + "".join(map(_digits, steps))
        held = (made_column, line, column)
    told = {"version": 3, "file": url, "sources": [url], "sourcesContent": [source], "names": [], "mappings": ";".join(lines)}
    return json.dumps(told, ensure_ascii=False, separators=(",", ":")).encode()


def _stretches(source: str, made: str) -> list[tuple[int, int, int, int]]:
    """Line and column of each letter that stayed, there and in the source. What went was spaces and comments alone.

    Raises ValueError where something else went, so that a script is never served changed.
    """
    found: list[tuple[int, int, int, int]] = []
    at = line = line_begins = made_line = made_begins = 0
    for place, letter in enumerate(made):
        while (at < len(source) and source[at] != letter) or _comment_ends(source, at, made, place):
            end = _comment_ends(source, at, made, place) or (at + 1 if source[at].isspace() else 0)
            if letter in " \n" and source[at].isspace():
                break
            if not end:
                raise ValueError(f"{source[at : at + 20]!r} became {made[place : place + 20]!r}")
            line += source.count("\n", at, end)
            line_begins = source.rfind("\n", 0, end) + 1
            at = end
        if at >= len(source):
            raise ValueError(f"{made[place : place + 20]!r} is nowhere in the source")
        found.append((made_line, place - made_begins, line, at - line_begins))
        if source[at] == "\n":
            line, line_begins = line + 1, at + 1
        if letter == "\n":
            made_line, made_begins = made_line + 1, place + 1
        at += 1
    return found


def _comment_ends(source: str, at: int, made: str, place: int) -> int:
    """Where a comment that begins here ends, if it is one that went; else 0."""
    closes = COMMENTS.get(source[at : at + 2])
    if closes is None or made[place : place + 2] == source[at : at + 2]:
        return 0
    end = source.find(closes, at + 2)
    return len(source) if end < 0 else end + (len(closes) if closes != "\n" else 0)


def _digits(number: int) -> str:
    """A whole number in the base-64 digits of source maps, the least first."""
    left = -number * 2 + 1 if number < 0 else number * 2
    text = ""
    while True:
        digit, left = left % CONTINUES, left // CONTINUES
        text += DIGITS[digit + (CONTINUES if left else 0)]
        if not left:
            return text
