"""Reads the crop calendars and their companions from this folder, and says what is wrong with one that is damaged."""

from __future__ import annotations

import functools
import tomllib
from dataclasses import dataclass
from importlib.resources import files
from importlib.resources.abc import Traversable
from typing import Any

from server.errors import CalendarError
from server.season.crop_calendar import Table, faults

COMPANIONS = ("care", "cautions", "standing")


@dataclass(frozen=True)
class Calendars:
    """Crop tables by id, and what belongs to no single crop."""

    crops: dict[str, Table]
    care: Table
    cautions: Table
    standing: Table


def read_calendars(folder: Traversable | None = None) -> Calendars:
    """Every calendar, checked. Raises CalendarError naming file, place and mend.

    Our own folder is read once a process: whoever changes a table changes a copy.
    """
    return _read(folder) if folder is not None else _our_own()


@functools.lru_cache(maxsize=1)
def _our_own() -> Calendars:
    return _read(files("server.calendars"))


def _read(root: Traversable) -> Calendars:
    companions = {name: _table(root.joinpath(f"{name}.toml")) for name in COMPANIONS}
    crops: dict[str, Table] = {}
    for entry in sorted(root.iterdir(), key=lambda entry: entry.name):
        name = entry.name.removesuffix(".toml")
        if not entry.name.endswith(".toml") or name in COMPANIONS:
            continue
        table = _table(entry)
        wrong = faults(table, entry.name)
        if table.get("id") != name and not wrong:
            raise CalendarError(f"{entry.name}: its id is {table.get('id')!r}. Make id and file name the same.")
        if wrong:
            raise CalendarError(f"A crop calendar needs mending. {wrong[0]}", "; ".join(map(str, wrong)))
        crops[name] = table
    _check_links(crops, companions)
    return Calendars(crops, **companions)


def _table(entry: Traversable) -> Table:
    try:
        return tomllib.loads(entry.read_text(encoding="utf-8"))
    except (tomllib.TOMLDecodeError, UnicodeDecodeError) as error:
        raise CalendarError(
            f"{entry.name} cannot be read: {error}. Mend that line, or put the file back as it came.", f"{entry}: {error}"
        ) from error
    except OSError as error:
        raise CalendarError(f"{entry.name} is missing. Put the file back as it came.", f"{entry}: {error}") from error


def _check_links(crops: dict[str, Table], companions: dict[str, Any]) -> None:
    """Cautions and hosts must name what exists."""
    cautions = companions["cautions"]
    for name, table in crops.items():
        for step in table["steps"]:
            for caution in step.get("cautions", []):
                if caution not in cautions:
                    raise CalendarError(f"{name}.toml, step {step['id']!r}: the caution {caution!r} is not in cautions.toml.")
    for trouble, entry in companions["care"].items():
        for step in entry.get("steps", []):
            for caution in step.get("cautions", []):
                if caution not in cautions:
                    raise CalendarError(f"care.toml, {trouble!r}: the caution {caution!r} is not in cautions.toml.")
        if not str(entry.get("source", "")).strip():
            raise CalendarError(f"care.toml, {trouble!r} has no source. Add where it is from.")
