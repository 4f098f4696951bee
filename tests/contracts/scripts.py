"""The browser's scripts as trees, read by a parser made for the language."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import tree_sitter_javascript
from tree_sitter import Language, Node, Parser

ROOT = Path(__file__).resolve().parents[2]
SCRIPTS = ROOT / "web" / "scripts"
FUNCTIONS = {
    "function_declaration",
    "function_expression",
    "arrow_function",
    "method_definition",
    "generator_function_declaration",
}
_PARSER = Parser(Language(tree_sitter_javascript.language()))


def tree(path: Path) -> Node:
    """A script's tree. Fails where the script does not parse."""
    root = _PARSER.parse(path.read_bytes()).root_node
    assert not root.has_error, path
    return root


def nodes(root: Node) -> Iterator[Node]:
    """A node and all below it, in the order of the text."""
    waiting = [root]
    while waiting:
        node = waiting.pop()
        yield node
        waiting.extend(reversed(node.children))


def words(node: Node) -> str:
    """The text a node stands for."""
    return (node.text or b"").decode()


def place(path: Path, node: Node) -> str:
    """`rooms/job/seen.js:12`."""
    return f"{path.relative_to(SCRIPTS).as_posix()}:{node.start_point.row + 1}"
