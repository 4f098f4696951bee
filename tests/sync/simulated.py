"""Whole households in bad weather, from a seed: `python -m tests.sync.simulated 5000` runs so many, `--seed N` one again.

Phones write, push, lose requests and replies, send twice, late and out of order; their clocks are years wrong and jump, and
so does the server's; phones die and come back with what was on their disk. The server dies at any statement of a write,
before or after its commit; its disk is full for a while; it is put back from an older copy. Some phones run an older app,
some a newer one than the server, and what those write waits until the server is updated. Afterwards all that was acknowledged
is there, nothing was dropped unsaid, no word stands that somebody saw and corrected, everybody holds the same, and
everybody's list is the same.
"""

from __future__ import annotations

import copy
import json
import random
import shutil
import sqlite3
import sys
import tempfile
import traceback
from pathlib import Path
from typing import Any

from server.errors import BadRequest, StoreError
from server.kernel.read.digest import Digest, mark
from server.kernel.read.merge import field_stamps
from server.kernel.settle import settle
from server.store import records
from server.store.connection import Store, open_store
from server.store.digest import KeptDigest
from server.sync.exchange import exchange
from server.sync.messages import SCHEMA, read_push
from tests.kernel import small
from tests.sync.model import START_MS, Loop, Phone

YEAR_MS = 365 * 86_400_000
SKEWS = (0, 0, 0, 0, 90_000, -90_000, 3_600_000, -86_400_000, 3 * YEAR_MS, -20 * YEAR_MS)
STEPS = (40, 120)
ROUNDS = (3, 200, 200)
"""Changes that a phone sends at once."""
SERVER_SKEWS = (0, 0, 0, 10_000, -10_000, 3_600_000, -3_600_000, 3 * 86_400_000, -3 * 86_400_000, 2 * YEAR_MS, -2 * YEAR_MS)
VERSIONS = (None, 1, 1, 1, 1, SCHEMA + 1)
TODAY = "2031-05-22"
MEMORY = Path("/dev/shm")


class Faulty:
    """The server's one writing connection, which fails now and then at any of its statements. Reads pass."""

    def __init__(self, real: Any, dice: random.Random) -> None:
        self._real = real
        self._dice = dice
        self.full = False
        self.often = 0.0

    def __getattr__(self, name: str) -> Any:
        return getattr(self._real, name)

    async def execute(self, *given: Any) -> Any:
        self._fail(0.25)
        return await self._real.execute(*given)

    async def execute_fetchall(self, *given: Any) -> Any:
        self._fail(0.25)
        return await self._real.execute_fetchall(*given)

    async def executemany(self, *given: Any) -> Any:
        if self.full:
            raise sqlite3.OperationalError("database or disk is full")
        self._fail(0.5)
        return await self._real.executemany(*given)

    async def commit(self) -> None:
        self._fail(1.0)
        await self._real.commit()
        self._fail(1.0)  # it is on the disk, but nobody hears of it

    def _fail(self, share: float) -> None:
        if self._dice.random() < self.often * share:
            raise sqlite3.OperationalError("disk I/O error")


