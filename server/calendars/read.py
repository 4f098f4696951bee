"""Reads the crop calendars and their companions from this folder. What is damaged is left out and said; the rest stands."""

from __future__ import annotations

import functools
import tomllib
from collections.abc import Callable
from dataclasses import dataclass, field
from importlib.resources import files
from importlib.resources.abc import Traversable

from server.errors import CalendarError
from server.season.companion_schema import Caution, Rotation, Standing, Trouble, Upkeep, Vessels
from server.season.crop_calendar import Table, faults
from server.season.table_schema import Fault, Form, shape_faults

COMPANIONS = ("care", "cautions", "standing", "upkeep", "vessels", "rotation")
PUT_BACK = "Mend that line, or put the file back as it came."


@dataclass(frozen=True)
class Calendars:
    """Crop tables by id, and what belongs to no single crop."""

    crops: dict[str, Table]
    care: Table
    cautions: Table
    standing: Table
    upkeep: Table = field(default_factory=dict)
    """Work that a household may choose, by its name."""
    vessels: Table = field(default_factory=dict)
    """Pots, trays and bags as they are sold."""
    rotation: Table = field(default_factory=dict)
    """What is risked where a family comes back too soon."""
    wrong: dict[str, str] = field(default_factory=dict)
    """Why a file, or one table of a companion, was left out: a sentence with file, place and mend, by a name of its own."""


def read_calendars(folder: Traversable | None = None) -> Calendars:
    """Every sound calendar, and a word about each other. Raises CalendarError where the standing jobs cannot be read.

    Our own folder is read once a process: whoever changes a table changes a copy.
    """
    return _read(folder) if folder is not None else _our_own()


@functools.lru_cache(maxsize=1)
def _our_own() -> Calendars:
    return _read(files("server.calendars"))


def _read(root: Traversable) -> Calendars:
    wrong: dict[str, str] = {}
    standing = _table(root.joinpath("standing.toml"))
    found = shape_faults(Standing, standing, "standing.toml")
    if found:
        raise CalendarError(f"The standing jobs need mending. {found[0]}", "; ".join(map(str, found)))
    cautions = _sound_parts(root, "cautions", lambda table, place: shape_faults(Caution, table, place), wrong)

    def trouble_faults(table: Table, place: str) -> list[Fault]:
        return shape_faults(Trouble, table, place) or _missing_cautions(table, cautions, place)

    care = _sound_parts(root, "care", trouble_faults, wrong)

    def upkeep_faults(table: Table, place: str) -> list[Fault]:
        return shape_faults(Upkeep, table, place) or _unbound(table, place) or _unwarned(table, cautions, place)

    upkeep = _sound_parts(root, "upkeep", upkeep_faults, wrong)
    crops: dict[str, Table] = {}
    for entry in sorted(root.iterdir(), key=lambda entry: entry.name):
        name = entry.name.removesuffix(".toml")
        if not entry.name.endswith(".toml") or name in COMPANIONS:
            continue
        try:
            table = _table(entry)
        except CalendarError as error:
            wrong[entry.name] = error.say
            continue
        found = faults(table, entry.name) or _missing_cautions(table, cautions, entry.name)
        if not found and table["id"] != name:
            found = [Fault(entry.name, "key 'id'", f"is {table['id']!r}", "Make id and file name the same")]
        if found:
            wrong[entry.name] = str(found[0])
        else:
            crops[name] = table
    vessels, rotation = (_whole(root, name, form, wrong) for name, form in (("vessels", Vessels), ("rotation", Rotation)))
    return Calendars(crops, care, cautions, standing, upkeep, vessels, rotation, wrong)


def _whole(root: Traversable, name: str, form: type[Form], wrong: dict[str, str]) -> Table:
    """A companion that is one table; empty where it is not sound, which is put into `wrong`."""
    file = f"{name}.toml"
    try:
        table = _table(root.joinpath(file))
    except CalendarError as error:
        wrong[file] = error.say
        return {}
    found = shape_faults(form, table, file)
    if found:
        wrong[file] = str(found[0])
    return {} if found else table


def _sound_parts(
    root: Traversable, name: str, faults_of: Callable[[Table, str], list[Fault]], wrong: dict[str, str]
) -> dict[str, Table]:
    """The tables of a companion that are sound; what the others lack is put into `wrong`."""
    file = f"{name}.toml"
    try:
        tables = _table(root.joinpath(file))
    except CalendarError as error:
        wrong[file] = error.say
        return {}
    sound: dict[str, Table] = {}
    for part, table in tables.items():
        found = faults_of(table, f"{file}, {part!r}")
        if found:
            wrong[f"{file} {part}"] = str(found[0])
        else:
            sound[part] = table
    return sound


def _table(entry: Traversable) -> Table:
    try:
        return tomllib.loads(entry.read_text(encoding="utf-8"))
    except (ValueError, RecursionError) as error:
        raise CalendarError(f"{entry.name} cannot be read: {error}. {PUT_BACK}", f"{entry}: {error}") from error
    except OSError as error:
        raise CalendarError(f"{entry.name} is missing. Put the file back as it came.", f"{entry}: {error}") from error


def _missing_cautions(table: Table, cautions: Table, file: str) -> list[Fault]:
    """Work that names a caution is never shown without it."""
    named = [(step["say"], caution) for step in table["steps"] for caution in step.get("cautions", [])]
    named += [("edible_caution", table["edible_caution"])] if table.get("edible_caution") else []
    return [
        Fault(file, f"{place!r}", f"names the caution {caution!r}, which is not in cautions.toml", "Mend that file or the name")
        for place, caution in named
        if caution not in cautions
    ]


def _unwarned(table: Table, cautions: Table, file: str) -> list[Fault]:
    """Upkeep that names a caution is never shown without it."""
    named = [*table.get("cautions", []), *table.get("dig", {}).get("cautions", [])]
    return [
        Fault(
            file, f"{table['say']!r}", f"names the caution {one!r}, which is not in cautions.toml", "Mend that file or the name"
        )
        for one in named
        if one not in cautions
    ]


def _unbound(table: Table, file: str) -> list[Fault]:
    """Upkeep comes again after days, by growth, or between crops."""
    ways = [key for key in ("every", "growth", "kinds") if table.get(key)]
    if len(ways) == 1 and ("kinds" in ways) == ("dig" in table):
        return []
    return [
        Fault(
            file, f"{table['name']!r}", f"comes by {' and '.join(ways) or 'nothing'}", "Give every, growth, or kinds with dig"
        )
    ]
