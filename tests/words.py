"""`python -m tests.words [PART]`: every word a grower can read, where it stands, to be read in one go.

PART of a path narrows it (`rooms/jot`, `kernel`). Words of crops, cares and cautions stand in server/calendars/*.toml.
"""

from __future__ import annotations

import ast
import re
import sys
from collections.abc import Iterator
from pathlib import Path

from tree_sitter import Node

from tests.contracts.scripts import ROOT, SCRIPTS, nodes, tree, words

SERVER = ROOT / "server"
NOT_READ = {
    *(
        "class",
        "type",
        "role",
        "href",
        "d",
        "viewBox",
        "fill",
        "stroke",
        "accept",
        "autocomplete",
        "inputmode",
        "method",
        "body",
    ),
    *("headers", "look", "id", "sort", "name", "kind", "rootMargin", "imageOrientation", "text-anchor", "capture"),
}
"""Attributes and fields whose text is for the machine."""
MACHINE = re.compile(
    r"\b(SELECT|INSERT|CREATE|UPDATE|DELETE|PRAGMA|ALTER|DROP|BEGIN|VACUUM|WHERE)\b|^[./#]|^[\w-]+/[\w-]+|[{}<>;=]{2}|\\d"
)
SENTENCE = re.compile(r"[A-Za-z]{2,}[,.:;?]?[\s\u00a0]+[A-Za-z7]|^[A-Z][a-z]+|[a-z] 7|7[\s\u00a0]+[a-z]{2,}")


def read_by_growers(text: str) -> bool:
    """Whether a text reads like words and not like a name for the machine."""
    filled = text.replace("{}", "7")
    return bool(SENTENCE.search(filled)) and not MACHINE.search(filled)


def words_of_script(path: Path) -> Iterator[tuple[int, str]]:
    """Line and words of a browser script; `{}` stands for what is filled in."""
    for node in nodes(tree(path)):
        if node.type in ("string", "template_string") and not _for_the_machine(node):
            text = "".join("{}" if one.type == "template_substitution" else words(one) for one in node.named_children)
            text = text.replace("\\u00a0", "\u00a0")
            if read_by_growers(text):
                yield node.start_point.row + 1, text


def _for_the_machine(node: Node) -> bool:
    parent = node.parent
    if parent is None or parent.type in ("import_statement", "export_statement", "import"):
        return True
    if parent.type == "pair":
        key = parent.child_by_field_name("key")
        named = words(key).strip("\"'") if key is not None else ""
        return key == node or (named in NOT_READ and " " not in words(node)) or named in ("class", "d", "viewBox")
    call = parent.parent
    if parent.type == "arguments" and call is not None and call.type in ("call_expression", "new_expression"):
        called = call.child_by_field_name("function") or call.child_by_field_name("constructor")
        return called is not None and (
            words(called).endswith(("addEventListener", "console.error")) or words(called) == "Error"
        )
    return False


def words_of_python(path: Path) -> Iterator[tuple[int, str]]:
    """The same of a Python module, without its docstrings."""
    module = ast.parse(path.read_text(encoding="utf-8"))
    silent = {id(one.value) for one in ast.walk(module) if isinstance(one, ast.Expr)}
    silent |= {id(part) for one in ast.walk(module) if isinstance(one, ast.JoinedStr) for part in one.values}
    for node in ast.walk(module):
        text = ""
        if isinstance(node, ast.JoinedStr):
            text = "".join(str(part.value) if isinstance(part, ast.Constant) else "{}" for part in node.values)
        elif isinstance(node, ast.Constant) and isinstance(node.value, str):
            text = node.value
        if id(node) not in silent and read_by_growers(text):
            yield node.lineno, text


def all_words(part: str = "") -> Iterator[tuple[str, int, str]]:
    """Path, line and words of the app and the server whose path holds `part`. The kernel's words stand in the server's half."""
    browser = [path for path in sorted(SCRIPTS.rglob("*.js")) if "kernel" not in path.parts]
    for path in [*browser, *sorted(SERVER.rglob("*.py"))]:
        named = path.relative_to(ROOT).as_posix()
        if part in named:
            found = words_of_script(path) if path.suffix == ".js" else words_of_python(path)
            for line, text in found:
                yield named, line, text


def main(argv: list[str]) -> int:
    """Print them. Returns the exit code."""
    before = ""
    for path, line, text in all_words(argv[0] if argv else ""):
        if path != before:
            print(f"\n{path}")
            before = path
        print(f"{line:5}  {text}")
    return 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
