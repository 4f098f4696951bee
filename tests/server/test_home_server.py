"""The household's server as a process: behind a proxy, and found by name on the network."""

from __future__ import annotations

import asyncio
import json
import os
import signal
import socket
import subprocess
import sys
import time
import urllib.error
import urllib.request
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest
from zeroconf import IPVersion
from zeroconf.asyncio import AsyncServiceInfo, AsyncZeroconf

from server.commands.home import SERVING
from server.trust.home_network import NAME, Announcement, addresses
from tests.browser.serving import HomeServer, free_port, mudproof
from tests.server.conftest import run


def ask(port: int, path: str, host: str, body: dict[str, Any] | None = None, **headers: str) -> tuple[int, Any, Any]:
    """Status, answer and headers, asked as a proxy on this machine would."""
    data = None if body is None else json.dumps(body).encode()
    given = {"host": host, "content-type": "application/json", **headers}
    request = urllib.request.Request(f"http://127.0.0.1:{port}{path}", data, given)
    try:
        with urllib.request.urlopen(request, timeout=10) as answer:
            return answer.status, json.loads(answer.read()), answer.headers
    except urllib.error.HTTPError as error:
        return error.code, json.loads(error.read()), error.headers


@pytest.fixture(scope="module")
def behind(tmp_path_factory: pytest.TempPathFactory) -> Iterator[tuple[int, Path]]:
    """A server that waits behind a proxy for garden.example."""
    port, data = free_port(), tmp_path_factory.mktemp("behind")
    command = [
        sys.executable,
        "-m",
        "server",
        "serve",
        "--data",
        str(data),
        "--port",
        str(port),
        "--behind",
        "garden.example",
    ]
    process = subprocess.Popen(command, stdout=subprocess.PIPE, stderr=subprocess.PIPE, text=True, env=os.environ)
    for _ in range(200):
        if (data / SERVING).exists():
            break
        time.sleep(0.05)
    yield port, data
    process.send_signal(signal.SIGINT)
    out, _ = process.communicate(timeout=20)
    assert "https://garden.example/" in out and "A phone joins with this code" in out
    assert not (data / SERVING).exists(), "the machine's own key ends with the server"


def test_behind_a_proxy_it_answers_for_that_name_alone_and_gives_secure_cookies(behind: tuple[int, Path]) -> None:
    port, folder = behind
    assert ask(port, "/api/me", "garden.example")[1]["joining"] is True
    assert ask(port, "/api/me", "evil.example")[0] == 403
    key = json.loads((folder / SERVING).read_text())["key"]
    status, told, _ = ask(port, "/api/codes", "garden.example", {}, authorization=f"Bearer {key}")
    assert status == 200 and told["address"].startswith("https://garden.example/#/join/")
    asked = {"code": told["code"], "name": "Hazel"}
    status, _, headers = ask(port, "/api/join", "garden.example", asked, origin="https://garden.example")
    assert status == 200 and headers["set-cookie"].startswith("__Host-mudproof=") and "Secure" in headers["set-cookie"]
    assert ask(port, "/api/join", "garden.example", asked, origin="https://evil.example")[0] == 403


def test_behind_a_proxy_nobody_else_on_the_network_reaches_it(behind: tuple[int, Path]) -> None:
    for address in addresses():
        with pytest.raises(OSError), socket.create_connection((address, behind[0]), timeout=2):
            pass


def test_it_is_found_by_name_on_the_network() -> None:
    """Through python-zeroconf's own resolver, as RFC 6763 has it. Where a machine is on no network there is nothing to find.

    Asked for by the name it got: another server may run beside this test.
    """
    ips = addresses()
    if not ips:
        assert ips == []
        return

    async def work() -> tuple[str | None, int | None, list[str], str | None]:
        async with Announcement(8470, ips, secure=True) as made:
            asking = AsyncZeroconf(ip_version=IPVersion.V4Only)
            info = AsyncServiceInfo("_https._tcp.local.", made.name)
            for _ in range(5):
                if await info.async_request(asking.zeroconf, 2000):
                    break
                await asyncio.sleep(0.2)
            await asking.async_close()
            return info.server, info.port, info.parsed_addresses(), made.problem

    server, port, found, problem = run(work())
    assert problem is not None or (server == f"{NAME}." and port == 8470 and set(found) == set(ips))


@pytest.mark.parametrize("way", [["--behind", "other.example"], ["--plain"], []])
def test_a_server_that_is_refused_leaves_the_files_of_the_first_alone(behind: tuple[int, Path], way: list[str]) -> None:
    def files() -> dict[str, bytes]:
        """All but the database, on which the first goes on working, and its daily copy."""
        found = {path.relative_to(data).as_posix(): path for path in data.rglob("*") if path.is_file()}
        return {name: path.read_bytes() for name, path in found.items() if not name.startswith(("mudproof.db", "backups/"))}

    port, data = behind
    before = files()
    assert before[SERVING] and before["mudproof.lock"]
    refused = mudproof("serve", "--data", data, "--port", free_port(), *way)
    assert refused.returncode == 2 and "Another Mudproof server is already using" in refused.stderr
    assert files() == before
    assert ask(port, "/health", "garden.example")[0] == 200


@pytest.mark.parametrize("sign", [signal.SIGTERM, signal.SIGINT])
def test_however_it_is_stopped_its_key_ends_with_it(tmp_path: Path, sign: signal.Signals) -> None:
    """A machine that goes down asks by SIGTERM, a person by Ctrl-C."""
    server = HomeServer(tmp_path / "own", plain=True)
    server.start()
    assert (server.data / SERVING).exists()
    errors = server.stop(sign)
    assert "Traceback" not in errors and not (server.data / SERVING).exists()
