"""A phone as the server meets it: records, outbox, cursor and clock, in plain Python; and an event loop of one's own."""

from __future__ import annotations

import asyncio
import json
import threading
from collections.abc import Coroutine
from typing import Any

from server.kernel.read import stamps
from server.kernel.read.merge import field_stamps, merge_record

START_MS = 1_900_000_000_000
DEVICES = ("aaaaaaaa", "bbbbbbbb", "cccccccc")
Record = dict[str, Any]


class Loop:
    """An event loop in a thread of its own: a browser test may hold this one's."""

    def __init__(self) -> None:
        self.loop = asyncio.new_event_loop()
        self.thread = threading.Thread(target=self.loop.run_forever, daemon=True)
        self.thread.start()

    def run(self, work: Coroutine[Any, Any, Any]) -> Any:
        return asyncio.run_coroutine_threadsafe(work, self.loop).result(30)

    def stop(self) -> None:
        self.loop.call_soon_threadsafe(self.loop.stop)
        self.thread.join()
        self.loop.close()


class Phone:
    """What a phone keeps: records, outbox, cursor, epoch, clock."""

    def __init__(self, device: str, skew_ms: int, schema: int | None = 1, most: int = 200) -> None:
        self.device = device
        self.skew_ms = skew_ms
        self.most = most
        """So many changes it sends at once."""
        self.schema = schema
        """The version of the talk that its app speaks; None for one from before versions were told."""
        self.records: dict[str, Record] = {}
        self.outbox: list[Record] = []
        self.since = 0
        self.page: list[int] | None = None
        self.epoch: str | None = None
        self.clock = stamps.Reading(0, 0)
        self.heard: str | None = None
        self.offset_ms = 0
        self.written: list[Record] = []
        self.acknowledged: dict[tuple[str, str, str], object] = {}
        """What was taken: the value by record, field and the stamp it was taken with."""

    def write(self, id_: str, now_ms: int, fields: dict[str, Any], kind: str = "diary") -> None:
        self.clock = stamps.tick(self.clock, now_ms + self.skew_ms + self.offset_ms)
        change = {"id": id_, "kind": kind, "stamp": stamps.write(self.clock, self.device), "fields": fields}
        self.records[id_] = merge_record(self.records.get(id_), change)
        self.outbox.append(change)
        self.written.append(change)

    def request(self) -> bytes:
        body = {"since": self.since, "page": self.page, "epoch": self.epoch, "device": self.device, "heard": self.heard}
        version = {} if self.schema is None else {"schema": self.schema}
        return json.dumps(body | version | {"changes": self.outbox[: self.most]}).encode()

    def take(self, reply: dict[str, Any], sent: list[Record], now_ms: int) -> None:
        made = {row["from"]: row["to"] for row in reply["restamped"]}
        taken = {(row["id"], row["stamp"]) for row in reply["taken"]}
        assert not reply["refused"]
        done = [change for change in sent if (change["id"], change["stamp"]) in taken]
        for change in done:
            for name, stamp in field_stamps(change).items():
                self.acknowledged[change["id"], name, made.get(stamp, stamp)] = change["fields"][name]
        gone = {id(change) for change in done}  # what was sent and no more: another row may have the same stamp
        self.outbox = [change for change in self.outbox if id(change) not in gone]
        waiting = [stamp for change in self.outbox for stamp in [change["stamp"], *field_stamps(change).values()]]
        heard = max([stamps.read(reply["clock"]), *map(stamps.read, [*made.values(), *waiting])])
        self.heard = max(self.heard or "", reply["clock"])
        if made:
            self.records = {id_: _restamped(record, made) for id_, record in self.records.items()}
        self.clock = heard if made and not reply["reset"] else max(self.clock, heard)
        for record in reply["records"]:
            self.records[record["id"]] = merge_record(self.records.get(record["id"]), record)
        behind = reply["now"] - now_ms - self.skew_ms
        self.offset_ms = behind if abs(behind) > 120_000 else 0
        for record in reply["records"]:
            for stamp in field_stamps(record).values():
                self.clock = stamps.hear(self.clock, stamps.read(stamp), now_ms + self.skew_ms + self.offset_ms)
        self.epoch = reply["epoch"]
        if reply["reset"]:
            self.outbox += [json.loads(json.dumps(record)) for record in self.records.values()]
            self.since, self.page = 0, None
            return
        self.page = reply["page"]
        if self.page is None:
            self.since = reply["upto"]


def _restamped(record: Record, made: dict[str, str]) -> Record:
    after: Record | None = None
    for name, stamp in field_stamps(record).items():
        part = {
            "id": record["id"],
            "kind": record["kind"],
            "stamp": made.get(stamp, stamp),
            "fields": {name: record["fields"][name]},
        }
        after = merge_record(after, part)
    assert after is not None
    return after
