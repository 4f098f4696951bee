"""Pokes: a word to every open phone that there is news. Carries no records."""

from __future__ import annotations

import asyncio
from collections.abc import AsyncIterator

QUIET_S = 15.0
"""A comment line is sent after so long without news, so that a phone can tell a dead line from a quiet one. [s]"""
MOST_LINES = 8
"""Streams that one phone may hold: one is enough for a browser, one a window where windows cannot agree. Past that the oldest
ends, since it is most likely dead."""


class Pokes:
    """Everybody who listens. A listener that is slow misses numbers in between, never the last one."""

    def __init__(self) -> None:
        self._news = asyncio.Condition()
        self._seq = 0
        self._closed = False
        self._lines: dict[str | None, list[object]] = {}
        self._out: set[str | None] = set()

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
        told, mine = seq, object()
        await self._begin(device, mine)
        try:
            yield f"retry: 3000\nevent: new\ndata: {seq}\n\n".encode()
            while self._open(device, mine):
                try:
                    async with asyncio.timeout(quiet_s), self._news:
                        while self._seq <= told and self._open(device, mine):
                            await self._news.wait()
                except TimeoutError:
                    yield b": quiet\n\n"
                    continue
                if self._seq > told:
                    told = self._seq
                    yield f"event: new\ndata: {told}\n\n".encode()
        finally:
            self._end(device, mine)

    def _open(self, device: str | None, line: object) -> bool:
        return not self._closed and device not in self._out and line in self._lines.get(device, ())

    async def _begin(self, device: str | None, line: object) -> None:
        async with self._news:
            lines = self._lines.setdefault(device, [])
            lines.append(line)
            if len(lines) > MOST_LINES:
                del lines[0]
                self._news.notify_all()

    def _end(self, device: str | None, line: object) -> None:
        lines = self._lines.get(device, [])
        if line in lines:
            lines.remove(line)
        if not lines:
            self._lines.pop(device, None)
