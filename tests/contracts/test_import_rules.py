"""Who may import whom, read off the imports themselves."""

from __future__ import annotations

import ast
import re
from pathlib import Path

import networkx

from server.calendars.read import COMPANIONS

ROOT = Path(__file__).resolve().parents[2]
PYTHON = {
    "kernel": {"kernel"},
    "season": {"kernel", "season"},
    "calendars": {"calendars", "season", "errors"},
    "sync": {"kernel", "sync", "store", "errors"},
    "store": {"kernel", "store", "errors", "whole_file"},
    "trust": {"trust", "whole_file"},
    "handlers": {"season", "kernel", "sync", "store", "trust", "calendars", "errors", "handlers", "settings"},
}
FORBIDDEN = {"kernel": {"sqlite3", "starlette", "datetime", "time", "random", "os", "pathlib"},
             "season": {"sqlite3", "starlette", "time", "random", "os", "pathlib", "tomllib"}}  # fmt: skip
BROWSER = {
    "kernel": {"kernel"},
    "lib": {"lib", "kernel"},
    "store": {"store", "kernel"},
    "sync": {"sync", "store", "kernel"},
    "ui": {"ui", "lib", "kernel"},
    "shell": {"shell"},
    "household": {"household", "lib", "kernel"},
    "rooms": {"rooms", "household", "ui", "lib", "store", "kernel"},
}
SHARED_PARTS = "parts"
"""The one folder under rooms that other rooms may ask."""


def test_python_rooms_import_only_what_they_may() -> None:
    for room, allowed in PYTHON.items():
        for path in (ROOT / "server" / room).rglob("*.py"):
            for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
                names = [node.module or ""] if isinstance(node, ast.ImportFrom) else []
                names += [alias.name for alias in node.names] if isinstance(node, ast.Import) else []
                for name in names:
                    parts = name.split(".")
                    if parts[0] == "server" and len(parts) > 1:
                        assert parts[1] in allowed, f"{path.name} line {node.lineno}: {name}"
                    assert parts[0] not in FORBIDDEN.get(room, set()), f"{path.name} line {node.lineno}: {name}"


def browser_imports(path: Path) -> list[tuple[str, ...]]:
    """What a script imports at once, each as its parts from the scripts' own folder."""
    text = path.read_text(encoding="utf-8")
    found = re.findall(r'^(?:import|export) [^"]*?from "(\.[^"]+)"', text, re.M)
    return [(path.parent / one).resolve().relative_to(SCRIPTS).parts for one in found]


SCRIPTS = ROOT / "web" / "scripts"


def test_browser_rooms_import_only_what_they_may() -> None:
    for room, allowed in BROWSER.items():
        for path in (SCRIPTS / room).rglob("*.js"):
            for target in browser_imports(path):
                assert target[0] in allowed, f"{path.relative_to(SCRIPTS)}: {'/'.join(target)}"
                if room == target[0] == "rooms":
                    own = path.relative_to(SCRIPTS).parts[1]
                    assert target[1] in (own, SHARED_PARTS), f"{path.relative_to(SCRIPTS)}: {'/'.join(target)}"


def test_no_scripts_import_each_other_in_a_circle() -> None:
    graph = networkx.DiGraph()
    for path in SCRIPTS.rglob("*.js"):
        for target in browser_imports(path):
            graph.add_edge(path.relative_to(SCRIPTS).as_posix(), "/".join(target))
    assert list(networkx.simple_cycles(graph)) == []


def test_every_room_has_a_folder_and_no_file_lies_beside_them() -> None:
    assert not list((SCRIPTS / "rooms").glob("*.js"))
    for folder in (SCRIPTS / "rooms").iterdir():
        assert folder.name == SHARED_PARTS or (folder / "room.js").exists(), folder.name


def test_every_script_is_checked_and_no_markup_is_built_from_strings() -> None:
    for path in (ROOT / "web").rglob("*.js"):
        text = path.read_text(encoding="utf-8")
        if path.name != "service-worker.js":
            assert text.startswith("// @ts-check"), path.name
        assert not re.search(r"innerHTML|outerHTML|insertAdjacentHTML|document\.write|\beval\(", text), path.name


def kernel_files(half: Path, ending: str) -> dict[str, Path]:
    """Files of one half of the kernel by floor and name, as the Python half writes them."""
    found = {path.relative_to(half).with_suffix("").as_posix().replace("-", "_"): path for path in half.rglob(f"*{ending}")}
    return {name: path for name, path in found.items() if not name.endswith("__init__")}


PYTHON_KERNEL = kernel_files(ROOT / "server" / "kernel", ".py")
BROWSER_KERNEL = kernel_files(ROOT / "web" / "scripts" / "kernel", ".js")
FLOORS = ("read", "when", "follow", "said")
"""From the ground up. The doors stand on all of them."""


def test_kernels_stand_file_for_file() -> None:
    assert PYTHON_KERNEL.keys() == BROWSER_KERNEL.keys()


def test_no_floor_of_the_kernel_looks_up() -> None:
    for half in (PYTHON_KERNEL, BROWSER_KERNEL):
        for name, path in half.items():
            floor = name.split("/")[0] if "/" in name else None
            text = path.read_text(encoding="utf-8")
            here = re.findall(r"^from server\.kernel\.(\S+) import", text, re.M) + re.findall(r'from "(\.[^"]+)\.js"', text)
            for used in here:
                if used.startswith("."):
                    other = (path.parent / used).resolve().relative_to(ROOT / "web" / "scripts" / "kernel").parts
                else:
                    other = tuple(used.split("."))
                if floor is not None:
                    assert len(other) == 2 and FLOORS.index(other[0]) <= FLOORS.index(floor), f"{path}: {used}"


def test_kernel_knows_no_crop() -> None:
    crops = {path.stem for path in (ROOT / "server" / "calendars").glob("*.toml")} - set(COMPANIONS)
    for path in [*PYTHON_KERNEL.values(), *BROWSER_KERNEL.values()]:
        strings = set(re.findall(r'"([a-z_]+)"', path.read_text(encoding="utf-8")))
        assert not strings & crops, path.name


def test_top_level_holds_what_it_should() -> None:
    allowed = {
        "README.md",
        "DEVELOPERS.md",
        "pyproject.toml",
        "server",
        "web",
        "tests",
        "seed_scenario",
        ".ci",
        ".gitignore",
        ".git",
    }
    here = {path.name for path in ROOT.iterdir() if not path.name.startswith(".") or path.name in allowed}
    assert here - {"build", "dist", "mudproof.egg-info"} <= allowed
