"""Every door: what it answers, what it refuses, and in which words."""

from __future__ import annotations

import json
import posixpath
import re

import pytest
from starlette.testclient import TestClient

from server.app import DOORS
from server.handlers.guard import HEADERS
from server.handlers.shell_files import FIRST, LATER, ROOMS
from tests.server.conftest import change, push


def test_page_is_rendered_with_its_version_and_policy(client: TestClient) -> None:
    answer = client.get("/")
    assert answer.status_code == 200
    assert re.search(r'data-version="[0-9a-f]{16}"', answer.text)
    for name, value in HEADERS.items():
        assert answer.headers[name] == value
    assert "unsafe-inline" not in answer.headers["content-security-policy"]
    assert "<script>" not in answer.text and "style=" not in answer.text


def test_service_worker_lists_every_file_with_its_hash_and_is_never_stale(client: TestClient) -> None:
    answer = client.get("/service-worker.js")
    assert answer.headers["cache-control"] == "no-cache"
    found = re.search(r"const SHELL=(\{[^}]*\});", answer.text)
    assert found is not None
    listed = dict(json.loads(found[1])["files"])
    assert "/" in listed and "/styles/later.css" in listed
    for path in (
        FIRST,
        LATER,
        ROOMS,
        "/styles/layers.css",
        "/manifest.webmanifest",
        "/icons/pot.svg",
    ):
        assert path in listed
        assert client.get(path).status_code == 200


def test_a_phone_keeps_no_address_that_its_own_scripts_never_ask_for(client: TestClient) -> None:
    """Some 270 modules travel in three files; each is there at its own address too, for whoever is online."""
    found = re.search(r"const SHELL=(\{[^}]*\});", client.get("/service-worker.js").text)
    assert found is not None
    listed = [path for path, _ in json.loads(found[1])["files"]]
    assert "/scripts/kernel/settle.js" not in listed and len(listed) < 40
    assert client.get("/scripts/kernel/settle.js").text.startswith("import{$")


def test_every_module_that_main_reaches_is_in_the_shell(client: TestClient) -> None:
    found = re.search(r"const SHELL=(\{[^}]*\});", client.get("/service-worker.js").text)
    assert found is not None
    listed = {path for path, _ in json.loads(found[1])["files"]}
    todo, seen = [FIRST], set()
    while todo:
        path = todo.pop()
        if path in seen:
            continue
        seen.add(path)
        assert path in listed, path
        for target in re.findall(r'(?:from *|import\(?)"([./][^"]+)"', client.get(path).text):
            todo.append(posixpath.normpath(posixpath.join(posixpath.dirname(path), target)))
    assert {FIRST, LATER, ROOMS, "/scripts/kernel/catch-up.js"} < seen


def test_files_have_etags_that_save_sending_them_again(client: TestClient) -> None:
    first = client.get("/styles/layers.css")
    again = client.get("/styles/layers.css", headers={"if-none-match": first.headers["etag"]})
    assert again.status_code == 304 and not again.content


@pytest.mark.parametrize("path", ["/nothing", "/scripts/../server/app.py", "/%2e%2e/pyproject.toml", "/templates/base.html"])
def test_what_is_not_of_the_shell_is_not_there(client: TestClient, path: str) -> None:
    answer = client.get(path)
    assert answer.status_code == 404
    assert set(answer.json()["error"]) == {"say", "detail"}


def test_health_tells_that_the_database_takes_writes(client: TestClient) -> None:
    assert client.get("/health").json() | {"shell": ""} == {
        "up": True, "version": "0.1.0", "shell": "", "database": "writable",
    }  # fmt: skip


def test_rulebook_comes_once_and_then_only_when_it_changes(client: TestClient) -> None:
    first = client.get("/api/rulebook")
    assert first.json()["crops"]["tomato"]["many"] == "tomatoes"
    again = client.get("/api/rulebook", headers={"if-none-match": first.headers["etag"]})
    assert again.status_code == 304
    push(client, [change("site", "site", name="Withy End", last_frost="06-01")])
    assert client.get("/api/rulebook", headers={"if-none-match": first.headers["etag"]}).status_code == 200


