"""A table out of the bytes of a CSV file, whatever its separator, encoding and preamble, with its line numbers kept.

Limits: MOST_BYTES a file and MOST_ROWS rows. What is no table is said in words a grower can act on.
"""

from __future__ import annotations

import csv
import io
import re
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass

MOST_BYTES = 8_000_000
MOST_ROWS = 120_000
"""A logger that writes every five minutes for a year writes 105,120 rows."""
LONGEST_CELL = 1000
"""Letters. A longer one is most often the rest of a file behind a quotation mark that nobody closed."""
MOST_LONG = 20
"""So many such rows are passed over; behind each the reading begins anew."""
HEADER_WITHIN = 40
"""Lines a logger may write about itself before the line that names the columns."""
SEPARATORS = (";", "\t", ",")
_KINDS = (
    (b"PK\x03\x04", "a spreadsheet or a zip archive"),
    (b"\xd0\xcf\x11\xe0", "an old spreadsheet"),
    (b"%PDF", "a PDF"),
    (b"\x89PNG", "a picture"),
    (b"\xff\xd8\xff", "a picture"),
    (b"GIF8", "a picture"),
    (b"\x1f\x8b", "a packed archive"),
    (b"SQLite format 3", "a database"),
)
csv.field_size_limit(MOST_BYTES)  # a long cell is a row's fault, not the reader's
_NUMBER = re.compile(r"[+-]?(\d+([.,]\d*)?|[.,]\d+)", re.ASCII)


class NotATable(ValueError):
    """The file as a whole cannot be read; the text says why and what to do."""


@dataclass(frozen=True)
class BadRow:
    """A row that was left out: its line in the file, counted from 1, and why."""

    line: int
    why: str


@dataclass(frozen=True)
class Question:
    """Something the file does not say and nobody should guess. Answer with one of the choices under its id."""

    id: str
    ask: str
    choices: tuple[str, ...]


@dataclass(frozen=True)
class Sheet:
    """Column names and rows, each with its line in the file; and those that could not be told apart."""

    header: list[str]
    rows: list[tuple[int, list[str]]]
    separator: str
    bad: list[BadRow]


def read_sheet(data: bytes, is_header: Callable[[Sequence[str]], bool], wanted: str) -> Sheet:
    """The table in a file: the first line that `is_header` knows, under the separator that gives it most columns.

    wanted: the columns needed, for the sentence that says they are missing. Raises NotATable.
    """
    lines = _text(data).splitlines(keepends=True)
    best: tuple[int, int, str] | None = None
    for separator in SEPARATORS:
        for at, line in enumerate(lines[:HEADER_WITHIN]):
            cells = _cells(line, separator)
            if is_header(cells) and (best is None or len(cells) > best[0]):
                best = (len(cells), at, separator)
                break
    if best is None:
        raise NotATable(f"No line names its columns. The first line should name them: {wanted}.")
    _, at, separator = best
    bad: list[BadRow] = []
    rows = list(_rows(lines[at + 1 :], separator, at + 1, bad))
    if not rows and not bad:
        raise NotATable("The columns are named, but no rows follow.")
    return Sheet(_cells(lines[at], separator), rows, separator, bad)


def _text(data: bytes) -> str:
    if len(data) > MOST_BYTES:
        raise NotATable(f"The file has {len(data) / 1e6:.1f} MB; at most {MOST_BYTES / 1e6:g} MB are read. Split it by years.")
    for mark, kind in _KINDS:
        if data.startswith(mark):
            raise NotATable(f"This is {kind}, not a CSV file. Save it as CSV and choose that.")
    if data.startswith((b"\xff\xfe", b"\xfe\xff")):
        text = data.decode("utf-16", "replace")
    else:
        try:
            text = data.decode("utf-8-sig")
        except UnicodeDecodeError:
            text = data.decode("cp1252", "replace")
    if "\x00" in text:
        raise NotATable("This is not text. Save the readings as CSV and choose that.")
    if not text.strip():
        raise NotATable("The file is empty.")
    if text.lstrip().startswith(("<", "{", "[{", "[[")):
        raise NotATable("This is a web page or a data file, not a CSV file. Save the table as CSV and choose that.")
    return text


def _cells(line: str, separator: str) -> list[str]:
    row = next(csv.reader([line], delimiter=separator), [])
    return [cell.strip() for cell in row]


def _rows(lines: list[str], separator: str, before: int, bad: list[BadRow]) -> Iterator[tuple[int, list[str]]]:
    """Rows with their lines. Behind one with too long a cell the reading begins anew on the next line."""
    at = count = 0
    while at < len(lines):
        reader = csv.reader(io.StringIO("".join(lines[at:]), newline=""), delimiter=separator)
        starts = at
        try:
            for row in reader:
                longest = max(map(len, row), default=0)
                if longest > LONGEST_CELL:
                    bad.append(
                        BadRow(before + starts + 1, f"has a cell of {longest:,} letters; a quotation mark may be missing")
                    )
                    break
                if any(cell.strip() for cell in row):
                    count += 1
                    if count > MOST_ROWS:
                        raise NotATable(f"The file has more than {MOST_ROWS:,} rows. Split it by years.")
                    yield before + starts + 1, [cell.strip() for cell in row]
                starts = at + reader.line_num
            else:
                return
        except csv.Error as error:
            bad.append(BadRow(before + starts + 1, f"cannot be read ({error})"))
        if len(bad) > MOST_LONG:
            raise NotATable(f"Line {bad[0].line} {bad[0].why}, and so do others. Save the file as CSV anew.")
        at = starts + 1


def words_of(cell: str) -> list[str]:
    """The words of a column's name, lower case; ° stays with its letter."""
    parted = re.sub(r"(?<=[a-z])(?=[A-Z])", " ", cell)
    return re.findall(r"°?[^\W\d_]+|°|%", parted.lower())


def number(text: str) -> float | None:
    """A number with a decimal point or a decimal comma, a unit behind it left off; None where it is none."""
    plain = text.replace("\u2212", "-").replace("\u00a0", " ").strip()
    plain = re.sub(r"\s*(°\s*[CF]?|[CF]|%)$", "", plain, flags=re.IGNORECASE).strip()
    return float(plain.replace(",", ".")) if _NUMBER.fullmatch(plain) else None
