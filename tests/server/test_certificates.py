"""The household's own authority, held to OpenSSL's judgement through Python's ssl module."""

from __future__ import annotations

import asyncio
import datetime
import socket
import ssl
import stat
import threading
from pathlib import Path

import pytest
from cryptography import x509
from cryptography.x509.oid import ExtendedKeyUsageOID

import server.commands.follow as follow_module
from server.commands.follow import Home, follow
from server.trust.certificates import LEAF_DAYS, Certificates, ensure_certificates
from server.trust.home_network import Announcement
from tests.server.conftest import run

NOW = datetime.datetime.now(datetime.UTC)
NAMES = ["mudproof.local", "shed.local", "192.168.7.20", "localhost", "127.0.0.1"]


def shakes_hands(made: Certificates, name: str, root: Path | None = None) -> bool:
    """Whether a client that trusts the root takes the server for `name`."""
    server_side = ssl.SSLContext(ssl.PROTOCOL_TLS_SERVER)
    server_side.load_cert_chain(made.leaf, made.key)
    client_side = ssl.create_default_context(cafile=root or made.root)
    near, far = socket.socketpair()

    def serve() -> None:
        try:
            server_side.wrap_socket(far, server_side=True).close()
        except OSError:
            far.close()

    thread = threading.Thread(target=serve)
    thread.start()
    try:
        client_side.wrap_socket(near, server_hostname=name).close()
        return True
    except ssl.SSLError:
        return False
    finally:
        near.close()
        thread.join()


def test_a_phone_that_trusts_the_root_takes_the_server_by_name_and_address(tmp_path: Path) -> None:
    made = ensure_certificates(tmp_path, NAMES, NOW)
    assert all(shakes_hands(made, name) for name in NAMES)
    assert not shakes_hands(made, "example.org") and not shakes_hands(made, "192.168.7.21")


def test_keys_are_readable_by_their_owner_alone(tmp_path: Path) -> None:
    ensure_certificates(tmp_path / "made", NAMES, NOW)
    for name in ("root.key", "server.key"):
        assert stat.S_IMODE((tmp_path / "made" / name).stat().st_mode) == 0o600
    assert stat.S_IMODE((tmp_path / "made").stat().st_mode) == 0o700


def test_the_root_may_not_speak_for_the_internet(tmp_path: Path) -> None:
    """RFC 5280 name constraints: a leaf for a public name, signed with the stolen root key, is believed by nobody."""
    made = ensure_certificates(tmp_path, NAMES, NOW)
    root = made.root.read_bytes()
    made.leaf.unlink()
    stolen = ensure_certificates(tmp_path, ["example.org", "8.8.8.8"], NOW)
    assert stolen.root.read_bytes() == root
    assert not shakes_hands(stolen, "example.org") and not shakes_hands(stolen, "8.8.8.8")


def test_a_certificate_lasts_as_long_as_phones_take_and_is_renewed_in_time(tmp_path: Path) -> None:
    """CA/Browser Forum: at most 398 days; serverAuth must be said."""
    made = ensure_certificates(tmp_path, NAMES, NOW)
    leaf = x509.load_pem_x509_certificate(made.leaf.read_bytes())
    assert (leaf.not_valid_after_utc - leaf.not_valid_before_utc).days <= LEAF_DAYS <= 398
    usage = leaf.extensions.get_extension_for_class(x509.ExtendedKeyUsage).value
    assert list(usage) == [ExtendedKeyUsageOID.SERVER_AUTH]
    first = made.leaf.read_bytes()
    ensure_certificates(tmp_path, NAMES, NOW + datetime.timedelta(days=300))
    assert made.leaf.read_bytes() == first
    ensure_certificates(tmp_path, NAMES, NOW + datetime.timedelta(days=380))
    assert made.leaf.read_bytes() != first


@pytest.mark.parametrize("lost", ["server.crt", "server.key"])
def test_what_is_lost_or_no_longer_fits_is_made_again_under_the_same_root(tmp_path: Path, lost: str) -> None:
    made = ensure_certificates(tmp_path, NAMES, NOW)
    root = made.root.read_bytes()
    (tmp_path / lost).unlink()
    again = ensure_certificates(tmp_path, [*NAMES, "192.168.7.33"], NOW)
    assert again.root.read_bytes() == root and shakes_hands(again, "192.168.7.33")


def test_a_server_follows_its_machine_to_another_address(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """A router that gives out another address: phones are served there without a start anew, under the same root."""
    moved: list[list[str]] = []
    said: list[list[str]] = []

    class Told(Announcement):
        async def move(self, ips: list[str]) -> None:
            moved.append(ips)

    def certify(ips: list[str]) -> Certificates:
        return ensure_certificates(tmp_path, ["mudproof.local", *ips], NOW)

    def say(ips: list[str]) -> str:
        said.append(ips)
        return "said"

    async def certificate_for(port: int, name: str) -> bool:
        trusting = ssl.create_default_context(cafile=tmp_path / "root.crt")
        try:
            _, writer = await asyncio.open_connection("127.0.0.1", port, ssl=trusting, server_hostname=name)
        except ssl.SSLError:
            return False
        writer.close()
        return True

    async def work() -> list[bool]:
        found: list[bool] = []
        monkeypatch.setattr(follow_module, "addresses", lambda: ["192.168.7.20"])
        made = certify(["192.168.7.20"])
        context = ssl.SSLContext(ssl.PROTOCOL_TLS_SERVER)
        context.load_cert_chain(made.leaf, made.key)
        server = await asyncio.start_server(lambda _, writer: writer.close(), "127.0.0.1", 0, ssl=context)
        port = server.sockets[0].getsockname()[1]
        home = Home(["192.168.7.20"], Told(port, ["192.168.7.20"], secure=True), certify, say)
        following = asyncio.create_task(follow(home, context, each_s=0.01))
        await asyncio.sleep(0.1)
        found += [await certificate_for(port, "192.168.7.20"), await certificate_for(port, "192.168.7.33")]
        assert moved == []
        monkeypatch.setattr(follow_module, "addresses", lambda: ["192.168.7.33"])
        while not said:
            await asyncio.sleep(0.01)
        found += [await certificate_for(port, "192.168.7.33"), await certificate_for(port, "mudproof.local")]
        monkeypatch.setattr(follow_module, "addresses", lambda: [])
        await asyncio.sleep(0.1)
        found.append(await certificate_for(port, "192.168.7.33"))
        following.cancel()
        server.close()
        return found

    assert run(work()) == [True, False, True, True, True]
    assert moved == said == [["192.168.7.33"]], "off the network for a while is no move"
