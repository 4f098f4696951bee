"""Starts servers by forking: one process has read all of the server's code, and each server is a copy of it.

`python -m tests.browser.forker` takes a line of JSON for each (`{"args", "env", "errors"}`) and answers its process id. What a
server does is the same as `python -m server` does; it is only there a second sooner, since what hangs on the sources and the
demo household alone (the files as they are served, the demo's crops at its site) was worked out before.
"""

from __future__ import annotations

import contextlib
import json
import os
import random
import signal
import subprocess
import sys
import tempfile
import time
from pathlib import Path
from typing import Any

ROOT = Path(__file__).resolve().parents[2]
POLL_S = 0.01


class Forker:
    """The process that is copied, and the copies made of it."""

    def __init__(self) -> None:
        self._process = subprocess.Popen(
            [sys.executable, "-m", "tests.browser.forker"], cwd=ROOT, stdin=subprocess.PIPE, stdout=subprocess.PIPE, text=True
        )

    def start(self, args: list[str], env: dict[str, str]) -> Forked:
        """A server with these arguments."""
        assert self._process.stdin is not None and self._process.stdout is not None
        handle, errors = tempfile.mkstemp(prefix="server-", suffix=".err")
        os.close(handle)
        self._process.stdin.write(json.dumps({"args": args, "env": env, "errors": errors}) + "\n")
        self._process.stdin.flush()
        return Forked(int(self._process.stdout.readline()), Path(errors))


class Forked:
    """A server that was forked; speaks as `subprocess.Popen` does."""

    def __init__(self, pid: int, errors: Path) -> None:
        self.pid = pid
        self._errors = errors

    def poll(self) -> int | None:
        """None while it runs."""
        try:
            os.kill(self.pid, 0)
        except ProcessLookupError:
            return 0
        return None

    def send_signal(self, sign: signal.Signals) -> None:
        """Ask it something."""
        with contextlib.suppress(ProcessLookupError):
            os.kill(self.pid, sign)

    def kill(self) -> None:
        """As a power cut does."""
        self.send_signal(signal.SIGKILL)

    def communicate(self, timeout: float = 30) -> tuple[None, bytes]:
        """Wait for its end; what it said on the way. Raises TimeoutError."""
        until = time.monotonic() + timeout
        while self.poll() is None:
            if time.monotonic() > until:
                raise TimeoutError(f"server {self.pid} runs on")
            time.sleep(POLL_S)
        said = self._errors.read_bytes()
        self._errors.unlink()
        return None, said

    def said(self) -> str:
        """What it has said so far."""
        return self._errors.read_text(errors="replace")


def main() -> int:
    """Fork for each line; a fork that ends leaves nothing behind."""
    from server import app
    from server.__main__ import main as serve
    from server.handlers.shell_files import by_brotli
    from tests.worked_ahead import DEMO_ON, work_ahead

    work_ahead()
    for given in ((DEMO_ON, True), (None, False)):
        for file in app.read_shell(*given).files.values():
            by_brotli(file.body)
    signal.signal(signal.SIGCHLD, signal.SIG_IGN)
    for line in sys.stdin:
        asked: dict[str, Any] = json.loads(line)
        pid = os.fork()
        if pid == 0:
            return _serve(serve, asked)
        print(pid, flush=True)
    return 0


def _serve(serve: Any, asked: dict[str, Any]) -> int:
    """What a server's own process would do."""
    signal.signal(signal.SIGCHLD, signal.SIG_DFL)
    os.setsid()
    random.seed()
    os.environ.clear()
    os.environ.update(asked["env"])
    nothing = os.open(os.devnull, os.O_RDWR)
    errors = os.open(asked["errors"], os.O_WRONLY | os.O_APPEND)
    for descriptor, to in ((nothing, 0), (nothing, 1), (errors, 2)):
        os.dup2(descriptor, to)
    code = 1
    try:
        code = int(serve(asked["args"]))
    finally:
        sys.stderr.flush()
        os._exit(code)


if __name__ == "__main__":
    sys.exit(main())
