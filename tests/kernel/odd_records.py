"""Records of every kind with the oddest values that the server takes: born names, ends of ranges, nulls."""

from __future__ import annotations

from typing import Any

from hypothesis import strategies as st

from server.sync.fields import FIELDS, VERBS, why_not

IDS = ("a", "b", "c", "v", "site", "constructor", "own.kale")
WORDS = (
    "kale", "tomato", "bed", "house", "shelf", "aphid", "glass", "metric", "few", "constructor", "__proto__", "hasownproperty",
    "steps.sow.minutes.fixed", "numbers.spacing_cm", "Europe/London", "No/Where", "x" * 4000, "", *VERBS,
)  # fmt: skip
POOL: list[Any] = [
    *IDS, *WORDS, None, True, False, 0, 1, 2, 366, 2031, 100_000, -60, 70, 0.1, 0.01, 99.5,
    "2031-05-19", "1900-01-01", "2200-12-31", "2031-05", "05-12", "02-29", "09:30", "0" * 64,
    [], ["sow"], ["a"], ["b", "b"], [-3, 4.5], [[-60, 60]] * 12, [[2, 8]] * 12,
    {}, {"constructor": 1}, {"numbers.spacing_cm": 40}, {"id": "kale", "steps": []},
]  # fmt: skip
TAKEN = {
    kind: {name: [value for value in POOL if why_not(kind, name, value) is None] for name in [*checks, "gone", "x1"]}
    for kind, checks in FIELDS.items()
}
"""What the server takes, by kind and field."""


@st.composite
def odd_changes(draw: st.DrawFn) -> dict[str, Any]:
    """A change that the server takes, with the oddest values."""
    kind = draw(st.sampled_from(sorted(TAKEN)))
    names = draw(st.lists(st.sampled_from(sorted(TAKEN[kind])), min_size=1, max_size=8, unique=True))
    fields = {name: draw(st.sampled_from(TAKEN[kind][name])) for name in names}
    stamp = f"{draw(st.integers(1, 10**12)):012x}-0000-{draw(st.sampled_from(['aaaaaaaa', 'bbbbbbbb']))}"
    return {"id": draw(st.sampled_from(IDS)), "kind": kind, "stamp": stamp, "fields": fields}
