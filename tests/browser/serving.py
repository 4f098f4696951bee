"""The real server as a process, and small TCP proxies that make the line to it bad."""

from __future__ import annotations

import abc
import contextlib
import functools
import json
import os
import random
import signal
import socket
import ssl
import subprocess
import sys
import threading
import time
import urllib.error
import urllib.request
from pathlib import Path
from typing import Any

from tests.browser.forker import Forked, Forker

ROOT = Path(__file__).resolve().parents[2]


def free_port() -> int:
    """A port nobody listens on."""
    with socket.socket() as one:
        one.bind(("127.0.0.1", 0))
        return int(one.getsockname()[1])


def lasting_port() -> int:
    """A port nobody listens on, below those the system gives to whoever asks: it stays free between two servers."""
    while True:
        port = random.randrange(20_000, 30_000)
        with contextlib.suppress(OSError), socket.socket() as one:
            one.bind(("127.0.0.1", port))
            return port


@functools.cache
def _forker() -> Forker:
    """One for each process that runs tests; its own end is that of its input."""
    return Forker()


def mudproof(*words: object, at: Path = ROOT, largest_file: int | None = None) -> subprocess.CompletedProcess[str]:
    """A command as a grower gives it, in a process of its own, to its end. at: the folder it is given in; largest_file: no file
    may grow beyond so many bytes, as on a full disk."""
    return _forker().run([str(word) for word in words], at, largest_file)


def told_by(*words: object) -> str:
    """What a command prints; it must go well."""
    done = mudproof(*words)
    assert done.returncode == 0, done.stderr
    return done.stdout


class LiveServer:
    """One server process over one data directory; can be killed and started again on the same port."""

    def __init__(self, data: Path, on: str | None, code: Path = ROOT, port: int | None = None) -> None:
        self.data = data
        self.on = on
        self.code_folder = code
        self.port = port or free_port()
        self.process: subprocess.Popen[bytes] | Forked | None = None

    @property
    def url(self) -> str:
        """Where the page is."""
        return f"http://127.0.0.1:{self.port}/"

    def start(self) -> LiveServer:
        """Start, and wait until it answers."""
        environment = {**os.environ, "PYTHONPATH": str(self.code_folder), "PYTHONDONTWRITEBYTECODE": "1"}
        if self.code_folder == ROOT:
            self.process = _forker().start(self.command(), environment)
        else:
            self.process = subprocess.Popen(
                [sys.executable, "-m", "server", *self.command()],
                cwd=self.code_folder,
                env=environment,
                stdout=subprocess.DEVNULL,
                stderr=subprocess.PIPE,
            )
        for _ in range(1000):
            try:
                with urllib.request.urlopen(self.url + "health", timeout=1, context=self.trusting()):
                    return self
            except (urllib.error.URLError, OSError):
                if self.process.poll() is not None:
                    _, errors = self.process.communicate()
                    raise AssertionError(errors.decode()) from None
                time.sleep(0.02)
        raise AssertionError("the server did not come up")

    def command(self) -> list[str]:
        """What starts it."""
        if self.on is None:
            return ["serve", "--here", "--data", str(self.data), "--port", str(self.port)]
        return ["demo", "--data", str(self.data), "--port", str(self.port), "--on", self.on]

    def trusting(self) -> ssl.SSLContext | None:
        """What a client needs to believe it: nothing over http."""
        return None

    def get_json(self, path: str) -> Any:
        """What a door answers."""
        with urllib.request.urlopen(self.url + path.lstrip("/"), timeout=20) as answer:
            return json.loads(answer.read())

    def push(self, records: list[dict[str, Any]]) -> None:
        """Put records in, as a phone would."""
        body = json.dumps({"changes": records}).encode()
        asked = urllib.request.Request(self.url + "api/sync", body, {"content-type": "application/json"})
        with urllib.request.urlopen(asked, timeout=20) as answer:
            assert json.loads(answer.read())["refused"] == []

    def stop(self, sign: signal.Signals) -> str:
        """Ask it to stop, and give what it said on the way out."""
        assert self.process is not None
        self.process.send_signal(sign)
        _, errors = self.process.communicate(timeout=20)
        self.process = None
        return errors.decode()

    def kill(self) -> None:
        """As a power cut does."""
        if self.process is not None:
            self.process.kill()
            self.process.communicate()
            self.process = None


