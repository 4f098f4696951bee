"""One-time codes by which a phone joins: short-lived, single-use, few tries. They live in memory and end with the server."""

from __future__ import annotations

import hashlib
import hmac
import secrets
from collections import deque
from dataclasses import dataclass, field

LETTERS = "BCDFGHJKLMNPQRSTVWXZ"
"""No vowels (no words by chance) and no figures, which are taken for letters. Source: RFC 8628, section 6.1."""
LENGTH = 8
"""20^8 is 34.6 bits: the hundred tries of ten minutes hit one code in 256 million times."""
LASTS_MS = 10 * 60_000
MOST_WRONG = 5
"""Wrong tries that end every code there is."""
TRIES_A_MINUTE = 10
"""Over all callers together: an address is cheap to change."""


class TooManyTriesError(Exception):
    """More tries in a minute than a person makes."""


@dataclass(frozen=True)
class Invitation:
    """What a code lets in. person: whose phone it will be, if that was said."""

    person: str | None = None
    asks: bool = False
    """Whether somebody who has joined has to say yes to the phone by its name. One made at the server itself does not ask."""
    guest_places: tuple[str, ...] = ()
    guest_until: str | None = None
    """The last day of a guest; None for a phone of the household's own."""


@dataclass
class _Code:
    digest: bytes
    until_ms: int
    invitation: Invitation
    wrong: int = 0


@dataclass
class Codes:
    """The codes that are good just now."""

    _live: list[_Code] = field(default_factory=list)
    _tries: deque[int] = field(default_factory=deque)

    def make(self, invitation: Invitation, now_ms: int) -> tuple[str, int]:
        """A new code as it is read aloud, and when it ends. [ms]"""
        self._forget(now_ms)
        code = "".join(secrets.choice(LETTERS) for _ in range(LENGTH))
        self._live.append(_Code(_digest(code), now_ms + LASTS_MS, invitation))
        return f"{code[:4]}-{code[4:]}", now_ms + LASTS_MS

    def take(self, typed: str, now_ms: int) -> Invitation | None:
        """Use a code up; None where it is not (or no longer) good. Raises TooManyTriesError."""
        while self._tries and self._tries[0] <= now_ms - 60_000:
            self._tries.popleft()
        if len(self._tries) >= TRIES_A_MINUTE:
            raise TooManyTriesError
        self._tries.append(now_ms)
        self._forget(now_ms)
        digest = _digest(plain(typed))
        found = [code for code in self._live if hmac.compare_digest(code.digest, digest)]
        if found:
            self._live.remove(found[0])
            return found[0].invitation
        for code in self._live:
            code.wrong += 1
        self._live = [code for code in self._live if code.wrong < MOST_WRONG]
        return None

    def _forget(self, now_ms: int) -> None:
        self._live = [code for code in self._live if code.until_ms > now_ms]


def plain(typed: str) -> str:
    """A code as it was made, from how a person types it."""
    return "".join(letter for letter in typed.upper() if letter.isalnum())[:64]


def _digest(code: str) -> bytes:
    return hashlib.sha256(code.encode("utf-8", "replace")).digest()


def new_token() -> str:
    """A phone's own secret: 256 bits, as text for a cookie."""
    return secrets.token_urlsafe(32)


def token_hash(token: str) -> str:
    """What is kept of a token."""
    return hashlib.sha256(token.encode("utf-8", "replace")).hexdigest()
