"""The forward pass: the earliest and the best day of each open job, what it follows counted in.

Knows work, links and gaps; knows no crop. Order is total: work is walked by id, so that any order of records gives the
same circle broken at the same place.
"""

from __future__ import annotations

from server.kernel.read.days import season_at, spoken
from server.kernel.read.words import lower_first
from server.kernel.when.gaps import Days, gap, gap_words, read_sooner
from server.kernel.when.heat import Heat
from server.kernel.when.work import Bound, Link, Work


def in_order(work: list[Work]) -> list[Work]:
    """The work so that whatever is waited on comes first. A link that closes a circle is marked broken."""
    by_id = {job.id: job for job in sorted(work, key=lambda job: job.id)}
    ordered: list[Work] = []
    seen: dict[str, int] = {}  # 1 while its links are walked, 2 when it is placed
    for first in by_id.values():
        if first.id in seen:
            continue
        stack: list[tuple[Work, int]] = [(first, 0)]
        seen[first.id] = 1
        while stack:
            job, at = stack.pop()
            if at == len(job.links):
                seen[job.id] = 2
                ordered.append(job)
                continue
            stack.append((job, at + 1))
            link = job.links[at]
            before = by_id.get(link.on)
            if before is None:
                continue
            if seen.get(before.id) == 1:
                link.broken = True
            elif before.id not in seen:
                seen[before.id] = 1
                stack.append((before, 0))
    return ordered


UNRIPE = "will hardly be picked"
LATE_DAYS = 60
"""Further past its end no day is told on which something would be ready."""
WAYS_TO_RIPEN = "cover it, take an earlier variety or bought plants, or pick it green"


def waits_for(link_on: str, by_id: dict[str, Work]) -> Work | None:
    """The open work behind a link; None where it is done, let go or not known."""
    job = by_id.get(link_on)
    return None if job is None or job.let_go or job.dropped else job


def forward(ordered: list[Work], heat: Heat, today: int) -> None:
    """Find start, aim and own latest day of each job, in place."""
    by_id = {job.id: job for job in ordered}
    for job in ordered:
        lower, aims, upper = list(job.lower), list(job.aims), list(job.upper)
        soonest = [day for day, _ in job.lower]
        guessed: list[Bound] = []
        waited: list[Bound] = []
        for link in job.links:
            before = waits_for(link.on, by_id)
            if link.soft:
                continue
            if link.broken:
                job.notes.append("waits on itself in a circle; that link is left out")
            elif before is not None and link.path:
                taken = before.taken_on(today)
                done = taken if taken is not None else max(today, before.aim)
                days = _by_the_end(link, gap(link, done, heat))
                first, aim, last = days
                sooner = read_sooner(link, done, days, heat)
                link.shortest = first - done
                could = gap(link, before.could, heat)[0]
                soonest.append(could)
                if job.goes_in and before.believable:
                    first = min(first, could)
                words = f"{link.text} about {spoken(done)}" + (", by the calendar" if taken is not None else "")
                lower.append((first, gap_words(link, words, first - done, sooner[0])) if first >= done else (first, words))
                if aim is not None:
                    aims.append((aim, gap_words(link, words, aim - done, sooner[1])))
                if last is not None:
                    guessed.append((last, gap_words(link, words, last - done, sooner[2])))
            elif before is not None:
                waited.append((max(today, before.start), f"waits for {link.text or lower_first(before.title)}"))
            else:
                lower.extend(_after_dropped(link, by_id))
        job.could = max(soonest) if soonest else min([today, *(day for day, _ in [*aims, *upper])])
        if job.season is not None:
            _keep_to_season(job.season, lower, aims, [upper, guessed], today)
        _set_start(job, lower, [*aims, *upper, *guessed], waited, today)
        _set_aim_and_by(job, aims, upper, guessed)
        if job.not_after is not None and job.bare_start > job.not_after:
            job.dropped = True
        elif job.not_after is not None and job.aim > job.not_after:
            job.aim, job.aim_why = max(job.start, job.not_after), ""
    for job in ordered:
        if job.dropped and job.first_picking:
            _say_unripe(job, ordered)


