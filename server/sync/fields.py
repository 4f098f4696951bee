"""What each known field of each known kind may hold: the one place that refuses a value.

Unknown kinds and fields pass (a newer phone may know more), within the limits of size and depth in `messages`.
"""

from __future__ import annotations

import datetime
import re
from collections.abc import Callable
from typing import Any

ID = re.compile(r"[a-z0-9][a-z0-9_.-]{0,159}")
LONGEST_TEXT = 4000
_DATE = re.compile(r"\d{4}-\d{2}-\d{2}", re.ASCII)
_MONTH_DAY = re.compile(r"\d{2}-\d{2}", re.ASCII)
_TIME = re.compile(r"([01]\d|2[0-3]):[0-5]\d", re.ASCII)
_HASH = re.compile(r"[0-9a-f]{64}", re.ASCII)
_PATH = re.compile(r"[a-z0-9_*.-]{1,120}")
_WORD = re.compile(r"[a-z][a-z0-9_]{0,39}")
_CONTROL = re.compile(r"[\x00-\x08\x0b\x0c\x0e-\x1f\x7f\u202a-\u202e\u2066-\u2069]")

Check = Callable[[Any], str | None]
"""Gives the reason why a value will not do, or None."""

VERBS = (
    "sow", "emerge", "prick_out", "pot_up", "harden_off", "plant_out", "string", "train", "feed", "water", "treat",
    "look", "pick", "clear", "move", "lose", "install", "remove", "connect", "measure", "note", "weed",
    "mulch", "earth_up", "prune", "cover", "uncover", "vent", "decide", "divide",
    "clean", "dress", "drain", "test", "turn", "dig_in", "order",
    "store", "use",
)  # fmt: skip


def sendable(text: str) -> str:
    """Text that can be encoded: half a letter (a lone surrogate) becomes a question mark."""
    return text.encode("utf-8", "replace").decode("utf-8")


def shown(value: Any) -> str:
    """A value as it can be repeated in a sentence."""
    text = value if isinstance(value, str) else repr(value)
    text = sendable(text)
    return text if len(text) <= 60 else text[:57] + "..."


def text(value: Any) -> str | None:
    """Text without control characters."""
    if not isinstance(value, str):
        return f"must be words, not {shown(value)}"
    if len(value) > LONGEST_TEXT:
        return f"is {len(value)} letters long; at most {LONGEST_TEXT:,} fit"
    if _CONTROL.search(value):
        return "holds letters that cannot be shown; type it again"
    try:
        value.encode("utf-8")
    except UnicodeEncodeError:
        return "holds letters that cannot be stored; type it again"
    return None


def reference(value: Any) -> str | None:
    """The id of another record."""
    return None if isinstance(value, str) and ID.fullmatch(value) else f"does not name a record: {shown(value)}"


def word(value: Any) -> str | None:
    """One word of ours (a crop, a trouble, a sort): open, so that newer ones pass."""
    good = isinstance(value, str) and _WORD.fullmatch(value)
    return None if good else f"is not one of our words: {shown(value)}"


def date(value: Any) -> str | None:
    """A real calendar day from 1900 to 2200."""
    if isinstance(value, str) and _DATE.fullmatch(value):
        try:
            day = datetime.date.fromisoformat(value)
        except ValueError:
            return f"is not a day of the calendar: {value}"
        if 1900 <= day.year <= 2200:
            return None
        return f"is out of reach: {value}; give a year from 1900 to 2200"
    return f"must be a day like 2031-05-19, not {shown(value)}"


def month_day(value: Any) -> str | None:
    """A day of any year."""
    if isinstance(value, str) and _MONTH_DAY.fullmatch(value):
        return date(f"2024-{value}") and f"is not a day of the calendar: {value}"
    return f"must be a month and day like 05-12, not {shown(value)}"


def time(value: Any) -> str | None:
    """A time of day."""
    return None if isinstance(value, str) and _TIME.fullmatch(value) else f"must be a time like 09:30, not {shown(value)}"


def flag(value: Any) -> str | None:
    """Yes or no."""
    return None if isinstance(value, bool) else f"must be yes or no, not {shown(value)}"


def whole(low: int, high: int) -> Check:
    """A whole number in a range."""

    def check(value: Any) -> str | None:
        if isinstance(value, int) and not isinstance(value, bool) and low <= value <= high:
            return None
        return f"must be a whole number from {low} to {high:,}; it was {shown(value)}"

    return check


