"""What a phone must fetch before it can work: zipped as it is served, against all of it zipped as one file."""

from __future__ import annotations

import gzip
from collections.abc import Iterator

from server.handlers.shell_files import ShellFile, read_shell
from tests.bench.table import Row, under
from tests.bench.tools import Tools

CORE = ("/scripts/store/", "/scripts/sync/", "/scripts/kernel/")


def rows(tools: Tools) -> Iterator[Row]:
    """Store, sync and kernel; then everything the first load brings, worker and icons too."""
    shell = read_shell(None, False)
    core = [file for url, file in shell.files.items() if url.startswith(CORE)]
    yield Row("code of store, sync and kernel, gzip", *_sizes(core), "kB", under(25, "kB"))
    yield Row("the whole first load, gzip", *_sizes([*shell.files.values(), shell.worker]), "kB", under(150, "kB"))


def _sizes(files: list[ShellFile]) -> tuple[float, float]:
    served = sum(min(len(file.zipped), len(file.body)) for file in files)
    return len(gzip.compress(b"".join(file.body for file in files), 9)) / 1000, served / 1000
