"""A few simulated households; hundreds in `.ci/run`, thousands by hand with `python -m tests.sync.simulated 5000`."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

import pytest

from server.kernel.read.merge import Record
from server.store import records
from server.store.connection import Store
from tests.cases import sampled
from tests.sync.model import Loop
from tests.sync.simulated import simulate


@pytest.fixture(scope="module")
def loop() -> Iterator[Loop]:
    made = Loop()
    yield made
    made.stop()


@pytest.mark.parametrize("first", sampled(range(0, 120, 20), 6))
def test_nothing_is_lost_in_any_weather(loop: Loop, first: int) -> None:
    for seed in range(first, first + 20):
        simulate(seed, loop)


def test_a_server_that_forgets_is_found_out(loop: Loop, monkeypatch: pytest.MonkeyPatch) -> None:
    """The simulation is worth something: an acknowledged change that is not stored never goes unseen."""
    honest = records.put

    async def forgetful(store: Store, changes: list[Record], *more: Any) -> records.Stored:
        return await honest(store, changes[:-1] if len(changes) > 3 else changes, *more)

    monkeypatch.setattr(records, "put", forgetful)
    found = 0
    for seed in range(12):
        try:
            simulate(seed, loop)
        except AssertionError:
            found += 1
    assert found >= 6
