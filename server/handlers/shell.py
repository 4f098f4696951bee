"""Doors of the shell: the page, its files, the service worker, and a way out when a worker is broken."""

from __future__ import annotations

import re

from starlette.requests import Request
from starlette.responses import Response

from server.errors import BadRequest
from server.handlers.context import rooms
from server.handlers.shell_files import ShellFile

RECOVER_PAGE = """<!doctype html>
<html lang="en-GB"><meta charset="utf-8"><meta name="viewport" content="width=device-width, initial-scale=1">
<title>Mudproof: start afresh</title>
<link rel="stylesheet" href="/styles/recover.css">
<main><h1>Start the app afresh</h1>
<p id="say">Taking away the old copy of the app. What you wrote down stays.</p>
<p><a href="/">Open Mudproof</a></p></main>
<script src="/scripts/shell/recover.js" type="module"></script></html>
"""


def _answer(request: Request, file: ShellFile, cache: str) -> Response:
    tag = f'"{file.sha256[:32]}"'
    headers = {"etag": tag, "cache-control": cache, "vary": "accept-encoding"}
    if request.headers.get("if-none-match") == tag:
        return Response(status_code=304, headers=headers)
    if file.map_url is not None:
        headers["sourcemap"] = file.map_url
    takes = re.split(r"[\s,;]+", request.headers.get("accept-encoding", ""))
    for name, packed in (("br", file.brotli), ("gzip", file.zipped)):
        if name in takes and len(packed) < len(file.body):
            return Response(packed, headers={**headers, "content-encoding": name}, media_type=file.kind)
    return Response(file.body, headers=headers, media_type=file.kind)


async def page(request: Request) -> Response:
    """The one page: as the worker keeps it for the worker, else so that all comes in one turn."""
    shell = rooms(request).shell
    kept = request.headers.get("sec-fetch-dest") == "empty"
    answer = _answer(request, shell.files["/"] if kept else shell.first_page, "no-cache")
    answer.headers["vary"] = "accept-encoding, sec-fetch-dest"
    return answer


async def worker(request: Request) -> Response:
    """The service worker's script: always asked for anew, so that it is never stale."""
    return _answer(request, rooms(request).shell.worker, "no-cache")


async def file(request: Request) -> Response:
    """A file of the shell."""
    files, path = rooms(request).shell.files, request.url.path
    found = files.get(path)
    if found is None and path.endswith(".map"):
        script = files.get(path.removesuffix(".map"))
        found = script.map if script is not None and script.map_url is not None else None
    if found is None or found.url == "/":
        error = BadRequest("There is nothing at this address.", f"no file {request.url.path!r}")
        error.status = 404
        raise error
    return _answer(request, found, "no-cache")


async def shared(request: Request) -> Response:
    """What another app shares, where no worker is there to keep it: Jot opens, and says that it did not come along."""
    return Response(status_code=303, headers={"location": "/#/jot/shared", "cache-control": "no-store"})


async def recover(request: Request) -> Response:
    """A page that takes away the worker and its caches, and nothing else."""
    return Response(RECOVER_PAGE, media_type="text/html; charset=utf-8", headers={"cache-control": "no-store"})
