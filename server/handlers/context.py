"""What handlers have to hand, kept on the application."""

from __future__ import annotations

import asyncio
import datetime
import hmac
from collections.abc import Callable
from dataclasses import dataclass, field
from typing import Any
from zoneinfo import ZoneInfo, ZoneInfoNotFoundError

from starlette.requests import Request

from server.calendars.read import Calendars, read_calendars
from server.handlers.heavy import Heavy
from server.handlers.kept_list import KeptList
from server.handlers.shell_files import Shell
from server.kernel.read.merge import Record
from server.season.named_climates import NamedClimate
from server.season.rulebook import fingerprint, make_rulebook
from server.settings import Settings
from server.store import records
from server.store.connection import Store
from server.store.devices import Devices
from server.store.digest import KeptDigest
from server.store.photos import Photos
from server.sync.house_clock import HouseClock
from server.sync.pokes import Pokes
from server.trust.codes import Codes
from server.trust.waiting import WaitingRoom

FARTHEST_D = 5 * 366
"""So far from today a day may lie that something is worked out for: what is farther away nobody plans. [d]"""
RULEBOOK = "the rulebook"
"""Whose turn it is while the household's one rulebook is made."""


@dataclass
class Rooms:
    """Everything a door may use. `now` gives the real time; nothing else does."""

    settings: Settings
    store: Store
    climates: dict[str, NamedClimate]
    shell: Shell
    now: Callable[[], datetime.datetime]
    devices: Devices
    photos: Photos
    local_key: str = ""
    """What this machine's own commands show; kept in the data folder, readable by its owner alone."""
    house_clock: HouseClock = field(default_factory=HouseClock)
    pokes: Pokes = field(default_factory=Pokes)
    codes: Codes = field(default_factory=Codes)
    waiting: WaitingRoom = field(default_factory=WaitingRoom)
    heavy: Heavy = field(default_factory=Heavy)
    digest: KeptDigest = field(init=False)
    kept_list: KeptList = field(init=False)
    _rulebook: tuple[str, dict[str, Any]] | None = None
    _worked: dict[str, Any] = field(default_factory=dict)
    """What the last rulebook was put together from: only what changes is worked out again."""
    _knowledge: tuple[int, list[Record]] | None = None
    """With the number of the newest record when they were read."""
    _making: asyncio.Lock = field(default_factory=asyncio.Lock)

    def __post_init__(self) -> None:
        self.digest = KeptDigest(self.store)
        self.kept_list = KeptList(self.store, self.heavy)

    @property
    def calendars(self) -> Calendars:
        """The crop calendars. Raises CalendarError while they cannot be read; records are shared all the same."""
        return read_calendars()

    def is_local(self, authorization: str) -> bool:
        """Whether a request comes from this machine's own command line."""
        return bool(self.local_key) and hmac.compare_digest(authorization.encode(), f"Bearer {self.local_key}".encode())

    def address(self, host: str) -> str:
        """Where a phone finds the app, seen from a request's own host."""
        return f"{'https' if self.settings.secure else 'http'}://{host}"

    def now_ms(self) -> int:
        """Milliseconds since 1970."""
        return int(self.now().timestamp() * 1000)

    def today(self, all_records: list[Record]) -> str:
        """The calendar day at the site, or the day the server was asked to show."""
        if self.settings.today is not None:
            return self.settings.today
        return self.now().astimezone(site_zone(all_records)).date().isoformat()

    async def rulebook(self, all_records: list[Record]) -> dict[str, Any]:
        """The rulebook for these records, made again only when something it depends on changed."""
        mark = fingerprint(all_records)
        async with self._making:
            if self._rulebook is None or self._rulebook[0] != mark:
                made = await self.heavy.run(RULEBOOK, make_rulebook, self.calendars, all_records, self._worked)
                self._rulebook = (mark, made)
            return self._rulebook[1]

    async def knowledge(self) -> list[Record]:
        """The records that growing knowledge is made of; looked for again only after something was stored."""
        newest, _ = await records.newest(self.store)
        if self._knowledge is None or self._knowledge[0] != newest:
            self._knowledge = (newest, await records.knowledge_records(self.store))
        return self._knowledge[1]


def site_zone(all_records: list[Record]) -> datetime.tzinfo:
    """The time zone of the site record; UTC where none is said or it is not known."""
    for record in all_records:
        if record["kind"] == "site" and record["fields"].get("tz"):
            try:
                return ZoneInfo(str(record["fields"]["tz"]))
            except (ZoneInfoNotFoundError, ValueError, OSError):
                return datetime.UTC
    return datetime.UTC


def rooms(request: Request) -> Rooms:
    """The rooms of the application a request came to."""
    found: Rooms = request.app.state.rooms
    return found


def who_asks(request: Request) -> str | None:
    """The phone that a request comes from, by its id; None where nobody has to join."""
    device = getattr(request.state, "device", None)
    return None if device is None else str(device.id)
