"""`python -m tests.bench`: prints one table. `--only NAME` for one group of rows; nothing here is an assertion."""

from __future__ import annotations

import argparse
import contextlib
import sys
import tempfile
from collections.abc import Callable, Iterator
from pathlib import Path

from tests.bench import load, network, opening, phone_store, room, rows_a_day, server_writes, settling, sizes, ticking
from tests.bench.table import Row, print_table
from tests.bench.tools import Tools

ROWS: dict[str, Callable[[Tools], Iterator[Row]]] = {
    "save": phone_store.save_rows,
    "load": phone_store.load_rows,
    "start": opening.rows,
    "first-sync": network.first_sync_rows,
    "push": network.push_rows,
    "server": server_writes.rows,
    "household": load.rows,
    "size": sizes.rows,
    "tick": ticking.rows,
    "settle-browser": settling.browser_rows,
    "settle-python": settling.python_rows,
    "room": room.rows,
    "forgetful": rows_a_day.rows,
}


def main() -> None:
    """Measure what was asked for and print it."""
    parser = argparse.ArgumentParser(prog="python -m tests.bench", description=__doc__)
    parser.add_argument("--only", choices=sorted(ROWS), action="append", help="only these rows (may be given again)")
    chosen = parser.parse_args().only or list(ROWS)
    found: list[Row] = []
    with tempfile.TemporaryDirectory() as folder, contextlib.ExitStack() as stack:
        tools = Tools(Path(folder), stack)
        for name, rows in ROWS.items():
            if name in chosen:
                print(f"measuring {name} ...", file=sys.stderr, flush=True)
                found.extend(rows(tools))
    print_table(found)


if __name__ == "__main__":
    main()
