"""Merging records field by field: the later stamp wins, and no order of arrival matters."""

from __future__ import annotations

import json
from decimal import Decimal
from typing import Any

Record = dict[str, Any]


def field_stamps(record: Record) -> dict[str, str]:
    """Field name to its stamp, exceptions laid over the record's own."""
    named: dict[str, str] = record.get("stamps") or {}
    own: str = record["stamp"]
    return {name: named.get(name, own) for name in record["fields"]}


def merge_record(mine: Record | None, change: Record) -> Record:
    """The record after a change, in canonical form. `mine` is None for a record not met before."""
    fields: dict[str, Any] = dict(mine["fields"]) if mine else {}
    stamps: dict[str, str] = field_stamps(mine) if mine else {}
    for name, stamp in field_stamps(change).items():
        value = change["fields"][name]
        held = stamps.get(name)
        if held is None or stamp > held or (stamp == held and text(value) > text(fields[name])):
            fields[name] = value
            stamps[name] = stamp
    kind = min(mine["kind"], change["kind"]) if mine else change["kind"]
    bare = min(mine["stamp"], change["stamp"]) if mine else change["stamp"]
    return canonical(change["id"], kind, fields, stamps, bare)


def canonical(id_: str, kind: str, fields: dict[str, Any], stamps: dict[str, str], bare_stamp: str) -> Record:
    """The one form of a state: smallest field stamp as the record's own, only the others named.

    bare_stamp: what to carry when there is no field at all.
    """
    own = min(stamps.values()) if stamps else bare_stamp
    record: Record = {"id": id_, "kind": kind, "stamp": own, "fields": {name: fields[name] for name in sorted(fields)}}
    others = {name: stamps[name] for name in sorted(stamps) if stamps[name] != own}
    if others:
        record["stamps"] = others
    return record


def visible(record: Record) -> bool:
    """Not deleted, or edited since: an edit newer than `gone` brings the record back."""
    if record["fields"].get("gone") is not True:
        return True
    stamps = field_stamps(record)
    gone_at = stamps["gone"]
    return any(stamp > gone_at for name, stamp in stamps.items() if name != "gone")


def text(value: Any) -> str:
    """A value in the canonical form of RFC 8785, so that both halves break a tie alike. Keys are sorted by code points."""
    if isinstance(value, dict):
        return "{" + ",".join(f"{json.dumps(name, ensure_ascii=False)}:{text(value[name])}" for name in sorted(value)) + "}"
    if isinstance(value, list):
        return "[" + ",".join(map(text, value)) + "]"
    return _number(value) if isinstance(value, float) else json.dumps(value, ensure_ascii=False)


MOST_PLAIN = 21
LEAST_PLAIN = -6
"""Powers of ten between which a number is written without an exponent."""


def _number(value: float) -> str:
    """As ECMA-262 writes a number (Number::toString), which RFC 8785 takes over."""
    sign, digits, exponent = Decimal(repr(value)).normalize().as_tuple()
    if not isinstance(exponent, int):
        raise ValueError(f"{value} has no form in JSON")
    figures = "".join(map(str, digits))
    point = len(figures) + exponent  # where the decimal point stands, counted from the first figure
    if value == 0:
        return "0"
    if len(figures) <= point <= MOST_PLAIN:
        made = figures + "0" * (point - len(figures))
    elif 0 < point <= MOST_PLAIN:
        made = f"{figures[:point]}.{figures[point:]}"
    elif LEAST_PLAIN < point <= 0:
        made = f"0.{'0' * -point}{figures}"
    else:
        rest = f".{figures[1:]}" if len(figures) > 1 else ""
        made = f"{figures[0]}{rest}e{point - 1:+d}"
    return f"-{made}" if sign else made
