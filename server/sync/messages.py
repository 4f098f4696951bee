"""The shape of what phones send: each change is checked by itself, so that a bad one never holds up the good."""

from __future__ import annotations

import json
import logging
import math
import re
from dataclasses import dataclass, field
from typing import Any

from server.errors import BadRequest
from server.kernel.read import stamps
from server.kernel.read.merge import Record
from server.sync.fields import ID, sendable, why_not

log = logging.getLogger("mudproof")

MOST_BYTES = 2 * 1024 * 1024
MOST_CHANGES = 200
MOST_CHANGE_BYTES = 32 * 1024
MOST_FIELDS = 64
DEEPEST = 7
"""A whole calendar of a household's own is folded so deep."""
LARGEST = 2**53
"""Beyond this a phone would read another number than was written."""
NAME = re.compile(r"[a-z][a-z0-9_]{0,39}")
BEGINNING = stamps.Reading(0, 0)
_DEVICE = re.compile(r"[a-z2-7]{8}")
_READING = re.compile(r"[0-9a-f]{12}-[0-9a-f]{4}")
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
    heard: stamps.Reading = BEGINNING
    """The latest reading that any of this server's replies told the phone."""
    clock: tuple[str, int] | None = None
    """The device that sends, and what its own clock says; None where it tells neither."""
    changes: list[Record] = field(default_factory=list)
    refused: list[Refusal] = field(default_factory=list)


def read_push(body: bytes) -> Push:
    """The request in a body. Raises BadRequest where it makes no sense as a whole."""
    try:
        given = read_json(body)
    except ValueError as error:
        raise BadRequest("The phone sent something that could not be read.", f"body is not JSON: {error}") from error
    if not isinstance(given, dict):
        raise BadRequest("The phone sent something that could not be read.", f"body is {type(given).__name__}, expected object")
    since = given.get("since", 0)
    if not isinstance(since, int) or isinstance(since, bool) or since < 0 or since > LARGEST:
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
    push = Push(since, epoch, _page(given.get("page")), _heard(given.get("heard")), _clock(given))
    for number, change in enumerate(changes):
        if number >= MOST_CHANGES:
            id_, stamp = _who(change)
            push.refused.append(
                Refusal(id_, stamp, None, f"More than {MOST_CHANGES} changes came at once; send this one again.")
            )
            continue
        try:
            refusals = check_change(change)
        except Exception as error:
            # a hole in our own checks must not hold up the changes beside this one
            log.exception("check_change failed")
            refusals = [Refusal(*_who(change), None, f"This entry could not be understood ({type(error).__name__}).")]
        if refusals:
            push.refused.extend(refusals)
        else:
            push.changes.append(tidy(change))
    return push


def _heard(value: Any) -> stamps.Reading:
    """A reading that travelled by itself; the beginning of time for none, and for what no clock of this century says."""
    if value is None:
        return BEGINNING
    if not isinstance(value, str) or not _READING.fullmatch(value):
        raise BadRequest("The phone sent something that could not be read.", f"heard={value!r}, expected ms-counter in hex")
    reading = stamps.read(value)
    return reading if reading.ms < stamps.NEVER_MS else BEGINNING


def _clock(given: dict[str, Any]) -> tuple[str, int] | None:
    """A phone's own time, where it tells one that a clock can have."""
    device, ms = given.get("device"), given.get("now")
    told = isinstance(device, str) and _DEVICE.fullmatch(device) and isinstance(ms, int) and not isinstance(ms, bool)
    return (str(device), int(ms)) if told and 0 <= int(ms) < stamps.NEVER_MS else None  # type: ignore[arg-type]


def read_json(body: bytes | str) -> Any:
    """JSON with whole numbers as such, however they were written, so that both halves write them alike.

    Raises ValueError for what is no JSON, or folded too deep to be read.
    """
    try:
        return json.loads(body, parse_constant=_no_constant, parse_float=_number, parse_int=_number)
    except RecursionError as error:
        raise ValueError("folded too deep") from error


def _no_constant(name: str) -> Any:
    raise ValueError(f"{name} is not a number")