class HomeServer(LiveServer):
    """A household's server on the home network: phones have to join. `plain` leaves https out."""

    def __init__(self, data: Path, plain: bool) -> None:
        super().__init__(data, None)
        self.plain = plain

    @property
    def url(self) -> str:
        """Where the page is."""
        return f"{'http' if self.plain else 'https'}://127.0.0.1:{self.port}/"

    def command(self) -> list[str]:
        """What starts it."""
        return ["serve", "--data", str(self.data), "--port", str(self.port), *(["--plain"] if self.plain else [])]

    def trusting(self) -> ssl.SSLContext | None:
        """What a client needs to believe it."""
        root = self.data / "certificates" / "root.crt"
        return ssl.create_default_context(cafile=root) if not self.plain and root.exists() else None

    def code(self) -> str:
        """A code as `mudproof join` gives it."""
        printed = told_by("join", "--data", self.data)
        return next(line.strip() for line in printed.splitlines() if line.startswith("    "))


class Proxy(abc.ABC):
    """Stands in front of a server on a port of its own. What happens to a connection is in `_serve`."""

    def __init__(self, port: int) -> None:
        self.target = port
        self._listener = socket.create_server(("127.0.0.1", 0))
        self.port = int(self._listener.getsockname()[1])
        threading.Thread(target=self._accept, daemon=True).start()

    @property
    def url(self) -> str:
        """Where the page is, through this line."""
        return f"http://127.0.0.1:{self.port}/"

    def close(self) -> None:
        """Take no more connections."""
        self._listener.close()

    def _accept(self) -> None:
        while True:
            try:
                near, _ = self._listener.accept()
            except OSError:
                return
            threading.Thread(target=self._serve, args=(near,), daemon=True).start()

    @abc.abstractmethod
    def _serve(self, near: socket.socket) -> None:
        """Carry one connection, in a thread of its own."""


class Line(Proxy):
    """A line that can go silent, drop replies, and count what it dropped."""

    def __init__(self, port: int) -> None:
        self.silent = False
        self.drop_replies_to = b""
        """Requests that hold this text reach the server, but their reply is cut off."""
        self.dropped = 0
        self.hold = threading.Event()
        self.hold.set()
        self._open: set[socket.socket] = set()
        super().__init__(port)

    def close(self) -> None:
        """Cut every connection."""
        super().close()
        for one in list(self._open):
            with contextlib.suppress(OSError):
                one.shutdown(socket.SHUT_RDWR)
            one.close()

    def _serve(self, near: socket.socket) -> None:
        try:
            far = socket.create_connection(("127.0.0.1", self.target), timeout=5)
            far.settimeout(None)
        except OSError:
            near.close()
            return
        self._open |= {near, far}
        state = {"cut": False}

        def up() -> None:
            with contextlib.suppress(OSError):
                while part := near.recv(65536):
                    if self.silent:
                        continue
                    if self.drop_replies_to and self.drop_replies_to in part:
                        state["cut"] = True
                        self.dropped += 1
                    far.sendall(part)
            with contextlib.suppress(OSError):
                far.shutdown(socket.SHUT_WR)

        def down() -> None:
            with contextlib.suppress(OSError):
                while part := far.recv(65536):
                    self.hold.wait()
                    if self.silent:
                        continue
                    if state["cut"]:
                        near.shutdown(socket.SHUT_RDWR)
                        return
                    near.sendall(part)
            with contextlib.suppress(OSError):
                near.shutdown(socket.SHUT_WR)

        threads = [threading.Thread(target=up, daemon=True), threading.Thread(target=down, daemon=True)]
        for thread in threads:
            thread.start()
        for thread in threads:
            thread.join()
        self._open -= {near, far}
        near.close()
        far.close()
