"""The shell: every file the app is made of, read once, with its hash, and the version over all of them."""

from __future__ import annotations

import functools
import gzip
import hashlib
import json
import mimetypes
from collections.abc import Iterator
from dataclasses import dataclass
from importlib.resources import files
from importlib.resources.abc import Traversable

import brotli
from jinja2 import BaseLoader, Environment, StrictUndefined

from server.handlers.linked import Module, Part, fetched, handed_on, imported, in_order, index_map, link, link_styles
from server.handlers.small_scripts import small, source_map

WORKER = "/service-worker.js"
MAIN = "/scripts/main.js"
BROTLI_QUALITY = 11
"""The best: 6 % smaller than what is quick. It is paid for once a file, when a phone first asks for it: some 2 ms on a
laptop's core, some 15 on a small server's."""
NOT_SERVED = ("jsconfig.json",)
"""What lies in web/ for whoever works on it."""
WORK = "/scripts/work.js"
"""What comes behind the first screen."""
BEHIND = ("/scripts/rooms.js", "/scripts/kernel/catch-up.js", "/scripts/kernel/rest.js")
"""What comes once the Round stands."""
FIRST, LATER, ROOMS = "/scripts/first.js", "/scripts/later.js", "/scripts/all-rooms.js"
"""What is needed before the first screen stands, what comes at once behind it, and all other rooms: each one file."""
PLACE_OF_LIST = '/*SHELL*/ {"version": "dev", "files": []}'
TYPES = {
    ".js": "text/javascript",
    ".webmanifest": "application/manifest+json",
    ".svg": "image/svg+xml",
    ".html": "text/html",
    ".map": "application/json",
}


@functools.lru_cache(maxsize=2048)
def by_brotli(body: bytes) -> bytes:
    """A body packed, once a process for all shells it is in."""
    return bytes(brotli.compress(body, quality=BROTLI_QUALITY))


@dataclass(frozen=True)
class ShellFile:
    """One file as it is served, and as it was written. Each way of packing it is done once, when it is first asked for."""

    url: str
    body: bytes
    source: bytes
    kind: str
    sha256: str

    @functools.cached_property
    def zipped(self) -> bytes:
        """The body by gzip."""
        return gzip.compress(self.body, 9, mtime=0)

    @functools.cached_property
    def brotli(self) -> bytes:
        """The body by brotli (RFC 7932), which browsers take over https."""
        return by_brotli(self.body)

    @property
    def map_url(self) -> str | None:
        """Where the map of a script lies; None for other files."""
        return f"{self.url}.map" if self.url.endswith(".js") else None

    @functools.cached_property
    def map(self) -> ShellFile:
        """Where each part of a script stands in its source. Only for scripts."""
        made = source_map(self.url, self.source.decode(), self.body.decode())
        return ShellFile(f"{self.url}.map", made, made, TYPES[".map"], hashlib.sha256(made).hexdigest())


@dataclass(frozen=True)
class HandedOn(ShellFile):
    """What stands at the own address of a script that travels in a linked file."""


@dataclass(frozen=True)
class LinkedFile(ShellFile):
    """A file of several scripts."""

    parts: tuple[Part, ...] = ()

    @functools.cached_property
    def map(self) -> ShellFile:
        """Where each part of it stands in the sources."""
        made = index_map(self.url, list(self.parts))
        return ShellFile(f"{self.url}.map", made, made, TYPES[".map"], hashlib.sha256(made).hexdigest())


@dataclass(frozen=True)
class PageContext:
    """What the one page is rendered with: nothing but these."""

    version: str
    today: str
    demo: bool
    first: str
    later: str
    at_once: bool
    """Whether the rest is fetched with the first screen, or behind it."""


@dataclass(frozen=True)
class Shell:
    """All files by their path, and the version that names this very set."""

    version: str
    files: dict[str, ShellFile]
    worker: ShellFile
    first_page: ShellFile
    """The page for whoever has no worker yet: it asks for all the scripts in one turn."""


