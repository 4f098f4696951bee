"""`python -m tests.write_vectors`: writes `tests/vectors` anew; with `--check` says which files are stale.

Read what changed before you commit it: each case says in words what its answer must show.
"""

from __future__ import annotations

import itertools
import json
import sys
from pathlib import Path
from typing import Any

from tests.kernel.python_kernel import answer
from tests.kernel.small import rulebook
from tests.vector_cases import DOORS, Story

FOLDER = Path(__file__).parent / "vectors"
NEEDS_RULEBOOK = tuple(DOORS)


def brief(job: dict[str, Any]) -> dict[str, Any]:
    """What a vector holds of a job: all of it that says anything."""
    return {name: value for name, value in job.items() if value not in (None, False, [], "", {})}


def shown(door: str, whole: Any) -> Any:
    """The part of an answer that a vector holds."""
    if door == "room":
        places = [place | {"weeks": runs(place["weeks"])} for place in whole["places"]]
        return {
            "from": whole["from"],
            "stays": [brief(stay) for stay in whole["stays"]],
            "places": places,
            "stock": whole["stock"],
        }
    return [brief(job) for job in whole] if door == "settle" else whole


def runs(weeks: list[int]) -> list[list[int]]:
    """Weeks one after another that are alike, as how many and how full."""
    return [[len(list(alike)), full] for full, alike in itertools.groupby(weeks)]


def vector(name: str, says: str, door: str, **question: Any) -> dict[str, Any]:
    """One case with its answer."""
    asked = {"door": door, **question}
    given = asked | {"rulebook": rulebook()} if door in NEEDS_RULEBOOK else asked
    return {"name": name, "says": says, **asked, "expect": shown(door, answer(given))}


def told(door: str, story: Story) -> list[dict[str, Any]]:
    """The cases of one story."""
    made = []
    for name, says, today, household, *minutes in story():
        more = {"minutes": minutes[0]} if minutes else {}
        made.append(vector(name, says, door, today=today, records=household.records, **more))
    return made


def change(ms: int, device: str = "aaaaaaaa", **fields: Any) -> dict[str, Any]:
    """A change of one batch."""
    return {"id": "b1", "kind": "batch", "stamp": f"{ms:012x}-0000-{device}", "fields": fields}


def merges() -> list[dict[str, Any]]:
    """Records from changes, in any order, and whether the result is there to be seen."""
    twelve, gone = change(1, want=12), change(2, gone=True)
    cases = [
        ("later wins", "the later stamp has the field", [twelve, change(2, want=14)]),
        ("fields apart", "each field by itself", [change(1, want=12, notes="old"), change(2, notes="new")]),
        ("a tie by device", "at one moment the device that sorts later wins", [twelve, change(1, "bbbbbbbb", want=14)]),
        ("one stamp twice", "a broken device: the value that sorts later, whatever the order", [twelve, change(1, want=9)]),
        ("a tie of small numbers", "written as RFC 8785 says", [change(1, want=0.00001), change(1, want=0.000002)]),
        ("a tie of keys", "by their letters, figures too", [change(1, v={"": 0, "0": 1}), change(1, v={"": 0})]),
        ("born names", "names like all others", [change(1, constructor=1), change(2, constructor=2)]),
        ("rare letters", "letters sort by their code points", [change(1, notes=c) for c in "\uff21\U0001f345"]),
        ("deleted", "gone is one more field", [twelve, gone]),
        ("edited after", "an edit newer than the deletion brings it back", [twelve, gone, change(3, want=13)]),
        ("edited before", "an edit older than the deletion does not", [twelve, change(3, gone=True), change(2, want=13)]),
        ("taken back", "gone: false is not gone", [twelve, gone, change(3, gone=False)]),
        ("unknown fields", "what nobody knows is kept", [change(1, scion={"of": ["pear", 1.5]}), change(2, want=1)]),
    ]  # fmt: skip
    made = []
    for name, says, changes in cases:
        merged = vector(name, says, "merge", changes=changes)
        made += [merged, vector(f"{name}: seen?", says, "visible", record=merged["expect"])]
    return made


def reading(ms: int, counter: int) -> dict[str, int]:
    """A clock's state."""
    return {"ms": ms, "counter": counter}


def clocks() -> list[dict[str, Any]]:
    """Hybrid clock readings (rules: Kulkarni et al. 2014) and dates of a season."""
    later = "a new stamp is always later"
    past = "past both, but never more than five minutes past the own clock"
    counted = "a date counted from the batch's year"
    own = reading(5, 3)
    return [
        vector("time went on", later, "tick", last=own, now=9),
        vector("time stands", later, "tick", last=own, now=5),
        vector("time went back", later, "tick", last=own, now=2),
        vector("counter full", later, "tick", last=reading(5, 0xFFFF), now=5),
        vector("heard from behind", past, "hear", last=own, heard=reading(4, 9), now=5),
        vector("heard the same moment", past, "hear", last=own, heard=reading(5, 9), now=4),
        vector("heard from ahead", past, "hear", last=own, heard=reading(8, 2), now=6),
        vector("own clock ahead of all", past, "hear", last=own, heard=reading(6, 2), now=9),
        vector("heard from next year", past, "hear", last=own, heard=reading(31_536_000_000, 7), now=9),
        *(
            vector(f"{text} of {year}", counted, "season", text=text, year=year)
            for text, year in (("0-02-10", 2031), ("1-02-10", 2031), ("0-02-29", 2031), ("0-02-29", 2032), ("1-12-31", 1999))
        ),
    ]


def all_files() -> dict[str, str]:
    """Every vector file as it should be, by its name."""
    made = {f"{door}_{area}": told(door, story) for door, stories in DOORS.items() for area, story in stories.items()}
    made |= {"merge": merges(), "clock": clocks()}
    texts = {f"{name}.json": _lines(cases) for name, cases in made.items()}
    texts["rulebook.json"] = json.dumps(rulebook(), ensure_ascii=False) + "\n"
    return texts


def _lines(cases: list[dict[str, Any]]) -> str:
    """One line a record and a job, so that a change is seen where it is."""
    out = []
    for case in cases:
        rows = []
        for name, value in case.items():
            if value and isinstance(value, list):
                inner = ",\n    ".join(json.dumps(one, ensure_ascii=False) for one in value)
                rows.append(f'  "{name}": [\n    {inner}\n  ]')
            else:
                rows.append(f'  "{name}": {json.dumps(value, ensure_ascii=False)}')
        out.append("{\n" + ",\n".join(rows) + "\n}")
    return "[\n" + ",\n".join(out) + "\n]\n"


def stale() -> list[str]:
    """Names of files that are not as they should be."""
    wanted = all_files()
    held = {path.name: path.read_text(encoding="utf-8") for path in FOLDER.glob("*.json")}
    return sorted(name for name in wanted.keys() | held.keys() if wanted.get(name) != held.get(name))


def main() -> int:
    """Write, or check. Returns the exit code."""
    if sys.argv[1:] == ["--check"]:
        found = stale()
        for name in found:
            print(f"stale: tests/vectors/{name}")
        return 1 if found else 0
    FOLDER.mkdir(exist_ok=True)
    for name, text in all_files().items():
        (FOLDER / name).write_text(text, encoding="utf-8")
    return 0


if __name__ == "__main__":
    sys.exit(main())
