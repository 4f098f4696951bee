"""The shapes of answers: one for JSON, one for every failure."""

from __future__ import annotations

import json
from typing import Any

from starlette.responses import Response

from server.errors import MudproofError


def json_response(data: Any, status: int = 200, headers: dict[str, str] | None = None) -> Response:
    """JSON without spaces; never kept by a cache unless headers say so."""
    body = json.dumps(data, ensure_ascii=False, separators=(",", ":")).encode()
    return Response(body, status, {"cache-control": "no-store", **(headers or {})}, "application/json")


def error_response(error: MudproofError) -> Response:
    """`{"error": {"say", "detail"}}` with the error's status."""
    return json_response({"error": {"say": error.say, "detail": error.detail}}, error.status)
