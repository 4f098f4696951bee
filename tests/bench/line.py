"""A poor line: a TCP proxy with a round trip and a rate, that counts what passes. Both sides of a row go over one."""

from __future__ import annotations

import contextlib
import queue
import socket
import threading
import time
from collections.abc import Iterator

from tests.browser.serving import Proxy

ROUND_TRIP_S = 0.3
BITS_PER_S = 1_000_000
CHUNK = 2048


class _Way:
    """One direction: bytes leave one after another at the rate, and arrive half a round trip later."""

    def __init__(self) -> None:
        self.carried = 0
        self._free_at = 0.0
        self._lock = threading.Lock()

    def arrives_at(self, size: int) -> float:
        """When so many bytes sent now come out at the other end."""
        with self._lock:
            self.carried += size
            self._free_at = max(self._free_at, time.monotonic()) + size * 8 / BITS_PER_S
            return self._free_at + ROUND_TRIP_S / 2


class PoorLine(Proxy):
    """Passes everything at once until `slow` is set."""

    def __init__(self, port: int) -> None:
        self.slow = False
        self.up, self.down = _Way(), _Way()
        super().__init__(port)

    @property
    def carried(self) -> int:
        """Bytes that went either way while it was slow."""
        return self.up.carried + self.down.carried

    def _serve(self, near: socket.socket) -> None:
        if self.slow:
            time.sleep(ROUND_TRIP_S)  # opening a connection takes a round trip before anything can be sent
        far = socket.create_connection(("127.0.0.1", self.target))
        for one in (near, far):
            one.setsockopt(socket.IPPROTO_TCP, socket.TCP_NODELAY, 1)
        for source, sink, way in ((near, far, self.up), (far, near, self.down)):
            waiting: queue.SimpleQueue[tuple[float, bytes]] = queue.SimpleQueue()
            threading.Thread(target=self._take, args=(source, waiting, way), daemon=True).start()
            threading.Thread(target=_give, args=(sink, waiting), daemon=True).start()

    def _take(self, source: socket.socket, waiting: queue.SimpleQueue[tuple[float, bytes]], way: _Way) -> None:
        with contextlib.suppress(OSError):
            while part := source.recv(CHUNK):
                at = way.arrives_at(len(part)) if self.slow else 0.0
                waiting.put((at, part))
        waiting.put((0.0, b""))


def _give(sink: socket.socket, waiting: queue.SimpleQueue[tuple[float, bytes]]) -> None:
    with contextlib.suppress(OSError):
        while True:
            at, part = waiting.get()
            time.sleep(max(0.0, at - time.monotonic()))
            if not part:
                sink.shutdown(socket.SHUT_WR)
                return
            sink.sendall(part)


@contextlib.contextmanager
def poor_line(port: int) -> Iterator[PoorLine]:
    """A line to a port of this machine."""
    line = PoorLine(port)
    try:
        yield line
    finally:
        line.close()
