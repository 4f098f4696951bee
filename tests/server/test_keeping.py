"""Copies made under load, kept and let go, put back; a household moved to another machine; the diary as a document."""

from __future__ import annotations

import asyncio
import csv
import datetime
import hashlib
import io
import os
import random
import shutil
import sqlite3
import stat
import subprocess
import threading
import zipfile
from pathlib import Path

import pytest

from server.commands.diary import FORMULA, as_document, as_table, diary_lines
from server.errors import StoreError
from server.store import backups, records
from server.store.backups import FILE
from server.store.connection import open_store
from server.store.migrations import migrate
from tests.browser.serving import mudproof
from tests.server.conftest import change, run, stamp

D = datetime.date


def put(folder: Path, ids: list[str]) -> None:
    async def work() -> None:
        store = await open_store(folder)
        for number, id_ in enumerate(ids):
            await records.put(store, [change(id_, made=stamp(counter=number))])
        await store.close()

    run(work())


def held(folder: Path) -> list[str]:
    with sqlite3.connect(folder / FILE) as db:
        return [row[0] for row in db.execute("SELECT id FROM records ORDER BY id")]


def test_a_copy_made_while_it_is_written_to_is_whole(tmp_path: Path) -> None:
    """Each write puts two records in one transaction: a copy never holds one of a pair alone."""

    async def work() -> list[Path]:
        store = await open_store(tmp_path)
        copies: list[Path] = []
        wrote = threading.Semaphore(0)

        def copy() -> None:
            for number in range(6):
                wrote.acquire()  # between two copies something is written, however fast the disk
                copies.append(backups.back_up(tmp_path, f"by-hand-{number}.db"))

        thread = threading.Thread(target=copy)
        thread.start()
        number = 0
        while thread.is_alive():
            pair = [change(f"p{number}.{half}", made=stamp(counter=number % 60000)) for half in ("a", "b")]
            await records.put(store, pair)
            number += 1
            wrote.release()
        thread.join()
        await store.close()
        assert number >= 6
        return copies

    for copy in run(work()):
        assert backups.what_is_wrong(copy) is None
        with sqlite3.connect(copy) as db:
            found = [row[0] for row in db.execute("SELECT id FROM records")]
        assert len(found) % 2 == 0 and {id_[:-2] for id_ in found} == {id_[:-2] for id_ in found if id_.endswith("a")}


def test_a_week_of_days_and_a_year_of_months_are_kept(tmp_path: Path) -> None:
    put(tmp_path, ["d1"])
    today = D(2031, 5, 19)
    (tmp_path / backups.FOLDER).mkdir()
    days = [today - datetime.timedelta(days=back) for back in range(1, 500)]
    for day in days:
        (tmp_path / backups.FOLDER / f"mudproof-{day}.db").write_bytes(b"")
    (tmp_path / backups.FOLDER / "by-hand-1.db").write_bytes(b"")
    made = backups.daily(tmp_path, today)
    assert made is not None and stat.S_IMODE(made.stat().st_mode) == 0o600
    kept = backups.kept_days(tmp_path)
    assert [day for day in kept if (today - day).days < 7] == sorted(today - datetime.timedelta(days=back) for back in range(7))
    older = [day for day in kept if (today - day).days >= 7]
    assert len(older) == 12 and all(day.day == 1 for day in older)
    assert (tmp_path / backups.FOLDER / "by-hand-1.db").exists(), "what a person made is never let go"
    assert backups.daily(tmp_path, today) is None, "once a day"


def test_the_right_copies_are_let_go_whatever_days_there_are() -> None:
    dice = random.Random(5)
    for _ in range(50):
        today = D(2031, 1, 1) + datetime.timedelta(days=dice.randrange(700))
        days = sorted({today - datetime.timedelta(days=dice.randrange(900)) for _ in range(dice.randrange(40))})
        left = [day for day in days if day not in backups.to_let_go(days, today)]
        assert len(left) <= 7 + 12
        assert all(day in left for day in days if (today - day).days < 7)


def test_a_copy_is_put_back_and_what_was_there_is_kept(tmp_path: Path) -> None:
    put(tmp_path, ["d1", "d2"])
    assert mudproof("backup", "--data", tmp_path).returncode == 0
    put(tmp_path, ["d3"])
    done = mudproof("restore", "--data", tmp_path)
    assert done.returncode == 0 and "2 records" in done.stdout
    assert held(tmp_path) == ["d1", "d2"]
    (aside,) = tmp_path.glob(f"{FILE}.before-*[0-9]")
    with sqlite3.connect(aside) as db:
        assert db.execute("SELECT count(*) FROM records").fetchone()[0] == 3


def test_photos_are_copied_too_and_come_back(tmp_path: Path) -> None:
    """A photo is named by the SHA-256 of what it holds, as `sha256sum` would say."""
    put(tmp_path, ["d1"])
    made = {}
    for words in (b"one", b"two"):
        name = hashlib.sha256(words).hexdigest()
        made[words] = tmp_path / backups.PHOTOS / name[:2] / f"{name}.jpg"
        made[words].parent.mkdir(parents=True, exist_ok=True)
        made[words].write_bytes(words)
    backups.daily(tmp_path, D(2031, 5, 19))
    kept = tmp_path / backups.FOLDER / made[b"one"].relative_to(tmp_path)
    assert kept.read_bytes() == b"one"
    made[b"one"].write_bytes(b"rot")
    backups.daily(tmp_path, D(2031, 5, 20))
    assert kept.read_bytes() == b"one", "a copy is never overwritten"
    done = mudproof("check", "--data", tmp_path)
    assert done.returncode == 1 and f"copy backups/photos/{kept.parent.name}/{kept.name} over it" in done.stdout
    shutil.rmtree(tmp_path / backups.PHOTOS)
    done = mudproof("restore", "--data", tmp_path)
    assert "2 photos that were missing came back too." in done.stdout
    assert {file.read_bytes() for file in made.values()} == {b"one", b"two"}


