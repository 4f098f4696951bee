"""Runs `mudproof` by forking: one process has read all of the server's code, and each server or command is a copy of it.

`python -m tests.browser.forker` takes a line of JSON for each (`Asked`) and answers its process id. It does the
same as `python -m server`, in a process of its own too, and is only there a second sooner, since what hangs on the sources and
the demo household alone (the files as they are served, the demo's crops at its site) was worked out before.
"""

from __future__ import annotations

import contextlib
import functools
import json
import os
import random
import resource
import signal
import subprocess
import sys
import tempfile
import threading
import time
import traceback
from dataclasses import asdict, dataclass, field
from importlib import import_module
from pathlib import Path
from typing import Any

ROOT = Path(__file__).resolve().parents[2]
POLL_S = 0.01
READ_LATE = ("anyio._backends._asyncio", "uvicorn.lifespan.on", "uvicorn.loops.asyncio", "uvicorn.protocols.http.h11_impl")
"""What a server reads when the first phone comes."""


@dataclass(frozen=True)
class Asked:
    """One process: its arguments and surroundings, and the files for what it says."""

    args: list[str]
    errors: str
    env: dict[str, str] = field(default_factory=dict)
    at: str = str(ROOT)
    out: str = os.devnull
    code: str = os.devnull
    """Where its exit code is written; one that is killed writes none."""
    largest_file: int | None = None
    """No file may grow beyond so many bytes, as on a full disk."""


class Forker:
    """The process that is copied, and the copies made of it."""

    def __init__(self) -> None:
        self._process = subprocess.Popen(
            [sys.executable, "-m", "tests.browser.forker"], cwd=ROOT, stdin=subprocess.PIPE, stdout=subprocess.PIPE, text=True
        )
        self._turn = threading.Lock()

    def start(self, args: list[str], env: dict[str, str]) -> Forked:
        """A server with these arguments."""
        handle, errors = tempfile.mkstemp(prefix="server-", suffix=".err")
        os.close(handle)
        return self._ask(Asked(args, errors, env))

    def run(self, args: list[str], at: Path, largest_file: int | None = None) -> subprocess.CompletedProcess[str]:
        """A command in that folder, until its end. Raises TimeoutError."""
        with tempfile.TemporaryDirectory() as folder:
            files = {name: Path(folder, name) for name in ("errors", "out", "code")}
            for file in files.values():
                file.touch()
            named = {name: str(file) for name, file in files.items()}
            forked = self._ask(Asked(args, env=dict(os.environ), at=str(at), largest_file=largest_file, **named))
            out, errors, code = files["out"], forked.communicate(60)[1].decode(), files["code"].read_text()
            return subprocess.CompletedProcess(args, int(code or -signal.SIGKILL), out.read_text(), errors)

    def _ask(self, asked: Asked) -> Forked:
        assert self._process.stdin is not None and self._process.stdout is not None
        with self._turn:
            self._process.stdin.write(json.dumps(asdict(asked)) + "\n")
            self._process.stdin.flush()
            return Forked(int(self._process.stdout.readline()), Path(asked.errors))


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
    import seed_scenario
    from server import app
    from server.__main__ import RUNS
    from server.__main__ import main as mudproof
    from server.handlers.shell_files import by_brotli
    from tests.worked_ahead import DEMO_ON, work_ahead

    for run in RUNS.values():
        import_module(f"server.commands.{run.split('.')[0]}")
    seed_scenario.load = functools.cache(seed_scenario.load)
    work_ahead()
    for given in ((DEMO_ON, True), (None, False)):
        shell = app.read_shell(*given)
        for file in (shell.first_page, *shell.files.values()):
            by_brotli(file.body)
            assert file.zipped
    for name in READ_LATE:
        import_module(name)
    signal.signal(signal.SIGCHLD, signal.SIG_IGN)
    for line in sys.stdin:
        asked = Asked(**json.loads(line))
        pid = os.fork()
        if pid == 0:
            return _run(mudproof, asked)
        print(pid, flush=True)
    return 0


def _run(mudproof: Any, asked: Asked) -> int:
    """What a process of its own would do."""
    signal.signal(signal.SIGCHLD, signal.SIG_DFL)
    os.setsid()
    os.chdir(asked.at)
    random.seed()
    os.environ.clear()
    os.environ.update(asked.env)
    ends = os.open(asked.code, os.O_WRONLY)
    nothing, write = os.devnull, os.O_WRONLY | os.O_APPEND
    for file, how, to in ((nothing, os.O_RDONLY, 0), (asked.out, write, 1), (asked.errors, write, 2)):
        os.dup2(os.open(file, how), to)
    if asked.largest_file is not None:
        signal.signal(signal.SIGXFSZ, signal.SIG_IGN)
        resource.setrlimit(resource.RLIMIT_FSIZE, (asked.largest_file, asked.largest_file))
    code = 1
    try:
        code = int(mudproof(asked.args))
    except SystemExit as end:
        code = end.code if isinstance(end.code, int) else 1
    except BaseException:
        traceback.print_exc()
    finally:
        sys.stdout.flush()
        sys.stderr.flush()
        os.write(ends, str(code).encode())
        os._exit(code)


if __name__ == "__main__":
    sys.exit(main())
