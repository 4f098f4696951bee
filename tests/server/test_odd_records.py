"""One odd or damaged record is left out and named; it takes no door, no command and no other record with it."""

from __future__ import annotations

import contextlib
import io
import json
import sqlite3
import string
from pathlib import Path
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st
from starlette.testclient import TestClient

from server.__main__ import main
from server.app import make_app
from server.calendars.read import read_calendars
from server.kernel.settle import settle
from server.season.rulebook import make_rulebook
from server.settings import Settings
from server.store import records
from server.store.connection import open_store
from server.sync.messages import read_push
from tests.builders import site_record
from tests.kernel.odd_records import odd_changes
from tests.server.conftest import NOW, NOW_MS, change, push, run, stamp

SOUND = change("d1", note="sound", on="2031-05-19", did="note")
DAY = {"on": "2031-05-19"}


BAD = "this-row"
"""Stands in each damaged body for the id of its row."""


def row(**more: Any) -> str:
    """An entry as it is stored, some of it changed or left out."""
    whole = {"id": BAD, "kind": "diary", "stamp": stamp(), "fields": DAY} | more
    return json.dumps({key: value for key, value in whole.items() if value is not None})


DAMAGE = {
    "half a record": row()[:30],
    "nothing": "",
    "no object": "[1,2]",
    "a number for a record": "7",
    "another's name": json.dumps(SOUND),
    "no stamp": row(stamp=None),
    "a stamp cut short": row(stamp="0123"),
    "fields of another sort": row(fields=[]),
    "no kind": row(kind=None),
    "a stamp for a field that is not there": row(stamps={"note": stamp()}),
    "a number that is none": row(fields={"count": float("nan")}),
    "folded past reading": "[" * 100_000,
    "letters that are none": row().encode().replace(stamp()[:8].encode(), b"\xff" * 8),
}
IDS = [f"d9{letter}" for letter in string.ascii_lowercase[: len(DAMAGE)]]


def damage(folder: Path) -> None:
    """As a bad card would: each of these rows no longer holds what it held."""
    with contextlib.closing(sqlite3.connect(folder / "mudproof.db")) as db:
        for id_, body in zip(IDS, DAMAGE.values(), strict=True):
            held = body.replace(BAD, id_) if isinstance(body, str) else body.replace(BAD.encode(), id_.encode())
            db.execute("UPDATE records SET body = CAST(? AS TEXT) WHERE id = ?", (held, id_))
        db.commit()


def told_by(*command: str) -> str:
    """All that a command prints; it must end without a trace."""
    out = io.StringIO()
    with contextlib.redirect_stdout(out), contextlib.redirect_stderr(out), contextlib.suppress(SystemExit):
        main(list(command))
    return out.getvalue()


def test_damaged_rows_are_left_out_and_named(tmp_path: Path, caplog: pytest.LogCaptureFixture) -> None:
    with TestClient(make_app(Settings(tmp_path), lambda: NOW), base_url="http://127.0.0.1") as client:
        push(client, [SOUND, *(change(id_, on="2031-05-19", did="note") for id_ in IDS), change("d2")])
    damage(tmp_path)
    with TestClient(make_app(Settings(tmp_path), lambda: NOW), base_url="http://127.0.0.1") as client:
        assert [one["id"] for one in push(client, [])["records"]] == ["d1", "d2"]  # type: ignore[attr-defined]
        assert [one["id"] for one in push(client, [], since=1)["records"]] == ["d2"]  # type: ignore[attr-defined]
        doors = ("/api/jobs?on=2031-05-19", "/api/rulebook", "/api/successions?crop=lettuce")
        for door in (*doors, *(f"/api/history/{id_}" for id_ in IDS)):
            assert client.get(door).status_code < 500, door
        data = ("--data", str(tmp_path))
        assert [one["id"] for one in json.loads(told_by("export", *data))["records"]] == ["d1", "d2"]
        checked = told_by("check", *data)
        for id_, what in zip(IDS, DAMAGE, strict=True):
            assert f"record {id_} cannot be read and is left out" in caplog.text, what
            assert id_ in checked, what
        for command in ("jobs", "diary", "backup"):
            assert "Traceback" not in told_by(command, *data)
        again = push(client, [change(id_, made=stamp(NOW_MS + 1), on="2031-05-20", did="note") for id_ in IDS])
        assert len(again["taken"]) == len(IDS), "whoever holds them writes them anew"  # type: ignore[arg-type]
        assert len(push(client, [])["records"]) == len(IDS) + 2  # type: ignore[arg-type]


