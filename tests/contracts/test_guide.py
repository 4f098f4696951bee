"""DEVELOPERS.md says what the code says: fields, verbs, job keys, calendar keys, doors and commands."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

from server.__main__ import make_parser
from server.app import DOORS
from server.kernel.read.words import PAST
from server.kernel.room import room
from server.kernel.settle import settle
from server.kernel.stand import stand
from server.season import calendar_schema as schema
from server.sync.fields import FIELDS, VERBS
from tests.contracts.scripts import SCRIPTS
from tests.kernel.small import holding, rulebook

ROOT = Path(__file__).resolve().parents[2]
GUIDE = (ROOT / "DEVELOPERS.md").read_text(encoding="utf-8")


DOOR = re.compile(r"`(?:(GET|POST) )?(/[A-Za-z0-9/._-]*)(?:\?[^`]*)?`")


def section(title: str) -> str:
    """The text under a heading, up to the next of its height or above."""
    height = len(title.split(" ")[0])
    found = re.search(rf"^{re.escape(title)}[^\n]*\n(.*?)(?=^#{{1,{height}}} |\Z)", GUIDE, re.DOTALL | re.MULTILINE)
    assert found, title
    return found[1]


def rows(text: str) -> list[list[str]]:
    """The cells of a table's rows, without its head."""
    lines = [line for line in text.splitlines() if line.startswith("|") and not line.startswith("|--")]
    return [[cell.strip() for cell in line.strip("|").split("|")] for line in lines]


def test_every_kind_is_told_with_its_fields() -> None:
    told = {kind: without_notes(fields) for kind, fields in rows(section("## 3. Records")) if kind in FIELDS}
    assert told.keys() == FIELDS.keys()
    for kind, text in told.items():
        days = {"d01..d31"} if kind == "readings" else set()
        named = set(re.findall(r"[a-z][a-z0-9_]*(?:\.\.[a-z0-9]+)?", text))
        known = set(FIELDS[kind]) - ({f"d{day:02d}" for day in range(1, 32)} if days else set())
        assert named - days == known, kind
        assert days <= named


def without_notes(text: str) -> str:
    """A list of fields without what is said of them in brackets and quotes."""
    before = None
    while before != text:
        before, text = text, re.sub(r"\([^()]*\)|\[[^\[\]]*\]|`[^`]*`", "", text)
    return text.split(";")[0]


def test_every_verb_is_told() -> None:
    told = set(re.findall(r"[a-z_]+", " ".join(re.findall(r"`([^`]+)`", section("### Verbs")))))
    assert told - {"to_place", "place"} == set(VERBS)
    assert set(PAST) <= set(VERBS)


def test_every_key_of_a_job_and_of_what_stands_is_told() -> None:
    told_so_far = holding()
    told_so_far.add("batch", "b1", variety="v.bell", year=2031, want=6, for_place="glass.bed1")
    told_so_far.add("diary", "d1", did="sow", batch="b1", count=9, on="2031-02-10", to_place="prop")
    told_so_far.add("diary", "d2", did="look", batch="b1", found="mite", level="few", on="2031-05-18")
    told_so_far.add("diary", "d3", did="look", place="glass", on="2031-05-19")
    told_so_far.add("fixture", "shelf", name="the shelf", sort="shelf", place="glass.bed1", in_way_of=["plant_out"], up=True)
    records = told_so_far.records
    doors = section("## 4. The kernel's doors")
    job = re.search(r"\*\*Job\*\*: `\{(.*?)\}`", doors, re.DOTALL)
    assert job
    keys = set(re.findall(r"[a-z_]+", job[1]))
    seen = settle(rulebook(), records, "2031-05-19")
    assert seen
    for one in seen:
        assert set(one) - {"deeds", "told_by", "at", "found"} <= keys, one["id"]
    assert set().union(*seen) >= keys
    told = re.search(r"\*\*stand\(\)\*\*: `(.*?)`\.", doors, re.DOTALL)
    assert told
    for name, things in stand(rulebook(), records, "2031-05-19").items():
        assert f'"{name}": [' in told[1]
        for thing in things:
            assert set(thing) <= set(re.findall(r"[a-z_]+", told[1])), name


