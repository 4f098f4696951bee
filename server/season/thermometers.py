"""What thermometers read, out of the records: minimum and maximum by place and day.

A logger's file gives a pair for each day. A pair typed on the round is the coldest and the warmest since the last one was
typed: over several days that is further out than a usual night or day, and is brought back by what the coldest of so many
nights lies under their mean.
"""

from __future__ import annotations

import datetime
from dataclasses import dataclass, field
from statistics import NormalDist
from typing import Any

from server.kernel.read.merge import Record
from server.season.frost import NIGHT_SPREAD_C

LONGEST_SPAN_D = 14
"""A thermometer not set back for longer than this says nothing of a usual night. [d] From memory."""

DAY_SPREAD_C = 3.0
"""Standard deviation of day maxima about their season's mean. [°C] From memory, as that of nights."""

Pair = tuple[float, float]


@dataclass
class Read:
    """One place's thermometer."""

    points: dict[datetime.date, Pair] = field(default_factory=dict)
    """One pair for each time it was read; what is known of usual nights and days. [°C]"""
    days: dict[datetime.date, Pair] = field(default_factory=dict)
    """A pair for every day that the readings speak for. [°C]"""


def coldest_under_mean(days: int) -> float:
    """How far the coldest of so many nights lies under their mean, in standard deviations.

    Source: Blom 1958, expected normal order statistics, (n - 0.375) / (n + 0.25).
    """
    return 0.0 if days <= 1 else NormalDist().inv_cdf((days - 0.375) / (days + 0.25))


def is_reading(record: Record) -> bool:
    """Whether a record says what a thermometer read."""
    fields = record["fields"]
    if record["kind"] == "readings":
        return True
    typed = record["kind"] == "diary" and fields.get("did") == "measure" and fields.get("place") and fields.get("on")
    return bool(typed) and fields.get("tmin") is not None and fields.get("tmax") is not None


def thermometers(records: list[Record]) -> dict[str, Read]:
    """What was read in each place, from visible records. A logger's day goes before a typed one."""
    found: dict[str, Read] = {}
    typed: dict[str, dict[datetime.date, Pair]] = {}
    for record in records:
        if not is_reading(record):
            continue
        fields = record["fields"]
        if record["kind"] == "diary":
            low, high = sorted((float(fields["tmin"]), float(fields["tmax"])))
            typed.setdefault(str(fields["place"]), {})[datetime.date.fromisoformat(fields["on"])] = (low, high)
        else:
            read = found.setdefault(str(fields.get("place")), Read())
            for on, pair in month_days(fields).items():
                read.points[on] = read.days[on] = pair
    for place, pairs in typed.items():
        _lay_typed(found.setdefault(place, Read()), pairs)
    return found


def month_days(fields: dict[str, Any]) -> dict[datetime.date, Pair]:
    """The days of a `readings` record. Days that are none, and pairs that are none, are passed over."""
    days: dict[datetime.date, Pair] = {}
    for name, pair in fields.items():
        if len(name) == 3 and name[0] == "d" and name[1:].isdecimal() and isinstance(pair, list) and len(pair) == 2:
            try:
                on = datetime.date.fromisoformat(f"{fields.get('month')}-{name[1:]}")
            except ValueError:
                continue
            days[on] = (float(pair[0]), float(pair[1]))
    return days


def _lay_typed(read: Read, pairs: dict[datetime.date, Pair]) -> None:
    before: datetime.date | None = None
    for on, (low, high) in sorted(pairs.items()):
        span = (on - before).days if before is not None else 0
        before = on
        if not 1 <= span <= LONGEST_SPAN_D:
            continue
        further = coldest_under_mean(span)
        middle = (low + high) / 2
        usual = (min(middle, low + further * NIGHT_SPREAD_C), max(middle, high - further * DAY_SPREAD_C))
        read.points.setdefault(on, usual)
        for step in range(span):
            read.days.setdefault(on - datetime.timedelta(days=step), usual)
