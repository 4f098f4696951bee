"""`mudproof diary`: what was done, as a document to read or a table for a spreadsheet."""

from __future__ import annotations

import argparse
import csv
import datetime
import io
import sys
from html import escape
from typing import Any

from server.commands.carry import write_out
from server.commands.reading import read_records
from server.kernel.read.merge import Record, visible
from server.kernel.read.words import PAST
from server.season.quantities import METRIC, NB, Ways, as_measured, ways_of_household
from server.sync.fields import date

COLUMNS = ("on", "at", "did", "what", "place", "to", "count", "weight_g", "rows", "pinches", "pot_l", "found", "level",
           "product", "rate", "tmin", "tmax", "minutes", "by", "note")  # fmt: skip
FORMULA = ("=", "+", "-", "@", "\t", "\r")
"""A cell that begins so is taken for a formula by spreadsheets. Source: OWASP, CSV injection."""
MOST_NAMED = 20
PAGE = """<!doctype html>
<html lang="en-GB"><head><meta charset="utf-8"><title>{title}</title></head>
<body><h1>{title}</h1>
{body}
</body></html>
"""


def run(args: argparse.Namespace) -> None:
    """Write the diary of a year, or of all, to a file or to standard output."""
    records = read_records(args.data)
    lines = diary_lines(records, args.year)
    undated = [record["id"] for record in records if record["kind"] == "diary" and visible(record) and not _dated(record)]
    for id_ in undated[:MOST_NAMED]:
        print(f"Left out: {id_}, which has no day.", file=sys.stderr)
    if len(undated) > MOST_NAMED:
        print(f"And {len(undated) - MOST_NAMED} more without a day.", file=sys.stderr)
    text = as_table(lines) if args.csv else as_document(lines, args.year, ways_of_household(records))
    if args.file is None:
        print(text)
        return
    write_out(args.file, text)
    print(f"Wrote {len(lines)} entries to {args.file}")


def diary_lines(records: list[Record], year: int | None) -> list[dict[str, Any]]:
    """Visible entries, oldest first, with names in place of ids."""
    fields = {record["id"]: record["fields"] for record in records if visible(record)}

    def name(id_: str | None) -> str:
        held = fields.get(id_ or "", {})
        return str(held.get("name") or fields.get(held.get("variety") or "", {}).get("name") or "")

    lines = []
    for record in records:
        told = record["fields"]
        if record["kind"] != "diary" or not visible(record) or not _dated(record):
            continue
        if year is not None and not told["on"].startswith(f"{year}-"):
            continue
        lines.append(
            {
                **{column: told.get(column) for column in COLUMNS},
                "what": name(told.get("batch")) or name(told.get("fixture")),
                "place": name(told.get("place")),
                "to": name(told.get("to_place")),
                "by": name(told.get("by")),
            }
        )
    return sorted(lines, key=lambda line: (str(line["on"]), str(line["at"] or "")))


def _dated(record: Record) -> bool:
    """Whether an entry says its day: one that an old copy brought, or a phone still to come, may not."""
    return date(record["fields"].get("on")) is None


def as_table(lines: list[dict[str, Any]]) -> str:
    """CSV by RFC 4180; words that a spreadsheet would work out are made plain words."""
    out = io.StringIO(newline="")
    writer = csv.writer(out)
    writer.writerow(COLUMNS)
    for line in lines:
        writer.writerow([_cell(line[column]) for column in COLUMNS])
    return out.getvalue()


def _cell(value: Any) -> Any:
    return f"'{value}" if isinstance(value, str) and value.startswith(FORMULA) else value


def as_document(lines: list[dict[str, Any]], year: int | None, ways: Ways = METRIC) -> str:
    """One page of HTML, a heading a month, to read or to print, measured as the household does."""
    parts: list[str] = []
    month = day = ""
    for line in lines:
        on = datetime.date.fromisoformat(line["on"])
        if month != f"{on:%B %Y}":
            month = f"{on:%B %Y}"
            parts.append(f"<h2>{month}</h2>")
        if day != line["on"]:
            day = line["on"]
            parts.append(f"<h3>{on:%A} {on.day} {on:%B}</h3>")
        parts.append(f"<p>{escape(as_measured(_sentence(line), ways))}</p>")
    title = f"Diary {year}" if year else "Diary"
    return PAGE.format(title=title, body="\n".join(parts) or "<p>Nothing was written down.</p>")


def _sentence(line: dict[str, Any]) -> str:
    verb = PAST.get(line["did"], str(line["did"]))
    count = "" if line["count"] is None else f" {line['count']}"
    weight = "" if line["weight_g"] is None else f", {line['weight_g'] / 1000:g}{NB}kg"
    sown = "".join(f", {line[unit]:g} {unit}" for unit in ("rows", "pinches") if line[unit] is not None)
    degrees = "" if line["tmin"] is None and line["tmax"] is None else f" {line['tmin']} to {line['tmax']}{NB}°C"
    found = f", {line['found'].replace('_', ' ')}: {line['level'] or 'seen'}" if line["found"] else ""
    where = f", {line['to'] or line['place']}" if line["to"] or line["place"] else ""
    told = f"{verb[0].upper()}{verb[1:]}{count} {line['what']}{degrees}{weight}{sown}{found}{where}".replace("  ", " ").strip()
    by = f" ({line['by']})" if line["by"] else ""
    return f"{told}{by}. {line['note']}" if line["note"] else f"{told}{by}."