def test_jobs_are_those_of_the_day_that_was_asked_for(client: TestClient) -> None:
    made = {"hand": True, "title": "Mend the door", "from": "2031-05-19", "by_day": "2031-05-22"}
    push(client, [change("job1", "job", **made)])
    found = client.get("/api/jobs?on=2031-05-20").json()
    assert [(job["title"], job["leeway"], job["state"]) for job in found["jobs"]] == [("Mend the door", 2, "ready")]
    assert client.get("/api/jobs?on=2031-05-01&state=ready").json()["jobs"] == []
    assert client.get("/api/jobs").json()["on"] == "2031-05-19"


@pytest.mark.parametrize("on", ["tomorrow", "2031-02-30", "2031-5-1", "9999-01-01", "<script>"])
def test_a_day_that_is_none_is_said(client: TestClient, on: str) -> None:
    answer = client.get("/api/jobs", params={"on": on})
    assert answer.status_code == 400
    assert "day" in answer.json()["error"]["say"]


def test_a_write_from_another_site_is_refused(client: TestClient) -> None:
    body = {"since": 0, "changes": []}
    for headers in (
        {"sec-fetch-site": "cross-site"},
        {"sec-fetch-site": "same-site"},
        {"origin": "http://elsewhere.test"},
        {"origin": "null"},
    ):
        assert client.post("/api/sync", json=body, headers=headers).status_code == 403
    assert client.post("/api/sync", json=body, headers={"sec-fetch-site": "same-origin"}).status_code == 200
    form = client.post("/api/sync", content=b"{}", headers={"content-type": "text/plain"})
    assert form.status_code == 403


def test_an_unknown_host_is_refused(client: TestClient) -> None:
    assert client.get("/", headers={"host": "rebound.test"}).status_code == 403
    assert client.get("/", headers={"host": "localhost:8470"}).status_code == 200


@pytest.mark.parametrize("body", [b"", b"[]", b"nonsense", b'{"since": -1}', b'{"since": true}', b'{"changes": 7}',
                                  b'{"since": NaN}', b'{"page": [1]}', b'{"epoch": 3}', b"[" * 100_000])  # fmt: skip
def test_a_request_without_sense_gets_one_shape_of_error(client: TestClient, body: bytes) -> None:
    answer = client.post("/api/sync", content=body, headers={"content-type": "application/json"})
    assert answer.status_code == 400
    assert set(answer.json()) == {"error"} and set(answer.json()["error"]) == {"say", "detail"}


def test_a_newer_phone_is_told_to_wait_for_the_server(client: TestClient) -> None:
    answer = client.post("/api/sync", json={"schema": 99, "changes": []})
    assert answer.status_code == 400 and "Update the server" in answer.json()["error"]["say"]


def test_too_much_at_once_is_refused_by_its_size(client: TestClient) -> None:
    answer = client.post("/api/sync", content=b"x" * (2 * 1024 * 1024 + 1), headers={"content-type": "application/json"})
    assert answer.status_code == 413


def test_recover_page_takes_away_the_worker_and_never_what_was_written(client: TestClient) -> None:
    page = client.get("/recover")
    assert page.status_code == 200 and "What you wrote down stays" in page.text
    script = client.get("/scripts/shell/recover.js").text
    assert "unregister" in script and "indexedDB" not in script


def test_doors_are_all_in_the_guide() -> None:
    from importlib.resources import files

    guide = (files("server").joinpath("..").joinpath("DEVELOPERS.md")).read_text(encoding="utf-8")  # type: ignore[union-attr]
    for door in DOORS:
        if "{" not in door.path:
            assert door.path in guide, door.path
