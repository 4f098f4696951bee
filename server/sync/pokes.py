"""Pokes: a word to every open phone that there is news. Carries no records."""

from __future__ import annotations

import asyncio
from collections.abc import AsyncIterator

QUIET_S = 15.0
"""A comment line is sent after so long without news, so that a phone can tell a dead line from a quiet one. [s]"""


class Pokes:
    """Everybody who listens. A listener that is slow misses numbers in between, never the last one."""

    def __init__(self) -> None:
        self._news = asyncio.Condition()
        self._seq = 0
        self._closed = False
        self._out: set[str] = set()

    async def tell(self, seq: int) -> None:
        """Something with this number was stored."""
        async with self._news:
            self._seq = max(self._seq, seq)
            self._news.notify_all()

    async def turn_out(self, device: str) -> None:
        """End a phone's streams at once."""
        async with self._news:
            self._out.add(device)
            self._news.notify_all()

    async def close(self) -> None:
        """End every stream."""
        async with self._news:
            self._closed = True
            self._news.notify_all()

    async def stream(self, seq: int, quiet_s: float = QUIET_S, device: str | None = None) -> AsyncIterator[bytes]:
        """Lines of an event stream; the first at once."""
        told = seq
        yield f"retry: 3000\nevent: new\ndata: {seq}\n\n".encode()
        while not self._closed and device not in self._out:
            try:
                async with asyncio.timeout(quiet_s), self._news:
                    while self._seq <= told and not self._closed and device not in self._out:
                        await self._news.wait()
            except TimeoutError:
                yield b": quiet\n\n"
                continue
            if self._seq > told:
                told = self._seq
                yield f"event: new\ndata: {told}\n\n".encode()
