"""What stands before every door: known hosts only, no writes from other sites, sizes, and headers on every answer."""

from __future__ import annotations

import ipaddress
import logging

from starlette.datastructures import Headers, MutableHeaders
from starlette.types import ASGIApp, Message, Receive, Scope, Send

from server.errors import MudproofError, NotAllowed
from server.handlers.answers import error_response
from server.settings import LOOPBACK

POLICY = (
    "default-src 'none'; script-src 'self'; style-src 'self'; img-src 'self' blob:; connect-src 'self'; "
    "manifest-src 'self'; worker-src 'self'; base-uri 'none'; form-action 'self'; frame-ancestors 'none'; "
    "require-trusted-types-for 'script'; trusted-types app"
)
HEADERS = {
    "content-security-policy": POLICY,
    "x-content-type-options": "nosniff",
    "referrer-policy": "no-referrer",
    "cross-origin-opener-policy": "same-origin",
    "cross-origin-resource-policy": "same-origin",
    "permissions-policy": "camera=(self), geolocation=(self), microphone=()",
}
KINDS = ("application/json", "application/octet-stream")
"""Kinds of body that no other site's page can send without asking first."""
SAFE = ("GET", "HEAD")
SHARED = "/shared"
"""Where phones hand in what another app shares: `share_target` of the manifest."""

log = logging.getLogger("mudproof")


class Guard:
    """ASGI middleware; keeps no state but the host names it answers for."""

    def __init__(self, app: ASGIApp, hosts: tuple[str, ...] = LOOPBACK, any_address: bool = False) -> None:
        self.app = app
        self.hosts = frozenset(hosts) | {"[::1]"}
        self.any_address = any_address
        """Whether bare addresses are answered for: no page of another site can make a browser send one as Host."""

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        """Refuse, or pass on with our headers added."""
        if scope["type"] != "http":
            await self.app(scope, receive, send)
            return

        begun = False

        async def send_with_headers(message: Message) -> None:
            nonlocal begun
            if message["type"] == "http.response.start":
                begun = True
                headers = MutableHeaders(scope=message)
                for name, value in HEADERS.items():
                    headers[name] = value
            await send(message)

        try:
            # what another app shares is for the worker; where there is none the body is not read
            self.check("GET" if scope["path"] == SHARED else scope["method"], Headers(scope=scope))
        except MudproofError as error:
            await error_response(error)(scope, receive, send_with_headers)
            return
        try:
            await self.app(scope, receive, send_with_headers)
        except Exception as error:
            log.exception("%s %s", scope["method"], scope["path"])
            if begun:
                raise
            told = MudproofError(
                "Something went wrong on the server. Nothing you wrote is lost; it stays on the phone.",
                f"{type(error).__name__} at {scope['method']} {scope['path']}",
            )
            await error_response(told)(scope, receive, send_with_headers)

    def check(self, method: str, headers: Headers) -> None:
        """Raises NotAllowed for an unknown host, or a write that did not come from our own page."""
        host = headers.get("host", "")
        if host_name(host).lower() not in self.hosts and not (self.any_address and _is_address(host_name(host))):
            raise NotAllowed("This address is not one this server answers for.", f"Host: {host!r}")
        if method in SAFE:
            return
        site, origin = headers.get("sec-fetch-site"), headers.get("origin")
        if site is not None:
            if site != "same-origin":
                raise NotAllowed("Another page tried to write here; that is not allowed.", f"Sec-Fetch-Site: {site!r}")
        elif origin is not None and origin.partition("://")[2] != host:
            raise NotAllowed("Another page tried to write here; that is not allowed.", f"Origin: {origin!r}, Host: {host!r}")
        kind = headers.get("content-type", "").split(";")[0].strip().lower()
        if kind not in KINDS:
            raise NotAllowed("Only the app itself may write here.", f"Content-Type: {kind!r}, expected one of {KINDS}")


def _is_address(name: str) -> bool:
    try:
        ipaddress.ip_address(name.strip("[]"))
    except ValueError:
        return False
    return True


def host_name(host: str) -> str:
    """A Host header without its port."""
    if host.startswith("["):
        return host.split("]")[0] + "]"
    return host.rsplit(":", 1)[0]
