"""A phone that was away while the server went on to a newer version brings what it wrote, recorded from that version's app."""

from __future__ import annotations

import json
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest
from starlette.testclient import TestClient

import seed_scenario
from server import __version__
from server.app import make_app
from server.kernel.read.merge import merge_record
from server.settings import Settings
from tests.record_pushes import FOLDER
from tests.server.conftest import NOW

RECORDED = sorted(FOLDER.glob("*.json"), key=lambda file: [int(part) for part in file.stem.split(".")])
ON = "2031-05-19"


@pytest.fixture
def client(tmp_path: Path) -> Iterator[TestClient]:
    """A server that holds the made-up household."""
    with TestClient(make_app(Settings(tmp_path), lambda: NOW), base_url="http://127.0.0.1") as made:
        push(made, seed_scenario.load(ON))
        yield made


def push(client: TestClient, changes: list[dict[str, Any]]) -> None:
    for start in range(0, len(changes), 200):
        part = changes[start : start + 200]
        answer = client.post("/api/sync", json={"schema": 1, "since": 1, "changes": part}).json()
        assert answer["refused"] == []
        assert [(row["id"], row["stamp"]) for row in answer["taken"]] == [(row["id"], row["stamp"]) for row in part]


def everything(client: TestClient) -> dict[str, dict[str, Any]]:
    found, page, more = {}, None, True
    while more:
        answer = client.post("/api/sync", json={"since": 0, "page": page, "changes": []}).json()
        found.update((record["id"], record) for record in answer["records"])
        page, more = answer["page"], answer["more"]
    return found


def test_this_version_is_recorded() -> None:
    """Else a later one could not be tried against it."""
    assert __version__ in [file.stem for file in RECORDED]
    sorts = {(change["kind"], change["fields"].get("did")) for change in json.loads(RECORDED[-1].read_text(encoding="utf-8"))}
    kinds = {kind for kind, _ in sorts}
    assert kinds >= {"site", "place", "fixture", "variety", "crop", "batch", "diary", "job", "person", "readings", "photo"}
    assert len({did for _, did in sorts if did}) > 12


@pytest.mark.parametrize("file", RECORDED, ids=lambda file: file.stem)
def test_what_an_older_phone_wrote_is_taken_whole_and_worked_with(client: TestClient, file: Path) -> None:
    before = everything(client)
    changes = json.loads(file.read_text(encoding="utf-8"))
    push(client, changes)
    push(client, changes)
    after = everything(client)
    for id_ in {change["id"] for change in changes}:
        wanted = before.get(id_)
        for change in changes:
            if change["id"] == id_:
                wanted = merge_record(wanted, change)
        assert after[id_] == wanted
    rulebook = client.get("/api/rulebook").json()
    assert rulebook["left_out"] == {}
    assert client.get(f"/api/jobs?on={ON}").json()["jobs"]
