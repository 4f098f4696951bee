"""`python -m tests.take_pictures`: the README's pictures, taken anew of the made-up household on 19 May 2031."""

from __future__ import annotations

import tempfile
from pathlib import Path

from playwright.sync_api import sync_playwright

from tests.browser.phones import SIZE, Phone
from tests.browser.serving import LiveServer
from tests.conftest import launch

ON = "2031-05-19"
FOLDER = Path(__file__).parent / "pictures"
ROOMS = {
    "round": "round",
    "job": "job/batch.2031.melon.plant_out",
    "jot": "jot",
    "ground": "ground",
    "bed": "place/place.tunnel.bed3",
    "takes": "takes",
    "fullness": "fullness",
    "season": "season",
    "diary": "diary",
}


def main() -> None:
    """Take them all."""
    with tempfile.TemporaryDirectory() as data, sync_playwright() as playwright:
        server = LiveServer(Path(data), ON).start()
        browser = launch(playwright.chromium)
        context = browser.new_context(viewport=SIZE, reduced_motion="reduce")  # type: ignore[arg-type]
        phone = Phone(context, server.url).open().settled()
        for name, way in ROOMS.items():
            phone.go(way)
            phone.page.wait_for_timeout(400)
            phone.page.screenshot(path=FOLDER / f"{name}.png")
        browser.close()
        server.kill()


if __name__ == "__main__":
    main()
