"""Work: a job while its dates are being worked out, before it is said."""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import Any

Bound = tuple[int, str]
"""A day and the words for where it comes from."""


@dataclass(slots=True, eq=False)
class Link:
    """Work that waits on other work. Days are counted from when the other is done.

    `heat` (a series and tenths of a degree-day) and `emergence` replace the plain days; `path` is False for what is
    merely in the way, and such a link sets no aim.
    """

    on: str
    min: int = 0
    aim: int | None = None
    max: int | None = None
    heat: str | None = None
    emergence: dict[str, int] | None = None
    cover: str = "open"
    heated_to_c: int | None = None
    path: bool = True
    text: str = ""
    why: str = ""
    least: int = 0
    """However warm it is, no sooner than so many days."""
    keeps: int | None = None
    """Days that what is ripe stays good: its last day, where nothing else gives one."""
    soft: bool = False
    """Bounds what it waits on, and is in nobody's way."""
    latest: tuple[int, int] | None = None
    """Best and last day at the latest, where what is followed has an end of its own besides."""
    broken: bool = False
    """Left out of the passes because it closed a circle."""
    shortest: int = 0
    """Days the least gap came to in the forward pass; the backward pass counts with it."""


@dataclass(slots=True)
class Block:
    """What is in the way though no open work will move it: a gate, a fixture, plants that stand there."""

    sort: str
    id: str
    text: str


@dataclass(slots=True, eq=False)
class Work:
    """One open job. Bounds are its own; the passes add what comes through its links."""

    id: str
    verb: str
    title: str
    lead: int
    subject: str
    writes: dict[str, Any]
    batch: str | None = None
    place: str | None = None
    fixture: str | None = None
    count: int | None = None
    lower: list[Bound] = field(default_factory=list)
    hurried: list[Bound] = field(default_factory=list)
    """Own earliest days if somebody waits for it."""
    aims: list[Bound] = field(default_factory=list)
    upper: list[Bound] = field(default_factory=list)
    gate: Bound | None = None
    gate_id: str = ""
    links: list[Link] = field(default_factory=list)
    blocks: list[Block] = field(default_factory=list)
    step: int | None = None
    """Index in its batch's path; None for what is not of one."""
    missed: tuple[str, int] = ("stays", 0)
    """What becomes of it if nobody tells of it, and for how many days past its last one it is asked for."""
    last_useful: int | None = None
    """The last day on which it still pays, where that is later than its own last day."""
    not_after: int | None = None
    season: dict[str, str] | None = None
    """Weeks of each year within which alone it is done, `from` and `to` as `MM-DD`."""
    minutes: int = 0
    each_m2: int = 0
    """And so many tenths of a minute for each square metre of its place."""
    needs: list[dict[str, Any]] = field(default_factory=list)
    cautions: list[str] = field(default_factory=list)
    part: int = 1
    repeat: int | None = None
    hint: str | None = None
    notes: list[str] = field(default_factory=list)
    ways_out: str | None = None
    low: bool = False
    ways: list[dict[str, Any]] = field(default_factory=list)
    """Answers it may be given, each with what it writes: `id`, `say`, `writes`."""
    raises: bool = False
    """Whether it brings plants on before they are planted."""
    goes_in: bool = False
    """Whether it puts plants or seed where they are to end."""
    first_picking: bool = False
    """Whether it is the picking of what nothing has been picked of."""
    dropped: bool = False
    """It would begin after its last day, so it is not asked for."""
    for_: str | None = None
    put_off: int | None = None
    let_go: bool = False
    still: bool = False
    """Somebody said that it is still to be done."""

    # what the passes find
    own_from: int = 0
    start: int = 0
    bare_start: int = 0
    """The start had nobody put it off."""
    start_why: str = ""
    aim: int = 0
    aim_why: str = ""
    by: int | None = None
    by_why: str = ""
    firm_by: int | None = None
    """The latest day without limits that only a guessed day of earlier work sets: what may pull that earlier work."""
    reasons: list[str] = field(default_factory=list)
    could: int = 0
    """The first day it could be done, had all before it been done as soon as could be."""

    @property
    def believable(self) -> bool:
        """Whether it may be taken as done though nobody tells of it."""
        told = self.missed[0] in ("stays", "asked") or self.step is None
        return not told and self.put_off is None and not self.let_go and not self.still

    def taken_on(self, today: int) -> int | None:
        """The day it is taken to have been done for what follows, once that has come; None for what must be told."""
        if not self.believable:
            return None
        day = self.by if self.verb == "look" and self.by is not None else self.aim
        return day if day <= today else None
