"""Linked files: scripts that are always needed together travel in one file, packed as one and asked for once; so do styles.

Each module keeps its own address, where it hands on what stands in that file: who imports it by its address has the very
same module. Sources stay as they are written, one module a function; the map is an index map of ECMA-426, a section a module.
"""

from __future__ import annotations

import json
import posixpath
import re
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, replace

from server.handlers.small_scripts import small, source_map

IMPORT = re.compile(r'^import \{([^}]*)\} from "(\.[^"]+)";', re.MULTILINE)
EXPORT = re.compile(r"^export (?=(?:(?:async )?function\*? |class |const )(\w+))", re.MULTILINE)
FETCHED = re.compile(r'(?<=[ (>\[])import\("(\.[^"]+)"\)')
STYLES = re.compile(r'@import url\("([^"]+)"\) layer\((\w+)\);')
ASTRAY = re.compile(r"\bimport\([\"'`]\.[^)]*")
LEFT_OVER = re.compile(r"^(?:import|export)\b[^\n]*", re.MULTILINE)


@dataclass(frozen=True)
class Module:
    """A module as it stands in a linked file: under which name there, and in which file."""

    name: str
    file: str
    exports: tuple[str, ...]


@dataclass(frozen=True)
class Part:
    """A module's own lines in a linked file. line: the first of them; linked: its source as it was made small."""

    url: str
    line: int
    source: str
    linked: str
    made: str


def in_order(sources: Mapping[str, str], entries: Iterable[str], before: Iterable[str] = ()) -> list[str]:
    """Entries and all they import at once, each after what it imports itself, without those that came before.

    Raises ValueError where modules import each other in a circle.
    """
    done, under = set(before), list[str]()
    order: list[str] = []

    def visit(url: str) -> None:
        if url in under:
            raise ValueError(f"{url} imports itself by way of {under[-1]}")
        if url in done or url not in sources:
            return
        under.append(url)
        for one in imported(url, sources[url]):
            visit(one)
        under.pop()
        done.add(url)
        order.append(url)

    for entry in entries:
        visit(entry)
    return order


def link(file: str, order: list[str], sources: Mapping[str, str], known: dict[str, Module]) -> tuple[str, list[Part]]:
    """The text of a linked file and its parts. known: modules of files linked before, to which these are added.

    Raises ValueError for a module that imports or exports in a way that is not known here, or has another's name.
    """
    lines: list[str] = []
    parts: list[Part] = []
    needed: set[str] = set()
    for url in order:
        text, exports = _as_function(url, sources[url], known)
        needed |= {module.name for module in _imported(url, sources[url], known) if module.file != file}
        made = small(url, text.encode()).decode()
        astray = ASTRAY.search(made)
        if astray is not None:  # relative to the module, which is not where it stands
            raise ValueError(f"{url}: {astray[0]!r} is no import that can be linked")
        if any(module.name == _named(url) for module in known.values()):
            raise ValueError(f"{url}: another module is called {_named(url)} too")
        known[url] = Module(_named(url), file, exports)
        lines.append(f"const {known[url].name}=(()=>{{")
        parts.append(Part(url, len(lines), sources[url], text, made))
        lines += [*made.split("\n"), f"return{{{','.join(exports)}}}}})();"]
    own = ",".join(module.name for module in known.values() if module.file == file)
    head = [f"import{{{names}}}from{json.dumps(of)};" for of, names in _by_file(needed, known)]
    parts = [replace(part, line=part.line + len(head)) for part in parts]
    return "\n".join([*head, *lines, f"export{{{own}}};"]), parts


def handed_on(module: Module) -> str:
    """What stands at the module's own address."""
    if not module.exports:
        return f"import{json.dumps(module.file)};"
    names = ",".join(module.exports)
    return f"import{{{module.name}}}from{json.dumps(module.file)};export const{{{names}}}={module.name};"


def link_styles(url: str, sources: Mapping[str, str]) -> tuple[str, list[str]]:
    """A sheet with those it imports in their place, each in its layer, and their addresses.

    Raises ValueError where one is imported in another way.
    """
    taken: list[str] = []

    def inside(found: re.Match[str]) -> str:
        taken.append(_beside(url, found[1]))
        return f"@layer {found[2]} {{\n{sources[taken[-1]]}\n}}"

    text = STYLES.sub(inside, sources[url])
    if "@import" in text:
        raise ValueError(f"{url}: an @import that has no layer, or stands in a sheet that is imported")
    return text, taken


def index_map(file: str, parts: list[Part]) -> bytes:
    """Where each stretch of a linked file stands in the sources, in the form of an index map."""
    sections = []
    for part in parts:
        told = json.loads(source_map(part.url, part.linked, part.made))
        told["sourcesContent"] = [part.source]
        sections.append({"offset": {"line": part.line, "column": 0}, "map": told})
    return json.dumps({"version": 3, "file": file, "sections": sections}, ensure_ascii=False, separators=(",", ":")).encode()


def fetched(url: str, source: str) -> list[str]:
    """Addresses of the modules that a module fetches when it wants them."""
    return [_beside(url, name) for name in FETCHED.findall(source)]


def imported(url: str, source: str) -> list[str]:
    """Addresses of the modules that a module imports at once."""
    return [_beside(url, name) for _, name in IMPORT.findall(source)]


def _as_function(url: str, source: str, known: Mapping[str, Module]) -> tuple[str, tuple[str, ...]]:
    """A module's text as the body of a function, on the same lines, and what it exports."""

    def taken(found: re.Match[str]) -> str:
        names = re.sub(r"\s+as\s+", ": ", found[1])
        return f"const {{{names}}} = {known[_beside(url, found[2])].name};"

    text = IMPORT.sub(taken, source)
    exports = tuple(EXPORT.findall(text))
    text = EXPORT.sub(" " * len("export "), text)
    text = FETCHED.sub(lambda found: f'import("{_beside(url, found[1])}")', text)
    left = LEFT_OVER.search(text)
    if left is not None:
        raise ValueError(f"{url}: {left[0]!r} is no import or export that can be linked")
    return text, exports


def _named(url: str) -> str:
    """A module's name in linked files: its own for good, so that files of two versions never mistake one for another."""
    return "$" + re.sub(r"\W", "_", url.removeprefix("/scripts/").removesuffix(".js"))


def _imported(url: str, source: str, known: Mapping[str, Module]) -> Iterator[Module]:
    return (known[one] for one in imported(url, source))


def _by_file(names: set[str], known: Mapping[str, Module]) -> list[tuple[str, str]]:
    """Files linked before, each with the modules of it that are needed."""
    files: dict[str, list[str]] = {}
    for module in known.values():
        if module.name in names:
            files.setdefault(module.file, []).append(module.name)
    return [(file, ",".join(held)) for file, held in files.items()]


def _beside(url: str, name: str) -> str:
    """The address of what is imported by a name relative to a module."""
    return posixpath.normpath(posixpath.join(posixpath.dirname(url), name))
