"""Stock: what the shed holds, as it was counted, with what was bought and less what was used since."""

from __future__ import annotations

from collections.abc import Iterable
from typing import Any, NamedTuple

from server.kernel.follow.knowledge import Knowledge
from server.kernel.follow.used import used_of
from server.kernel.read.days import parse
from server.kernel.read.merge import Record, field_stamps, visible

Moment = tuple[int, str]
"""A day, and the stamp of what was told of it: of two on one day the later told is the later."""
Item = tuple[str, str]
"""What, and in which unit."""
Change = tuple[Moment, float]
"""So much came or went at a moment."""


class _Count(NamedTuple):
    """How much there was. since: None where nobody said when."""

    since: Moment | None
    held: float


def stock_of(know: Knowledge, records: Iterable[Record]) -> list[dict[str, Any]]:
    """`[{what, unit, held}]` of all that was ever counted or bought, to a tenth, in order of what and unit; never below nought.

    What lasts (pots, tools) is not used up. records: those of kind `supply` and `bought` among others.
    """
    counts: dict[Item, _Count] = {}
    came: dict[Item, list[Change]] = {}
    for record in sorted((one for one in records if one["kind"] in ("supply", "bought") and visible(one)), key=_id):
        fields = record["fields"]
        item = (fields.get("what") or "", fields.get("unit") or "")
        on = None if fields.get("on") is None else parse(fields["on"])
        if record["kind"] == "supply":
            since = None if on is None else (on, str(field_stamps(record).get("held", record["stamp"])))
            counts[item] = _Count(since, fields.get("held") or 0)
        elif on is not None and on <= know.today:
            came.setdefault(item, []).append(((on, record["stamp"]), fields.get("amount") or 0))
    went: dict[Item, list[Change]] = {}
    for used in used_of(know):
        if (used.what, used.unit) in counts or (used.what, used.unit) in came:
            went.setdefault((used.what, used.unit), []).append(((used.on, used.stamp), used.amount))
    lasting = [word for words in ("lasts", "tools") for word in (know.rulebook.get("vessels") or {}).get(words) or []]
    stock = []
    for what, unit in sorted({*counts, *came}):
        used_up = [] if any(word in what for word in lasting) else went.get((what, unit), [])
        held = _held(counts.get((what, unit), _Count(None, 0)), came.get((what, unit), []), used_up)
        stock.append({"what": what, "unit": unit, "held": held})
    return stock


def _held(count: _Count, came: list[Change], went: list[Change]) -> float:
    """From its count on; of what nobody counted from the day on which some was first bought."""
    since = count.since or min((moment for moment, _ in came), default=None)
    held = count.held
    for moment, amount in came:
        if count.since is None or moment > count.since:
            held += amount
    for moment, amount in went:
        if since is not None and moment > since:
            held -= amount
    return max(0, int(held * 10 + 0.5) / 10)


def _id(record: Record) -> str:
    return str(record["id"])