def read_shell(today: str | None, demo: bool, web: Traversable | None = None) -> Shell:
    """The shell from the files on disk. `web` is where they lie; the installed package's own by default."""
    root = web if web is not None else files("web")
    found: dict[str, ShellFile] = {}
    for url, body in sorted(_walk(root, "")):
        found[url] = _file(url, body)
    asked = _link(found)
    mark = hashlib.sha256()
    for url in sorted(found):
        mark.update(f"{url} {found[url].sha256}\n".encode())
    template = root.joinpath("templates", "base.html").read_text(encoding="utf-8")
    mark.update(template.encode())
    mark.update(f"{today} {demo}".encode())
    version = mark.hexdigest()[:16]
    page = Environment(loader=BaseLoader(), autoescape=True, undefined=StrictUndefined).from_string(template)

    def page_with(*, at_once: bool) -> ShellFile:
        context = PageContext(version, today or "", demo, FIRST, LATER, at_once)
        return _file("/", page.render(**context.__dict__).encode(), "text/html; charset=utf-8")

    found["/"] = page_with(at_once=False)
    kept = sorted(url for url, file in found.items() if not isinstance(file, HandedOn) or url in asked)
    listed = {"version": version, "files": [[url, found[url].sha256] for url in kept]}
    source = root.joinpath("service-worker.js").read_text(encoding="utf-8")
    if PLACE_OF_LIST not in source:
        raise ValueError(f"service-worker.js has no {PLACE_OF_LIST!r}")
    worker = _file(WORKER, source.replace(PLACE_OF_LIST, json.dumps(listed, separators=(",", ":"))).encode())
    return Shell(version, found, worker, page_with(at_once=True))


def _link(found: dict[str, ShellFile]) -> set[str]:
    """Put what is always needed together into one file, and leave at each address what hands it on.

    Gives the addresses that some script asks for all the same: with those alone a phone needs no server.
    """
    sources = {url: file.source.decode() for url, file in found.items() if url.endswith((".js", ".css"))}
    made_small = {url: found[url].body.decode() for url in sources if url.endswith(".js")}  # no word of a comment is an import
    known: dict[str, Module] = {}
    inside: set[str] = set()
    for file, entries in ((FIRST, (MAIN,)), (LATER, (WORK,)), (ROOMS, BEHIND)):
        order = in_order(sources, entries, known)
        made, parts = link(file, order, sources, known)
        sha256 = hashlib.sha256(made.encode()).hexdigest()
        found[file] = LinkedFile(file, made.encode(), made.encode(), TYPES[".js"] + "; charset=utf-8", sha256, tuple(parts))
    for url, module in known.items():
        body = handed_on(module).encode()
        found[url] = HandedOn(url, body, body, found[url].kind, hashlib.sha256(body).hexdigest())
    for sheet in [url for url in found if url.endswith(".css") and "@import" in sources[url]]:
        text, taken = link_styles(sheet, sources)
        found[sheet] = _file(sheet, text.encode())
        inside.update(taken)
    for url in inside:
        del found[url]
    asked = {target for url, text in made_small.items() for target in fetched(url, text)}
    return asked.union(*(imported(url, sources[url]) for url in made_small if url not in known))


def _walk(folder: Traversable, at: str) -> Iterator[tuple[str, bytes]]:
    for entry in folder.iterdir():
        path = f"{at}/{entry.name}"
        if entry.is_dir():
            if entry.name not in ("templates", "__pycache__"):
                yield from _walk(entry, path)
        elif path != WORKER and not entry.name.endswith((".py", ".pyc")) and entry.name not in NOT_SERVED:
            yield path, entry.read_bytes()


def _file(url: str, body: bytes, kind: str | None = None) -> ShellFile:
    ending = "." + url.rsplit(".", 1)[-1]
    kind = kind or TYPES.get(ending) or mimetypes.guess_type(url)[0] or "application/octet-stream"
    if kind.startswith("text/") and "charset" not in kind:
        kind += "; charset=utf-8"
    made = small(url, body)
    return ShellFile(url, made, body, kind, hashlib.sha256(made).hexdigest())