def test_a_damaged_database_names_the_newest_copy_and_a_damaged_copy_is_refused(tmp_path: Path) -> None:
    put(tmp_path, ["d1"])
    copy = backups.back_up(tmp_path, "by-hand-1.db")
    (tmp_path / FILE).write_bytes(os.urandom(8192))
    with pytest.raises(StoreError, match=r"The newest copy is by-hand-1\.db; put it back with: mudproof restore"):
        run(open_store(tmp_path))
    copy.write_bytes(copy.read_bytes()[:3000])
    done = mudproof("restore", "--data", tmp_path, copy)
    assert done.returncode == 2 and "is damaged" in done.stderr and (tmp_path / FILE).exists()
    assert "There is no copy" in mudproof("restore", "--data", tmp_path / "empty").stderr


def test_nothing_is_put_back_under_a_running_server(tmp_path: Path) -> None:
    put(tmp_path, ["d1"])
    backups.back_up(tmp_path, "by-hand-1.db")

    async def work() -> subprocess.CompletedProcess[str]:
        store = await open_store(tmp_path)
        done = await asyncio.to_thread(mudproof, "restore", "--data", tmp_path)
        await store.close()
        return done

    done = run(work())
    assert done.returncode == 2 and "Another Mudproof server" in done.stderr


def test_a_copy_is_made_before_the_schema_changes(tmp_path: Path) -> None:
    with sqlite3.connect(tmp_path / FILE, isolation_level=None) as db:
        migrate(db, upto=3)
    put(tmp_path, ["d1"])
    (copy,) = (tmp_path / backups.FOLDER).glob("before-schema-*.db")
    with sqlite3.connect(copy) as db:
        assert db.execute("PRAGMA user_version").fetchone()[0] == 3


def test_a_household_moves_to_another_machine_with_its_certificates(tmp_path: Path) -> None:
    old, new, packed = tmp_path / "old", tmp_path / "new", tmp_path / "house.zip"
    put(old, ["d1", "d2"])
    (old / "certificates").mkdir()
    (old / "certificates" / "root.key").write_text("secret")
    assert mudproof("pack", "--data", old, packed).returncode == 0
    assert stat.S_IMODE(packed.stat().st_mode) == 0o600
    assert mudproof("pack", "--data", old, packed).returncode == 2, "never over a file that is there"
    done = mudproof("unpack", "--data", new, packed)
    assert done.returncode == 0 and held(new) == ["d1", "d2"]
    assert (new / "certificates" / "root.key").read_text() == "secret"
    assert stat.S_IMODE((new / "certificates" / "root.key").stat().st_mode) == 0o600
    assert mudproof("unpack", "--data", new, packed).returncode == 2, "never over a household"


@pytest.mark.parametrize("name", ["../evil", "/etc/evil", "certificates/../../evil", "evil.py", "photos"])
def test_a_packed_file_cannot_write_elsewhere(tmp_path: Path, name: str) -> None:
    packed = tmp_path / "house.zip"
    with zipfile.ZipFile(packed, "w") as made:
        made.writestr(name, "evil")
    done = mudproof("unpack", "--data", tmp_path / "new", packed)
    assert done.returncode == 2 and "is not a packed household" in done.stderr
    assert not list(tmp_path.rglob("evil*"))


def deed(id_: str, **fields: object) -> dict[str, object]:
    return {"id": id_, "kind": "diary", "stamp": stamp(), "fields": {"on": "2031-05-19", "did": "note", **fields}}


def test_the_diary_is_a_table_whose_words_no_spreadsheet_works_out() -> None:
    """OWASP, CSV injection; RFC 4180 by Python's own reader."""
    nasty = [f"{mark}cmd|' /C calc'!A0" for mark in FORMULA] + ['said "no", twice', "two\nlines"]
    lines = diary_lines([deed(f"d{n}", note=words) for n, words in enumerate(nasty)], None)
    rows = list(csv.DictReader(io.StringIO(as_table(lines), newline="")))
    assert len(rows) == len(nasty)
    for row, words in zip(rows, nasty, strict=True):
        assert not row["note"].startswith(FORMULA) and row["note"].lstrip("'") == words.lstrip("'")


def test_the_diary_is_a_document_in_which_nothing_is_markup() -> None:
    hostile = "<script>alert(1)</script><img src=x onerror=alert(1)>"
    records_ = [
        {"id": "v1", "kind": "variety", "stamp": stamp(), "fields": {"name": hostile, "crop": "tomato"}},
        {"id": "b1", "kind": "batch", "stamp": stamp(), "fields": {"variety": "v1"}},
        deed("d1", did="pick", batch="b1", weight_g=800, note=hostile),
        deed("d2", on="2030-05-19", note="last year"),
        deed("d3", gone=True),
    ]
    text = as_document(diary_lines(records_, 2031), 2031)
    assert "<script" not in text and "<img" not in text and "last year" not in text
    assert "<h2>May 2031</h2>" in text and "0.8\u00a0kg" in text and text.count("<p>") == 1
