"""The command line: what it prints, what it refuses, and that a grower never sees a trace."""

from __future__ import annotations

import json
import shutil
import signal
import socket
import sqlite3
import subprocess
import sys
from collections.abc import Iterator
from importlib import import_module
from pathlib import Path

import pytest

import seed_scenario
from server.__main__ import RUNS, make_parser
from server.commands.demo import done_by
from server.store.backups import FILE
from server.store.connection import prepare
from tests.browser.serving import LiveServer, mudproof

ON = "2031-05-19"


@pytest.fixture(scope="module")
def demo(tmp_path_factory: pytest.TempPathFactory) -> Iterator[tuple[Path, LiveServer]]:
    """The made-up household, served on its day and left open."""
    folder = tmp_path_factory.mktemp("demo")
    server = LiveServer(folder, ON).start()
    yield folder, server
    server.kill()


def said(answer: subprocess.CompletedProcess[str]) -> str:
    """What was said instead of doing it: one or two sentences, and no trace."""
    assert answer.returncode == 2, answer
    assert "Traceback" not in answer.stderr and 0 < answer.stderr.count(". ") + 1 <= 4
    assert answer.stdout == ""
    return answer.stderr


def test_each_command_is_where_it_is_said_to_be() -> None:
    commands = next(action.choices for action in make_parser()._actions if action.dest == "command")
    assert commands is not None and set(commands) == set(RUNS)
    for run in RUNS.values():
        module, function = run.split(".")
        assert callable(getattr(import_module(f"server.commands.{module}"), function))


def test_jobs_prints_the_same_round_as_the_server_gives(demo: tuple[Path, LiveServer]) -> None:
    folder, server = demo
    printed = json.loads(mudproof("jobs", "--data", folder, "--on", ON, "--json").stdout)
    assert printed == server.get_json(f"/api/jobs?on={ON}")
    ready = [job for job in printed["jobs"] if job["state"] == "ready" and not job["low"]]
    text = mudproof("jobs", "--data", folder, "--on", ON).stdout
    assert f"Round of {ON}: {len(ready)} jobs" in text
    for job in ready:
        assert job["title"].replace("\u00a0", " ") in text
    here = mudproof("jobs", "--data", folder, "--on", ON, "--place", "tunnel", "--state", "ready", "--json").stdout
    found = json.loads(here)["jobs"]
    assert found and all("place.tunnel" in (job["place"], job["house"]) and job["state"] == "ready" for job in found)


def test_jobs_that_fit_into_the_time_there_is(demo: tuple[Path, LiveServer]) -> None:
    folder, _ = demo
    found = json.loads(mudproof("jobs", "--data", folder, "--on", ON, "--minutes", "45", "--json").stdout)["jobs"]
    assert found and sum(job["minutes"] for job in found) <= 45


def test_room_prints_the_same_weeks_as_the_server_gives(demo: tuple[Path, LiveServer]) -> None:
    folder, server = demo
    printed = json.loads(mudproof("room", "--data", folder, "--on", ON, "--json").stdout)
    assert printed == server.get_json(f"/api/room?on={ON}")
    lines = mudproof("room", "--data", folder, "--on", ON).stdout.splitlines()
    weeks = {line[: -len(line.split("  ")[-1])].strip(): line.split("  ")[-1] for line in lines[1:] if "bed 1" in line}
    assert set(weeks["Far beds, bed 1"]) == {"."} and len(weeks["Far beds, bed 1"]) == 53
    one = json.loads(mudproof("room", "--data", folder, "--on", ON, "--place", "tunnel, bed 1", "--json").stdout)
    assert [place["id"] for place in one["places"]] == ["place.tunnel.bed1"]
    assert "like 2031-05-19" in said(mudproof("room", "--data", folder, "--on", "someday"))


def test_jobs_and_diary_are_told_in_the_households_units(tmp_path: Path) -> None:
    """A US pint is 0.473176473 L, a pound 453.59237 g (NIST Handbook 44, appendix C)."""
    server = LiveServer(tmp_path, ON).start()
    try:
        stamp = "0199a0000000-0000-abcdefgh"
        weighed = {"on": ON, "did": "pick", "batch": "batch.2031.parsnip", "weight_g": 992}
        server.push(
            [
                {"id": "site", "kind": "site", "stamp": stamp, "fields": {"degrees": "F", "units": "us"}},
                {"id": "p1", "kind": "diary", "stamp": stamp, "fields": weighed},
            ]
        )
        assert "Pot up 6 melons to 2.1 pt" in mudproof("jobs", "--data", tmp_path, "--on", ON).stdout
        assert "2\u00a0lb\u00a03\u00a0oz" in mudproof("diary", "--data", tmp_path, "--year", "2031").stdout
    finally:
        server.kill()


