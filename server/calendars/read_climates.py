"""Reads the named climates that come with the package, and says what is wrong with a damaged file."""

from __future__ import annotations

import tomllib
from importlib.resources import files
from importlib.resources.abc import Traversable

from server.errors import CalendarError
from server.season.named_climates import NamedClimate, climate_faults, named_climates

FILE = "climates.toml"


def read_climates(file: Traversable | None = None) -> dict[str, NamedClimate]:
    """Every named climate by id, checked. Raises CalendarError naming file, place and mend."""
    entry = file if file is not None else files("server.season").joinpath(FILE)
    try:
        tables = tomllib.loads(entry.read_text(encoding="utf-8"))
    except (tomllib.TOMLDecodeError, UnicodeDecodeError) as error:
        raise CalendarError(
            f"{entry.name} cannot be read: {error}. Mend that line, or put the file back as it came."
        ) from error
    except OSError as error:
        raise CalendarError(f"{entry.name} is missing. Put the file back as it came.", f"{entry}: {error}") from error
    wrong = climate_faults(tables, entry.name)
    if wrong:
        raise CalendarError(f"A climate needs mending. {wrong[0]}", "; ".join(map(str, wrong)))
    return named_climates(tables)
