"""Night and day inside one particular house: its own cover, its own gain over outside, its own heater."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from server.season.climate import COVERS, Site, day_c, night_c
from server.season.constants import NIGHT_GAIN_C

FROST_FREE_C = 3.0
"""A heater set to this or more keeps frost out while it runs. [°C] Source: common practice, frost-free thermostats 3 to 5."""


@dataclass(frozen=True)
class House:
    """Where plants stand, as far as warmth goes."""

    cover: str
    night_gain_c: float | None = None
    """Night minimum over the night outside; None where the house has none of its own and the cover's usual is used. [°C]"""
    heated_to_c: float | None = None
    """What a heater keeps; None without one. [°C]"""


def read_house(place: Mapping[str, Any]) -> House:
    """The house of a place record. A place with no cover, or an unknown one, is open ground."""
    cover = place.get("cover")
    gain, heated = place.get("night_gain_c"), place.get("heated_to_c")
    return House(
        cover=cover if cover in COVERS else "open",
        night_gain_c=None if gain is None else float(gain),
        heated_to_c=None if heated is None else float(heated),
    )


def gain_c(house: House) -> float:
    """Night gain over outside, its heater apart. [°C] Nought indoors, where the room rules."""
    return NIGHT_GAIN_C.get(house.cover, 0.0) if house.night_gain_c is None else house.night_gain_c


def house_night_c(site: Site, house: House, day: int, colder_c: float = 0.0) -> float:
    """Mean night minimum in the house, on a night so much colder outside than usual. [°C] day: place in a leap year."""
    room = house.cover == "indoors"
    inside = night_c(site, "indoors", day) if room else site.nights_c[day] + gain_c(house) - colder_c
    return inside if house.heated_to_c is None else max(house.heated_to_c, inside)


def house_day_c(site: Site, house: House, day: int) -> float:
    """Mean day maximum in the house, never under its night. [°C] day: place in a leap year."""
    return max(day_c(site, house.cover, day), house_night_c(site, house, day))


def keeps_frost_out(house: House) -> bool:
    """Whether frost is kept out while the heating holds. Glass or plastic alone never does, however well it gains."""
    return house.cover == "indoors" or (house.heated_to_c is not None and house.heated_to_c >= FROST_FREE_C)
