"""Running the server until it is told to stop: shared by `serve` and `demo`."""

from __future__ import annotations

import asyncio
import sys

import uvicorn

from server.app import make_app
from server.calendars.read import read_calendars
from server.handlers.shell_files import read_shell
from server.settings import Settings
from server.store.connection import open_store

STOP_WITHIN_S = 3


def run_server(settings: Settings, demo: bool = False) -> None:
    """Serve until interrupted. What would stop the server at once is found before it starts, and said in words."""
    read_calendars()
    read_shell(settings.today, demo)

    async def try_store() -> None:
        await (await open_store(settings.data)).close()

    asyncio.run(try_store())
    print(f"Mudproof is open at http://{settings.host}:{settings.port}/ (stop it with Ctrl-C)")
    print(f"The data lies in {settings.data}")
    sys.stdout.flush()
    uvicorn.run(
        make_app(settings, demo=demo),
        host=settings.host,
        port=settings.port,
        log_level="warning",
        timeout_graceful_shutdown=STOP_WITHIN_S,
        server_header=False,
    )
