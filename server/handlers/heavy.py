"""Work that may take long goes beside the loop: with a deadline, one piece at a time for each phone, few at once for all.

What is asked for is bounded before it comes here, so that each piece ends by itself; a piece that is past its deadline is no
longer waited for, and its thread keeps nobody from stopping the server.
"""

from __future__ import annotations

import asyncio
import contextlib
import threading
from collections.abc import AsyncIterator, Callable
from typing import Any, TypeVar

from server.errors import TooBusy

DEADLINE_S = 30.0
"""So long somebody waits for an answer, the wait for a turn in it. [s]"""
AT_ONCE = 2
Made = TypeVar("Made")


class Heavy:
    """The turns of whoever wants something worked out."""

    def __init__(self, deadline_s: float = DEADLINE_S, at_once: int = AT_ONCE) -> None:
        self._deadline_s = deadline_s
        self._turns = asyncio.Semaphore(at_once)
        self._own_turn: dict[str | None, tuple[asyncio.Lock, int]] = {}

    async def run(self, who: str | None, work: Callable[..., Made], *given: object) -> Made:
        """What `work` gives, from a thread of its own. who: the phone that asks, None where nobody has to join.

        Raises TooBusy past the deadline, and whatever `work` raises.
        """
        try:
            async with asyncio.timeout(self._deadline_s), self._own(who):
                await self._turns.acquire()
                done = self._begin(work, *given)
                done.add_done_callback(self._give_back)  # when it is done, waited for or not: nobody piles up threads
                return await asyncio.shield(done)
        except TimeoutError as error:
            raise TooBusy(
                "That takes too long to work out just now. Try again in a minute, or ask for less.",
                f"{work!r:.100} for {who}: not within {self._deadline_s:g} s",
            ) from error

    @contextlib.asynccontextmanager
    async def _own(self, who: str | None) -> AsyncIterator[None]:
        """The one turn of a phone; forgotten once nobody waits for it."""
        lock, waiting = self._own_turn.get(who, (asyncio.Lock(), 0))
        self._own_turn[who] = (lock, waiting + 1)
        try:
            async with lock:
                yield
        finally:
            lock, waiting = self._own_turn.pop(who)
            if waiting > 1:
                self._own_turn[who] = (lock, waiting - 1)

    def _give_back(self, done: asyncio.Future[Any]) -> None:
        self._turns.release()
        if not done.cancelled():
            done.exception()  # told to whoever waits; nobody may be waiting any more

    def _begin(self, work: Callable[..., Made], *given: object) -> asyncio.Future[Made]:
        loop = asyncio.get_running_loop()
        done: asyncio.Future[Made] = loop.create_future()

        def tell(made: Made | None, error: BaseException | None) -> None:
            if not done.done():
                done.set_exception(error) if error is not None else done.set_result(made)  # type: ignore[arg-type]

        def inside() -> None:
            made, trouble = None, None
            try:
                made = work(*given)
            except BaseException as error:
                trouble = error
            with contextlib.suppress(RuntimeError):  # the loop has ended: nobody is there to be told
                loop.call_soon_threadsafe(tell, made, trouble)

        threading.Thread(target=inside, daemon=True, name="heavy").start()
        return done
