"""Copies and restores on a bad day: no room, a killed process, files of others, bombs. What was there is as it was."""

from __future__ import annotations

import contextlib
import hashlib
import os
import shutil
import sqlite3
import stat
import zipfile
from collections.abc import Callable
from pathlib import Path

import pytest

from server import whole_file
from server.__main__ import main
from server.errors import StoreError
from server.store import backups
from server.store.backups import FILE
from server.store.connection import open_store, prepare
from server.store.migrations import newest
from tests.browser.serving import mudproof
from tests.server.conftest import change, run, stamp
from tests.server.test_keeping import held, put
from tests.server.test_odd_records import put_into


def there(folder: Path) -> dict[str, str]:
    """Every file and what it holds, but for the lock."""
    return {
        file.relative_to(folder).as_posix(): hashlib.sha256(file.read_bytes()).hexdigest()
        for file in sorted(folder.rglob("*"))
        if file.is_file() and file.name not in ("mudproof.lock", f"{FILE}-shm", f"{FILE}-wal")
    }


@pytest.fixture
def household(tmp_path: Path) -> Path:
    """Two long records with a copy, then a third; an older export; a packed file."""
    folder = tmp_path / "household"
    put(folder, ["d1", "d2"])
    for id_ in ("d1", "d2"):
        long = {f"part_{n}": "x" * 4000 for n in range(9)}
        run(put_into(folder, [change(id_, made=stamp(counter=9), **long)]))
    backups.back_up(folder, "by-hand-1.db")
    put(folder, ["d3"])
    (folder / "certificates").mkdir()
    (folder / "certificates" / "root.key").write_text("secret")
    assert mudproof("export", "--data", folder, tmp_path / "copy.json").returncode == 0
    assert mudproof("pack", "--data", folder, tmp_path / "house.zip").returncode == 0
    return folder


FULL: dict[str, Callable[[Path], list[object]]] = {
    "restore": lambda at: ["restore", "--data", at / "household"],
    "backup": lambda at: ["backup", "--data", at / "household"],
    "export": lambda at: ["export", "--data", at / "household", at / "copy.json"],
    "pack": lambda at: ["pack", "--data", at / "household", at / "other.zip"],
    "unpack": lambda at: ["unpack", "--data", at / "new", at / "house.zip"],
}
LIMIT = 40_000
"""Less than the database and its copy come to; SQLite's own index of its journal takes 32 kB."""


@pytest.mark.parametrize("name", FULL)
def test_a_full_disk_leaves_what_was_there_and_says_so(household: Path, name: str) -> None:
    at = household.parent
    before = there(at)
    done = mudproof(*FULL[name](at), largest_file=LIMIT)
    assert done.returncode == 2 and "Traceback" not in done.stderr, done.stderr
    assert "othing was changed" in done.stderr or "what was there is as it was" in done.stderr
    assert there(at) == before
    assert held(household) == ["d1", "d2", "d3"]
    done = mudproof(*FULL[name](at))
    assert done.returncode == 0, f"once there is room: {done.stderr}"


def killed_at(moment: int, *args: object) -> bool:
    """A command whose process is killed at so many-th call that changes the disk; whether it came to its end before."""
    left = moment

    def counting(real: Callable[..., object]) -> Callable[..., object]:
        def call(*given: object, **named: object) -> object:
            nonlocal left
            left -= 1
            if left < 0:
                os._exit(9)
            return real(*given, **named)

        return call

    child = os.fork()
    if child == 0:
        for holder, name in ((os, "link"), (os, "replace"), (Path, "replace"), (Path, "unlink"), (shutil, "copyfile"),
                             (whole_file, "to_disk"), (backups, "to_disk")):  # fmt: skip
            setattr(holder, name, counting(getattr(holder, name)))
        os._exit(in_process(*map(str, args)))
    return os.waitstatus_to_exitcode(os.waitpid(child, 0)[1]) == 0


def in_process(*args: str) -> int:
    """A command without a process of its own; its exit code."""
    with open(os.devnull, "w") as nowhere, contextlib.redirect_stdout(nowhere), contextlib.redirect_stderr(nowhere):
        return main(list(args))


def test_a_restore_killed_at_any_moment_leaves_the_one_or_the_other(household: Path, tmp_path: Path) -> None:
    seen = set()
    for moment in range(40):
        folder = tmp_path / f"try{moment}"
        shutil.copytree(household, folder)
        through = killed_at(moment, "restore", "--data", folder)
        run(open_and_close(folder))
        now = tuple(held(folder))
        assert now in (("d1", "d2"), ("d1", "d2", "d3")), moment
        seen.add(now)
        if through:
            break
    assert moment > 5 and len(seen) == 2


def test_an_unpacking_killed_at_any_moment_can_be_done_again(household: Path, tmp_path: Path) -> None:
    for moment in range(40):
        folder = tmp_path / f"try{moment}"
        through = killed_at(moment, "unpack", "--data", folder, tmp_path / "house.zip")
        if not (folder / FILE).exists():
            assert in_process("unpack", "--data", str(folder), str(tmp_path / "house.zip")) == 0
        assert held(folder) == ["d1", "d2", "d3"]
        assert (folder / "certificates" / "root.key").read_text() == "secret"
        if through:
            break
    assert moment > 5