def test_every_key_of_room_is_told() -> None:
    told_so_far = holding()
    told_so_far.add("batch", "b1", variety="v.bell", year=2031, want=6, for_place="glass.bed1")
    told_so_far.add("place", "field.bed2", name="short bed", length_cm=200, width_cm=100)
    told = re.search(r"\*\*room\(\)\*\*: `(.*?)`:", section("## 4. The kernel's doors"), re.DOTALL)
    assert told
    for name, things in room(rulebook(), told_so_far.records, "2031-05-19").items():
        assert f'"{name}":' in told[1]
        for thing in things if isinstance(things, list) else []:
            assert set(thing) <= set(re.findall(r"[a-z_0-9]+", told[1])), name


KEYS = {key for model in (schema.Calendar, schema.Step, schema.Numbers) for key in model.model_fields}


def test_every_key_of_a_calendar_is_told() -> None:
    calendars = section("## 8. Crop calendars")
    told = set(re.findall(r"[a-z_]+", calendars))
    assert told >= KEYS
    keys = set(re.findall(r"^([a-z_]+) +=", calendars, re.MULTILINE)) - {
        "of",
        "weeks",
        "temp_c",
        "days",
        "normal_pct",
        "source",
        "night_c",
        "allow_c",
        "keeps_days",
        "cure_days",
        "best",
        "how",
        "life_years",
        "apart_m",
        "plants",
        "dry_days",
    }
    assert keys <= KEYS


def test_every_door_is_told() -> None:
    told = {
        (way or "GET", path)
        for way, path in DOOR.findall(" ".join(first for first, *_ in rows(section("## 9. Doors and commands"))))
    }
    known = set()
    for door in DOORS:
        path = re.sub(r"\{(\w+)\}", lambda name: name[1].upper(), door.path)
        known |= {(way, path) for way in door.methods or () if way != "HEAD"}
    assert told == known - {("GET", "/{path:path}")}


def test_every_command_is_told() -> None:
    line = next(line for line in section("## 9. Doors and commands").splitlines() if line.startswith("`mudproof "))
    told = re.findall(r"[a-z]+", line.split("`")[1])[1:]
    commands = next(action.choices for action in make_parser()._subparsers._group_actions)  # type: ignore[union-attr]
    assert told == list(commands or ())


@pytest.mark.parametrize(
    "path", sorted(set(re.findall(r"`((?:server|web|tests)/[\w/.-]+\.\w+)`", GUIDE)) - {"tests/sync/pushes/VERSION.json"})
)
def test_every_file_that_is_named_is_there(path: str) -> None:
    assert (ROOT / path).exists()


def test_every_rule_of_the_kernel_names_a_file_that_stands_in_both_halves() -> None:
    rules = re.findall(
        r"^\* .*?(?=^\* |\Z)", section("### Rules of the kernel that are easy to miss"), re.DOTALL | re.MULTILINE
    )
    assert len(rules) > 5
    for rule in rules:
        named = re.findall(r"`((?:read|when|follow|said)/[a-z_]+|settle|stand|fit|rest)`", rule)
        assert named, rule
        for name in named:
            assert (ROOT / "server" / "kernel" / f"{name}.py").exists(), name
            assert (SCRIPTS / "kernel" / f"{name.replace('_', '-')}.js").exists(), name


def test_what_an_app_without_a_signal_must_stand_has_its_tests() -> None:
    named = set(re.findall(r"`(test_[a-z0-9_]+)`", section("### Tests")))
    written = {
        name
        for file in (ROOT / "tests").rglob("test_*.py")
        for name in re.findall(r"^def (test_\w+)", file.read_text(encoding="utf-8"), re.MULTILINE)
    }
    assert len(named) >= 25 and named <= written, named - written
