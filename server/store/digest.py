"""The digest of all records in the database, brought up to what is on the disk whenever it is asked for."""

from __future__ import annotations

import asyncio

from server.kernel.read.digest import Digest, mark
from server.kernel.read.merge import Record
from server.store import records
from server.store.connection import Store

ROWS = 2500
"""So many are taken in at once, beside the loop."""


class KeptDigest:
    """It reads what has come since it was last asked, from the disk and not from what was meant to be written there."""

    def __init__(self, store: Store) -> None:
        self._store = store
        self._marks: dict[str, int] = {}
        self._digest = Digest()
        self._upto = 0
        self._asking = asyncio.Lock()

    async def now(self) -> tuple[int, str]:
        """The number of the newest record it holds, and the digest as it travels."""
        async with self._asking:
            async for page in records.pages_since(self._store, self._upto, ROWS):
                if page.records:
                    await asyncio.to_thread(self._take, page.records)
                self._upto = page.upto
            return self._upto, str(self._digest)

    def _take(self, some: list[Record]) -> None:
        for record in some:
            made = mark(record)
            self._digest = self._digest.moved(self._marks.get(record["id"]), made)
            self._marks[record["id"]] = made