def number(low: float, high: float) -> Check:
    """A number in a range."""

    def check(value: Any) -> str | None:
        if isinstance(value, int | float) and not isinstance(value, bool) and low <= value <= high:
            return None
        return f"must be a number from {low:g} to {high:g}; it was {shown(value)}"

    return check


def one_of(*words: str) -> Check:
    """One of a closed set of words."""

    def check(value: Any) -> str | None:
        if isinstance(value, str) and value in words:
            return None
        return f"must be one of {', '.join(words)}; it was {shown(value)}"

    return check


def list_of(check: Check, most: int) -> Check:
    """A list whose every member passes."""

    def check_all(value: Any) -> str | None:
        if not isinstance(value, list) or len(value) > most:
            return f"must be a list of at most {most}"
        for member in value:
            why = check(member)
            if why:
                return f"has one that {why}"
        return None

    return check_all


def month(value: Any) -> str | None:
    """A month of a year."""
    good = isinstance(value, str) and len(value) == 7 and date(f"{value}-01") is None
    return None if good else f"must be a month like 2031-05, not {shown(value)}"


def low_high(value: Any) -> str | None:
    """The minimum and the maximum of a day. [°C]"""
    degrees = number(-60, 70)
    if not isinstance(value, list) or len(value) != 2 or any(degrees(end) for end in value):
        return f"must be a minimum and a maximum in °C, not {shown(value)}"
    return None if value[0] <= value[1] else f"has a minimum above its maximum: {shown(value)}"


def normals(value: Any) -> str | None:
    """Twelve pairs of mean night minimum and day maximum."""
    if not isinstance(value, list) or len(value) != 12:
        return "must be twelve pairs, one a month"
    degrees = number(-60, 60)
    for pair in value:
        if not isinstance(pair, list) or len(pair) != 2 or any(degrees(end) for end in pair):
            return f"must be pairs of night minimum and day maximum in °C; one was {shown(pair)}"
        if pair[0] > pair[1]:
            return f"has a night of {pair[0]} °C above its day of {pair[1]} °C"
    return None


def numbers_by_name(value: Any) -> str | None:
    """An object of a household's own numbers."""
    if not isinstance(value, dict) or len(value) > 60 or not all(isinstance(key, str) for key in value):
        return "must be numbers by name"
    return None


def spots(value: Any) -> str | None:
    """Places by id with their corner, length and width in a house. [cm]"""
    if not isinstance(value, dict) or len(value) > 200:
        return "must be places by name"
    for id_, four in value.items():
        good = isinstance(four, list) and len(four) == 4 and not any(number(0, 100_000)(one) for one in four)
        if reference(id_) or not good:
            return f"holds a place that is not laid out: {shown(id_)}"
    return None


def path(value: Any) -> str | None:
    """The way to a number of a calendar: names joined by dots."""
    good = isinstance(value, str) and _PATH.fullmatch(value)
    return None if good else f"does not lead to a number: {shown(value)}"


def sha256(value: Any) -> str | None:
    """The hash by which a photo is kept."""
    return None if isinstance(value, str) and _HASH.fullmatch(value) else f"is not a photo's mark: {shown(value)}"


def table(value: Any) -> str | None:
    """A whole calendar; what is wrong inside it is said when it is used."""
    return None if isinstance(value, dict) else f"must be a whole calendar, not {shown(value)}"


COUNT = whole(0, 100_000)
CM = number(0.1, 100_000)

