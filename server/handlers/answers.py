"""The shapes of answers: one for JSON, one for every failure."""

from __future__ import annotations

import gzip
import json
from typing import Any

from starlette.requests import Request
from starlette.responses import Response

from server.errors import MudproofError

WORTH_ZIPPING = 1000
"""Shorter answers travel as they are. [bytes]"""


def json_response(data: Any, status: int = 200, headers: dict[str, str] | None = None) -> Response:
    """JSON without spaces; never kept by a cache unless headers say so."""
    body = json.dumps(data, ensure_ascii=False, separators=(",", ":")).encode()
    return Response(body, status, {"cache-control": "no-store", **(headers or {})}, "application/json")


def zipped(request: Request, response: Response) -> Response:
    """The same answer, packed where that is worth it and the phone can read it."""
    body = bytes(response.body)
    if len(body) > WORTH_ZIPPING and "gzip" in request.headers.get("accept-encoding", ""):
        small = gzip.compress(body, 5)
        response.body = small
        response.headers["content-encoding"] = "gzip"
        response.headers["content-length"] = str(len(small))
        response.headers["vary"] = "accept-encoding"
    return response


def error_response(error: MudproofError) -> Response:
    """`{"error": {"say", "detail"}}` with the error's status."""
    return json_response({"error": {"say": error.say, "detail": error.detail}}, error.status)