def _number(text: str) -> int | float:
    if len(text) <= 16 and text.lstrip("-").isdigit():
        return int(text)
    value = float(text)
    return int(value) if math.isfinite(value) and value.is_integer() and abs(value) < LARGEST else value


def _page(given: Any) -> tuple[int, int, int] | None:
    if given is None:
        return None
    if isinstance(given, list) and len(given) == 3 and all(isinstance(n, int) and 0 <= n <= LARGEST for n in given):
        return given[0], given[1], given[2]
    raise BadRequest("The phone sent something that could not be read.", f"page={given!r}, expected three whole numbers")


def _who(change: Any) -> tuple[str, str]:
    if not isinstance(change, dict):
        return "", ""
    id_, stamp = change.get("id"), change.get("stamp")
    return (sendable(id_[:160]) if isinstance(id_, str) else "", sendable(stamp[:40]) if isinstance(stamp, str) else "")


def check_change(change: Any) -> list[Refusal]:
    """Everything that is wrong with one change."""
    wrong = check_form(change, MOST_FIELDS, MOST_CHANGE_BYTES)
    return wrong or [refusal for name, value in change["fields"].items() for refusal in check_field(change, name, value)]


def check_form(change: Any, most_fields: int, most_bytes: int) -> list[Refusal]:
    """What is wrong with a change (or a whole record) apart from the values of its fields."""
    id_, stamp = _who(change)

    def refuse(why: str) -> list[Refusal]:
        return [Refusal(id_, stamp, None, why)]

    if not isinstance(change, dict):
        return refuse("This is not an entry at all.")
    if not isinstance(change.get("id"), str) or not ID.fullmatch(change["id"]):
        return refuse("This entry has no proper name of its own, so it cannot be kept.")
    if not isinstance(change.get("kind"), str) or not NAME.fullmatch(change["kind"]):
        return refuse("This entry does not say what kind it is.")
    if not stamps.valid(change.get("stamp")):
        return refuse("This entry does not say when it was made.")
    fields, exceptions = change.get("fields"), change.get("stamps", {})
    if not isinstance(fields, dict) or not fields or len(fields) > most_fields:
        return refuse(f"This entry must say from 1 to {most_fields} things.")
    if not isinstance(exceptions, dict) or not all(stamps.valid(s) and name in fields for name, s in exceptions.items()):
        return refuse("This entry's times do not fit what it says.")
    size = len(json.dumps(change, ensure_ascii=False).encode("utf-8", "surrogatepass"))
    if size > most_bytes:
        return refuse(f"This entry is too long ({size:,} bytes; at most {most_bytes:,} fit). Shorten it.")
    return []


def check_field(change: dict[str, Any], name: str, value: Any) -> list[Refusal]:
    """What is wrong with one field of a change that is otherwise in form."""
    id_, stamp = _who(change)
    if not NAME.fullmatch(name):
        return [Refusal(id_, stamp, sendable(name[:40]), "This entry has a part without a proper name.")]
    why = _unfit(value) or why_not(change["kind"], name, value)
    return [Refusal(id_, stamp, name, why)] if why else []


def _unfit(value: Any, depth: int = 0) -> str | None:
    """Why a value could not be kept and given to every phone unchanged, whatever its field."""
    if depth > DEEPEST:
        return "This entry is folded too deep to be kept."
    if isinstance(value, int | float) and not -LARGEST <= value <= LARGEST:
        return "This entry holds a number that is too large to be kept."
    if isinstance(value, str) and sendable(value) != value:
        return "This entry holds letters that cannot be stored; type it again."
    members: list[Any] = [*value, *value.values()] if isinstance(value, dict) else value if isinstance(value, list) else []
    return next((why for why in (_unfit(member, depth + 1) for member in members) if why), None)


def tidy(change: dict[str, Any]) -> Record:
    """Only what a change is made of."""
    record: Record = {
        "id": change["id"],
        "kind": change["kind"],
        "stamp": change["stamp"],
        "fields": dict(change["fields"]),
    }
    if change.get("stamps"):
        record["stamps"] = dict(change["stamps"])
    return record