class Household:
    """One household and its bad luck, all of it from one seed."""

    def __init__(self, seed: int, loop: Loop) -> None:
        self.dice = random.Random(seed)
        self.loop = loop
        self.folder = Path(tempfile.mkdtemp(dir=MEMORY if MEMORY.is_dir() else None))
        self.now_ms = START_MS
        self.server_skew_ms = 0
        self.seen: dict[str, dict[str, str]] = {}
        """For each word written, the word it took the place of where it was written, by what it was written about."""
        self.words = 0
        self.store = self.open()
        names = [f"{letter}" * 8 for letter in "abcdefg"]
        self.phones = [
            Phone(name, self.dice.choice(SKEWS), self.dice.choice(VERSIONS), self.dice.choice(ROUNDS))
            for name in names[: self.dice.randint(2, 7)]
        ]
        self.on_the_line: list[bytes] = []
        self.copies: list[Path] = []
        self.values: dict[tuple[str, str], set[str]] = {}
        for record in small.holding().records:
            self.write(self.phones[0], record["id"], record["kind"], record["fields"])

    def open(self) -> Store:
        """The database, behind a connection that fails."""
        store: Store = self.loop.run(open_store(self.folder / "data"))
        self.digest = KeptDigest(store)
        store.writer = Faulty(store.writer, self.dice)  # type: ignore[assignment]
        return store

    def close(self) -> None:
        self.weather().often = 0
        self.loop.run(self.store.close())

    def weather(self) -> Faulty:
        found = self.store.writer
        assert isinstance(found, Faulty)
        return found

    def write(self, phone: Phone, id_: str, kind: str, fields: dict[str, Any]) -> None:
        phone.write(id_, self.now_ms, fields, kind)
        for name, value in fields.items():
            self.values.setdefault((id_, name), set()).add(json.dumps(value))

    @property
    def server_ms(self) -> int:
        """What the server's clock says."""
        return self.now_ms + self.server_skew_ms

    def step(self) -> None:
        """One thing that happens."""
        self.now_ms += self.dice.choice((10, 1000, 60_000, 3_600_000))
        phone = self.dice.choice(self.phones)
        act = self.dice.choice(ACTS)
        act(self, phone)

    def something_is_written(self, phone: Phone) -> None:
        for _ in range(self.dice.randint(1, 4)):
            id_ = f"d{self.dice.randint(1, 9)}"
            fields = self.dice.choice(
                (
                    {"on": f"2031-05-{self.dice.randint(1, 22):02d}", "did": "look", "place": "glass"},
                    {"note": None},
                    {"count": self.dice.randint(0, 30)},
                    {"gone": self.dice.random() < 0.5},
                    {"of_the_future": [self.dice.randint(0, 9)]},
                )
            )
            self.write(phone, id_, "diary", fields | ({"note": self.new_word(phone, id_)} if "note" in fields else {}))
        if phone.schema == SCHEMA + 1:
            self.write(phone, "n1", "kind_of_the_future", {"deep": {"down": [self.dice.randint(0, 9), {"more": True}]}})
        if self.dice.random() < 0.3:
            self.write(phone, "b1", "batch", {"variety": "v.bell", "year": 2031, "want": self.dice.randint(1, 20)})

    def new_word(self, phone: Phone, id_: str) -> str:
        """A word nobody wrote before, in the place of what this phone shows."""
        self.words += 1
        word = f"word {self.words}"
        shown = phone.records.get(id_, {}).get("fields", {}).get("note")
        self.seen.setdefault(id_, {})[word] = shown
        return word

    def meets(self, phone: Phone, lose_reply: bool = False) -> bool:
        """One request; whether its reply came."""
        sent = phone.outbox[: phone.most]
        body = phone.request()
        if self.dice.random() < 0.1:
            self.on_the_line.append(body)  # and once more, later
        try:
            reply, _ = self.loop.run(exchange(self.store, read_push(body), self.server_ms, digest=self.digest))
        except (StoreError, BadRequest):
            return False
        if lose_reply:
            return False
        before = copy.deepcopy(phone)
        phone.take(json.loads(json.dumps(reply)), sent, self.now_ms)
        compare(phone, reply)
        if self.dice.random() < 0.05:  # the phone died before its transaction was through
            self.phones[self.phones.index(phone)] = before
        return True

    def shares(self, phone: Phone) -> None:
        for _ in range(self.dice.randint(1, 6)):
            if not self.meets(phone, self.dice.random() < 0.15):
                return
            phone = next(one for one in self.phones if one.device == phone.device)

    def an_old_request_arrives(self, _: Phone) -> None:
        if self.on_the_line:
            body = self.on_the_line.pop(self.dice.randrange(len(self.on_the_line)))
            try:
                self.loop.run(exchange(self.store, read_push(body), self.server_ms, digest=self.digest))
            except (StoreError, BadRequest):
                return

    def server_clock_jumps(self, _: Phone) -> None:
        self.server_skew_ms = self.dice.choice(SERVER_SKEWS)

    def clock_jumps(self, phone: Phone) -> None:
        phone.skew_ms = self.dice.choice(SKEWS)

    def server_dies(self, _: Phone) -> None:
        self.close()
        self.store = self.open()

    def weather_turns(self, _: Phone) -> None:
        self.weather().often = self.dice.choice((0.0, 0.0, 0.1, 0.3))
        self.weather().full = self.dice.random() < 0.15

    def copy_is_kept(self, _: Phone) -> None:
        self.close()
        kept = self.folder / f"copy{len(self.copies)}"
        shutil.copytree(self.folder / "data", kept)
        self.copies.append(kept)
        self.store = self.open()

    def copy_is_put_back(self, _: Phone) -> None:
        if self.copies:
            self.close()
            shutil.rmtree(self.folder / "data")
            shutil.copytree(self.dice.choice(self.copies), self.folder / "data")
            self.store = self.open()

    def calm(self) -> None:
        """Fair weather, until everybody has everything; then look."""
        self.weather().often, self.weather().full = 0.0, False
        for phone in self.phones:
            phone.schema = SCHEMA  # the server has caught up with the newest, and the phones with it
        for _ in range(3):
            for phone in self.phones:
                for _ in range(60):
                    sent = phone.outbox[: phone.most]
                    self.now_ms += 1000
                    reply, _ = self.loop.run(
                        exchange(self.store, read_push(phone.request()), self.server_ms, digest=self.digest)
                    )
                    phone.take(json.loads(json.dumps(reply)), sent, self.now_ms)
                    compare(phone, reply)
                    if not phone.outbox and not reply["more"] and not reply["reset"]:
                        break
                else:
                    raise AssertionError("sharing does not come to an end")
        held = {record["id"]: record for record in self.loop.run(records.all_records(self.store))}
        # of an edit by a fast clock two copies may know two stamps, the later and the one it was brought down to; and when both
        # are put back, what knew of the bringing down is gone: then its words must be there all the same
        brought_down = dict(self.loop.run(self.store.reader.execute_fetchall("SELECT given, made FROM restamps")))
        lists = settle(small.rulebook(), list(held.values()), TODAY)
        for phone in self.phones:
            assert phone.records == held, f"{phone.device} and the server differ"
            assert settle(small.rulebook(), list(phone.records.values()), TODAY) == lists
            for (id_, name, stamp), value in phone.acknowledged.items():
                least = min(stamp, brought_down.get(stamp, stamp))
                later = id_ in held and field_stamps(held[id_])[name] >= least
                assert later or (id_ in held and held[id_]["fields"][name] == value), (
                    f"{id_}.{name} was acknowledged and is lost"
                )
            for change in phone.written:
                for name in change["fields"]:
                    assert id_in(held, change["id"], name), f"{change['id']}.{name} was dropped unsaid"
        for id_, before in self.seen.items():
            standing = held[id_]["fields"]["note"] if id_ in held and "note" in held[id_]["fields"] else None
            corrected = {word for word in before.values() if word is not None}
            assert standing is None or standing not in corrected, f"{id_} says {standing}, which somebody saw and corrected"
        for id_, record in held.items():
            for name, value in record["fields"].items():
                assert json.dumps(value) in self.values[id_, name], f"{id_}.{name} holds what nobody wrote"


