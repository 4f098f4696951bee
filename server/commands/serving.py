"""Running the server until it is told to stop: shared by `serve` and `demo`."""

from __future__ import annotations

import asyncio
import errno
import socket
import sys
from types import FrameType

import uvicorn

from server.app import make_app
from server.calendars.read import read_calendars
from server.calendars.read_climates import read_climates
from server.errors import SettingsError
from server.handlers.context import Rooms
from server.handlers.shell_files import read_shell
from server.settings import Settings
from server.store.connection import open_store

STOP_WITHIN_S = 3


class PoliteServer(uvicorn.Server):
    """Ends the open event streams first when it stops, so that phones hear of it and nothing has to be broken off."""

    def handle_exit(self, sig: int, frame: FrameType | None) -> None:
        """Stop. A second Ctrl-C breaks nothing off: it is over in a moment anyway."""
        if not self.should_exit:
            super().handle_exit(sig, frame)

    async def shutdown(self, sockets: list[socket.socket] | None = None) -> None:
        """Say goodbye, then stop."""
        state = getattr(self.config.app, "state", None)
        rooms = getattr(state, "rooms", None)
        if isinstance(rooms, Rooms):
            await rooms.pokes.close()
        await super().shutdown(sockets)


def run_server(settings: Settings, demo: bool = False) -> None:
    """Serve until interrupted. What would stop the server at once is found before it starts, and said in words."""
    read_calendars()
    read_climates()
    read_shell(settings.today, demo)

    async def try_store() -> None:
        await (await open_store(settings.data)).close()

    asyncio.run(try_store())
    listening = listen(settings)
    host, port = listening.getsockname()[:2]
    print(f"Mudproof is open at http://{f'[{host}]' if ':' in host else host}:{port}/ (stop it with Ctrl-C)")
    print(f"The data lies in {settings.data}")
    sys.stdout.flush()
    config = uvicorn.Config(
        make_app(settings, demo=demo), log_level="warning", timeout_graceful_shutdown=STOP_WITHIN_S, server_header=False
    )
    PoliteServer(config).run(sockets=[listening])


def listen(settings: Settings) -> socket.socket:
    """The socket to be served on. Raises SettingsError where the port cannot be had."""
    family = socket.AF_INET6 if ":" in settings.host else socket.AF_INET
    listening = socket.socket(family, socket.SOCK_STREAM)
    listening.setsockopt(socket.SOL_SOCKET, socket.SO_REUSEADDR, 1)
    try:
        listening.bind((settings.host, settings.port))
        listening.listen(128)
    except OSError as error:
        listening.close()
        taken = error.errno == errno.EADDRINUSE
        raise SettingsError(
            f"Port {settings.port} is in use already, perhaps by another Mudproof. Stop that one, or give another --port."
            if taken
            else f"Port {settings.port} cannot be opened here. Give another --port, above 1023.",
            f"bind {settings.host}:{settings.port}: {error}",
        ) from error
    return listening
