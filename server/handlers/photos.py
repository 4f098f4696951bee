"""Doors of photos: how much of one is here, one more part, the photo itself."""

from __future__ import annotations

import asyncio
from functools import partial

from starlette.requests import Request
from starlette.responses import Response

from server.errors import BadRequest
from server.handlers.answers import json_response
from server.handlers.body import read_body
from server.handlers.context import rooms, who_asks

MOST_PART = 1024 * 1024
FOR_EVER = "private, max-age=31536000, immutable"
"""What a hash names never changes."""


async def have(request: Request) -> Response:
    """`{have}`: bytes that are here already, so that a phone goes on where it left off."""
    sha256 = request.path_params["sha256"]
    return json_response({"have": await asyncio.to_thread(rooms(request).photos.have, sha256)})


async def part(request: Request) -> Response:
    """One part: `?from=&size=`, its bytes as the body."""
    room = rooms(request)
    begin, size = (_whole(request.query_params.get(name, "")) for name in ("from", "size"))
    data = await read_body(request, MOST_PART)
    add = partial(room.photos.add, request.path_params["sha256"], begin, size, data)
    return json_response({"have": await room.heavy.run(who_asks(request), add)})  # the last part is decoded and written anew


async def photo(request: Request) -> Response:
    """The picture, and never as anything but a picture."""
    data = await asyncio.to_thread(rooms(request).photos.read, request.path_params["sha256"])
    return Response(data, media_type="image/jpeg", headers={"cache-control": FOR_EVER})


def _whole(text: str) -> int:
    if not text.isascii() or not text.isdigit() or len(text) > 9:
        raise BadRequest("The phone sent something that could not be read.", f"{text[:40]!r}, expected a whole number")
    return int(text)