def compare(phone: Phone, reply: dict[str, Any]) -> None:
    """After any exchange that both sides call done they hold the same; the digest of the server says so each time."""
    if phone.outbox or reply["reset"] or not reply["digest"] or reply["digest"][0] != reply["upto"]:
        return
    mine = Digest()
    for record in phone.records.values():
        mine = mine.moved(None, mark(record))
    assert str(mine) == reply["digest"][1], f"{phone.device} and the server differ after an exchange"


def id_in(held: dict[str, Any], id_: str, name: str) -> bool:
    return id_ in held and name in held[id_]["fields"]


ACTS = (
    *[Household.something_is_written] * 6,
    *[Household.shares] * 7,
    *[Household.an_old_request_arrives] * 2,
    Household.clock_jumps,
    Household.server_clock_jumps,
    *[Household.weather_turns] * 2,
    Household.server_dies,
    Household.copy_is_kept,
    Household.copy_is_put_back,
)


def simulate(seed: int, loop: Loop) -> None:
    """One household's history. Raises AssertionError where something is lost."""
    household = Household(seed, loop)
    try:
        for _ in range(household.dice.randint(*STEPS)):
            household.step()
        household.calm()
    finally:
        household.close()
        shutil.rmtree(household.folder)


def main(given: list[str]) -> int:
    """Run many, or one again. Returns the exit code."""
    seeds = [int(given[1])] if given[:1] == ["--seed"] else list(range(int(given[0]) if given else 1000))
    loop = Loop()
    bad = []
    for seed in seeds:
        try:
            simulate(seed, loop)
        except Exception:
            bad.append(seed)
            print(f"seed {seed}:")
            traceback.print_exc()
    loop.stop()
    print(f"{len(seeds)} households, {len(bad)} with something lost{': ' + str(bad[:20]) if bad else ''}")
    return 1 if bad else 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
