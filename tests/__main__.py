"""`python -m tests`: every test, in two halves beside each other: what needs a browser, and what needs none.

Two cores are then busy all the time. What is given on the command line goes to both halves.
"""

from __future__ import annotations

import subprocess
import sys
import tempfile

HALVES = {"what needs no browser": ["-m", "not browser"], "what needs one": ["-m", "browser", "-p", "no:cacheprovider"]}


def main() -> int:
    """Run both, tell of both, and give the worse of their exit codes."""
    with tempfile.TemporaryDirectory() as folder:
        running = []
        for number, (name, chosen) in enumerate(HALVES.items()):
            told = open(f"{folder}/{number}", "w+", encoding="utf-8")  # noqa: SIM115 (read when the half has ended)
            command = [sys.executable, "-m", "pytest", *chosen, *sys.argv[1:]]
            running.append((name, subprocess.Popen(command, stdout=told, stderr=subprocess.STDOUT), told))
        worst = 0
        for name, half, told in running:
            worst = max(worst, half.wait())
            told.seek(0)
            print(f"== {name} ==\n{told.read()}", flush=True)
            told.close()
    return worst


if __name__ == "__main__":
    sys.exit(main())
