"""Vessels: pots and trays that plants are raised in, the household's own before those that are sold, and the room they take."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

from server.kernel.read.batch_state import BatchState
from server.kernel.read.merge import Record, visible

POT, TRAY, CELLS = "pot", "tray", "cells"


@dataclass(frozen=True, slots=True)
class Vessel:
    """A pot or a tray. [mm, ml]"""

    sort: str
    length: int
    width: int
    ml: int
    """What fills it; of modules each one."""
    cells: int = 1
    """Modules to a tray."""


@dataclass(frozen=True, slots=True)
class Filled:
    """So many of one vessel."""

    vessel: Vessel
    many: int

    @property
    def cm2(self) -> int:
        """The room they take side by side. [whole cm², rounded up]"""
        return -(-self.many * self.vessel.length * self.vessel.width // 100)


@dataclass(frozen=True, slots=True)
class Vessels:
    """Every vessel there is to choose from."""

    pots: list[Vessel]
    """By litres, the smallest first."""
    trays: list[Vessel]
    """Of modules, the fewest first."""
    seed_tray: Vessel | None
    seeds: list[int]
    """Seeds to a pot, to half a tray, to a full one; millilitres of that pot."""

    def pot(self, ml: int) -> Vessel | None:
        """The smallest pot that holds so much; of more than any holds the largest."""
        return next((pot for pot in self.pots if pot.ml >= ml), self.pots[-1] if self.pots else None)

    def of(self, state: BatchState, step: int, count: int | None, pot_ml: int | None) -> Filled | None:
        """What so many plants stand in that have come so far; one tray where nobody counts. None where no vessel is known."""
        if pot_ml is not None:
            pot = self.pot(pot_ml)
            return None if pot is None else Filled(pot, pots_for(state, step, count))
        pricked = state.path.by_verb.get("prick_out", [])
        if pricked and step < pricked[0]:
            return self._of_seed(count)
        wanted = pots_for(state, step, count)
        if not self.trays:
            return None
        tray = next((one for one in self.trays if one.cells >= wanted), self.trays[-1])
        return Filled(tray, -(-wanted // tray.cells))

    def _of_seed(self, count: int | None) -> Filled | None:
        """Seed that is pricked out later stands thick: in a pot, half a tray, or full ones."""
        if self.seed_tray is None:
            return None
        pot, half, full, pot_ml = self.seeds
        small = self.pot(pot_ml)
        if count is not None and count <= pot and small is not None:
            return Filled(small, 1)
        if count is not None and count <= half:
            tray = self.seed_tray
            return Filled(Vessel(TRAY, tray.length // 2, tray.width, tray.ml // 2), 1)
        return Filled(self.seed_tray, 1 if count is None else max(1, -(-count // full)))


def pots_for(state: BatchState, step: int, count: int | None) -> int:
    """Pots or modules for so many plants; several share one where the crop's path has it so."""
    if count is None:
        return 1
    per = 1
    for index in range(min(step, len(state.steps) - 1), -1, -1):
        each = next((need["per"] for need in state.steps[index].get("needs") or [] if need.get("per")), None)
        if each is not None:
            per = int(each)
            break
    return -(-count // per)


def vessels_of(rulebook: dict[str, Any], records: list[Record]) -> Vessels:
    """What is sold, with the household's own in its place: a pot of the same litres, and modules of their own number alone."""
    sold = rulebook.get("vessels") or {}
    pots = {ml: Vessel(POT, wide, wide, ml) for ml, wide in sold.get("pots") or []}
    length, width, full = sold.get("tray") or [0, 0, 0]
    own = [record["fields"] for record in sorted(records, key=_id) if record["kind"] == "vessel" and visible(record)]
    cells: dict[int, Vessel] = {}
    seed_tray = Vessel(TRAY, length, width, full) if length else None
    for fields in own:
        made = _own(fields, length, width)
        if made is None:
            continue
        if made.sort == POT:
            pots[made.ml] = made
        elif made.sort == CELLS:
            cells[made.cells] = made
        else:
            seed_tray = made
    if not cells and length:
        cells = {many: Vessel(CELLS, length, width, each, many) for many, each in sold.get("cells") or []}
    return Vessels(
        [pots[ml] for ml in sorted(pots)], [cells[many] for many in sorted(cells)], seed_tray, sold.get("seeds") or [0, 0, 1, 0]
    )


def _own(fields: dict[str, Any], length: int, width: int) -> Vessel | None:
    """A vessel of the household's own; None where too little is said to be of use."""
    long = mm_of(fields.get("length_cm")) or length
    wide = mm_of(fields.get("width_cm")) or (long if fields.get("sort") == POT else width)
    ml = int((fields.get("litres") or 0) * 1000 + 0.5)
    if fields.get("sort") == POT and ml and fields.get("length_cm") is not None:
        return Vessel(POT, long, wide, ml)
    if fields.get("sort") == CELLS and fields.get("cells") and long and wide:
        return Vessel(CELLS, long, wide, ml // fields["cells"], fields["cells"])
    if fields.get("sort") == TRAY and long and wide:
        return Vessel(TRAY, long, wide, ml)
    return None


def mm_of(cm: float | None) -> int | None:
    """Whole millimetres of centimetres."""
    return None if cm is None else int(cm * 10 + 0.5)


def _id(record: Record) -> str:
    return str(record["id"])
