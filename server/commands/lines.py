"""Lines to the server: many may be open, and one on which nothing is asked is closed, so that nobody uses them all up."""

from __future__ import annotations

import asyncio
import contextlib
import resource
import socket

import h11
from uvicorn.protocols.http.h11_impl import H11Protocol

MOST_FILES = 65_536
ASK_WITHIN_S = 20.0
"""The head of a request has to have come by then; on a very slow line it takes a second or two. [s]"""


def allow_many_lines() -> None:
    """Each line is an open file: as many as this machine lets us have (often only 1,024 until it is asked for more)."""
    soft, hard = resource.getrlimit(resource.RLIMIT_NOFILE)
    wanted = MOST_FILES if hard == resource.RLIM_INFINITY else min(hard, MOST_FILES)
    if soft < wanted:
        with contextlib.suppress(ValueError, OSError):
            resource.setrlimit(resource.RLIMIT_NOFILE, (wanted, hard))


class AskingProtocol(H11Protocol):
    """HTTP/1.1 that hangs up on whoever does not come to the point. uvicorn itself waits for ever for the head of a request."""

    _patience: asyncio.TimerHandle | None = None

    def connection_made(self, transport: asyncio.Transport) -> None:  # type: ignore[override]
        """A new line: a request has to come. What is answered goes at once, head and body: else the body of all but the first
        answer of a line would wait for the other side to acknowledge the head, some 40 ms (RFC 896 with RFC 1122, 4.2.3.2)."""
        line = transport.get_extra_info("socket")
        if line is not None:
            with contextlib.suppress(OSError):
                line.setsockopt(socket.IPPROTO_TCP, socket.TCP_NODELAY, 1)
        super().connection_made(transport)
        self._watch()

    def data_received(self, data: bytes) -> None:
        """Part of a request, or of its head only."""
        super().data_received(data)
        self._watch()

    def connection_lost(self, exc: Exception | None) -> None:
        """The other side is gone."""
        self._forgive()
        super().connection_lost(exc)

    def _watch(self) -> None:
        if self.conn.their_state is not h11.IDLE or self.transport.is_closing():
            self._forgive()
        elif self._patience is None:
            self._patience = self.loop.call_later(ASK_WITHIN_S, self._hang_up)

    def _forgive(self) -> None:
        if self._patience is not None:
            self._patience.cancel()
            self._patience = None

    def _hang_up(self) -> None:
        self._patience = None
        if self.conn.their_state is h11.IDLE:
            self.transport.close()
