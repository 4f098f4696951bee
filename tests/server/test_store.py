"""The database: durable, one writer, moved forward, and honest when something is wrong with it."""

from __future__ import annotations

import asyncio
import json
import sqlite3
import threading
import time
import urllib.error
import urllib.request
from pathlib import Path
from typing import Any

import pytest

import seed_scenario
from server.errors import DiskFull, StoreError
from server.kernel.read.merge import Record
from server.season.rulebook import fingerprint, rulebook_inputs
from server.store import records
from server.store.backups import FILE
from server.store.connection import open_store, prepare
from server.store.migrations import MIGRATIONS, migrate, newest
from tests.browser.serving import LiveServer
from tests.server.conftest import change, run, stamp


def test_live_connection_waits_for_the_disk(tmp_path: Path) -> None:
    async def ask() -> list[Any]:
        store = await open_store(tmp_path)
        found = []
        for pragma in ("journal_mode", "synchronous"):
            async with store.writer.execute(f"PRAGMA {pragma}") as rows:
                found.append((await rows.fetchone())[0])  # type: ignore[index]
        await store.close()
        await store.close()
        return found

    assert run(ask()) == ["wal", 2]  # 2 is FULL


def test_readers_cannot_write(tmp_path: Path) -> None:
    async def try_it() -> None:
        store = await open_store(tmp_path)
        try:
            with pytest.raises(sqlite3.OperationalError, match="readonly"):
                await store.reader.execute("INSERT INTO meta VALUES ('a', 'b')")
        finally:
            await store.close()

    run(try_it())


def test_pushes_at_one_moment_take_turns(tmp_path: Path) -> None:
    """Eight phones at once: each transaction is whole, and every record gets a number of its own."""

    async def all_at_once() -> list[int]:
        store = await open_store(tmp_path)
        pushes = [
            records.put(store, [change(f"d{phone}-{n}".replace("-", "."), made=stamp(counter=n)) for n in range(30)])  # type: ignore[misc]
            for phone in range(8)
        ]
        await asyncio.gather(*pushes)
        rows = await store.reader.execute_fetchall("SELECT seq FROM records ORDER BY seq")
        await store.close()
        return [int(seq) for (seq,) in rows]

    assert run(all_at_once()) == list(range(1, 241))


