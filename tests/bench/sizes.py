"""What a phone must fetch before it can work: packed as it is served, against all of it packed as one file."""

from __future__ import annotations

import re
from collections.abc import Iterator

import brotli

from server.handlers.shell_files import ShellFile, read_shell
from tests.bench.table import Row, under
from tests.bench.tools import Tools

CORE = ("/scripts/store/", "/scripts/sync/", "/scripts/kernel/")
IMPORT = re.compile(r"""@import (?:url\()?["']?([^"')\s;]+)""")
FIRST = re.compile(r'(?:href|src)="(/[^"]+)"')


def rows(tools: Tools) -> Iterator[Row]:
    """Store, sync and kernel; what comes before the Round stands; then all that is fetched behind it for no signal."""
    shell = read_shell(None, False)
    core = [file for url, file in shell.files.items() if url.startswith(CORE)]
    page = shell.first_page
    named = {url for url in FIRST.findall(page.body.decode()) if url in shell.files}
    styles = {f"/styles/{name}" for name in IMPORT.findall(shell.files["/styles/layers.css"].body.decode())} | {
        "/styles/layers.css"
    }
    first = [page, *(shell.files[url] for url in sorted(named | styles))]
    yield Row("code of store, sync and kernel, brotli", *_sizes(core), "kB", under(35, "kB"))
    yield Row("the first load, until the Round stands, brotli", *_sizes(first), "kB", under(80, "kB"))
    yield Row("  all rooms and the worker besides, kept for no signal", *_sizes([*shell.files.values(), shell.worker]), "kB")


def _sizes(files: list[ShellFile]) -> tuple[float, float]:
    served = sum(min(len(file.brotli), len(file.body)) for file in files)
    return len(brotli.compress(b"".join(file.body for file in files))) / 1000, served / 1000
