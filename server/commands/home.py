"""`mudproof serve` and `mudproof join`: the household's own server on its home network, and codes for its phones."""

from __future__ import annotations

import argparse
import contextlib
import datetime
import json
import os
import secrets
import ssl
import sys
import urllib.error
import urllib.request
from dataclasses import dataclass
from pathlib import Path

import segno

from server.commands.follow import Home
from server.commands.serving import Extras, run_server
from server.errors import SettingsError
from server.handlers.context import Rooms
from server.settings import Settings
from server.store.connection import held_alone
from server.trust.certificates import Certificates, ensure_certificates
from server.trust.codes import Invitation
from server.trust.home_network import NAME, Announcement, addresses, own_names

SERVING = "serving.json"
CERTIFICATES = "certificates"
PLAIN_COSTS = (
    "Plain http: phones work only while this server answers. They cannot open the app with no signal, and whoever is on\n"
    "this network could read along. Leave --plain out for https."
)


@dataclass(frozen=True)
class _Serving:
    """How this machine's own commands reach the running server."""

    port: int
    secure: bool
    key: str


def serve(args: argparse.Namespace) -> None:
    """Serve until interrupted: here only, behind a proxy, or on the home network with https or without."""
    if args.here:
        run_server(Settings(args.data, port=args.port))
    elif args.behind:
        name = str(args.behind).lower().removeprefix("https://").strip("/")
        settings = Settings(args.data, port=args.port, names=(name,), joining=True, secure=True)
        lines = [f"Mudproof waits for https://{name}/ at http://127.0.0.1:{args.port} (let the proxy keep the Host header)."]
        _run(settings, False, f"https://{name}", lines, Extras())
    else:
        _at_home(args.data, args.port, secure=not args.plain)


def _at_home(data: Path, port: int, secure: bool) -> None:
    data.mkdir(parents=True, exist_ok=True)
    with held_alone(data):  # refused before a certificate of the server that runs is made anew
        pass
    ips, own = addresses(), own_names()
    settings = Settings(data, "0.0.0.0", port, names=(*own, *ips), joining=True, secure=secure)

    def certify(at: list[str]) -> Certificates:
        now = datetime.datetime.now(datetime.UTC)
        return ensure_certificates(data / CERTIFICATES, (*own, *at, "localhost", "127.0.0.1"), now)

    def say(at: list[str]) -> str:
        return f"Mudproof is open at {_url(at, port, secure)}/ (or {'https' if secure else 'http'}://{NAME}:{port}/)."

    lines = [say(ips)]
    if not ips:
        lines.append("This machine seems to be on no home network just now, so phones cannot reach it yet.")
    extras = Extras(home=Home(ips, Announcement(port, ips, secure), certify if secure else None, say))
    if secure:
        extras.certificates = certify(ips)
        plain = _url(ips, port + 1, secure=False)
        lines.append(f"A new phone first opens {plain}/ to trust this server; that page shows how.")
    else:
        lines.append(PLAIN_COSTS)
    _run(settings, secure, _url(ips, port, secure), lines, extras)


def _url(ips: list[str], port: int, secure: bool) -> str:
    return f"{'https' if secure else 'http'}://{ips[0] if ips else '127.0.0.1'}:{port}"


def _run(settings: Settings, tls: bool, url: str, lines: list[str], extras: Extras) -> None:
    key = secrets.token_urlsafe(32)
    held = settings.data / SERVING

    ours = False

    def started(room: Rooms, port: int) -> None:
        nonlocal ours
        ours = True
        _keep(held, _Serving(port, tls, key))
        if any(device.gone_ms is None for device in room.devices.all()):
            print("Phones that joined come in by themselves. One more: its code is in the Shed of a phone that has joined.")
        else:
            code, _ = room.codes.make(Invitation(), room.now_ms())
            _show(code, f"{url}/#/join/{code}")
        sys.stdout.flush()

    extras.lines, extras.started, extras.local_key = lines, started, key
    settings.data.mkdir(parents=True, exist_ok=True)
    try:
        run_server(settings, extras=extras)
    finally:
        if ours:  # one that was refused leaves the file of the server that runs alone
            with contextlib.suppress(OSError):
                held.unlink()


def _keep(path: Path, serving: _Serving) -> None:
    with os.fdopen(os.open(path, os.O_WRONLY | os.O_CREAT | os.O_TRUNC, 0o600), "w", encoding="utf-8") as file:
        json.dump(serving.__dict__, file)


def join(args: argparse.Namespace) -> None:
    """A code for one more phone, made by the server that runs over this folder."""
    try:
        serving = _Serving(**json.loads((args.data / SERVING).read_text(encoding="utf-8")))
    except (OSError, ValueError, TypeError) as error:
        raise SettingsError(
            f"No Mudproof serves {args.data} just now. Start it with: mudproof serve --data {args.data}", str(error)
        ) from error
    url = f"{'https' if serving.secure else 'http'}://127.0.0.1:{serving.port}/api/codes"
    headers = {"authorization": f"Bearer {serving.key}", "content-type": "application/json"}
    trusted = ssl.create_default_context(cafile=args.data / CERTIFICATES / "root.crt") if serving.secure else None
    try:
        asked = urllib.request.Request(url, b"{}", headers)
        with urllib.request.urlopen(asked, timeout=10, context=trusted) as answer:
            told = json.loads(answer.read())
    except (urllib.error.URLError, OSError, ValueError) as error:
        raise SettingsError("The server did not give a code. Stop it and start it again.", str(error)) from error
    _show(told["code"], None)


def _show(code: str, address: str | None) -> None:
    print(f"\nA phone joins with this code, within ten minutes:\n\n    {code}\n")
    if address is not None:
        segno.make(address, error="m").terminal(compact=True)
    print("`mudproof join` with the same --data makes another.")