FIELDS: dict[str, dict[str, Check]] = {
    "site": {
        "name": text, "lat": number(-90, 90), "lon": number(-180, 180), "tz": text,
        "units": one_of("metric", "us", "imperial"), "degrees": one_of("C", "F"),
        "last_frost": month_day, "first_frost": month_day, "normals": normals,
    },
    "place": {
        "name": text, "sort": word, "cover": one_of("glass", "tunnel", "frame", "open", "indoors"),
        "within": reference, "length_cm": CM, "width_cm": CM,
        "x_cm": number(0, 100_000), "y_cm": number(0, 100_000), "bearing": whole(0, 359), "heated_to_c": number(0, 45),
        "night_gain_c": number(-5, 20), "walk": whole(0, 9998),
        "watering": one_of("hand", "drip", "soaker", "none"), "flow_l_h": number(0, 100_000), "notes": text,
    },
    "fixture": {
        "name": text, "sort": word, "place": reference, "in_way_of": list_of(one_of(*VERBS), len(VERBS)),
        "holds": flag, "up": flag, "notes": text,
    },
    "variety": {
        "name": text, "crop": word, "seeds": whole(0, 1_000_000), "weight_g": number(0, 10_000), "notes": text,
        "seeds_on": date, "seed_year": whole(1900, 2200), "overrides": numbers_by_name,
    },
    "crop": {
        "name": text, "crop": word, "variety": reference, "path": path, "value": number(-1000, 100_000), "like": word,
        "one": text, "many": text, "family": text, "calendar": table, "overrides": numbers_by_name,
    },
    "batch": {
        "variety": reference, "name": text, "year": whole(1900, 2200), "want": whole(0, 100_000),
        "for_place": reference, "spacing_cm": CM, "rows": whole(1, 1000), "stems": whole(1, 20),
        "pot_l": number(0.01, 1000), "begins": one_of("seed", "plants", "cuttings"), "sow_on": date,
        "save_seed": flag, "turn": whole(0, 9), "pattern": one_of("square", "staggered", "rows"), "turned": flag,
        "row_cm": CM, "at_cm": number(0, 100_000), "run_cm": CM, "end_cm": number(0, 1000),
        "left_cm": number(0, 100_000), "wide_cm": CM,
        "follows": reference, "near": reference, "notes": text,
    },
    "diary": {
        "on": date, "at": time, "did": word, "batch": reference, "place": reference, "to_place": reference,
        "fixture": reference, "count": COUNT, "pot_l": number(0.01, 1000), "spacing_cm": CM,
        "minutes": whole(0, 1440), "note": text, "by": reference, "job": reference, "part": whole(1, 10_000),
        "found": word, "level": one_of("none", "few", "many", "severe"), "product": text, "rate": text,
        "weight_g": whole(0, 10_000_000), "rows": number(0.1, 1000), "pinches": number(0.1, 1000),
        "tmin": number(-60, 70), "tmax": number(-60, 70), "condition": word,
        "photos": list_of(reference, 20), "guest": reference, "answer": text, "about": date,
    },
    "job": {
        "title": text, "place": reference, "batch": reference, "from": date, "by_day": date,
        "every_days": whole(1, 366), "minutes": whole(0, 1440), "waits_on": list_of(reference, 50), "hand": flag,
        "put_off_until": date, "put_off_on": date, "let_go": flag, "let_go_on": date, "for": reference,
        "still": flag, "still_on": date, "answers": list_of(text, 6),
    },
    "readings": {"place": reference, "month": month, **{f"d{day:02d}": low_high for day in range(1, 32)}},
    "lesson": {
        "crop": word, "variety": reference, "step": word, "shift_days": whole(-366, 366), "field": text,
        "text": text, "from_year": whole(1900, 2200), "taken": flag,
    },
    "upkeep": {
        "work": word, "place": reference, "since": date, "every_days": whole(1, 3660), "ph_tenths": whole(30, 95),
        "soil": one_of("sand", "loam", "clay", "organic", "peat"),
    },
    "vessel": {
        "name": text, "sort": one_of("pot", "tray", "cells"), "litres": number(0.001, 1000), "cells": whole(1, 1000),
        "length_cm": number(1, 300), "width_cm": number(1, 300), "held": COUNT,
    },
    "layout": {"house": reference, "name": text, "spots": spots},
    "supply": {"what": text, "unit": text, "held": number(0, 1_000_000), "on": date},
    "bought": {"what": text, "unit": text, "amount": number(0, 1_000_000), "on": date, "at": time, "by": reference},
    "person": {"name": text, "mark": text},
    "photo": {"sha256": sha256, "thumb": sha256, "taken": date, "w": whole(1, 100_000), "h": whole(1, 100_000)},
}  # fmt: skip

NAMES = {
    "on": "The day", "at": "The time", "count": "The count", "weight_g": "The weight in grams", "tmin": "The minimum",
    "tmax": "The maximum", "note": "The note", "name": "The name", "want": "The number wanted", "year": "The year",
    "lat": "The latitude", "lon": "The longitude", "last_frost": "The last frost", "first_frost": "The first frost",
    "length_cm": "The length in cm", "width_cm": "The width in cm", "pot_l": "The pot size in litres",
    "spacing_cm": "The spacing in cm", "title": "The title", "put_off_until": "The day it is put off to",
}  # fmt: skip


def why_not(kind: str, field: str, value: Any) -> str | None:
    """Why a field cannot hold a value, as a sentence a person can read; None where it can. Null is always allowed."""
    if value is None:
        return None
    if field == "gone":
        reason = flag(value)
    else:
        check = FIELDS.get(kind, {}).get(field)
        reason = check(value) if check else None
    if reason is None:
        return None
    name = NAMES.get(field) or f"“{field.replace('_', ' ')}”"
    return f"{name} {reason}."
