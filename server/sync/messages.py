"""The shape of what phones send: each change is checked by itself, so that a bad one never holds up the good."""

from __future__ import annotations

import json
import math
import re
from dataclasses import dataclass, field
from typing import Any

from server.errors import BadRequest
from server.kernel import stamps
from server.kernel.merge import Record
from server.sync.fields import ID, why_not

MOST_BYTES = 2 * 1024 * 1024
MOST_CHANGES = 200
MOST_CHANGE_BYTES = 32 * 1024
MOST_FIELDS = 64
DEEPEST = 4
NAME = re.compile(r"^[a-z][a-z0-9_]{0,39}$")
SCHEMA = 1


@dataclass
class Refusal:
    """A change (or one field of it) that was not taken, and why, for a person to read."""

    id: str
    stamp: str
    field: str | None
    why: str

    def as_json(self) -> dict[str, Any]:
        """As it travels."""
        return {"id": self.id, "stamp": self.stamp, "field": self.field, "why": self.why}


@dataclass
class Push:
    """A checked request. `page` continues a first load that was begun before."""

    since: int
    epoch: str | None
    page: tuple[int, int, int] | None
    changes: list[Record] = field(default_factory=list)
    refused: list[Refusal] = field(default_factory=list)


def read_push(body: bytes) -> Push:
    """The request in a body. Raises BadRequest where it makes no sense as a whole."""
    try:
        given = json.loads(body, parse_constant=_no_constant)
    except (ValueError, RecursionError) as error:
        raise BadRequest("The phone sent something that could not be read.", f"body is not JSON: {error}") from error
    if not isinstance(given, dict):
        raise BadRequest("The phone sent something that could not be read.", f"body is {type(given).__name__}, expected object")
    since = given.get("since", 0)
    if not isinstance(since, int) or isinstance(since, bool) or since < 0 or since > 2**53:
        raise BadRequest("The phone sent something that could not be read.", f"since={since!r}, expected a whole number")
    epoch = given.get("epoch")
    if epoch is not None and not isinstance(epoch, str):
        raise BadRequest("The phone sent something that could not be read.", f"epoch={epoch!r}, expected text or null")
    schema = given.get("schema", SCHEMA)
    if not isinstance(schema, int) or schema > SCHEMA:
        raise BadRequest(
            "This phone's Mudproof is newer than the server's. Update the server; the phone keeps everything until then.",
            f"schema={schema!r}, newest known {SCHEMA}",
        )
    changes = given.get("changes", [])
    if not isinstance(changes, list):
        raise BadRequest("The phone sent something that could not be read.", f"changes is {type(changes).__name__}")
    push = Push(since, epoch, _page(given.get("page")))
    for number, change in enumerate(changes):
        if number >= MOST_CHANGES:
            id_, stamp = _who(change)
            push.refused.append(
                Refusal(id_, stamp, None, f"More than {MOST_CHANGES} changes came at once; send this one again.")
            )
            continue
        refusals = check_change(change)
        if refusals:
            push.refused.extend(refusals)
        else:
            push.changes.append(tidy(change))
    return push


def _no_constant(name: str) -> Any:
    raise ValueError(f"{name} is not a number")


def _page(given: Any) -> tuple[int, int, int] | None:
    if given is None:
        return None
    if isinstance(given, list) and len(given) == 3 and all(isinstance(n, int) and 0 <= n <= 2**53 for n in given):
        return given[0], given[1], given[2]
    raise BadRequest("The phone sent something that could not be read.", f"page={given!r}, expected three whole numbers")


def _who(change: Any) -> tuple[str, str]:
    if not isinstance(change, dict):
        return "", ""
    id_, stamp = change.get("id"), change.get("stamp")
    return (id_[:160] if isinstance(id_, str) else "", stamp[:40] if isinstance(stamp, str) else "")


def check_change(change: Any) -> list[Refusal]:
    """Everything that is wrong with one change."""
    id_, stamp = _who(change)

    def refuse(why: str, name: str | None = None) -> list[Refusal]:
        return [Refusal(id_, stamp, name, why)]

    if not isinstance(change, dict):
        return refuse("This is not an entry at all.")
    if not isinstance(change.get("id"), str) or not ID.match(change["id"]):
        return refuse("This entry has no proper name of its own, so it cannot be kept.")
    if not isinstance(change.get("kind"), str) or not NAME.match(change["kind"]):
        return refuse("This entry does not say what kind it is.")
    if not stamps.valid(change.get("stamp")):
        return refuse("This entry does not say when it was made.")
    fields, exceptions = change.get("fields"), change.get("stamps", {})
    if not isinstance(fields, dict) or not fields or len(fields) > MOST_FIELDS:
        return refuse(f"This entry must say from 1 to {MOST_FIELDS} things.")
    if not isinstance(exceptions, dict) or not all(stamps.valid(s) and name in fields for name, s in exceptions.items()):
        return refuse("This entry's times do not fit what it says.")
    size = len(json.dumps(change, ensure_ascii=False).encode("utf-8", "surrogatepass"))
    if size > MOST_CHANGE_BYTES:
        return refuse(f"This entry is too long ({size:,} bytes; at most {MOST_CHANGE_BYTES:,} fit). Shorten it.")
    found: list[Refusal] = []
    for name, value in fields.items():
        if not NAME.match(name):
            found.extend(refuse("This entry has a part without a proper name.", name[:40]))
            continue
        why = why_not(change["kind"], name, value) or _too_deep(value)
        if why:
            found.extend(refuse(why, name))
    return found


def _too_deep(value: Any, depth: int = 0) -> str | None:
    if depth > DEEPEST:
        return "This entry is folded too deep to be kept."
    if isinstance(value, float) and not math.isfinite(value):
        return "This entry holds a number that is none."
    if isinstance(value, str):
        try:
            value.encode("utf-8")
        except UnicodeEncodeError:
            return "This entry holds letters that cannot be stored; type it again."
    members = value.values() if isinstance(value, dict) else value if isinstance(value, list) else ()
    return next((why for why in (_too_deep(member, depth + 1) for member in members) if why), None)


def tidy(change: dict[str, Any]) -> Record:
    """Only what a change is made of, whole floats as whole numbers, so that both halves write it alike."""
    record: Record = {
        "id": change["id"],
        "kind": change["kind"],
        "stamp": change["stamp"],
        "fields": {name: _whole(value) for name, value in change["fields"].items()},
    }
    if change.get("stamps"):
        record["stamps"] = dict(change["stamps"])
    return record


def _whole(value: Any) -> Any:
    if isinstance(value, float) and value.is_integer() and abs(value) < 2**53:
        return int(value)
    if isinstance(value, list):
        return [_whole(member) for member in value]
    if isinstance(value, dict):
        return {name: _whole(member) for name, member in value.items()}
    return value
