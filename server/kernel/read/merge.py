"""Merging records field by field: the later stamp wins, and no order of arrival matters."""

from __future__ import annotations

import json
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
        if held is None or stamp > held or (stamp == held and _text(value) > _text(fields[name])):
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


def _text(value: Any) -> str:
    return json.dumps(value, sort_keys=True, separators=(",", ":"), ensure_ascii=False)
