"""`python -m tests.write_vectors`: writes `tests/vectors` anew; with `--check` says which files are stale.

Read what changed before you commit it: each case says in words what its answer must show.
"""

from __future__ import annotations

import json
import sys
from pathlib import Path
from typing import Any

from server.kernel.days import in_season as season_day
from server.kernel.days import iso
from server.kernel.merge import merge_record, visible
from server.kernel.settle import settle
from server.kernel.stamps import Reading, hear, tick, write
from tests.kernel.small import rulebook
from tests.vector_cases import STORIES

FOLDER = Path(__file__).parent / "vectors"
SHOWN = ("id", "title", "state", "count", "from", "aim", "by", "pinched", "part", "low", "for", "in_the_way", "why")
DEVICE = "abcdefgh"


def brief(job: dict[str, Any]) -> dict[str, Any]:
    """What a vector holds of a job: who reads it must be able to see that it is right."""
    return {name: job[name] for name in SHOWN if job[name] not in (None, False, [], "")}


def settle_vectors(area: str) -> list[dict[str, Any]]:
    """The cases of one area with their answers."""
    made = []
    for name, says, today, told in STORIES[area]():
        answer = [brief(job) for job in settle(rulebook(), told.records, today)]
        made.append({"name": name, "says": says, "door": "settle", "today": today, "records": told.records, "expect": answer})
    return made


def merge_vectors() -> list[dict[str, Any]]:
    """Records from changes, in any order."""

    def change(ms: int, device: str = "aaaaaaaa", kind: str = "batch", **fields: Any) -> dict[str, Any]:
        return {"id": "b1", "kind": kind, "stamp": f"{ms:012x}-0000-{device}", "fields": fields}

    cases = [
        ("later wins", "the later stamp has the field", [change(1, want=12), change(2, want=14)]),
        ("fields apart", "each field by itself", [change(1, want=12, notes="old"), change(2, notes="new")]),
        (
            "a tie by device",
            "at one moment the device that sorts later wins",
            [change(1, want=12), change(1, "bbbbbbbb", want=14)],
        ),
        (
            "one stamp, two values",
            "a broken device: the value that sorts later, so that order never matters",
            [change(1, want=12), change(1, want=9)],
        ),
        ("deleted", "gone is one more field", [change(1, want=12), change(2, gone=True)]),
        (
            "edited after",
            "an edit newer than the deletion brings it back",
            [change(1, want=12), change(2, gone=True), change(3, want=13)],
        ),
        (
            "edited before",
            "an edit older than the deletion does not",
            [change(1, want=12), change(3, gone=True), change(2, want=13)],
        ),
        ("taken back", "gone: false is not gone", [change(1, want=12), change(2, gone=True), change(3, gone=False)]),
        ("unknown fields", "what nobody knows is kept", [change(1, scion={"of": ["pear", 1.5]}), change(2, want=1)]),
    ]
    made = []
    for name, says, changes in cases:
        record: dict[str, Any] | None = None
        for one in changes:
            record = merge_record(record, one)
        assert record is not None
        made.append(
            {"name": name, "says": says, "door": "merge", "changes": changes, "expect": record, "visible": visible(record)}
        )
    return made


def clock_vectors() -> list[dict[str, Any]]:
    """Hybrid clock readings (rules: Kulkarni et al. 2014) and dates of a season."""
    made: list[dict[str, Any]] = []
    for name, last, now in (
        ("time went on", (5, 3), 9),
        ("time stands", (5, 3), 5),
        ("time went back", (5, 3), 2),
        ("counter full", (5, 65535), 5),
    ):
        answer = write(tick(Reading(*last), now), DEVICE)
        made.append(
            {
                "name": name,
                "says": "a new stamp is always later",
                "door": "tick",
                "last": dict(zip(("ms", "counter"), last, strict=True)),
                "now": now,
                "expect": answer,
            }
        )
    for name, last, heard, now in (
        ("heard from behind", (5, 3), (4, 9), 5),
        ("heard the same moment", (5, 3), (5, 9), 4),
        ("heard from ahead", (5, 3), (8, 2), 6),
        ("own clock ahead of all", (5, 3), (6, 2), 9),
        ("heard from next year", (5, 3), (31_536_000_000, 7), 9),
    ):
        answer = write(hear(Reading(*last), Reading(*heard), now), DEVICE)
        pair = [dict(zip(("ms", "counter"), both, strict=True)) for both in (last, heard)]
        made.append(
            {
                "name": name,
                "says": "past both, but never more than five minutes past the own clock",
                "door": "hear",
                "last": pair[0],
                "heard": pair[1],
                "now": now,
                "expect": answer,
            }
        )
    for text, year in (("0-02-10", 2031), ("1-02-10", 2031), ("0-02-29", 2031), ("0-02-29", 2032), ("1-12-31", 1999)):
        answer = iso(season_day(text, year))
        made.append(
            {
                "name": f"{text} of {year}",
                "says": "a date counted from the batch's year",
                "door": "season",
                "text": text,
                "year": year,
                "expect": answer,
            }
        )
    return made


def all_files() -> dict[str, str]:
    """Every vector file as it should be, by its name."""
    made: dict[str, list[dict[str, Any]]] = {f"settle_{area}": settle_vectors(area) for area in STORIES}
    made["merge"] = merge_vectors()
    made["clock"] = clock_vectors()
    texts = {f"{name}.json": _lines(cases) for name, cases in made.items()}
    texts["rulebook.json"] = json.dumps(rulebook(), ensure_ascii=False) + "\n"
    return texts


def _lines(cases: list[dict[str, Any]]) -> str:
    """One line a record and a job, so that a change is seen where it is."""
    out = []
    for case in cases:
        rows = []
        for name, value in case.items():
            if name in ("records", "changes") or (name == "expect" and isinstance(value, list)):
                inner = ",\n    ".join(json.dumps(one, ensure_ascii=False) for one in value)
                rows.append(f'  "{name}": [\n    {inner}\n  ]' if value else f'  "{name}": []')
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