def test_a_saved_copy_brings_everything_back(demo: tuple[Path, LiveServer], tmp_path: Path) -> None:
    folder, _ = demo
    copy, again = tmp_path / "copy.json", tmp_path / "again.json"
    assert "Saved" in mudproof("export", "--data", folder, copy).stdout
    assert json.loads(mudproof("export", "--data", folder).stdout)["records"] == json.loads(copy.read_text())["records"]
    # a folder named relative to where one stands is as good as any
    first = mudproof("import", "--data", "fresh", copy, at=tmp_path).stdout
    count = len(json.loads(copy.read_text())["records"])
    assert f"Read {count} records; {count} are new here" in first
    assert "0 are new here" in mudproof("import", "--data", "fresh", copy, at=tmp_path).stdout
    mudproof("export", "--data", "fresh", again, at=tmp_path)

    def by_id(path: Path) -> list[object]:
        return sorted(json.loads(path.read_text())["records"], key=lambda record: record["id"])

    assert by_id(again) == by_id(copy)
    assert "All is sound" in mudproof("check", "--data", "fresh", at=tmp_path).stdout


def test_import_keeps_what_is_sound_of_a_damaged_copy(tmp_path: Path) -> None:
    stamp = "01c2fb633900-0000-abcdefgh"
    late = "0fffffffffff-0000-abcdefgh"
    wide = {f"f{n}": n for n in range(150)}
    records = [
        {"id": "d1", "kind": "diary", "stamp": stamp, "fields": {"count": -4, "did": "pick", "on": ON}},
        {"id": "d2", "kind": "diary", "stamp": late, "fields": {"did": "note", "on": ON}},
        {"id": "w1", "kind": "weather", "stamp": stamp, "fields": wide},
        {"id": "../etc", "kind": "diary", "stamp": stamp, "fields": {"did": "note"}},
    ]
    (tmp_path / "copy.json").write_text(json.dumps({"mudproof": 1, "records": records}))
    answer = mudproof("import", "--data", tmp_path / "data", tmp_path / "copy.json")
    assert "Left out: d1: The count must be a whole number" in answer.stdout
    assert "no proper name" in answer.stdout
    mudproof("export", "--data", tmp_path / "data", tmp_path / "out.json")
    held = {record["id"]: record for record in json.loads((tmp_path / "out.json").read_text())["records"]}
    assert held["d1"]["fields"] == {"did": "pick", "on": ON}
    assert held["w1"]["fields"] == wide
    assert held["d2"]["stamp"] < "02", "a stamp of the far future was brought down"


@pytest.mark.parametrize("content", ["", "nonsense", "[]", '{"mudproof": 7}', "[" * 100_000, '{"mudproof": 1, "records": 5}'])
def test_a_file_that_is_no_saved_copy_is_said(tmp_path: Path, content: str) -> None:
    (tmp_path / "copy.json").write_text(content)
    assert "saved copy" in said(mudproof("import", "--data", tmp_path / "data", tmp_path / "copy.json"))


def test_export_to_a_folder_that_is_not_there_is_said(demo: tuple[Path, LiveServer], tmp_path: Path) -> None:
    assert "cannot be written" in said(mudproof("export", "--data", demo[0], tmp_path / "no" / "copy.json"))


def test_check_names_what_is_wrong_and_goes_on(demo: tuple[Path, LiveServer], tmp_path: Path) -> None:
    folder = tmp_path / "data"
    folder.mkdir()
    source = sqlite3.connect(f"file:{demo[0] / FILE}?mode=ro", uri=True)
    target = sqlite3.connect(folder / FILE)
    source.backup(target)
    source.close()
    target.execute("UPDATE records SET body = '{' WHERE id = 'place.tunnel'")
    target.execute("UPDATE records SET body = replace(body, '\"tunnel\"', '\"balloon\"') WHERE id = 'place.long_house'")
    target.execute("UPDATE records SET body = replace(body, '\"glass\"', '\"balloon\"') WHERE kind = 'place'")
    target.commit()
    target.close()
    answer = mudproof("check", "--data", folder)
    assert answer.returncode == 1 and "Traceback" not in answer.stderr
    assert "record place.tunnel cannot be read" in answer.stdout
    assert "balloon" in answer.stdout and "things to mend" in answer.stdout


