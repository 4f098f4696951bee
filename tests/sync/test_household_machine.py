"""Whole households by the thousand small mishaps: phones that tick, lose the line, repeat, have wrong clocks; a server
that dies, loses its reply, or is put back from an older copy. Afterwards all agree and nothing written down is lost.

The phones here are a plain model of the phone's outbox and cursor; the server is the real exchange over a real store.
"""

from __future__ import annotations

import json
import shutil
import tempfile
from pathlib import Path
from typing import Any

from hypothesis import settings
from hypothesis import strategies as st
from hypothesis.stateful import Bundle, RuleBasedStateMachine, consumes, initialize, invariant, rule

from server.kernel.read.merge import field_stamps
from server.store import records
from server.store.connection import open_store
from server.sync.exchange import exchange
from server.sync.messages import read_push
from tests.sync.model import DEVICES, START_MS, Loop, Phone, Record


class HouseholdMachine(RuleBasedStateMachine):
    """Rules are what may happen on a bad afternoon."""

    copies = Bundle("copies")
    under_way = Bundle("under_way")

    @initialize(skews=st.lists(st.sampled_from([0, 0, -86_400_000, 3_600_000, 63_000_000_000]), min_size=3, max_size=3))
    def open_up(self, skews: list[int]) -> None:
        self.loop = Loop()
        self.folder = Path(tempfile.mkdtemp())
        self.now_ms = START_MS
        self.store = self.loop.run(open_store(self.folder / "data"))
        self.phones = [Phone(device, skew) for device, skew in zip(DEVICES, skews, strict=True)]
        self.written: dict[tuple[str, str], set[str]] = {}
        self.copy_number = 0

    def _exchange(self, phone: Phone, lose_reply: bool = False) -> dict[str, Any]:
        self.now_ms += 1000
        sent = phone.outbox[:200]
        push = read_push(phone.request())
        reply, _ = self.loop.run(exchange(self.store, push, self.now_ms))
        if not lose_reply:
            phone.take(json.loads(json.dumps(reply)), sent, self.now_ms)
        return reply  # type: ignore[no-any-return]

    def _share(self, phone: Phone) -> None:
        for _ in range(50):
            reply = self._exchange(phone)
            if not phone.outbox and not reply["more"] and not reply["reset"]:
                return
        raise AssertionError("sharing does not come to an end")

    @rule(who=st.integers(0, 2), id_=st.sampled_from(["d1", "d2", "d3"]), name=st.sampled_from(["count", "note", "gone"]),
          value=st.integers(0, 9))  # fmt: skip
    def write_something_down(self, who: int, id_: str, name: str, value: int) -> None:
        self.now_ms += 10
        content: Any = {"count": value, "note": f"note {value}", "gone": value % 2 == 0}[name]
        self.phones[who].write(id_, self.now_ms, {name: content})
        self.written.setdefault((id_, name), set()).add(json.dumps(content))

    @rule(who=st.integers(0, 2))
    def meet_the_server(self, who: int) -> None:
        self._share(self.phones[who])

    @rule(target=under_way, who=st.integers(0, 2))
    def a_push_is_held_up_on_the_line(self, who: int) -> bytes:
        return self.phones[who].request()

    @rule(late=consumes(under_way))
    def it_arrives_late_and_out_of_order(self, late: bytes) -> None:
        self.now_ms += 1000
        self.loop.run(exchange(self.store, read_push(late), self.now_ms))

    @rule(who=st.integers(0, 2), skew=st.sampled_from([0, 240_000, 1_800_000, -86_400_000]))
    def clock_is_set(self, who: int, skew: int) -> None:
        self.phones[who].skew_ms = skew

    @rule()
    def an_hour_passes(self) -> None:
        self.now_ms += 3_600_000

    @rule(who=st.integers(0, 2))
    def lose_the_reply(self, who: int) -> None:
        self._exchange(self.phones[who], lose_reply=True)

    @rule(who=st.integers(0, 2))
    def push_the_same_twice(self, who: int) -> None:
        self._exchange(self.phones[who], lose_reply=True)
        self._exchange(self.phones[who])

    @rule()
    def server_dies_and_comes_back(self) -> None:
        self.loop.run(self.store.close())
        self.store = self.loop.run(open_store(self.folder / "data"))

    @rule(target=copies)
    def keep_a_copy(self) -> Path:
        self.loop.run(self.store.close())
        self.copy_number += 1
        kept = self.folder / f"copy{self.copy_number}"
        shutil.copytree(self.folder / "data", kept)
        self.store = self.loop.run(open_store(self.folder / "data"))
        return kept

    @rule(kept=consumes(copies))
    def server_is_put_back_from_a_copy(self, kept: Path) -> None:
        self.loop.run(self.store.close())
        shutil.rmtree(self.folder / "data")
        shutil.copytree(kept, self.folder / "data")
        self.store = self.loop.run(open_store(self.folder / "data"))

    @invariant()
    def nothing_unacknowledged_is_dropped(self) -> None:
        for phone in getattr(self, "phones", []):
            kept = {(change["id"], change["stamp"]) for change in phone.outbox}
            told = {(id_, name) for id_, name, _ in phone.acknowledged}
            for change in phone.written:
                assert (change["id"], change["stamp"]) in kept or all((change["id"], name) in told for name in change["fields"])

    def teardown(self) -> None:
        if not hasattr(self, "store"):
            return
        try:
            self._all_agree_and_nothing_is_lost()
        finally:
            self.loop.run(self.store.close())
            self.loop.stop()
            shutil.rmtree(self.folder)

    def _all_agree_and_nothing_is_lost(self) -> None:
        for _ in range(3):
            for phone in self.phones:
                self._share(phone)
        held = {record["id"]: record for record in self.loop.run(records.all_records(self.store))}
        for phone in self.phones:
            assert phone.records == held
            for id_, name, stamp in phone.acknowledged:
                assert field_stamps(held[id_])[name] >= stamp, "an acknowledged edit gave way to an older one"
        self._own_later_edit_wins(held)
        for (id_, name), values in self.written.items():
            assert json.dumps(held[id_]["fields"][name]) in values

    def _own_later_edit_wins(self, held: dict[str, Record]) -> None:
        """Where one phone alone wrote a field, its last word stands, whatever its clock did."""
        writers: dict[tuple[str, str], set[str]] = {}
        last: dict[tuple[str, str], Any] = {}
        for phone in self.phones:
            for change in phone.written:
                for name, value in change["fields"].items():
                    writers.setdefault((change["id"], name), set()).add(phone.device)
                    last[change["id"], name] = value
        for (id_, name), devices in writers.items():
            if len(devices) == 1:
                assert held[id_]["fields"][name] == last[id_, name]


TestHousehold = HouseholdMachine.TestCase
TestHousehold.settings = settings(stateful_step_count=30)
