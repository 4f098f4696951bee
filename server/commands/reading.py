"""What the reading commands share: the records of a data directory and the rulebook for them."""

from __future__ import annotations

import datetime
from pathlib import Path
from typing import Any

from server.calendars.read import read_calendars
from server.errors import SettingsError
from server.handlers.context import site_zone
from server.kernel.read.merge import Record
from server.season.rulebook import make_rulebook
from server.store.connection import read_only
from server.store.records import all_records_plain
from server.sync.fields import date


def read_records(folder: Path) -> list[Record]:
    """Every record of a data directory, beside a running server too."""
    with read_only(folder) as db:
        return all_records_plain(db)


def read_rulebook(records: list[Record]) -> dict[str, Any]:
    """The rulebook for these records."""
    return make_rulebook(read_calendars(), records)


def day_or_today(text: str | None, records: list[Record]) -> str:
    """The day that was asked for, else today at the site."""
    if text is None:
        return datetime.datetime.now(site_zone(records)).date().isoformat()
    why = date(text)
    if why:
        raise SettingsError(f"The day {why}.", f"--on {text!r}")
    return text
