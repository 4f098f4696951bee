"""Places that two phones moved into each other at once still make a sound tree, the same in both halves and in any order."""

from __future__ import annotations

import random
from itertools import pairwise
from typing import Any

from hypothesis import given
from hypothesis import strategies as st

from server.kernel.read.ground import read_ground

PLACES = ["a", "b", "c", "d", "e"]


def record(id_: str, within: str | None) -> dict[str, Any]:
    return {"id": id_, "kind": "place", "fields": {"name": id_, "within": within}}


@given(st.fixed_dictionaries({name: st.sampled_from([*PLACES, None, "nowhere"]) for name in PLACES}))
def test_every_place_has_one_way_out_that_ends(within: dict[str, str | None]) -> None:
    records = [record(name, outer) for name, outer in within.items()]
    ground = read_ground(records, [], {})
    for name in PLACES:
        path = ground.path(name)
        assert path[0] == name and len(set(path)) == len(path)
        for step, outer in pairwise(path):
            assert within[step] == outer and ground.path(outer) == path[path.index(outer) :]
        assert ground.house(path[-1]) == path[-1], "an outermost place is its own house"
    random.Random(1).shuffle(records)
    assert {name: read_ground(records, [], {}).path(name) for name in PLACES} == {name: ground.path(name) for name in PLACES}


def test_of_two_in_each_other_the_first_by_name_is_the_outer_one() -> None:
    ground = read_ground([record("b", "a"), record("a", "b")], [], {})
    assert ground.path("a") == ["a"] and ground.path("b") == ["b", "a"]
