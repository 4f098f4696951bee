"""What README says to do after a theft, a fire, a dead board, done step by step: nothing that any phone held is lost."""

from __future__ import annotations

import json
import shutil
from collections.abc import Callable, Iterator
from pathlib import Path

import pytest
from playwright.sync_api import expect

from tests.browser.phones import Phone
from tests.browser.serving import ROOT, HomeServer, told_by
from tests.browser.test_joining import NOTES, join, note, notes

README = (ROOT / "README.md").read_text(encoding="utf-8")
Make = Callable[..., Phone]


@pytest.fixture
def board(tmp_path: Path) -> Iterator[HomeServer]:
    """The household's server, over plain http; whatever comes to stand in its place is at the same address."""
    made = HomeServer(tmp_path / "old", plain=True)
    made.start()
    yield made
    made.kill()


def said_by(*words: object) -> str:
    """A command that README names, in its own words; it must go well."""
    assert f"mudproof {words[0]} --data garden" in README
    return told_by(*words)


def burn(board: HomeServer, new: Path) -> None:
    """The machine is gone with all that was on it; another one will stand at its address."""
    board.kill()
    shutil.rmtree(board.data)
    board.data = new


def held(board: HomeServer) -> set[str]:
    """Notes that the server has."""
    copy = json.loads(said_by("export", "--data", board.data))
    return {record["fields"]["note"] for record in copy["records"] if record["fields"].get("note")}


def told(phone: Phone, words: str) -> None:
    """Share, until the server's answer is in."""
    phone.page.evaluate("() => window.dispatchEvent(new Event('online'))")
    phone.until(f"async (words) => (await ({NOTES})()).includes(words)", words)


def test_a_dead_board_and_a_packed_file(board: HomeServer, phones: Make, tmp_path: Path) -> None:
    hazel = phones(board.url).open()
    join(hazel, board.code(), "Hazel's phone")
    note(hazel, "in the packed file")
    hazel.share()
    said_by("pack", "--data", board.data, tmp_path / "garden.zip")
    note(hazel, "shared after it")
    hazel.share()
    burn(board, tmp_path / "garden")
    note(hazel, "written without a server")
    said_by("unpack", "--data", board.data, tmp_path / "garden.zip")
    board.start()
    hazel.go("round")
    hazel.share()
    expect(hazel.page.get_by_text("Not joined.")).to_have_count(0)
    assert held(board) == {"in the packed file", "shared after it", "written without a server"}
    assert "All is sound" in said_by("check", "--data", board.data)


def test_a_fire_and_no_copy_but_the_phones(board: HomeServer, phones: Make, tmp_path: Path) -> None:
    hazel, jim = phones(board.url).open(), phones(board.url).open()
    join(hazel, board.code(), "Hazel's phone")
    join(jim, board.code(), "Jim's phone")
    note(hazel, "Hazel's, shared")
    hazel.share()
    jim.share()
    burn(board, tmp_path / "garden")
    note(jim, "Jim's, after the fire")
    hazel.go("shed")
    with hazel.page.expect_download() as download:
        hazel.page.get_by_role("button", name="Save a copy").click()
    download.value.save_as(tmp_path / "garden.json")
    said_by("import", "--data", board.data, tmp_path / "garden.json")
    board.start()
    jim.go("round")
    jim.page.evaluate("() => window.dispatchEvent(new Event('online'))")
    expect(jim.page.get_by_text("Not joined.")).to_be_visible()
    join(jim, board.code(), "Jim's phone")
    jim.share()
    assert held(board) == {"Hazel's, shared", "Jim's, after the fire"}
    hazel.go("round")
    hazel.page.evaluate("() => window.dispatchEvent(new Event('online'))")
    expect(hazel.page.get_by_text("Not joined.")).to_be_visible()
    join(hazel, board.code(), "Hazel's phone")
    told(hazel, "Jim's, after the fire")
    assert "All is sound" in said_by("check", "--data", board.data)


def test_a_copy_of_the_database_alone(board: HomeServer, phones: Make, tmp_path: Path) -> None:
    hazel = phones(board.url).open()
    join(hazel, board.code(), "Hazel's phone")
    note(hazel, "in the copy")
    hazel.share()
    said_by("backup", "--data", board.data)
    (copy,) = (board.data / "backups").glob("by-hand-*.db")
    shutil.copy(copy, tmp_path / "copy.db")
    note(hazel, "shared after it")
    hazel.share()
    burn(board, tmp_path / "garden")
    said_by("restore", "--data", board.data, tmp_path / "copy.db")
    board.start()
    hazel.go("round")
    hazel.share()
    assert held(board) == {"in the copy", "shared after it"}


def test_a_stolen_phone_that_was_the_only_one(board: HomeServer, phones: Make) -> None:
    stolen = phones(board.url).open()
    join(stolen, board.code(), "Stolen phone")
    note(stolen, "of the household")
    stolen.share()
    new = phones(board.url).open()
    join(new, board.code(), "New phone")
    told(new, "of the household")
    new.go("phones")
    new.page.get_by_role("button", name="Turn out Stolen phone").click()
    new.page.get_by_role("button", name="Turn it out").click()
    expect(new.page.get_by_text("Stolen phone is turned out")).to_be_visible()
    note(new, "a secret from now on")
    new.go("round")
    new.share()
    note(stolen, "the thief's")
    stolen.go("round")
    stolen.page.evaluate("() => window.dispatchEvent(new Event('online'))")
    expect(stolen.page.get_by_text("Not joined.")).to_be_visible()
    assert "a secret from now on" not in notes(stolen)
    assert held(board) == {"of the household", "a secret from now on"}


def test_a_stolen_server_leaves_its_keys_behind(board: HomeServer, phones: Make, tmp_path: Path) -> None:
    """From a packed file, but the certificates: the new server makes its own, and the phones' records come along."""
    hazel = phones(board.url).open()
    join(hazel, board.code(), "Hazel's phone")
    note(hazel, "kept")
    hazel.share()
    (board.data / "certificates").mkdir(exist_ok=True)
    (board.data / "certificates" / "root.key").write_text("the thief has it")
    said_by("pack", "--data", board.data, tmp_path / "garden.zip")
    burn(board, tmp_path / "garden")
    said_by("unpack", "--data", board.data, tmp_path / "garden.zip")
    assert "(delete it from `garden` before the first start)" in README.replace("\n", " ")
    shutil.rmtree(board.data / "certificates")
    secure = HomeServer(board.data, plain=False)
    secure.start()
    try:
        assert "thief" not in (board.data / "certificates" / "root.key").read_text()
        assert held(secure) == {"kept"}
    finally:
        secure.kill()