async def open_and_close(folder: Path) -> None:
    await (await open_store(folder)).close()


def test_a_journal_is_never_played_into_another_database(household: Path) -> None:
    """A server that was killed leaves its journal; what is put back must not be changed by it."""
    shutil.copy(household / FILE, household / "keep")
    with contextlib.closing(sqlite3.connect(household / FILE)) as db:
        db.execute("DELETE FROM records")
        db.commit()
        for name in (FILE, f"{FILE}-wal"):
            shutil.copy(household / name, household / f"{name}.kept")
    for name in (FILE, f"{FILE}-wal"):
        (household / f"{name}.kept").replace(household / name)
    assert (household / f"{FILE}-wal").stat().st_size
    assert mudproof("restore", "--data", household).returncode == 0
    assert held(household) == ["d1", "d2"]


def test_a_lost_database_beside_copies_is_no_new_household(household: Path) -> None:
    for lose in (lambda file: file.unlink(), lambda file: file.write_bytes(b"")):
        for name in (f"{FILE}-wal", f"{FILE}-shm"):
            (household / name).unlink(missing_ok=True)
        lose(household / FILE)
        with pytest.raises(
            StoreError, match=r"is gone or empty, though there was a household here\. Put the copy by-hand-1\.db back"
        ):
            run(open_and_close(household))
        done = mudproof("serve", "--here", "--data", household)
        assert done.returncode == 2 and "is gone or empty" in done.stderr
        assert mudproof("restore", "--data", household).returncode == 0
        assert held(household) == ["d1", "d2"]


def test_no_foreign_and_no_newer_file_is_put_back(household: Path, tmp_path: Path) -> None:
    bees, later = tmp_path / "bees.db", tmp_path / "later.db"
    with contextlib.closing(sqlite3.connect(bees)) as db:
        db.execute("CREATE TABLE bees (id)")
    prepare(later)
    with contextlib.closing(sqlite3.connect(later)) as db:
        db.execute(f"PRAGMA user_version = {newest() + 1}")
        db.execute("PRAGMA journal_mode = DELETE")
    before = there(household)
    for file in (bees, later, tmp_path / "nowhere.db", tmp_path):
        done = mudproof("restore", "--data", household, file)
        assert done.returncode == 2 and "Traceback" not in done.stderr, done.stderr
        assert there(household) == before


def test_only_the_owner_can_read_what_a_household_keeps(tmp_path: Path) -> None:
    folder = tmp_path / "own"
    put(folder, ["d1"])
    assert stat.S_IMODE(folder.stat().st_mode) == 0o700
    assert stat.S_IMODE((folder / FILE).stat().st_mode) == 0o600
    old = tmp_path / "old"
    shutil.copytree(folder, old)
    old.chmod(0o755)
    (old / FILE).chmod(0o644)
    run(open_and_close(old))
    assert stat.S_IMODE(old.stat().st_mode) == 0o700 and stat.S_IMODE((old / FILE).stat().st_mode) == 0o600
    (old / "letters.txt").write_text("somebody's own")
    old.chmod(0o755)
    run(open_and_close(old))
    assert stat.S_IMODE(old.stat().st_mode) == 0o755, "a folder with other things in it stays as its owner has it"


@pytest.mark.parametrize(("name", "size"), [("certificates/root.key", 10**6), ("photos/aa/x.jpg", 10**8)])
def test_a_bomb_is_not_unpacked(tmp_path: Path, name: str, size: int, capsys: pytest.CaptureFixture[str]) -> None:
    packed = tmp_path / "house.zip"
    with zipfile.ZipFile(packed, "w", zipfile.ZIP_DEFLATED) as made, made.open(name, "w") as entry:
        for _ in range(size // 10**6):
            entry.write(b"\0" * 10**6)
    assert packed.stat().st_size < size / 100
    assert main(["unpack", "--data", str(tmp_path / "new"), str(packed)]) == 2
    assert "would come to" in capsys.readouterr().err
    assert not list((tmp_path / "new").glob("[!.]*.db"))


def test_what_would_fill_the_disk_is_not_unpacked(
    household: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    size = sum(entry.file_size for entry in zipfile.ZipFile(tmp_path / "house.zip").infolist())
    monkeypatch.setattr(shutil, "disk_usage", lambda _: shutil._ntuple_diskusage(10**9, 10**9, 2 * size - 1))  # type: ignore[attr-defined]
    assert main(["unpack", "--data", str(tmp_path / "new"), str(tmp_path / "house.zip")]) == 2
    assert "Make room first" in capsys.readouterr().err


def test_any_torn_archive_is_said(household: Path, tmp_path: Path) -> None:
    whole = (tmp_path / "house.zip").read_bytes()
    for at in range(0, len(whole), max(1, len(whole) // 40)):
        for harm in (whole[:at], whole[:at] + bytes([whole[at] ^ 0xFF]) + whole[at + 1 :]):
            torn = tmp_path / "torn.zip"
            torn.write_bytes(harm)
            folder = tmp_path / f"new{at}"
            done = in_process("unpack", "--data", str(folder), str(torn))
            assert done == 2 or held(folder) == ["d1", "d2", "d3"]
            shutil.rmtree(folder, ignore_errors=True)
