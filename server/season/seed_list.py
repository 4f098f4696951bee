"""A household's list of seeds out of a CSV file: what can be taken, and what cannot, row by row.

Nothing is half taken: a row is good as a whole or listed with its line and reason, and the caller saves the good ones only
after the grower has seen both.
"""

from __future__ import annotations

import difflib
import re
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field

from server.season.crop_calendar import Table
from server.season.table_text import BadRow, NotATable, Sheet, number, read_sheet, words_of

WANTED = "a variety and a crop"
LONGEST_NAME = 120
MOST_SEEDS = 1_000_000
MOST_GRAMS = 10_000.0
NEAR = 0.6
"""How alike two names must be to be offered for each other, 0 to 1, as difflib counts. From trial."""
SHARED_WORD = 0.9
"""How alike two names count as that share a whole word: beans are first of all broad, French and runner beans. From trial."""
_VARIETY = {"variety", "varieties", "cultivar", "name", "sort", "sorte"}
_CROP = {"crop", "kind", "vegetable", "plant", "species", "type"}
_GERMINATION = {"germination", "germ", "viability", "germinates"}
_COUNT = {"count", "seeds", "number", "quantity", "qty", "packet", "contents"}
_WEIGHT = {"weight", "grams", "gram", "g", "wt", "gramme", "grammes"}
_COUNT_CELL = re.compile(r"(?:(?:approx|about|avg|average|c|ca)\.?\s*|~\s*)?([\d.,  ]*\d)\s*(?:seeds?|pcs)?", re.IGNORECASE)
_WEIGHT_CELL = re.compile(r"([\d.,]*\d)\s*(kg|g|grams?|mg|oz)?", re.IGNORECASE)
_GRAMS = {"kg": 1000.0, "g": 1.0, "gram": 1.0, "grams": 1.0, "mg": 0.001, "oz": 28.35}


@dataclass(frozen=True)
class SeedRow:
    """One packet."""

    line: int
    variety: str
    crop: str
    """Id of a known crop."""
    germination_pct: float | None = None
    seeds: int | None = None
    """Seeds in the packet."""
    weight_g: float | None = None
    """Weight of the packet's seed. [g]"""


@dataclass(frozen=True)
class UnknownCrop:
    """A crop the calendars have not, the lines it is on, and the known ones whose names are near, nearest first."""

    name: str
    lines: tuple[int, ...]
    near: tuple[str, ...]


@dataclass(frozen=True)
class SeedList:
    """What was found; `problem` where the file as a whole cannot be read."""

    good: list[SeedRow] = field(default_factory=list)
    bad: list[BadRow] = field(default_factory=list)
    """Every row left out, those of unknown crops among them."""
    unknown: list[UnknownCrop] = field(default_factory=list)
    problem: str | None = None


def read_seed_list(data: bytes, crops: Mapping[str, Table], answers: Mapping[str, str] | None = None) -> SeedList:
    """The packets in a file.

    crops: calendars by id. answers: for a crop's name as the file writes it, the id the grower chose. Columns are known by
    words in their names: variety, crop, germination (%), number of seeds, weight. Never raises for what is in the file.
    """
    try:
        sheet = read_sheet(data, _is_header, WANTED)
    except NotATable as problem:
        return SeedList(problem=str(problem))
    columns = _columns(sheet.header)
    names = _names(crops)
    chosen = {_plain(name): id_ for name, id_ in (answers or {}).items() if id_ in crops}
    found = SeedList(bad=list(sheet.bad))
    strange: dict[str, list[int]] = {}
    seen: dict[tuple[str, str], int] = {}
    for line, cells in sheet.rows:
        row = _row(sheet, columns, line, cells, names | chosen)
        if isinstance(row, SeedRow):
            first = seen.setdefault((row.crop, row.variety.casefold()), line)
            if first == line:
                found.good.append(row)
                continue
            row = f"{row.variety} is there already, on line {first}"
        elif row.startswith(_UNKNOWN):
            strange.setdefault(cells[columns["crop"]], []).append(line)
        found.bad.append(BadRow(line, row))
    found.bad.sort(key=lambda bad: bad.line)
    for name, lines in strange.items():
        found.unknown.append(UnknownCrop(name, tuple(lines), near_crops(name, crops)))
    return found


