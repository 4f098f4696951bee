"""A small page over plain http that helps a phone trust the household's own certificate authority; nothing else is told."""

from __future__ import annotations

from html import escape
from importlib.resources import files
from pathlib import Path

from starlette.applications import Starlette
from starlette.middleware import Middleware
from starlette.requests import Request
from starlette.responses import Response
from starlette.routing import Route

from server.handlers.guard import Guard, host_name
from server.settings import LOOPBACK

CERTIFICATE = "/mudproof-root.crt"
STYLE = "/styles/recover.css"
STYLES = (STYLE, "/styles/tokens.css")
"""The page's own style, and the colours it takes from there."""
PAGE = """<!doctype html>
<html lang="en-GB"><head><meta charset="utf-8"><meta name="viewport" content="width=device-width, initial-scale=1">
<title>Mudproof: trust this server</title><link rel="stylesheet" href="{style}"></head>
<body><main>
<h1>Trust this server, once for each phone</h1>
<p>Phones open Mudproof with no signal only over https. Your server has made a certificate for your home network; a phone
believes it once you have put it in. It can speak for private home addresses alone, never for a site on the internet.</p>
<p><a href="{certificate}">1. Fetch the certificate</a></p>
<h2>iPhone and iPad</h2>
<ol><li>Open this page in Safari, fetch the certificate and allow it.</li>
<li>Settings, Profile Downloaded, Install.</li>
<li>Settings, General, About, Certificate Trust Settings: switch Mudproof on. Without this step it does not work.</li></ol>
<h2>Android</h2>
<ol><li>Fetch the certificate here.</li>
<li>Settings, Security, Encryption and credentials, Install a certificate, CA certificate: choose the file. The phone warns;
that is as it should be.</li>
<li>Chrome then believes it. Firefox has a switch of its own: About Firefox, tap the sign five times, Secret settings, Use
third party CA certificates.</li></ol>
<h2>A computer</h2>
<p>Put the file into the system's list of trusted authorities, or into the browser's.</p>
<p><a href="{address}">2. Open Mudproof</a>, put it on the home screen, and type the code that the server shows.</p>
<p>Only do this in your own home network, with your own server.</p>
</main></body></html>
"""


def make_trust_app(root: Path, port: int, names: tuple[str, ...]) -> Starlette:
    """The page and the certificate. port: where the app is, under the name by which a phone found this page."""

    async def page(request: Request) -> Response:
        address = f"https://{host_name(request.headers['host'])}:{port}/"
        text = PAGE.format(certificate=CERTIFICATE, style=STYLE, address=escape(address, quote=True))
        return Response(text, media_type="text/html; charset=utf-8", headers={"cache-control": "no-store"})

    async def certificate(request: Request) -> Response:
        headers = {"cache-control": "no-store", "content-disposition": 'attachment; filename="mudproof-root.crt"'}
        return Response(root.read_bytes(), media_type="application/x-x509-ca-cert", headers=headers)

    async def style(request: Request) -> Response:
        return Response(files("web").joinpath(request.url.path.lstrip("/")).read_bytes(), media_type="text/css")

    return Starlette(
        routes=[Route("/", page), Route(CERTIFICATE, certificate), *(Route(path, style) for path in STYLES)],
        middleware=[Middleware(Guard, hosts=(*LOOPBACK, *names), any_address=True)],
    )
