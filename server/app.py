"""Builds the application from settings, store and clock; all doors are in one list."""

from __future__ import annotations

import asyncio
import contextlib
import datetime
import logging
import sqlite3
from collections.abc import AsyncIterator, Callable
from pathlib import Path

from starlette.applications import Starlette
from starlette.exceptions import HTTPException
from starlette.middleware import Middleware
from starlette.requests import Request
from starlette.responses import Response
from starlette.routing import Route

from server.calendars.read_climates import read_climates
from server.errors import MudproofError
from server.handlers import api, crops, files, fits, guests, joining, phones, photos, shell, successions
from server.handlers.answers import error_response
from server.handlers.context import Rooms
from server.handlers.doorkeeper import Doorkeeper
from server.handlers.guard import Guard
from server.handlers.shell_files import read_shell
from server.settings import LOOPBACK, Settings
from server.store.backups import daily
from server.store.connection import open_store
from server.store.devices import read_devices
from server.store.photos import Photos

log = logging.getLogger("mudproof")

COPY_EACH_S = 3600
"""How often it is looked whether today has its copy. [s]"""

DOORS = [
    Route("/", shell.page),
    Route("/service-worker.js", shell.worker),
    Route("/recover", shell.recover),
    Route("/shared", shell.shared, methods=["POST"]),
    Route("/health", api.health),
    Route("/api/sync", api.sync, methods=["POST"]),
    Route("/api/jobs", api.jobs),
    Route("/api/rulebook", api.rulebook),
    Route("/api/climates", api.climates),
    Route("/api/pokes", api.pokes),
    Route("/api/history/{record}", api.history),
    Route("/api/me", phones.me, methods=["GET", "POST"]),
    Route("/api/join", joining.join, methods=["POST"]),
    Route("/api/codes", joining.new_code, methods=["POST"]),
    Route("/api/waiting/{device}", joining.answer, methods=["POST"]),
    Route("/api/phones", phones.phones),
    Route("/api/guest", guests.round_for_guest),
    Route("/api/phones/{device}/turn-out", phones.turn_out, methods=["POST"]),
    Route("/api/crops/{crop}", crops.numbers),
    Route("/api/crops/{crop}/file", crops.calendar_file),
    Route("/api/crop-file", crops.read_calendar_file, methods=["POST"]),
    Route("/api/photos/{sha256}", photos.photo),
    Route("/api/photos/{sha256}", photos.part, methods=["POST"]),
    Route("/api/photos/{sha256}/have", photos.have),
    Route("/api/successions", successions.successions),
    Route("/api/fit", fits.fit),
    Route("/api/room", api.room_through_the_year),
    Route("/api/readings", files.readings, methods=["POST"]),
    Route("/api/months", files.months, methods=["POST"]),
    Route("/api/seeds", files.seeds, methods=["POST"]),
    Route("/{path:path}", shell.file),
]


def clock() -> datetime.datetime:
    """The real time."""
    return datetime.datetime.now(datetime.UTC)


def make_app(
    settings: Settings, now: Callable[[], datetime.datetime] = clock, demo: bool = False, local_key: str = ""
) -> Starlette:
    """The application. Its store is opened when it starts and closed when it stops.

    Raises CalendarError, ValueError: what it is served from is read here, so that what is wrong with that is said at once.
    """
    climates, shell_files = read_climates(), read_shell(settings.today, demo)

    @contextlib.asynccontextmanager
    async def lifespan(app: Starlette) -> AsyncIterator[None]:
        store = await open_store(settings.data)
        try:
            devices = await read_devices(store)
            room = Rooms(
                settings,
                store,
                climates,
                shell_files,
                now,
                devices,
                Photos(settings.data),
                local_key,
            )
            app.state.rooms = room
            keeping = asyncio.create_task(keep_copies(settings.data, now))
            try:
                yield
            finally:
                keeping.cancel()
                await asyncio.gather(keeping, return_exceptions=True)
        finally:
            await store.close()

    return Starlette(
        routes=DOORS,
        middleware=[
            Middleware(Guard, hosts=(*LOOPBACK, *settings.names), any_address=settings.joining),
            Middleware(Doorkeeper, settings=settings),
        ],
        exception_handlers={MudproofError: _told, HTTPException: _not_found},
        lifespan=lifespan,
    )


async def keep_copies(folder: Path, now: Callable[[], datetime.datetime]) -> None:
    """A copy of the database each day, for as long as the server runs."""
    while True:
        try:
            await asyncio.to_thread(daily, folder, now().date())
        except (MudproofError, sqlite3.Error, OSError) as error:
            log.error("no copy of the database was made: %s", error)
        await asyncio.sleep(COPY_EACH_S)


async def _told(request: Request, error: Exception) -> Response:
    assert isinstance(error, MudproofError)
    if error.status >= 500:
        log.error("%s %s: %s", request.method, request.url.path, error.detail)
    return error_response(error)


async def _not_found(request: Request, error: Exception) -> Response:
    assert isinstance(error, HTTPException)
    say = "There is nothing at this address." if error.status_code == 404 else "This door cannot be used in that way."
    told = MudproofError(say, f"{request.method} {request.url.path}: {error.detail}")
    told.status = error.status_code
    return error_response(told)
