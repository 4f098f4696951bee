"""How one server was asked to run, read once."""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path

from server.errors import SettingsError

LOOPBACK = ("127.0.0.1", "localhost", "::1")
DEFAULT_PORT = 8470


@dataclass(frozen=True)
class Settings:
    """data: folder of the database. today: a fixed day instead of the clock's (`YYYY-MM-DD`), for showing other days."""

    data: Path
    host: str = "127.0.0.1"
    port: int = DEFAULT_PORT
    today: str | None = None
    names: tuple[str, ...] = ()
    """Names and addresses it answers for besides this machine's own."""
    joining: bool = False
    """Whether a phone has to join before it is told anything. Without, only this machine is answered."""
    secure: bool = False
    """Whether phones come over https."""

    def __post_init__(self) -> None:
        if self.host not in LOOPBACK and not self.joining:
            raise SettingsError(
                "Without joining only this very machine is answered: leave --host out.",
                f"host={self.host!r}, expected one of {LOOPBACK}",
            )
        if not 0 <= self.port <= 65535:
            raise SettingsError("Give --port a number from 1 to 65535.", f"port={self.port}")
