"""A damaged calendar takes itself away and nothing else: not the rulebook, not the list, not a record, no command."""

from __future__ import annotations

import shutil
from collections.abc import Callable
from importlib.resources import files
from pathlib import Path

import pytest
from starlette.testclient import TestClient

from server.__main__ import main
from server.calendars.read import read_calendars
from server.commands import carry, reading, serving
from server.errors import CalendarError
from server.handlers import context
from tests.server.conftest import change, push

Damage = Callable[[str, str, str], None]


@pytest.fixture
def damage(tmp_path_factory: pytest.TempPathFactory, monkeypatch: pytest.MonkeyPatch) -> Damage:
    """Change words of one calendar file; the server reads the changed ones."""
    folder = tmp_path_factory.mktemp("calendars") / "calendars"
    shutil.copytree(str(files("server.calendars")), folder)
    for room in (context, reading, carry, serving):
        monkeypatch.setattr(room, "read_calendars", lambda: read_calendars(folder))

    def change_words(name: str, old: str, new: str) -> None:
        text = (folder / name).read_text(encoding="utf-8")
        assert old in text
        (folder / name).write_text(text.replace(old, new, 1), encoding="utf-8")

    return change_words


TOMATOES = [
    change("v", "variety", crop="tomato"),
    change("bed", "place", name="Bed", sort="bed", cover="open"),
    change("b", "batch", variety="v", year=2031, want=6, for_place="bed"),
]


def test_one_damaged_crop_is_left_out_and_said(client: TestClient, damage: Damage) -> None:
    damage("tomato.toml", "pot_l = 0.3", 'pot_l = "0.3"')
    push(client, [*TOMATOES, change("d")])
    book = client.get("/api/rulebook").json()
    assert "tomato" not in book["crops"] and "leek" in book["crops"]
    assert book["left_out"] == {"tomato.toml": "tomato.toml, step 'pot_up_1', pot_l: is '0.3'. Give a number from 0.01 to 100."}
    assert client.get("/api/jobs?on=2031-05-19").status_code == 200
    assert client.get("/api/crops/tomato").status_code == 404
    assert client.get("/api/crops/leek").status_code == 200
    assert len(push(client, [])["records"]) == 4  # type: ignore[arg-type]


def test_without_standing_jobs_records_are_shared_all_the_same(client: TestClient, damage: Damage) -> None:
    damage("standing.toml", "look_every = 7", 'look_every = "7"')
    push(client, TOMATOES)
    assert len(push(client, [])["records"]) == 3  # type: ignore[arg-type]
    for door in ("/api/rulebook", "/api/jobs?on=2031-05-19", "/api/crops/leek"):
        answer = client.get(door)
        assert answer.status_code == 500 and "standing.toml, key 'look_every'" in answer.json()["error"]["say"]
    damage("standing.toml", 'look_every = "7"', "look_every = 7")
    assert client.get("/api/rulebook").status_code == 200, "mended without starting anew"


def test_commands_tell_of_it_without_a_trace(
    client: TestClient, tmp_path: Path, damage: Damage, capsys: pytest.CaptureFixture[str]
) -> None:
    push(client, TOMATOES)
    damage("tomato.toml", "pot_l = 0.3", 'pot_l = "0.3"')
    main(["jobs", "--data", str(tmp_path), "--on", "2031-05-19"])
    capsys.readouterr()
    with pytest.raises(SystemExit):
        main(["check", "--data", str(tmp_path)])
    assert "tomato.toml, step 'pot_up_1', pot_l: is '0.3'" in capsys.readouterr().out
    assert serving.what_calendars_lack() == [
        "Left out: tomato.toml, step 'pot_up_1', pot_l: is '0.3'. Give a number from 0.01 to 100."
    ]
    damage("standing.toml", "look_every = 7", "look_every = -7")
    assert "phones share as ever" in serving.what_calendars_lack()[0]
    with pytest.raises(SystemExit):
        main(["check", "--data", str(tmp_path)])
    assert "standing.toml" in capsys.readouterr().out


def test_a_crop_that_this_site_cannot_work_out_is_left_out(client: TestClient, monkeypatch: pytest.MonkeyPatch) -> None:
    """A hole in our own reckoning takes one crop, never all of them."""
    from server.season import rulebook

    proper = rulebook.make_crop

    def holed(site: object, table: dict[str, object], missed: object) -> dict[str, object]:
        return {"nights": [][1]} if table["id"] == "leek" else proper(site, table, missed)  # type: ignore[arg-type]

    monkeypatch.setattr(rulebook, "make_crop", holed)
    book = client.get("/api/rulebook").json()
    assert "leek" not in book["crops"] and "tomato" in book["crops"]
    assert "Leeks could not be worked out for this site" in book["left_out"]["leek"]


def test_calendars_are_read_once_while_they_are_sound() -> None:
    assert read_calendars() is read_calendars()
    with pytest.raises(CalendarError):
        read_calendars(files("server.kernel"))
