"""The made-up household is well-formed: what it holds is what a phone might have sent."""

from __future__ import annotations

import collections
import fnmatch
import json
import re
import subprocess
import sys
import tomllib
import zipfile
from importlib.resources import files
from pathlib import Path
from typing import Any

import pytest

import seed_scenario
from server.kernel.read.merge import merge_record
from server.sync.fields import FIELDS, ID
from server.sync.messages import check_change
from tests.scenario.household import YEAR, household, of_kind, whole_year

ROOT = Path(seed_scenario.__file__).resolve().parent.parent
STAMP = re.compile(r"^[0-9a-f]{12}-[0-9a-f]{4}-[a-z2-7]{8}$")
REFERS: dict[str, dict[str, tuple[str, ...]]] = {
    "place": {"within": ("place",)},
    "fixture": {"place": ("place",)},
    "batch": {"variety": ("variety",), "for_place": ("place",), "follows": ("batch",), "near": ("batch",)},
    "diary": {
        "batch": ("batch",), "place": ("place", "fixture"), "to_place": ("place", "fixture"), "fixture": ("fixture",),
        "by": ("person",),
    },
    "job": {"place": ("place",), "for": ("person",)},
}  # fmt: skip
DAYS = ["2031-01-01", "2031-02-28", "2032-02-29", "2031-05-19", "2031-10-20", "2031-12-31"]


def test_every_record_would_be_taken_by_the_server() -> None:
    assert [why for why in map(check_change, whole_year()) if why] == []


def test_every_field_is_one_that_the_household_knows() -> None:
    unknown = {(r["kind"], name) for r in whole_year() for name in r["fields"] if name not in FIELDS[r["kind"]]}
    assert unknown == set()


def test_no_two_records_share_an_id_and_no_two_a_stamp() -> None:
    for part in ("id", "stamp"):
        counted = collections.Counter(record[part] for record in whole_year())
        assert [value for value, count in counted.items() if count > 1] == []
    assert all(ID.match(record["id"]) and STAMP.match(record["stamp"]) for record in whole_year())


def test_records_are_in_canonical_form() -> None:
    for record in whole_year():
        assert json.dumps(merge_record(None, record)) == json.dumps(record)


def test_every_reference_names_a_record_that_is_there() -> None:
    records = whole_year()
    kinds = {record["id"]: record["kind"] for record in records}
    dangling = [
        (record["id"], name, record["fields"][name])
        for record in records
        for name, allowed in REFERS.get(record["kind"], {}).items()
        if name in record["fields"] and kinds.get(record["fields"][name]) not in allowed
    ]
    assert dangling == []


def test_plants_stand_only_on_fixtures_that_hold_them() -> None:
    fixtures = of_kind(whole_year(), "fixture")
    stood_on = {
        fields[name]
        for fields in of_kind(whole_year(), "diary").values()
        for name in ("place", "to_place")
        if fields.get(name, "").startswith("fixture.")
    }
    assert stood_on and all(fixtures[id_]["holds"] for id_ in stood_on)


def test_stamp_tells_the_day_and_minute_of_each_deed() -> None:
    """2031-05-19 is day 22,418 since 1970-01-01 (61 years of 365 days, 15 leap days, 138 days into the year)."""
    (deed,) = [
        record
        for record in whole_year()
        if record["kind"] == "diary" and (record["fields"]["on"], record["fields"]["at"]) == ("2031-05-19", "10:42")
    ]
    midnight_ms = (61 * 365 + 15 + 138) * 86_400_000
    assert int(deed["stamp"][:12], 16) == midnight_ms + (10 * 60 + 42) * 60_000
    assert deed["stamp"].endswith("-jimaaaaa")


@pytest.mark.parametrize("on", DAYS)
def test_any_day_loads_the_same_twice_and_holds_nothing_that_comes_later(on: str) -> None:
    once, again = seed_scenario.load(on), seed_scenario.load(on)
    assert json.dumps(once) == json.dumps(again)
    assert max(fields["on"] for fields in of_kind(once, "diary").values()) <= on
    stamps = [record["stamp"] for record in once]
    assert stamps == sorted(stamps)
    assert [why for why in map(check_change, once) if why] == []


