"""This machine on its home network: its addresses, its name, and telling other machines of it by multicast DNS."""

from __future__ import annotations

import ipaddress
import socket

import ifaddr
from zeroconf import IPVersion, ServiceInfo
from zeroconf.asyncio import AsyncZeroconf

NAME = "mudproof.local"


def addresses() -> list[str]:
    """Private IPv4 addresses of this machine, the likeliest first; none where it is on no network."""
    found = []
    for adapter in ifaddr.get_adapters():
        for one in adapter.ips:
            if isinstance(one.ip, str):
                address = ipaddress.ip_address(one.ip)
                if address.is_private and not address.is_loopback and not address.is_link_local:
                    found.append(one.ip)
    return sorted(dict.fromkeys(found), key=lambda ip: (not ip.startswith("192.168."), not ip.startswith("10."), ip))


def own_names() -> list[str]:
    """Names by which phones may find it."""
    host = socket.gethostname().split(".")[0].lower()
    own = [f"{host}.local"] if host and host != "localhost" else []
    return list(dict.fromkeys([NAME, *own]))


class Announcement:
    """Tells the network that `mudproof.local` is here, for as long as it is entered."""

    def __init__(self, port: int, ips: list[str], secure: bool) -> None:
        self._port = port
        self._kind = "_https._tcp.local." if secure else "_http._tcp.local."
        self._info = self._about(ips)
        self._zeroconf: AsyncZeroconf | None = None
        self.problem: str | None = None

    def _about(self, ips: list[str]) -> ServiceInfo:
        packed = [socket.inet_aton(ip) for ip in ips]
        return ServiceInfo(self._kind, f"Mudproof.{self._kind}", self._port, addresses=packed, server=f"{NAME}.")

    @property
    def name(self) -> str:
        """What it is called there: with a number behind it where another Mudproof has the name."""
        return self._info.name

    async def __aenter__(self) -> Announcement:
        try:
            self._zeroconf = AsyncZeroconf(ip_version=IPVersion.V4Only)
            await self._zeroconf.async_register_service(self._info, allow_name_change=True)
        except Exception as error:  # a name is a convenience: addresses work without it
            self.problem = f"{type(error).__name__}: {error}"
        return self

    async def move(self, ips: list[str]) -> None:
        """Tell of other addresses, on the networks that there are now."""
        await self.__aexit__()
        self._info, self.problem = self._about(ips), None
        await self.__aenter__()

    async def __aexit__(self, *_: object) -> None:
        if self._zeroconf is not None:
            await self._zeroconf.async_close()
            self._zeroconf = None
