"""The door to layouts: how many plants fit a bed, each way of planting with its count."""

from __future__ import annotations

import math
from collections.abc import Mapping
from typing import Any

from starlette.requests import Request
from starlette.responses import Response

from server.errors import BadRequest
from server.handlers.answers import json_response
from server.kernel.layouts import Bed, Layout, layouts
from server.sync.fields import shown

LONGEST_CM, CLOSEST_CM = 100_000.0, 0.5


async def fit(request: Request) -> Response:
    """`?length_cm=&width_cm=&spacing_cm=&row_cm=&end_cm=`: each way of planting, best first. [cm]

    `{"choices": [{pattern, turned, count, spacing_cm, row_cm, left_over}]}`; row_cm absent: as spacing; end_cm absent: half the
    spacing; left_over: free at the end of the rows.
    """
    return json_response({"choices": [as_told(layout) for layout in choices_for(request.query_params)]})


def choices_for(given: Mapping[str, str]) -> list[Layout]:
    """The layouts for what was asked, in centimetres. Raises BadRequest for what is no bed or no distance."""
    length = _cm(given, "length_cm", "The bed's length", 1)
    width = _cm(given, "width_cm", "The bed's width", 1)
    spacing = _cm(given, "spacing_cm", "The distance between plants", CLOSEST_CM)
    row = _cm(given, "row_cm", "The distance between rows", CLOSEST_CM) if given.get("row_cm") else None
    end = _cm(given, "end_cm", "The gap at the ends", 0) if given.get("end_cm") else spacing / 2
    return layouts(Bed(_mm(length), _mm(width), _mm(end)), _mm(spacing), None if row is None else _mm(row))


def as_told(layout: Layout) -> dict[str, Any]:
    """A layout as the door tells it, in centimetres; whole ones are whole numbers."""
    return {
        "pattern": layout.pattern,
        "turned": layout.turned,
        "count": layout.count,
        "spacing_cm": _whole_cm(layout.spacing),
        "row_cm": _whole_cm(layout.row),
        "left_over": _whole_cm(layout.left_over),
    }


def _whole_cm(mm: int) -> int | float:
    return mm // 10 if mm % 10 == 0 else mm / 10


def _mm(cm: float) -> int:
    return round(10 * cm)


def _cm(given: Mapping[str, str], name: str, called: str, least: float) -> float:
    text = given.get(name, "")
    try:
        value = float(text)
    except ValueError:
        value = math.nan
    if not least <= value <= LONGEST_CM:
        raise BadRequest(f"{called} must be a number of centimetres from {least:g} to {LONGEST_CM:g}.", f"{name}={shown(text)}")
    return value
