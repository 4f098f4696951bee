"""`python -m tests.record_pushes`: what the phones of this version write, kept for ever as tests/sync/pushes/VERSION.json.

Run once for each release, before its version goes up. The browser tests' own phones are listened to, and what they have not
sent by the end of a test is read from their outbox; of changes that differ in their values alone the first is kept.
`tests/sync/test_older_phones.py` pushes every such file at the server of today.
"""

from __future__ import annotations

import gzip
import json
import sys
from pathlib import Path
from typing import Any

import pytest
from playwright.sync_api import Request

from server import __version__
from tests.browser.phones import Phone

FOLDER = Path(__file__).parent / "sync" / "pushes"
FLOWS = ("jot_and_forms", "my_way", "begin_and_plan", "round", "readings", "site", "photos", "year_and_successions")
"""Browser tests in which things are written down by hand."""


class Listener:
    """A pytest plugin that hears what every phone writes."""

    def __init__(self) -> None:
        self.heard: dict[str, dict[str, Any]] = {}
        self.phones: list[Phone] = []

    def pytest_configure(self) -> None:
        """Listen to each phone from its first moment."""
        begin = Phone.__init__

        def listened(phone: Phone, *given: Any) -> None:
            begin(phone, *given)
            phone.page.on("request", self.hear)
            self.phones.append(phone)

        Phone.__init__ = listened  # type: ignore[method-assign]

    @pytest.hookimpl(tryfirst=True)
    def pytest_runtest_teardown(self) -> None:
        """The phones are still there: take what lies in their outboxes."""
        for phone in self.phones:
            if not phone.page.is_closed():
                for row in phone.kept()["outbox"]:
                    self.keep(row)
        self.phones.clear()

    def hear(self, request: Request) -> None:
        """Keep the changes of a push."""
        if request.method != "POST" or not request.url.endswith("/api/sync"):
            return
        body = request.post_data_buffer or b"{}"
        if request.headers.get("content-encoding") == "gzip":
            body = gzip.decompress(body)
        for change in json.loads(body)["changes"]:
            self.keep(change)

    def keep(self, change: dict[str, Any]) -> None:
        """Keep the first of each sort."""
        fields = change["fields"]
        sort = [change["kind"], fields.get("did"), sorted((name, type(value).__name__) for name, value in fields.items())]
        self.heard.setdefault(json.dumps(sort), change)


def main() -> int:
    """Run the flows and write the file."""
    listener = Listener()
    tests = [f"tests/browser/test_{name}.py" for name in FLOWS]
    code = int(pytest.main([*tests, "-q"], plugins=[listener]))
    changes = [change for _, change in sorted(listener.heard.items())]
    FOLDER.mkdir(exist_ok=True)
    lines = ",\n".join(json.dumps(change, ensure_ascii=False) for change in changes)
    (FOLDER / f"{__version__}.json").write_text(f"[\n{lines}\n]\n", encoding="utf-8")
    print(f"{len(changes)} sorts of change in {FOLDER / __version__}.json")
    return code


if __name__ == "__main__":
    sys.exit(main())
