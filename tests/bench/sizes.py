"""What a phone must fetch before it can work: packed as it is served, against all of it packed as one file."""

from __future__ import annotations

import re
from collections.abc import Iterator

from server.handlers.shell_files import LinkedFile, by_brotli, read_shell
from tests.bench.table import Row, under
from tests.bench.tools import Tools

CORE = ("/scripts/store/", "/scripts/sync/", "/scripts/kernel/")
FIRST = re.compile(r'(?:href|src)="(/[^"]+[.](?:js|css))"')


def rows(tools: Tools) -> Iterator[Row]:
    """Store, sync and kernel; what comes before the Round stands; then all that is fetched behind it for no signal."""
    shell = read_shell(None, False)
    linked = [file for file in shell.files.values() if isinstance(file, LinkedFile)]
    parts = [part for file in linked for part in file.parts if part.url.startswith(CORE)]
    told = {part.url for part in parts}
    core = [
        "\n".join(part.made for part in parts).encode(),
        *(file.body for url, file in shell.files.items() if url.startswith(CORE) and url not in told),
    ]
    page = shell.first_page
    first = [page.body, *(shell.files[url].body for url in sorted(FIRST.findall(page.body.decode())))]
    everything = [*(file.body for file in shell.files.values()), shell.worker.body]
    yield Row("code of store, sync and kernel, brotli", *_sizes(core), "kB", under(35, "kB"))
    yield Row("the first load, until the Round stands, brotli", *_sizes(first), "kB", under(80, "kB"))
    yield Row("  all rooms and the worker besides, kept for no signal", *_sizes(everything), "kB")


def _sizes(bodies: list[bytes]) -> tuple[float, float]:
    served = sum(min(len(by_brotli(body)), len(body)) for body in bodies)
    return len(by_brotli(b"".join(bodies))) / 1000, served / 1000
