"""`python -m tests`: every test, in three workers beside each other: two cores are busy while one waits.

What is given on the command line goes to pytest: `-k`, a file, or `--hypothesis-profile=many` for the night.
"""

from __future__ import annotations

import subprocess
import sys

WORKERS = "3"
BESIDE = ["-n", WORKERS, "--dist", "worksteal"]


def main() -> int:
    """Run them, and give pytest's exit code."""
    return subprocess.run([sys.executable, "-m", "pytest", *BESIDE, *sys.argv[1:]]).returncode


if __name__ == "__main__":
    sys.exit(main())
