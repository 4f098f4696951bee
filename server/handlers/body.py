"""Reading a body without letting a large or a slow one hold up the server."""

from __future__ import annotations

import asyncio
import zlib

from starlette.requests import ClientDisconnect, Request

from server.errors import BadRequest, TooLarge

SLOWEST_S = 60.0
"""A body that takes longer is given up; a phone sends again in smaller parts. [s]"""


async def read_body(request: Request, most: int, slowest_s: float = SLOWEST_S) -> bytes:
    """The whole body. Raises TooLarge over `most` bytes (as soon as that is known), BadRequest when it is too slow."""
    said = request.headers.get("content-length", "")
    if said.isdigit() and int(said) > most:
        raise TooLarge("That is too much at once; the phone will send it in smaller parts.", f"{said} bytes, at most {most}")
    parts: list[bytes] = []
    size = 0
    try:
        async with asyncio.timeout(slowest_s):
            async for part in request.stream():
                size += len(part)
                if size > most:
                    raise TooLarge("That is too much at once; the phone will send it in smaller parts.", f"over {most} bytes")
                parts.append(part)
    except TimeoutError as error:
        raise BadRequest("The line is too slow; the phone will try again.", f"{size} bytes in {slowest_s} s") from error
    except ClientDisconnect as error:
        raise BadRequest("The line broke off; the phone will try again.", f"after {size} bytes") from error
    return _unzipped(b"".join(parts), most) if request.headers.get("content-encoding") == "gzip" else b"".join(parts)


def _unzipped(body: bytes, most: int) -> bytes:
    """What a zipped body holds, never more than `most` bytes of it: a small body can hold a huge one."""
    reader = zlib.decompressobj(wbits=31)
    try:
        found = reader.decompress(body, most + 1)
    except zlib.error as error:
        raise BadRequest("The phone sent something that could not be read.", f"body is not gzip: {error}") from error
    if len(found) > most:
        raise TooLarge("That is too much at once; the phone will send it in smaller parts.", f"over {most} bytes unzipped")
    if not reader.eof:
        raise BadRequest("The line broke off; the phone will try again.", "gzip body ends early")
    return found