def test_a_damaged_calendar_is_named_with_its_mend(tmp_path: Path) -> None:
    """A copy of the whole program with one broken crop file, for who keeps crops of their own."""
    root = Path(__file__).parents[2]
    shutil.copytree(root / "server", tmp_path / "server", ignore=shutil.ignore_patterns("__pycache__"))
    leek = tmp_path / "server" / "calendars" / "leek.toml"
    leek.write_text(leek.read_text().replace('unit = "cm"', 'unit = "inches"', 1))
    prepare(tmp_path / FILE)
    command = [sys.executable, "-m", "server", "check", "--data", str(tmp_path)]
    answer = subprocess.run(command, cwd=tmp_path, capture_output=True, text=True, timeout=60, check=False)
    assert answer.returncode in (1, 2)
    told = answer.stdout + answer.stderr
    assert "leek.toml" in told and "inches" in told and "Traceback" not in told


@pytest.mark.parametrize(
    ("words", "part"),
    [
        (["jobs", "--data", "{nowhere}"], "There is no Mudproof database"),
        (["jobs", "--data", "{bees}"], "not a Mudproof database"),
        (["jobs", "--data", "{empty}", "--on", "2031-02-30"], "is not a day of the calendar"),
        (["demo", "--data", "{empty}", "--host", "0.0.0.0"], "only this very machine is answered"),
        (["serve", "--here", "--data", "{empty}", "--port", "70000"], "1 to 65535"),
        (["serve", "--here", "--data", "{file}"], "cannot be used"),
        (["join", "--data", "{empty}"], "No Mudproof serves"),
        (["demo", "--data", "{own}", "--fresh"], "a household of your own"),
        (["demo", "--data", "{own}"], "a household of your own"),
        (["demo", "--data", "{empty}", "--on", "someday"], "must be a day like"),
    ],
    ids=lambda value: " ".join(value) if isinstance(value, list) else None,
)
def test_what_cannot_be_done_is_said_in_a_sentence(tmp_path: Path, words: list[str], part: str) -> None:
    for name in ("empty", "bees", "own"):
        (tmp_path / name).mkdir()
    prepare(tmp_path / "empty" / FILE)
    (tmp_path / "file").write_text("a file")
    bees = sqlite3.connect(tmp_path / "bees" / FILE)
    bees.execute("CREATE TABLE bees (id)")
    bees.close()
    prepare(tmp_path / "own" / FILE)
    own = sqlite3.connect(tmp_path / "own" / FILE)
    own.execute("INSERT INTO records VALUES ('p1', 'person', ?, 1, 9999)", ('{"id":"p1","kind":"person"}',))
    own.commit()
    own.close()
    named = {name: str(tmp_path / name) for name in ("nowhere", "bees", "empty", "file", "own")}
    assert part in said(mudproof(*(word.format(**named) for word in words)))
    assert (tmp_path / "own" / FILE).exists()


def test_a_port_in_use_is_said_before_anything_else(tmp_path: Path) -> None:
    with socket.socket() as busy:
        busy.bind(("127.0.0.1", 0))
        busy.listen(1)
        answer = mudproof("serve", "--here", "--data", tmp_path, "--port", str(busy.getsockname()[1]))
    assert "in use already" in said(answer)


def test_it_stops_politely_with_phones_listening(tmp_path: Path) -> None:
    """An open event stream ends, the server stops by itself, and prints no trace."""
    server = LiveServer(tmp_path, ON).start()
    with socket.create_connection(("127.0.0.1", server.port), timeout=20) as phone:
        phone.sendall(b"GET /api/pokes HTTP/1.1\r\nHost: 127.0.0.1\r\n\r\n")
        heard = b""
        while b"event: new" not in heard:
            heard += phone.recv(4096)
        errors = server.stop(signal.SIGINT)
        while part := phone.recv(4096):
            heard += part
    assert heard.endswith(b"0\r\n\r\n"), "the stream was ended, not broken off"
    assert "Traceback" not in errors and "ERROR" not in errors


def test_nothing_in_the_demo_was_done_later_today_than_now() -> None:
    morning = done_by(seed_scenario.load("2031-05-19"), "2031-05-19", "06:56")
    today = [change["fields"] for change in morning if change["fields"].get("on") == "2031-05-19"]
    assert len(today) > 3 and max(fields.get("at", "") for fields in today) == "06:56"
    untouched = done_by(seed_scenario.load("2031-05-19"), "2031-05-19", "24:00")
    assert untouched == seed_scenario.load("2031-05-19")
