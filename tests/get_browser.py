"""`python -m tests.get_browser`: a Chromium for the browser tests.

Playwright's own where it can be had, else the system's, installed with the system's package tool where that is missing.
"""

from __future__ import annotations

import os
import shutil
import subprocess
import sys

from playwright.sync_api import Error, sync_playwright

from tests.conftest import chromium_path, launch

PATIENCE_S = 300


def works() -> bool:
    """Whether the browser that the tests would use starts."""
    try:
        with sync_playwright() as playwright:
            launch(playwright.chromium).close()
    except Error:
        return False
    return True


def try_command(*words: str) -> bool:
    """Run a command that may fail; its words go to our own output."""
    print("$", *words, flush=True)
    try:
        return subprocess.run(words, timeout=PATIENCE_S, check=False).returncode == 0
    except (OSError, subprocess.TimeoutExpired) as error:
        print(error)
        return False


def main() -> int:
    """Get a browser. Returns the exit code."""
    if works():
        print("A Chromium is here already.")
        return 0
    try_command(sys.executable, "-m", "playwright", "install", "chromium")
    if not works() and chromium_path() is None and shutil.which("apt-get"):
        as_root = [] if os.geteuid() == 0 else ["sudo"]
        try_command(*as_root, "apt-get", "update")
        if not try_command(*as_root, "apt-get", "install", "-y", "chromium-headless-shell"):
            try_command(*as_root, "apt-get", "install", "-y", "chromium")
    if works():
        return 0
    print("No Chromium could be had. Install one with your system's packages (chromium), then run the tests again.")
    return 1


if __name__ == "__main__":
    sys.exit(main())
