"""Only joined phones are told anything: the doors of `/api/` behind a cookie, where phones have to join at all."""

from __future__ import annotations

from starlette.datastructures import Headers, MutableHeaders
from starlette.types import ASGIApp, Message, Receive, Scope, Send

from server.errors import MudproofError, NotAllowed, NotJoined
from server.handlers.answers import error_response
from server.handlers.context import Rooms
from server.handlers.guests import over
from server.settings import Settings
from server.store.devices import SEEN_EACH_MS, Device
from server.trust.codes import token_hash
from server.trust.waiting import Asking

OPEN = ("/api/join", "/api/me")
"""Doors for phones that have not joined yet."""
COOKIE_S = 400 * 86_400
"""The longest that browsers keep a cookie. [s]"""
GUEST_DOORS = ("/api/sync", "/api/guest", "/api/pokes")
RENEW_MS = 7 * 86_400_000


def cookie_name(settings: Settings) -> str:
    """`__Host-` ties a cookie to this host and to https, where there is https."""
    return "__Host-mudproof" if settings.secure else "mudproof"


def cookie(settings: Settings, token: str) -> str:
    """The header that gives a phone its token."""
    secure = "; Secure" if settings.secure else ""
    return f"{cookie_name(settings)}={token}; Path=/; Max-Age={COOKIE_S}; HttpOnly; SameSite=Lax{secure}"


def token_of(headers: Headers, settings: Settings) -> str | None:
    """The token that a phone shows, if any. Our one cookie is read by itself: others of this host may hold anything."""
    ours = f"{cookie_name(settings)}="
    for one in "; ".join(headers.getlist("cookie")).split(";"):
        if one.strip().startswith(ours):
            return one.strip().removeprefix(ours)
    return None


class Doorkeeper:
    """ASGI middleware behind Guard. Leaves the joined phone as `device`, one that waits as `asking` (or None) in the request's
    state; and `check_in`, which raises NotJoined once that phone is turned out. It is asked as each part of a body comes, when
    something is written, and before anything is answered: what is under way then neither writes nor is told anything."""

    def __init__(self, app: ASGIApp, settings: Settings) -> None:
        self.app = app
        self.settings = settings

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        """Let in, or say that joining comes first."""
        if scope["type"] != "http" or not self.settings.joining or not scope["path"].startswith("/api/"):
            await self.app(scope, receive, send)
            return
        room: Rooms = scope["app"].state.rooms
        headers = Headers(scope=scope)
        token = token_of(headers, self.settings)
        device = room.devices.by_hash(token_hash(token)) if token else None
        joined = device if device is not None and device.gone_ms is None else None
        asking = room.waiting.with_token(token_hash(token), room.now_ms()) if token and device is None else None
        scope.setdefault("state", {}).update(device=joined, asking=asking)
        if joined is None and scope["path"] not in OPEN and not room.is_local(headers.get("authorization", "")):
            await error_response(_refusal(device, asking))(scope, receive, send)
            return
        if joined is not None and joined.guest_until is not None:
            refusal = await _guest_refusal(room, joined, scope["path"])
            if refusal is not None:
                await error_response(refusal)(scope, receive, send)
                return
        if joined is None:
            await self.app(scope, receive, send)
            return
        renewed = await self._seen(room, joined)
        goes_itself = scope["path"] == f"/api/phones/{joined.id}/turn-out"

        def check_in() -> None:
            now = room.devices.get(joined.id)
            if now is None or (now.gone_ms is not None and not goes_itself):
                raise _refusal(now, None)

        async def receive_while_in() -> Message:
            message = await receive()
            if message["type"] == "http.request":  # when it leaves there is nobody to be told
                check_in()
            return message

        refused = False

        async def send_while_in(message: Message) -> None:
            nonlocal refused
            if message["type"] == "http.response.start":
                try:
                    check_in()
                except NotJoined as error:
                    refused = True
                    await error_response(error)(scope, receive, send)
                if renewed and token and not refused:
                    MutableHeaders(scope=message).append("set-cookie", cookie(self.settings, token))
            if not refused:
                await send(message)

        scope["state"]["check_in"] = check_in
        await self.app(scope, receive_while_in, send_while_in)

    async def _seen(self, room: Rooms, device: Device) -> bool:
        """Write down that it was here; whether its cookie is due to be renewed."""
        now_ms = room.now_ms()
        renew = now_ms - device.renewed_ms > RENEW_MS
        if renew or now_ms - device.seen_ms > SEEN_EACH_MS:
            await room.devices.change(device.id, seen_ms=now_ms, renewed_ms=now_ms if renew else device.renewed_ms)
        return renew


async def _guest_refusal(room: Rooms, guest: Device, path: str) -> MudproofError | None:
    """Why a guest may not come in here, or no longer; None where it may."""
    if path not in (*OPEN, *GUEST_DOORS):
        return NotAllowed(
            "As a guest you see the round of the places you were given, and no more.", f"guest {guest.id}: {path}"
        )
    if path != "/api/me" and over(guest, room.today(await room.knowledge())):
        return NotJoined("Your time as a guest has ended. Thank you. What you wrote and had not shared stays on this phone.")
    return None


def _refusal(device: Device | None, asking: Asking | None) -> MudproofError:
    if asking is not None:
        return NotJoined("This phone waits to be let in, on a phone that has joined. What is written here stays.")
    if device is None:
        return NotJoined("This phone has not joined the household yet. Join it with a code; what is written here stays.")
    return NotJoined(
        "This phone was turned out. What is written here stays; join it again with a new code to share it.",
        f"device {device.id} gone since {device.gone_ms}",
    )