_UNKNOWN = "no crop is called "


def near_crops(name: str, crops: Mapping[str, Table], most: int = 3) -> tuple[str, ...]:
    """Ids of the crops whose names are nearest to a name, nearest first; none where nothing is near."""
    names = _names(crops)
    plain = _plain(name)
    like = {known: difflib.SequenceMatcher(None, plain, known).ratio() for known in names}
    for known in names:
        if set(known.split()) & set(plain.split()):
            like[known] = max(like[known], SHARED_WORD)
    order = sorted(like, key=lambda known: (-like[known], "like" in crops[names[known]], known))
    ids = [names[known] for known in order if like[known] >= NEAR]
    return tuple(dict.fromkeys(ids))[:most]


def _plain(name: str) -> str:
    return " ".join(re.findall(r"[^\W_]+", name.casefold()))


def _names(crops: Mapping[str, Table]) -> dict[str, str]:
    """Every name a crop goes by in its calendar, in plain form, to its id."""
    return {_plain(name): id_ for id_, table in crops.items() for name in (id_, table["one"], table["many"], table["latin"])}


def _columns(header: Sequence[str]) -> dict[str, int]:
    """Which column is which; the first that fits."""
    found: dict[str, int] = {}
    for at, cell in enumerate(header):
        words = set(words_of(cell))
        for role, known in (
            ("germination", _GERMINATION), ("weight", _WEIGHT), ("count", _COUNT), ("crop", _CROP), ("variety", _VARIETY),
        ):  # fmt: skip
            if words & known and role not in found:
                found[role] = at
                break
    return found


def _is_header(cells: Sequence[str]) -> bool:
    return {"variety", "crop"} <= _columns(cells).keys()


def _row(sheet: Sheet, columns: Mapping[str, int], line: int, cells: list[str], names: Mapping[str, str]) -> SeedRow | str:
    """A packet, or why it is none."""
    if len(cells) > len(sheet.header) and any(cells[len(sheet.header) :]):
        return f"has {len(cells)} fields where {len(sheet.header)} are named; a comma in a name wants quotation marks"
    cells.extend([""] * (len(sheet.header) - len(cells)))
    variety, crop = " ".join(cells[columns["variety"]].split()), cells[columns["crop"]]
    if not variety or not crop:
        return f"has no {'variety' if not variety else 'crop'}"
    if len(variety) > LONGEST_NAME:
        return f"has a name of {len(variety)} letters; at most {LONGEST_NAME} fit"
    id_ = names.get(_plain(crop))
    if id_ is None:
        return f"{_UNKNOWN}{crop!r}"
    values: dict[str, float | None] = {}
    for role, read in (("germination", _germination), ("count", _count), ("weight", _weight)):
        text = cells[columns[role]] if role in columns else ""
        value = read(text, sheet.header[columns[role]]) if text else None
        if text and value is None:
            return f"{sheet.header[columns[role]]} is {text!r}, which makes no sense"
        values[role] = value
    seeds = values["count"]
    return SeedRow(line, variety, id_, values["germination"], None if seeds is None else int(seeds), values["weight"])


def _germination(text: str, _header: str) -> float | None:
    """Per cent; a share such as 0.85 is no per cent and is not guessed at."""
    value = number(text)
    return value if value is not None and 1 <= value <= 100 else None


def _count(text: str, _header: str) -> float | None:
    """A whole number, thousands parted by a comma, a full stop or a space or not at all."""
    found = _COUNT_CELL.fullmatch(text.strip())
    if found is None:
        return None
    digits = re.sub(r"(?<=\d)[.,  ](?=\d{3}(?!\d))", "", found[1])
    return float(digits) if digits.isdecimal() and 1 <= int(digits) <= MOST_SEEDS else None


def _weight(text: str, header: str) -> float | None:
    """Grams; a unit in the cell goes before one in the column's name."""
    found = _WEIGHT_CELL.fullmatch(text.strip())
    value = None if found is None else number(found[1])
    if found is None or value is None:
        return None
    unit = (found[2] or next((word for word in words_of(header) if word in _GRAMS), "g")).lower()
    grams = value * _GRAMS[unit]
    return round(grams, 4) if 0 < grams <= MOST_GRAMS else None
