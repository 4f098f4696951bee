"""Joined phones in the database: the only SQL that reads or writes them. Of a token only its hash is kept."""

from __future__ import annotations

import json
from dataclasses import dataclass, replace

from server.store.connection import Store

SEEN_EACH_MS = 10 * 60_000
"""A phone's last day and hour are written down no oftener."""


@dataclass(frozen=True)
class Device:
    """A phone that joined. Times in ms since 1970; gone_ms where it was turned out."""

    id: str
    name: str
    person: str | None
    made_ms: int
    seen_ms: int
    renewed_ms: int
    gone_ms: int | None = None
    guest_places: tuple[str, ...] = ()
    guest_until: str | None = None
    """The last day of a guest; None for a phone of the household's own."""


class Devices:
    """All phones, in memory as on disk. Changes go to the disk first."""

    def __init__(self, store: Store, rows: list[tuple[str, Device]]) -> None:
        self._store = store
        self._hashes = {token: device.id for token, device in rows}
        self._by_id = {device.id: device for _, device in rows}

    def by_hash(self, token: str) -> Device | None:
        """The phone with this token's hash, turned out or not."""
        id_ = self._hashes.get(token)
        return None if id_ is None else self._by_id[id_]

    def get(self, id_: str) -> Device | None:
        """A phone by its id."""
        return self._by_id.get(id_)

    def all(self) -> list[Device]:
        """Every phone, the newest first."""
        return sorted(self._by_id.values(), key=lambda device: -device.made_ms)

    async def add(self, device: Device, token: str) -> None:
        """A phone that has just joined. token: its hash."""
        async with self._store.write() as db:
            await db.execute(
                "INSERT INTO devices (id, token, name, person, made_ms, seen_ms, renewed_ms, guest_places, guest_until) "
                "VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?)",
                (
                    device.id,
                    token,
                    device.name,
                    device.person,
                    device.made_ms,
                    device.seen_ms,
                    device.renewed_ms,
                    json.dumps(device.guest_places),
                    device.guest_until,
                ),
            )
        self._hashes[token] = device.id
        self._by_id[device.id] = device

    async def change(self, id_: str, **fields: str | int | None) -> Device:
        """Put other values in some of its fields. Raises KeyError for a phone that is not there.

        What it was is read inside the transaction, and nothing but turning it out changes whether it is out: whatever was under
        way when a phone was turned out cannot win it back.
        """
        async with self._store.write() as db:
            before = self._by_id[id_]
            gone = before.gone_ms if before.gone_ms is not None else fields.get("gone_ms")
            after = replace(before, **(fields | {"gone_ms": gone}))  # type: ignore[arg-type]
            await db.execute(
                "UPDATE devices SET name = ?, person = ?, seen_ms = ?, renewed_ms = ?, gone_ms = ? WHERE id = ?",
                (after.name, after.person, after.seen_ms, after.renewed_ms, after.gone_ms, id_),
            )
        self._by_id[id_] = after  # before anybody else's turn to write: nothing is waited for in between
        return after


async def read_devices(store: Store) -> Devices:
    """Every phone of a household."""
    rows = await store.reader.execute_fetchall(
        "SELECT token, id, name, person, made_ms, seen_ms, renewed_ms, gone_ms, guest_places, guest_until FROM devices"
    )
    found = []
    for token, id_, name, person, made_ms, seen_ms, renewed_ms, gone_ms, places, until in rows:
        device = Device(id_, name, person, made_ms, seen_ms, renewed_ms, gone_ms, tuple(json.loads(places)), until)
        found.append((str(token), device))
    return Devices(store, found)