def _say_unripe(pick: Work, ordered: list[Work]) -> None:
    """What would be picked only after its end is said on what comes next of the same plants, while something can be done."""
    rest = [job for job in ordered if job.batch == pick.batch and job.step is not None and not job.dropped]
    if not rest or pick.not_after is None:
        return
    ends = f"it ends about {spoken(pick.not_after)}"
    soon = pick.bare_start <= pick.not_after + LATE_DAYS
    ready = f"the first would be ready about {spoken(pick.bare_start)}, and" if soon else "heat does not suffice before"
    said = f"{UNRIPE}: {ready} {ends}; {WAYS_TO_RIPEN}"
    min(rest, key=lambda job: (job.aim, job.id)).notes.append(said)


def _by_the_end(link: Link, days: Days) -> Days:
    """The days of a gap, none later than the end of what is followed allows."""
    if link.latest is None:
        return days
    first, aim, last = days
    return (
        first,
        None if aim is None else max(first, min(aim, link.latest[0])),
        None if last is None else max(first, min(last, link.latest[1])),
    )


def _after_dropped(link: Link, by_id: dict[str, Work]) -> list[Bound]:
    """What follows something that would have begun after its last day waits for that day all the same."""
    before = by_id.get(link.on)
    if before is None or not before.dropped or not link.path or before.not_after is None:
        return []
    return [(before.not_after + link.min, f"{link.text} until {spoken(before.not_after)}")]


def _keep_to_season(
    season: dict[str, str], lower: list[Bound], aims: list[Bound], limits: list[list[Bound]], today: int
) -> None:
    """Move what falls outside the weeks of the year in which it may be done to when they next begin, in place."""
    known = [*lower, *aims]
    due = _latest(known)[0] if known else today
    opens, closes = season_at(season, max(due, today))
    words = f"its season is {spoken(opens)} to {spoken(closes)}"
    lower.append((opens, words))
    if opens > due:  # what was due in an earlier season is due in this one
        aims.append((opens, words))
        for bounds in limits:
            bounds.clear()  # they were those of the season that is gone
    limits[1].append((closes, words))  # missed in one year it comes in the next, so what goes before is not hurried for it


def _set_start(job: Work, lower: list[Bound], others: list[Bound], waited: list[Bound], today: int) -> None:
    if not lower:
        lower.append((min([today, *(day for day, _ in others)]), ""))
    own = _latest(lower)
    job.own_from = own[0]
    held = [*([job.gate] if job.gate is not None else []), own, *waited]
    job.bare_start, job.start_why = _latest(held)
    job.start = job.bare_start
    if job.put_off is not None:
        job.own_from = max(job.own_from, job.put_off)
        if job.put_off > job.start:
            job.start, job.start_why = job.put_off, "put off by hand"


def _set_aim_and_by(job: Work, aims: list[Bound], upper: list[Bound], guessed: list[Bound]) -> None:
    job.aim, job.aim_why = job.start, ""
    if aims and _latest(aims)[0] > job.start:
        job.aim, job.aim_why = _latest(aims)
    job.firm_by = _soonest(upper)[0] if upper else None
    limits = [*upper, *guessed]
    job.by, job.by_why = _soonest(limits) if limits else (None, "")
    if job.by is not None and job.aim > job.by:
        job.aim, job.aim_why = max(job.start, job.by), ""


def _latest(bounds: list[Bound]) -> Bound:
    best = bounds[0]
    for bound in bounds[1:]:
        if bound[0] > best[0]:
            best = bound
    return best


def _soonest(bounds: list[Bound]) -> Bound:
    best = bounds[0]
    for bound in bounds[1:]:
        if bound[0] < best[0]:
            best = bound
    return best
