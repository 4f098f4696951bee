"""Turns: the times of a year at which a crop can be begun where it stands, and which of them a batch takes."""

from __future__ import annotations

from typing import Any

from server.kernel.read.days import in_season, parse, year_of

FAR = 9999
"""Further than any day of a year lies from a window. [days]"""


def at_climate(table: dict[str, Any] | None, climate: str, cover: str) -> Any:
    """A table's entry for a house's own climate, else for its cover, else the one for all."""
    if table is None:
        return None
    for name in (climate, cover):
        if name in table:
            return table[name]
    return table.get("*")


def turn_of(know: dict[str, Any], fields: dict[str, Any], climate: str, cover: str) -> int:
    """Which of a crop's turns a batch takes: as chosen, else the one that its own first day lies in or nearest to, else 0."""
    turns = know.get("turns") or []
    chosen = fields.get("turn")
    if chosen is not None:
        return int(chosen) if 0 <= chosen <= len(turns) else 0
    if not turns or not fields.get("sow_on"):
        return 0
    day = parse(fields["sow_on"])
    first = know["steps"][0]
    away = [_days_away(at_climate(one.get("window"), climate, cover), day) for one in _each(first, turns)]
    return away.index(min(away))


def turned(step: dict[str, Any], know: dict[str, Any], turn: int, cover: str) -> dict[str, Any]:
    """A step with the days it has in a turn under a cover."""
    changed: dict[str, Any] | None = know["turns"][turn - 1].get(step["id"]) if turn else None
    made = step if changed is None else step | changed
    until = made.get("until")
    return made | {"until": until.get(cover)} if isinstance(until, dict) else made


def _each(step: dict[str, Any], turns: list[dict[str, Any]]) -> list[dict[str, Any]]:
    return [step, *(step | turn.get(step["id"], {}) for turn in turns)]


def _days_away(window: dict[str, Any] | None, day: int) -> int:
    """How far a day lies outside a window of this year or its neighbours; far where there is none."""
    if not window or not window.get("from") or not window.get("by"):
        return FAR
    away = FAR
    for year in range(year_of(day) - 1, year_of(day) + 2):
        first, last = in_season(window["from"], year), in_season(window["by"], year)
        away = min(away, max(first - day, day - last, 0))
    return away
