"""Whatever one value of a calendar becomes, either it is refused with file, place and mend, or everything goes on with it."""

from __future__ import annotations

import copy
import datetime
import functools
import json
from collections.abc import Iterator
from typing import Any

from hypothesis import given
from hypothesis import strategies as st

from server.calendars.read import Calendars, read_calendars
from server.kernel.settle import settle
from server.season.calendar_numbers import numbers_of
from server.season.crop_calendar import faults
from server.season.rulebook import make_rulebook
from server.season.seed_list import read_seed_list
from tests.builders import site_record
from tests.cases import sampled

CALENDARS = read_calendars()
GONE = object()
VALUES = [
    GONE, None, True, False, 0, 1, -1, 0.5, 1e-9, 10**6, 10**400, 16**5000, -1e308, float("nan"), float("inf"), "", " ", "0.5",
    "glass", "steps", "emergence", "constructor", "__proto__", "{many}", "{bears}", "}{", "a" * 5000, "\ud800", "a\nb",
    [], [[]], ["x"], [1, 2], {}, {"value": 1}, {"min": 1}, {"of": "gate"}, {"step": "sow", "days": {"min": 1}},
    datetime.date(2031, 5, 19),
]  # fmt: skip
Way = tuple[Any, ...]


def ways(table: Any, so_far: Way = ()) -> Iterator[Way]:
    """The way to every value of a table, tables and lists among them."""
    members = table.items() if isinstance(table, dict) else enumerate(table) if isinstance(table, list) else ()
    for key, value in members:
        yield (*so_far, key)
        yield from ways(value, (*so_far, key))


@functools.cache
def ways_in(crop: str) -> list[Way]:
    """The way to every value of a crop's calendar."""
    return list(ways(CALENDARS.crops[crop]))


def with_value(table: dict[str, Any], way: Way, value: Any) -> dict[str, Any]:
    """The table with one value in place of its own, or without it."""
    made = copy.deepcopy(table)
    holder: Any = made
    for key in way[:-1]:
        holder = holder[key]
    if value is GONE:
        del holder[way[-1]]
    else:
        holder[way[-1]] = value
    return made


def batch_of(crop: str) -> list[dict[str, Any]]:
    """A household that grows it."""
    fields: list[tuple[str, str, dict[str, Any]]] = [
        ("place", "bed", {"name": "Bed", "sort": "bed", "cover": "open"}),
        ("variety", "v", {"name": "", "crop": crop}),
        ("batch", "b", {"name": "", "variety": "v", "want": 7, "for_place": "bed", "year": 2031}),
    ]
    return [{"id": id_, "kind": kind, "stamp": "000000000000-0000-aaaaaaaa", "fields": it} for kind, id_, it in fields]


def try_one(crop: str, way: Way, value: Any) -> bool:
    """Whether it is refused; where it is not, all that is made of a calendar is made of this one."""
    table = with_value(CALENDARS.crops[crop], way, value)
    found = faults(table, f"{crop}.toml")
    if found:
        said = str(found[0])
        assert said.startswith(f"{crop}.toml, ") and said.endswith("."), said
        assert len(said) < 1000 and "pydantic" not in said, said
        return True
    calendars = Calendars({crop: table}, CALENDARS.care, CALENDARS.cautions, CALENDARS.standing)
    records = [site_record(), *batch_of(crop)]
    book = make_rulebook(calendars, records)
    assert book["left_out"] == {}, (crop, way, value)
    json.dumps(book, allow_nan=False).encode()
    json.dumps(settle(book, records, "2031-05-19"), allow_nan=False).encode()
    assert all(number.label for number in numbers_of(table))
    read_seed_list(b"crop,variety\nkale,x\n", {crop: table})
    return False


@given(st.data())
def test_any_value_anywhere_is_refused_in_words_or_goes_all_the_way(data: st.DataObject) -> None:
    crop = data.draw(st.sampled_from(sorted(CALENDARS.crops)))
    way = data.draw(st.sampled_from(ways_in(crop)))
    for value in VALUES:
        try_one(crop, way, value)


def test_every_type_but_its_own_is_refused_everywhere() -> None:
    """One crop of each start, whole: text for a number, a number for text, a list for either. By day the first alone."""
    for crop in sampled(("tomato", "carrot", "garlic"), 3):
        for way in ways_in(crop):
            holder: Any = CALENDARS.crops[crop]
            for key in way:
                holder = holder[key]
            others = [value for value in ("0.5", 7, [[]], {"odd": 1}, None) if type(value) is not type(holder)]
            for value in others:
                assert (isinstance(holder, int | float) and value == 7) or try_one(crop, way, value), (way, value)
