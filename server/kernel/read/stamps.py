"""Hybrid logical clock readings as text that sorts: `{ms:012x}-{counter:04x}-{device}`.

The wall clock is always handed in. Source of the rules: Kulkarni et al. 2014, "Logical Physical Clocks".
"""

from __future__ import annotations

import re
from typing import NamedTuple

_STAMP = re.compile(r"[0-9a-f]{12}-[0-9a-f]{4}-[a-z2-7]{8}")
MOST_AHEAD_MS = 5 * 60 * 1000
"""How far a stamp may run ahead of the clock of whoever receives it. [ms]"""
_MOST_COUNTER = 0xFFFF


class Reading(NamedTuple):
    """A clock's state: milliseconds and the counter within one millisecond."""

    ms: int
    counter: int


def valid(stamp: object) -> bool:
    """Whether this is a stamp at all."""
    return isinstance(stamp, str) and _STAMP.fullmatch(stamp) is not None


def write(reading: Reading, device: str) -> str:
    """The reading as text."""
    return f"{reading.ms:012x}-{reading.counter:04x}-{device}"


def read(stamp: str) -> Reading:
    """The reading inside a valid stamp."""
    return Reading(int(stamp[0:12], 16), int(stamp[13:17], 16))


def device_of(stamp: str) -> str:
    """The device id inside a valid stamp."""
    return stamp[18:]


def tick(last: Reading, now_ms: int) -> Reading:
    """The reading for a new change made here. Never repeats, even when the wall clock goes back."""
    if now_ms > last.ms:
        return Reading(now_ms, 0)
    return _next(last)


def hear(last: Reading, heard: Reading, now_ms: int) -> Reading:
    """The reading after a stamp came from elsewhere. A stamp far ahead does not pull the clock with it."""
    heard_ms = min(heard.ms, now_ms + MOST_AHEAD_MS)
    heard_counter = heard.counter if heard_ms == heard.ms else 0
    ms = max(last.ms, heard_ms, now_ms)
    if ms == last.ms and ms == heard_ms:
        return _next(Reading(ms, max(last.counter, heard_counter)))
    if ms == last.ms:
        return _next(last)
    if ms == heard_ms:
        return _next(Reading(ms, heard_counter))
    return Reading(ms, 0)


def _next(reading: Reading) -> Reading:
    if reading.counter >= _MOST_COUNTER:
        return Reading(reading.ms + 1, 0)
    return Reading(reading.ms, reading.counter + 1)
