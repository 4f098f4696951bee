"""Running the server until it is told to stop: shared by `serve` and `demo`."""

from __future__ import annotations

import asyncio
import contextlib
import errno
import logging
import signal
import socket
import ssl
import sys
from collections.abc import AsyncIterator, Callable, Iterator
from dataclasses import dataclass, field, replace
from functools import partial
from types import FrameType

import uvicorn
from starlette.applications import Starlette

from server.app import make_app
from server.calendars.read import read_calendars
from server.commands.follow import Home, follow
from server.commands.lines import AskingProtocol, allow_many_lines
from server.errors import CalendarError, SettingsError
from server.handlers.context import Rooms
from server.handlers.trust import make_trust_app
from server.settings import Settings
from server.store.connection import open_store
from server.trust.certificates import Certificates

STOP_WITHIN_S = 3


class _Beside(uvicorn.Server):
    """A second server in the same loop: only the first one listens for Ctrl-C."""

    @contextlib.contextmanager
    def capture_signals(self) -> Iterator[None]:
        """Leave signals to the first."""
        yield


class PoliteServer(uvicorn.Server):
    """Ends the open event streams first when it stops, so that phones hear of it and nothing has to be broken off."""

    def __init__(self, config: uvicorn.Config, on_started: Callable[[Rooms], None] | None = None) -> None:
        super().__init__(config)
        self._on_started = on_started

    async def startup(self, sockets: list[socket.socket] | None = None) -> None:
        """Start, then say so."""
        await super().startup(sockets)
        state = getattr(self.config.app, "state", None)
        rooms = getattr(state, "rooms", None)
        if self._on_started is not None and isinstance(rooms, Rooms):
            self._on_started(rooms)

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


@dataclass
class Extras:
    """What a server on the home network has besides: https, a page that helps phones trust it, a name, words to say."""

    lines: list[str] = field(default_factory=list)
    started: Callable[[Rooms, int], None] | None = None
    """Called with the port once phones can come."""
    local_key: str = ""
    home: Home | None = None
    """Where it is on the home network, if it is to be reached there."""
    certificates: Certificates | None = None


def run_server(settings: Settings, demo: bool = False, extras: Extras | None = None) -> None:
    """Serve until interrupted. What would stop the server at once is found before it starts, and said in words."""
    for line in what_calendars_lack():
        print(line)
    app = make_app(settings, demo=demo, local_key=extras.local_key if extras else "")

    async def try_store() -> None:
        await (await open_store(settings.data)).close()

    asyncio.run(try_store())
    allow_many_lines()
    # uvicorn gives a signal on once it has stopped: so that what stands after this is done then, as it is after Ctrl-C
    signal.signal(signal.SIGTERM, _end)
    listening = listen(settings)
    host, port = listening.getsockname()[:2]
    for line in extras.lines if extras else [f"Mudproof is open at http://{f'[{host}]' if ':' in host else host}:{port}/"]:
        print(line)
    print(f"The data lies in {settings.data} (stop the server with Ctrl-C)")
    sys.stdout.flush()
    logging.basicConfig(format="%(asctime)s %(message)s")
    logging.getLogger("mudproof").setLevel(logging.INFO)
    asyncio.run(_serve(app, settings, listening, extras or Extras()))


def _end(signum: int, frame: FrameType | None) -> None:
    raise SystemExit(0)


def what_calendars_lack() -> list[str]:
    """A line for each calendar that is left out, and how to mend it. The rest is served: records wait for no calendar."""
    try:
        wrong = list(read_calendars().wrong.values())
    except CalendarError as error:
        return [f"No list can be worked out, though phones share as ever. {error.say}"]
    return [f"Left out: {why}" for why in wrong]


async def _serve(app: Starlette, settings: Settings, listening: socket.socket, extras: Extras) -> None:
    tls, started, port = extras.certificates, extras.started, listening.getsockname()[1]
    config = uvicorn.Config(
        app,
        log_level="warning",
        timeout_graceful_shutdown=STOP_WITHIN_S,
        server_header=False,
        http=AskingProtocol,
        ssl_certfile=str(tls.leaf) if tls else None,
        ssl_keyfile=str(tls.key) if tls else None,
    )
    config.load()
    server = PoliteServer(config, None if started is None else partial(_tell, started, port))
    async with contextlib.AsyncExitStack() as beside:
        if extras.home is not None:
            await beside.enter_async_context(extras.home.announcement)
            await beside.enter_async_context(_following(extras.home, config.ssl))
        if tls is not None:
            await beside.enter_async_context(_trust_page(settings, tls, port))
        await server.serve(sockets=[listening])


@contextlib.asynccontextmanager
async def _following(home: Home, context: ssl.SSLContext | None) -> AsyncIterator[None]:
    """Follow the machine from address to address meanwhile."""
    following = asyncio.create_task(follow(home, context))
    try:
        yield
    finally:
        following.cancel()
        await asyncio.gather(following, return_exceptions=True)


def _tell(started: Callable[[Rooms, int], None], port: int, room: Rooms) -> None:
    started(room, port)


@contextlib.asynccontextmanager
async def _trust_page(settings: Settings, certificates: Certificates, port: int) -> AsyncIterator[None]:
    """The page by which phones come to trust this server, over plain http on the next port; only said where it is taken."""
    try:
        listening = listen(replace(settings, port=settings.port + 1))
    except SettingsError as error:
        print(f"The page that helps phones trust this server cannot be shown. {error.say}")
        yield
        return
    app = make_trust_app(certificates.root, port, settings.names)
    helper = _Beside(
        uvicorn.Config(app, log_level="warning", server_header=False, http=AskingProtocol, timeout_graceful_shutdown=1)
    )
    running = asyncio.create_task(helper.serve(sockets=[listening]))
    try:
        yield
    finally:
        helper.should_exit = True
        await running


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