def test_a_migration_that_fails_leaves_the_old_schema(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    with sqlite3.connect(tmp_path / FILE, isolation_level=None) as db:
        migrate(db, 2)

        def breaks(given: sqlite3.Connection) -> None:
            given.execute("CREATE TABLE half (id)")
            raise RuntimeError("the power went")

        monkeypatch.setattr("server.store.migrations.MIGRATIONS", (*MIGRATIONS[:2], breaks))
        with pytest.raises(RuntimeError):
            migrate(db)
        assert db.execute("PRAGMA user_version").fetchone()[0] == 2
        assert db.execute("SELECT count(*) FROM sqlite_master WHERE name = 'half'").fetchone()[0] == 0
        monkeypatch.undo()
        migrate(db)
        assert db.execute("PRAGMA user_version").fetchone()[0] == newest()
    db.close()


def test_second_server_on_a_folder_is_refused_in_words(tmp_path: Path) -> None:
    async def both() -> None:
        first = await open_store(tmp_path)
        try:
            with pytest.raises(StoreError, match="already using"):
                await open_store(tmp_path)
        finally:
            await first.close()
        again = await open_store(tmp_path)
        await again.close()

    run(both())


@pytest.mark.parametrize("upto", range(len(MIGRATIONS)))
def test_every_old_schema_walks_forward(tmp_path: Path, upto: int) -> None:
    with sqlite3.connect(tmp_path / FILE, isolation_level=None) as db:
        migrate(db, upto)
    db.close()
    prepare(tmp_path / FILE)
    with sqlite3.connect(tmp_path / FILE) as db:
        assert db.execute("PRAGMA user_version").fetchone()[0] == newest()
        assert db.execute("SELECT count(*) FROM records").fetchone()[0] == 0
        assert len(db.execute("SELECT mark FROM sessions ORDER BY number DESC").fetchone()[0]) == 32
    db.close()


def test_newer_schema_is_left_alone_and_said(tmp_path: Path) -> None:
    prepare(tmp_path / FILE)
    with sqlite3.connect(tmp_path / FILE) as db:
        db.execute(f"PRAGMA user_version = {newest() + 1}")
    db.close()
    with pytest.raises(StoreError, match="newer Mudproof"):
        run(open_store(tmp_path))


def test_damaged_file_is_named_with_its_mend(tmp_path: Path) -> None:
    prepare(tmp_path / FILE)
    body = bytearray((tmp_path / FILE).read_bytes())
    body[100:3000] = b"\xff" * 2900
    (tmp_path / FILE).write_bytes(body)
    with pytest.raises(StoreError, match=r"mudproof\.db is damaged"):
        run(open_store(tmp_path))


def test_truncated_and_foreign_files_are_named(tmp_path: Path) -> None:
    (tmp_path / FILE).write_bytes(b"this is not a database, whatever its name says" * 100)
    with pytest.raises(StoreError, match=r"mudproof\.db is damaged"):
        run(open_store(tmp_path))
    other = tmp_path / "other"
    other.mkdir()
    with sqlite3.connect(other / FILE) as db:
        db.execute("CREATE TABLE bees (id)")
    db.close()
    with pytest.raises(StoreError, match="not a Mudproof database"):
        run(open_store(other))


def test_full_disk_is_said_and_nothing_is_half_written(tmp_path: Path) -> None:
    async def fill() -> tuple[int, int]:
        store = await open_store(tmp_path)
        await records.put(store, [change("d0")])  # type: ignore[list-item]
        await store.writer.execute("PRAGMA max_page_count = 14")
        big = [change(f"d{n}", made=stamp(counter=n), on="2031-05-19", did="note", note="x" * 3000) for n in range(1, 60)]
        with pytest.raises(DiskFull):
            await records.put(store, big)  # type: ignore[arg-type]
        await store.writer.execute("PRAGMA max_page_count = 100000")
        after_refusal = len(await records.all_records(store))
        await records.put(store, big)  # type: ignore[arg-type]
        total = len(await records.all_records(store))
        await store.close()
        return after_refusal, total

    assert run(fill()) == (1, 60)


def test_losing_value_of_two_devices_is_kept_in_history(tmp_path: Path) -> None:
    async def collide() -> list[Any]:
        store = await open_store(tmp_path)
        await records.put(store, [change("d1", made=stamp(5, 0, "aaaaaaaa"), count=15)])  # type: ignore[list-item]
        await records.put(store, [change("d1", made=stamp(9, 0, "bbbbbbbb"), count=16)])  # type: ignore[list-item]
        async with store.reader.execute("SELECT field, value, lost_to FROM history") as rows:
            found = [tuple(row) async for row in rows]
        await store.close()
        return found

    assert run(collide()) == [("count", "15", stamp(9, 0, "bbbbbbbb"))]


def send(port: int, body: dict[str, Any]) -> dict[str, Any]:
    """One push over the wire."""
    request = urllib.request.Request(
        f"http://127.0.0.1:{port}/api/sync", json.dumps(body).encode(), {"content-type": "application/json"}
    )
    with urllib.request.urlopen(request, timeout=10) as answer:
        found: dict[str, Any] = json.loads(answer.read())
        return found


def test_every_acknowledged_change_survives_kill_9_under_load(tmp_path: Path) -> None:
    server = LiveServer(tmp_path, None).start()
    acknowledged: set[str] = set()
    lock = threading.Lock()

    def phone(device: str) -> None:
        for number in range(400):
            made = stamp(1_900_000_000_000 + number, 0, device)
            changes = [change(f"{device}{number}x{n}", made=made) for n in range(20)]
            try:
                answer = send(server.port, {"since": 1, "changes": changes})
            except OSError:
                return
            with lock:
                acknowledged.update(row["id"] for row in answer["taken"])

    threads = [threading.Thread(target=phone, args=(f"abcdef{end}",)) for end in ("aa", "bb", "cc")]
    for thread in threads:
        thread.start()
    while len(acknowledged) < 1500:
        time.sleep(0.01)
    server.kill()
    for thread in threads:
        thread.join()
    with sqlite3.connect(tmp_path / FILE) as db:
        kept = {row[0] for row in db.execute("SELECT id FROM records")}
        assert db.execute("PRAGMA integrity_check").fetchone()[0] == "ok"
    db.close()
    assert len(acknowledged) >= 1500
    assert acknowledged <= kept


def test_the_few_records_that_knowledge_is_made_of_make_the_same_rulebook_as_all(tmp_path: Path) -> None:
    own = {"crop": "kale", "path": "numbers.spacing_cm", "value": 61}
    household = [*seed_scenario.load("2031-08-10"), change("own.kale.x", "crop", stamp(), **own)]

    async def work() -> tuple[list[Record], list[Record]]:
        store = await open_store(tmp_path)
        await records.put(store, household)
        found = await records.knowledge_records(store), await records.all_records(store)
        await store.close()
        return found

    few, everything = run(work())
    assert len(few) < len(everything) / 3
    assert fingerprint(few) == fingerprint(everything) and rulebook_inputs(few) == rulebook_inputs(everything)


def test_which_sqlite_keeps_it_and_how_is_logged_at_the_start(tmp_path: Path, caplog: pytest.LogCaptureFixture) -> None:
    """What the live connection tells: write-ahead journal, each commit waited for (2 is FULL), no memory map.

    Source: sqlite.org, PRAGMA journal_mode, synchronous and mmap_size.
    """
    with caplog.at_level("INFO", logger="mudproof"):
        run(opened_and_closed(tmp_path))
    (line,) = [record.getMessage() for record in caplog.records if record.getMessage().startswith("SQLite")]
    assert line.startswith(f"SQLite {sqlite3.sqlite_version}: journal_mode wal, synchronous 2, busy_timeout 5000, mmap_size ")


async def opened_and_closed(folder: Path) -> None:
    await (await open_store(folder)).close()
