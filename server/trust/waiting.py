"""Phones that gave a good code and wait until somebody who has joined says yes to them by name. They live in memory."""

from __future__ import annotations

from dataclasses import dataclass, field

from server.trust.codes import Invitation


@dataclass(frozen=True)
class Asking:
    """A phone that asks to be let in. token: the hash of the secret that it was given, good for nothing until then."""

    id: str
    name: str
    token: str
    invitation: Invitation
    until_ms: int


@dataclass
class WaitingRoom:
    """Who waits just now. A code lets one in here, so there are never more than codes were made."""

    _waiting: dict[str, Asking] = field(default_factory=dict)
    _let_in: dict[str, Asking] = field(default_factory=dict)
    """Those to whom yes was said, until they are written down: they ask all the while, and are not told no."""

    def enter(self, asking: Asking) -> None:
        """Begin to wait, or wait again because a yes could not be written down."""
        self._let_in.pop(asking.id, None)
        self._waiting[asking.id] = asking

    def all(self, now_ms: int) -> list[Asking]:
        """Everybody who waits, the first to come first."""
        self._waiting = {id_: one for id_, one in self._waiting.items() if one.until_ms > now_ms}
        return list(self._waiting.values())

    def with_token(self, token: str, now_ms: int) -> Asking | None:
        """The phone with this token's hash, if it still waits to be let in, or to be written down."""
        return next((one for one in [*self.all(now_ms), *self._let_in.values()] if one.token == token), None)

    def leave(self, id_: str, now_ms: int) -> Asking | None:
        """The end of waiting, by a yes or a no; None where it had ended before."""
        self.all(now_ms)
        return self._waiting.pop(id_, None)

    def let_in(self, id_: str, now_ms: int) -> Asking | None:
        """A yes: nobody can answer it again, but it waits on until `written`. None where waiting had ended before."""
        asking = self.leave(id_, now_ms)
        if asking is not None:
            self._let_in[id_] = asking
        return asking

    def written(self, id_: str) -> None:
        """It is among the phones now."""
        self._let_in.pop(id_, None)
