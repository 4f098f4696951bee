"""A real server and five writers in processes of their own, for as long as is wished: `python -m tests.sync.soak 60` [min].

The server's clock is moved under it, forward and back, by seconds to years; so are the writers'. After each minute all stand
still, share until nothing waits, and hold the same: the server's digest, and each writer's own.
"""

from __future__ import annotations

import datetime
import json
import multiprocessing
import random
import sys
import tempfile
import threading
import time
import urllib.request
from multiprocessing.queues import Queue
from multiprocessing.synchronize import Barrier, Event
from pathlib import Path
from typing import Any

import uvicorn

from server.app import make_app
from server.kernel.read.digest import Digest, mark
from server.settings import Settings
from tests.browser.serving import free_port
from tests.sync.model import Phone
from tests.sync.simulated import SERVER_SKEWS, SKEWS

WRITERS = 5
MINUTE_S = 60
DEVICES = [letter * 8 for letter in "abcde"]


class MovedClock:
    """The real time, and what somebody has done to it."""

    def __init__(self) -> None:
        self.ahead_ms = 0

    def __call__(self) -> datetime.datetime:
        return datetime.datetime.now(datetime.UTC) + datetime.timedelta(milliseconds=self.ahead_ms)


def serve(port: int, clock: MovedClock, folder: Path) -> uvicorn.Server:
    """The whole application behind a real port, in a thread."""
    server = uvicorn.Server(uvicorn.Config(make_app(Settings(folder, port=port), clock), port=port, log_level="error"))
    threading.Thread(target=server.run, daemon=True).start()
    while not server.started:
        time.sleep(0.05)
    return server


def exchange(phone: Phone, port: int) -> dict[str, Any]:
    """One exchange over the wire."""
    sent = phone.outbox[: phone.most]
    headers = {"content-type": "application/json"}
    asked = urllib.request.Request(f"http://127.0.0.1:{port}/api/sync", phone.request(), headers)
    with urllib.request.urlopen(asked, timeout=60) as answer:
        reply: dict[str, Any] = json.loads(answer.read())
    phone.take(reply, sent, time.time_ns() // 1_000_000)
    return reply


def write(device: str, port: int, halt: Event, together: Barrier, told: Queue[tuple[str, str, str]]) -> None:
    """One writer, until the process is ended."""
    dice = random.Random(device)
    phone = Phone(device, dice.choice(SKEWS), most=dice.choice([3, 200]))
    while True:
        while not halt.is_set():
            for _ in range(dice.randint(1, 4)):
                fields = dice.choice(
                    [{"note": f"{device} {dice.random()}"}, {"count": dice.randint(0, 99)}, {"gone": dice.random() < 0.3}]
                )
                phone.write(
                    f"d{dice.randint(1, 400)}", time.time_ns() // 1_000_000, {"on": "2031-05-19", "did": "note", **fields}
                )
            exchange(phone, port)
            if dice.random() < 0.02:
                phone.skew_ms = dice.choice(SKEWS)
            time.sleep(dice.random() * 0.2)
        for _ in range(2):  # first everybody gives all, then everybody takes all
            together.wait()
            reply = exchange(phone, port)
            while phone.outbox or reply["more"] or reply["reset"]:
                reply = exchange(phone, port)
        digest = Digest()
        for record in phone.records.values():
            digest = digest.moved(None, mark(record))
        told.put((device, str(digest), reply["digest"][1]))
        together.wait()
        while halt.is_set():
            time.sleep(0.05)


def main(minutes: int) -> int:
    """Run so long; the exit code is 1 where anybody held something else."""
    port, clock, dice = free_port(), MovedClock(), random.Random(7)
    with tempfile.TemporaryDirectory() as folder:
        serve(port, clock, Path(folder))
        halt, together, told = multiprocessing.Event(), multiprocessing.Barrier(WRITERS), multiprocessing.Queue()
        writers = [
            multiprocessing.Process(target=write, args=(one, port, halt, together, told), daemon=True) for one in DEVICES
        ]
        for writer in writers:
            writer.start()
        bad = 0
        for minute in range(1, minutes + 1):
            until = time.monotonic() + MINUTE_S
            while time.monotonic() < until:
                time.sleep(dice.uniform(3, 15))
                clock.ahead_ms = dice.choice(SERVER_SKEWS)
            halt.set()
            found = [told.get(timeout=300) for _ in writers]
            halt.clear()
            same = len({digest for _, *digests in found for digest in digests}) == 1
            bad += not same
            print(f"minute {minute}: {'equal' if same else 'DIFFERENT'} {found[0][1]}", flush=True)
            if not same:
                print(found, flush=True)
        for writer in writers:
            writer.kill()
    print(f"{minutes} minutes, {bad} of them different")
    return 1 if bad else 0


if __name__ == "__main__":
    sys.exit(main(int(sys.argv[1]) if len(sys.argv) > 1 else 60))
