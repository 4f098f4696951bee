"""`mudproof fit`: how many plants fit a bed, in a terminal."""

from __future__ import annotations

import argparse
import json
import sys

from server.errors import BadRequest
from server.handlers.fits import as_told, choices_for
from server.kernel.layouts import Layout

WAYS = {"square": "square", "staggered": "staggered", "rows": "in rows"}


def run(args: argparse.Namespace) -> None:
    """Print each way of planting, best first; exits with 1 and a sentence for what is no bed."""
    asked = {name: getattr(args, name) for name in ("length", "width", "spacing", "row", "end")}
    try:
        found = choices_for({f"{name}_cm": value for name, value in asked.items() if value is not None})
    except BadRequest as error:
        print(error.say)
        sys.exit(1)
    if args.json:
        print(json.dumps({"choices": [as_told(layout) for layout in found]}))
        return
    print("\n".join(map(_line, found)) if found else "Nothing fits: the gaps at the ends meet.")


def _line(layout: Layout) -> str:
    told = as_told(layout)
    across = " across" if layout.turned else ""
    apart = f"{told['spacing_cm']:g} cm" + (f", rows {told['row_cm']:g} cm" if told["row_cm"] != told["spacing_cm"] else "")
    free = f", {told['left_over']:g} cm left over" if layout.left_over else ""
    return f"{layout.count:5}  {WAYS[layout.pattern]}{across} at {apart}{free}"
