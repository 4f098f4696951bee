"""Quantities as the household measures. All is kept and worked out in metric; what the program itself says has a no-break space
between a figure and its unit and is turned where it is shown. What somebody typed has a plain space, and stays as it is.

The phone's half is `web/scripts/lib/quantities.js`; both are held to one table of the tests.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from functools import partial
from typing import Any

NB = "\u00a0"
UNITS = "°C|cm|mm|ml|L|kg|g|m"
_PLAIN = re.compile(rf"(?<=\d) (?=(?:{UNITS})(?!\w))")
_FIGURE = r"[-\u2212]?\d+(?:[.,]\d+)?"
_QUANTITY = re.compile(
    rf"(?<!degree-days above[ {NB}])(?<![\d.,])(?:({_FIGURE})([ {NB}]to[ {NB}]))?({_FIGURE}){NB}({UNITS})(?![\w²³])"
    rf"([ {NB}](?:above|below|warmer|colder)\b(?![ {NB}]\d))?"
)
_READ = {
    "°C": ("degrees", 1.0), "mm": ("length", 0.1), "cm": ("length", 1.0), "m": ("length", 100.0), "ml": ("volume", 0.001),
    "L": ("volume", 1.0), "g": ("weight", 1.0), "kg": ("weight", 1000.0),
}  # fmt: skip

POUND_G = 453.59237
INCH_CM = 2.54
PINT_L = {"us": 0.473176473, "imperial": 0.56826125}
"""A pint, liquid US and imperial. [L] With the pound and the inch from NIST Handbook 44, appendix C."""


@dataclass(frozen=True)
class Ways:
    """How a household measures: `C` or `F`, and `metric`, `us` or `imperial`."""

    degrees: str = "C"
    units: str = "metric"


METRIC = Ways()


def ways_of(site: Mapping[str, Any] | None) -> Ways:
    """How the fields of a site say that the household measures."""
    fields = site or {}
    units = fields.get("units")
    return Ways("F" if fields.get("degrees") == "F" else "C", units if units in PINT_L else "metric")


def ways_of_household(records: Iterable[Mapping[str, Any]]) -> Ways:
    """How the household of these records measures."""
    return ways_of(next((record["fields"] for record in records if record["kind"] == "site"), None))


def kept_together(value: Any) -> Any:
    """The same text, or the same lists and tables of texts, with each figure kept beside its unit, so that it can be turned."""
    if isinstance(value, str):
        return _PLAIN.sub(NB, value)
    if isinstance(value, list):
        return [kept_together(item) for item in value]
    if isinstance(value, dict):
        return {key: kept_together(item) for key, item in value.items()}
    return value


def as_measured(text: str, ways: Ways) -> str:
    """The program's own text with its quantities turned."""
    return text if ways == METRIC else _QUANTITY.sub(partial(_turned, ways), text)


def _turned(ways: Ways, found: re.Match[str]) -> str:
    first, to, figure, unit, than = found.groups()
    sort, each = _READ[unit]
    if sort == "degrees" and than:
        sort = "warmer"
    if ways.degrees == "C" if sort in ("degrees", "warmer") else ways.units == "metric":
        return found.group()
    last = _words(sort, _number(figure) * each, ways)
    if first is None:
        return last + (than or "")
    head, *unit_of_first = _words(sort, _number(first) * each, ways).split(NB)
    shared = unit_of_first == last.split(NB)[1:]
    return f"{head if shared else NB.join([head, *unit_of_first])}{to}{last}{than or ''}"


def _number(digits: str) -> float:
    return float(digits.replace("\u2212", "-").replace(",", "."))


def _words(sort: str, value: float, ways: Ways) -> str:
    """value: °C, cm, g or L."""
    if sort == "degrees":
        return f"{_rounded(value * 1.8 + 32, 0)}{NB}°F"
    if sort == "warmer":
        return f"{_rounded(value * 1.8, 1)}{NB}°F"
    if sort == "weight":
        return _parted(value / POUND_G * 16, ("oz", "lb"), 16, 16)
    if sort == "length":
        return _parted(value / INCH_CM, ("in", "ft"), 12, 36)
    pints = value / PINT_L[ways.units]
    return f"{_rounded(pints / 8, 1)}{NB}gal" if pints >= 8 else f"{_rounded(pints, 2 if pints < 1 else 1)}{NB}pt"


def _parted(amount: float, names: tuple[str, str], holds: int, begin: int) -> str:
    """`1 lb 12 oz`, `11 ft 6 in`, `0.4 in`. begin: from so many small ones on the large are said."""
    small, large = names
    whole = int(amount + 0.5)
    if whole < begin:
        return f"{_rounded(amount, 1 if amount < 4 else 0)}{NB}{small}"
    rest = whole % holds
    return f"{whole // holds}{NB}{large}" + (f"{NB}{rest}{NB}{small}" if rest else "")


def _rounded(value: float, places: int) -> str:
    """Halves go up, as in the browser; no trailing nought."""
    scale = 10**places
    whole = int(value * scale + 0.5) if value >= 0 else -int(-value * scale + 0.4999999)
    return f"{whole / scale:g}"
