"""What every server of a run would work out for itself, all alike, is worked out once a process: the app's files as they are
served, and the demo's crops at its site. What is asked of it is looked up by what it comes from, so nothing else is altered."""

from __future__ import annotations

import functools
from typing import Any

import seed_scenario
from server import app
from server.calendars.read import read_calendars
from server.handlers import context
from server.season.rulebook import make_rulebook

DEMO_ON = "2031-05-19"


def work_ahead() -> None:
    """From here on servers of this process, and those forked from it, find it done."""
    app.read_shell = functools.cache(app.read_shell)
    app.read_climates = functools.cache(app.read_climates)
    app.read_climates()
    pieces: dict[str, Any] = {}
    make_rulebook(read_calendars(), seed_scenario.load(DEMO_ON), pieces)

    def make_from_pieces(calendars: Any, records: Any, worked: dict[str, Any]) -> dict[str, Any]:
        if not worked:
            worked.update(pieces)
        return make_rulebook(calendars, records, worked)

    context.make_rulebook = make_from_pieces
