"""The ground: places that nest, and the fixtures put up in them.

A fixture that holds batches serves as a place under its own id. Nesting comes from records and may be broken: an
unknown outer place ends the way outwards, and a circle (two phones that move a place into each other) is opened.
"""

from __future__ import annotations

import math
from dataclasses import dataclass, field
from typing import Any

WATER_LINES = ("drip_line", "soaker_hose")


@dataclass(slots=True)
class Place:
    """A place as the kernel needs it; all that hangs on nesting is worked out once."""

    id: str
    name: str
    sort: str
    walk: int
    watering: str | None
    area_dm2: int | None = None
    """Length by width. [whole dm²]"""
    path: list[str] = field(default_factory=list)
    """Itself first, then outwards."""
    house: str = ""
    cover: str = "open"
    heated_to_c: int | None = None
    climate: str = "open"
    """Its cover, or the rulebook's name for the climate of a house that has one of its own."""


@dataclass(slots=True)
class Fixture:
    """A thing that is put up and taken down. `up`, `connected` and `drained` are as the fold left them."""

    id: str
    name: str
    sort: str
    place: str | None
    in_way_of: list[str]
    first_up: bool
    """As it was first put in."""
    up: bool
    connected: bool = False
    drained: int | None = None
    """The day its water was let out, until it is connected again."""
    since: int | None = None


@dataclass(slots=True)
class Ground:
    """Every place and fixture by id, in order of id."""

    places: dict[str, Place]
    fixtures: dict[str, Fixture]

    def path(self, id_: str | None) -> list[str]:
        """A place or fixture and all it lies in, outwards. Empty for what is not known."""
        if id_ is None:
            return []
        place = self.places.get(id_)
        if place is not None:
            return place.path
        fixture = self.fixtures.get(id_)
        if fixture is not None:
            return [id_, *self.path(fixture.place)]
        return []

    def inside(self, id_: str | None, outer: str) -> bool:
        """Whether a place is the outer one or lies in it."""
        return outer in self.path(id_)

    def house(self, id_: str | None) -> str | None:
        """The outermost place."""
        path = self.path(id_)
        return path[-1] if path and path[-1] in self.places else None

    def _nearest(self, id_: str | None) -> Place | None:
        for step in self.path(id_):
            if step in self.places:
                return self.places[step]
        return None

    def cover(self, id_: str | None) -> str:
        """What is overhead; open ground where nothing is said."""
        place = self._nearest(id_)
        return place.cover if place is not None else "open"

    def climate(self, id_: str | None) -> str:
        """The climate plants stand in there: a house's own where the rulebook knows it, else that of the cover."""
        place = self._nearest(id_)
        return place.climate if place is not None else "open"

    def heated_to_c(self, id_: str | None) -> int | None:
        """What a place is kept at. [whole °C]"""
        place = self._nearest(id_)
        return place.heated_to_c if place is not None else None

    def name(self, id_: str | None) -> str | None:
        """What a place or fixture is called."""
        if id_ is None:
            return None
        if id_ in self.places:
            return self.places[id_].name
        if id_ in self.fixtures:
            return self.fixtures[id_].name
        return None

    def walk(self, id_: str | None) -> int:
        """Walking order; what has none comes last."""
        place = self._nearest(id_)
        return place.walk if place is not None else UNNUMBERED


UNNUMBERED = 9999


def read_ground(places: list[dict[str, Any]], fixtures: list[dict[str, Any]], houses: dict[str, str]) -> Ground:
    """The ground from visible records of kinds place and fixture, sorted by id. houses: climate by place, where it has one."""
    raw = {record["id"]: record["fields"] for record in places}
    known: dict[str, Place] = {}
    for id_, fields in raw.items():
        path = _way_out(id_, raw)
        place = Place(
            id=id_,
            name=fields.get("name") or id_,
            sort=fields.get("sort") or "bed",
            walk=fields["walk"] if fields.get("walk") is not None else UNNUMBERED,
            watering=fields.get("watering"),
            area_dm2=_area(fields),
            path=path,
            house=path[-1],
        )
        for step in path:
            if raw[step].get("cover"):
                place.cover = raw[step]["cover"]
                break
        for step in path:
            heated = raw[step].get("heated_to_c")
            if heated is not None:
                place.heated_to_c = int(heated // 1)
                break
        place.climate = _climate(path, raw, houses) or place.cover
        known[id_] = place
    put_up = {
        record["id"]: Fixture(
            id=record["id"],
            name=record["fields"].get("name") or record["id"],
            sort=record["fields"].get("sort") or "other",
            place=record["fields"].get("place"),
            in_way_of=record["fields"].get("in_way_of") or [],
            first_up=record["fields"].get("up") is True,
            up=record["fields"].get("up") is True,
        )
        for record in fixtures
    }
    for fixture in put_up.values():
        if fixture.place not in known:
            fixture.place = None
    return Ground(known, put_up)


def _climate(path: list[str], raw: dict[str, dict[str, Any]], houses: dict[str, str]) -> str | None:
    for step in path:
        if step in houses:
            return houses[step]
        if raw[step].get("cover"):
            return None
    return None


def _area(fields: dict[str, Any]) -> int | None:
    """Length by width. [whole dm²]"""
    length, width = fields.get("length_cm"), fields.get("width_cm")
    return None if length is None or width is None else math.floor(length * width / 100)


def _way_out(id_: str, raw: dict[str, dict[str, Any]]) -> list[str]:
    """A place and all it lies in. Where places lie in each other in a circle, the one with the smallest id is the outermost."""
    path = [id_]
    while True:
        outer = raw[path[-1]].get("within")
        if outer is None or outer not in raw:
            return path
        if outer in path:
            return path[: path.index(min(path[path.index(outer) :])) + 1]
        path.append(outer)
