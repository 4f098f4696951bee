"""Today's list as the server keeps it: worked out once, and then only what later records alter."""

from __future__ import annotations

import asyncio
from collections.abc import Callable
from typing import Any, TypeVar

from server.handlers.heavy import Heavy
from server.kernel.read.merge import Record
from server.kernel.settle import Settled
from server.store import records
from server.store.connection import Store

ROWS = 2500
Made = TypeVar("Made")


class KeptList:
    """The list of one day by one rulebook. Asked by one at a time, beside the loop."""

    def __init__(self, store: Store, heavy: Heavy) -> None:
        self._store = store
        self._heavy = heavy
        self._settled: Settled | None = None
        self._of: tuple[str, str] = ("", "")
        self._upto = 0
        self._asking = asyncio.Lock()

    async def ask(self, who: str | None, rulebook: dict[str, Any], today: str, question: Callable[[Settled], Made]) -> Made:
        """The answer to a question about the list, up to date with what is on the disk. Raises TooBusy."""
        async with self._asking:
            fresh = self._settled is None or self._of != (rulebook["version"], today)
            since, news = (0, []) if fresh else (self._upto, [])
            async for page in records.pages_since(self._store, since, ROWS):
                since = page.upto
                news += page.records
            held = None if fresh else self._settled
            self._settled = None  # one whose work is broken off is not gone on with
            made: tuple[Settled, Made] = await self._heavy.run(who, _up_to_date, held, rulebook, news, today, question)
            self._settled, self._of, self._upto = made[0], (rulebook["version"], today), since
            return made[1]


def _up_to_date(
    held: Settled | None, rulebook: dict[str, Any], news: list[Record], today: str, question: Callable[[Settled], Made]
) -> tuple[Settled, Made]:
    if held is None:
        held = Settled(rulebook, news, today)
    elif news:
        held.take(news)
    return held, question(held)