def test_an_entry_without_a_day_and_a_batch_that_is_its_own_variety(client: TestClient, tmp_path: Path) -> None:
    odd = [
        change("d0", note="no day"),
        change("d3", on=None, did="look", found="aphid"),
        change("b", "batch", variety="b", year=2031, want=3),
        change("d4", on="2031-05-19", did="sow", batch="b", found="aphid", level=None, weight_g=None),
    ]
    push(client, [SOUND, *odd])
    data = ("--data", str(tmp_path))
    for form in ([], ["--csv"], ["--year", "2031"]):
        told = told_by("diary", *data, *form)
        assert "Left out: d0, which has no day." in told and "Left out: d3" in told
        assert "sound" in told and "aphid" in told
    assert "no day" in json.loads(told_by("export", *data))["records"][1]["fields"]["note"]
    assert "Round of 2031-05-19" in told_by("jobs", *data, "--on", "2031-05-19")
    assert client.get("/api/jobs?on=2031-05-19").status_code == 200


async def put_into(folder: Path, some: list[dict[str, Any]]) -> records.Stored:
    """Many changes at once, past the doors."""
    store = await open_store(folder)
    try:
        return await records.put(store, some)
    finally:
        await store.close()


def test_a_record_grows_no_further_than_every_door_takes_it(tmp_path: Path) -> None:
    """Change by change it would pass what a saved copy may bring back, and what a phone can hold."""
    some = [change("d1", made=stamp(NOW_MS + n), **{f"part_{n}": "x" * 30_000}) for n in range(180)]
    some.append(change("d1", made=stamp(NOW_MS + 999), part_0="still mended"))
    stored = run(put_into(tmp_path, some))
    assert 130 < min(stored.refused) < 140 and max(stored.refused) == 179
    assert "would grow past 4,194,304 bytes" in stored.refused[179]


def test_long_records_come_in_pages_that_a_phone_can_hold(tmp_path: Path) -> None:
    long = [change(f"d{n:03d}", **{f"part_{k}": "z" * 4000 for k in range(20)}) for n in range(300)]
    run(put_into(tmp_path, long))
    with TestClient(make_app(Settings(tmp_path), lambda: NOW), base_url="http://127.0.0.1") as client:
        for since in (0, 1):
            seen: list[str] = [] if since == 0 else ["d000"]
            reply = push(client, [], since=since)
            pages = [reply]
            while pages[-1]["more"]:
                last = pages[-1]
                page = {"page": last["page"]} if last["page"] else {}
                pages.append(push(client, [], since=0 if last["page"] else last["upto"], **page))  # type: ignore[arg-type]
            seen += [one["id"] for reply in pages for one in reply["records"]]  # type: ignore[attr-defined]
            assert sorted(seen) == sorted(set(seen)) and len(seen) == 300
            assert len(pages) > 2
            assert all(len(json.dumps(reply["records"])) < 1.1 * records.MOST_PAGE_LETTERS for reply in pages)


WORKED: dict[str, Any] = {}


@given(st.lists(odd_changes(), max_size=10), st.sampled_from(["2031-05-19", "2031-12-31", "1900-01-01", "2200-12-31"]))
def test_whatever_the_server_takes_gives_a_rulebook_and_a_list(some: list[dict[str, Any]], on: str) -> None:
    given = read_push(json.dumps({"changes": some}).encode())
    assert given.refused == []
    held = {record["id"]: record for record in [site_record(), *given.changes]}
    rulebook = make_rulebook(read_calendars(), list(held.values()), WORKED)
    jobs = settle(rulebook, list(held.values()), on)
    json.dumps([rulebook, jobs], allow_nan=False).encode()
