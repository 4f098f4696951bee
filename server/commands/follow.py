"""A server that stays reachable when its machine gets another address, or its certificate grows old: no start anew needed."""

from __future__ import annotations

import asyncio
import logging
import ssl
import sys
from collections.abc import Callable
from dataclasses import dataclass

from server.trust.certificates import Certificates
from server.trust.home_network import Announcement, addresses

EACH_S = 60.0
"""How often it is looked. [s]"""

log = logging.getLogger("mudproof")


@dataclass
class Home:
    """Where a server is on its home network.

    certify: gives the certificates for some addresses, made anew only where they have to be; None over plain http.
    """

    ips: list[str]
    announcement: Announcement
    certify: Callable[[list[str]], Certificates] | None
    say: Callable[[list[str]], str]
    """The sentence that tells where phones find it now."""


async def follow(home: Home, context: ssl.SSLContext | None, each_s: float = EACH_S) -> None:
    """Look at the machine's addresses again and again, for as long as the server runs."""
    shown = home.certify(home.ips).leaf.read_bytes() if home.certify else b""
    while True:
        await asyncio.sleep(each_s)
        try:
            ips = await asyncio.to_thread(addresses)
            if home.certify is not None and context is not None:
                made = await asyncio.to_thread(home.certify, ips or home.ips)
                leaf = made.leaf.read_bytes()
                if leaf != shown:
                    context.load_cert_chain(made.leaf, made.key)  # who is connected already keeps the old one
                    shown = leaf
            if ips and ips != home.ips:
                home.ips = ips
                await home.announcement.move(ips)
                print(home.say(ips))
                sys.stdout.flush()
        except Exception:  # whatever went wrong this time, the next look may go well
            log.exception("the machine's addresses could not be followed")