def test_a_later_day_only_adds() -> None:
    earlier = {record["id"]: record for record in household("2031-05-19")}
    later = {record["id"]: record for record in household("2031-05-28")}
    assert earlier.items() <= later.items()


def test_last_year_is_always_there() -> None:
    on_new_year = of_kind(household("2031-01-01"), "diary").values()
    assert len([fields for fields in on_new_year if fields["on"].startswith("2030")]) >= 150


def test_next_season_has_ids_of_its_own() -> None:
    def of_season(year: int) -> set[str]:
        records = household(f"{year}-12-31")
        deeds = {id_ for id_, fields in of_kind(records, "diary").items() if fields["on"].startswith(str(year))}
        return deeds | {id_ for id_, fields in of_kind(records, "batch").items() if fields["year"] == year}

    assert of_season(2031) and of_season(2031).isdisjoint(of_season(2032))


def test_ground_and_people_keep_their_ids_from_season_to_season() -> None:
    for kind in ("person", "place", "fixture", "variety"):
        one, next_ = (of_kind(household(day), kind) for day in ("2031-12-31", "2032-02-29"))
        for fields in (*one.values(), *next_.values()):
            fields.pop("seeds_on", None)  # the tin is counted anew each season
        assert one == next_


def test_season_is_as_big_as_a_household_of_three_keeps() -> None:
    batches = of_kind(whole_year(), "batch").values()
    this_season = [fields for fields in batches if fields["year"] == YEAR]
    varieties = of_kind(whole_year(), "variety")
    deeds = [fields for fields in of_kind(whole_year(), "diary").values() if fields["on"].startswith(str(YEAR))]
    assert len(this_season) >= 40
    assert len({varieties[fields["variety"]]["crop"] for fields in this_season}) >= 24
    assert len(deeds) >= 400
    assert len([fields for fields in batches if fields["year"] == YEAR - 1]) >= 18


def test_every_verb_of_the_diary_is_in_it() -> None:
    told = {fields["did"] for fields in of_kind(whole_year(), "diary").values()}
    assert told >= {
        "sow", "emerge", "prick_out", "pot_up", "harden_off", "plant_out", "string", "train", "feed", "water", "treat",
        "look", "pick", "clear", "move", "lose", "install", "remove", "connect", "measure", "note",
    }  # fmt: skip


def test_household_loads_from_inside_an_archive(tmp_path: Path) -> None:
    """An installed package need not be a folder; the files are read as resources."""
    archive = tmp_path / "installed.zip"
    with zipfile.ZipFile(archive, "w") as packed:
        for path in sorted((ROOT / "seed_scenario").iterdir()):
            if path.suffix in (".py", ".toml", ".csv"):
                packed.write(path, f"seed_scenario/{path.name}")
    asked = (
        f"import sys; sys.path.insert(0, {str(archive)!r}); import seed_scenario; "
        "print(seed_scenario.__file__, len(seed_scenario.load('2031-05-19')))"
    )
    command = [sys.executable, "-I", "-c", asked]
    read_from, count = subprocess.run(command, capture_output=True, check=True, text=True, cwd=tmp_path).stdout.split()
    assert read_from.startswith(str(archive)) and int(count) == len(household("2031-05-19"))


def test_every_file_of_the_household_goes_into_the_package() -> None:
    patterns = tomllib.loads((ROOT / "pyproject.toml").read_text())["tool"]["setuptools"]["package-data"]["*"]
    names = [entry.name for entry in files("seed_scenario").iterdir() if entry.is_file()]
    names = [name for name in names if not name.endswith(".py")]
    assert len(names) >= 9
    assert [name for name in names if not any(fnmatch.fnmatch(name, pattern) for pattern in patterns)] == []


def test_diary_row_with_a_column_too_many_is_named(monkeypatch: pytest.MonkeyPatch) -> None:
    def broken(name: str) -> str:
        return "on,at,note\n05-19,09:30,quiet, and dry\n" if name.endswith(".csv") else real(name)

    real: Any = seed_scenario._text
    monkeypatch.setattr(seed_scenario, "_text", broken)
    with pytest.raises(ValueError, match=r"line 2: more or fewer columns"):
        seed_scenario.load("2031-05-19")
