"""Hybrid logical clock readings as text that sorts: `{ms:012x}-{counter:04x}-{device}`.

The wall clock is always handed in. Source of the rules: Kulkarni et al. 2014, "Logical Physical Clocks".
"""

from __future__ import annotations

import re
from typing import NamedTuple

_STAMP = re.compile(r"[0-9a-f]{12}-[0-9a-f]{4}-[a-z2-7]{8}")
NEVER_MS = 7_258_118_400_000
"""The year 2200. A reading from beyond it comes from no clock, and must not carry everybody along. [ms]"""
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
    """The reading after a stamp came from elsewhere: after it, whatever the wall clock here says.

    So a correction made after a value was seen always comes after that value.
    """
    if now_ms > max(last.ms, heard.ms):
        return Reading(now_ms, 0)
    return _next(max(last, heard))


def as_text(reading: Reading) -> str:
    """The reading without a device, as it travels by itself."""
    return f"{reading.ms:012x}-{reading.counter:04x}"


def _next(reading: Reading) -> Reading:
    if reading.counter >= _MOST_COUNTER:
        return Reading(reading.ms + 1, 0)
    return Reading(reading.ms, reading.counter + 1)
