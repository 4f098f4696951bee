"""`python -m tests`: every test, in two workers beside each other, so that two cores are busy.

What is given on the command line goes to pytest: `-k`, a file, or `--hypothesis-profile=many` for the night.
"""

from __future__ import annotations

import subprocess
import sys

WORKERS = "2"
BESIDE = ["-n", WORKERS, "--dist", "worksteal"]


def main() -> int:
    """Run them, and give pytest's exit code."""
    return subprocess.run([sys.executable, "-m", "pytest", *BESIDE, *sys.argv[1:]]).returncode


if __name__ == "__main__":
    sys.exit(main())
