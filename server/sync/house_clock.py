"""What time it is for a household, as far as its clocks can tell: the server's and its phones', of which any may be wrong.

A single wrong clock is outvoted. Stamps do not hang on this (`exchange.bring_down`); days that are written down do: a phone
that is two days ahead would date its deeds two days late.
"""

from __future__ import annotations

from dataclasses import dataclass, field

HEARD_FOR_MS = 14 * 86_400_000
"""A phone that was not heard for longer has no voice any more."""
MOST_VOICES = 200
ASTRAY_MS = 3_600_000
"""A clock so far behind what was stamped already is likely wrong: a board without a battery begins in the past."""


@dataclass
class HouseClock:
    """The clocks heard, each by how far it is ahead of the server's. It lives in memory: phones tell theirs each minute."""

    _voices: dict[str, tuple[int, int]] = field(default_factory=dict)
    """By device: ms ahead of the server's clock, and when that was heard."""

    def hear(self, device: str, phone_ms: int, now_ms: int) -> None:
        """A phone has told its own time."""
        self._voices.pop(device, None)
        self._voices[device] = (phone_ms - now_ms, now_ms)
        while len(self._voices) > MOST_VOICES:
            del self._voices[next(iter(self._voices))]

    def ms(self, now_ms: int, latest_ms: int) -> int:
        """The household's time: the middle of all clocks. Of two in the middle the server's or the nearer to it; but where that
        is behind latest_ms, the latest stamp ever taken, and the other is not, the other.

        now_ms: the server's own clock.
        """
        voices = sorted([0, *(ahead for ahead, at in self._voices.values() if abs(now_ms - at) <= HEARD_FOR_MS)])
        half = len(voices) // 2
        if len(voices) % 2:
            return now_ms + voices[half]
        nearer, other = sorted(voices[half - 1 : half + 1], key=abs)
        least = latest_ms - ASTRAY_MS - now_ms
        return now_ms + (other if nearer < least <= other else nearer)
