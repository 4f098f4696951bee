"""`mudproof jobs`: the Round in a terminal."""

from __future__ import annotations

import argparse
import json

from server.commands.reading import day_or_today, read_records, read_rulebook
from server.handlers.api import chosen
from server.kernel.fit import fit
from server.kernel.read.merge import Record
from server.kernel.said.say import Job
from server.kernel.settle import settle
from server.season.quantities import NB, as_measured, ways_of_household

NOWHERE = 9999
"""Behind every place that has its turn on the walk."""
HEADS = {"done": "done today"}


def run(args: argparse.Namespace) -> None:
    """Print the list for a day, as JSON or to be read."""
    records = read_records(args.data)
    on = day_or_today(args.on, records)
    jobs = settle(read_rulebook(records), records, on)
    if args.minutes:
        take = set(fit(jobs, args.minutes)["take"])
        jobs = [job for job in jobs if job["id"] in take]
    place = _place_id(args.place, records)
    jobs = chosen(jobs, place, args.state)
    if args.json:
        print(json.dumps({"on": on, "jobs": jobs}, ensure_ascii=False))
    else:
        print(as_measured("\n".join(lines(jobs, records, on)), ways_of_household(records)).replace(NB, " "))


def _place_id(given: str | None, records: list[Record]) -> str | None:
    """A place by its id or its name."""
    if given is None:
        return None
    for record in records:
        if record["kind"] == "place" and given.lower() == str(record["fields"].get("name", "")).lower():
            return str(record["id"])
    return given


def _walk_numbers(records: list[Record]) -> dict[str, int]:
    """Numbers of the houses on the walk: their order, so that no two are alike."""
    places = {
        record["id"]: record["fields"] for record in records if record["kind"] == "place" and not record["fields"].get("gone")
    }
    houses = [id_ for id_, fields in places.items() if fields.get("within") not in places]
    houses.sort(key=lambda id_: (NOWHERE if places[id_].get("walk") is None else places[id_]["walk"], id_))
    return {id_: at for at, id_ in enumerate(houses, start=1)}


def lines(jobs: list[Job], records: list[Record], on: str) -> list[str]:
    """The Round as lines of text, house by house."""
    names = {record["id"]: str(record["fields"].get("name") or record["id"]) for record in records}
    numbers = _walk_numbers(records)
    ready = [job for job in jobs if job["state"] == "ready" and not job["low"]]
    calm = [job for job in jobs if job["state"] == "ready" and job["low"]]
    low, upkeep = [job for job in calm if job["batch"]], [job for job in calm if not job["batch"]]
    out = [f"Round of {on}: {len(ready)} jobs, {sum(job['minutes'] for job in ready)} min"]
    house: str | None = "?"
    for job in (job for job in jobs if job["state"] in ("ready", "waiting", "done") and not job["low"]):
        if job["house"] != house:
            house = job["house"]
            out += ["", f"{numbers.get(house or '', '-')}  {names.get(house, 'Anywhere') if house else 'Anywhere'}"]
        out.append(_line(job))
    if upkeep:
        out += ["", f"{len(upkeep)} of the other work"]
        out += [f"   {job['title']}" for job in upkeep]
    if low:
        out += ["", f"{len(low)} lots of spare plants"]
        out += [f"   {job['title']} ({job['subject']})" for job in low]
    early = [job for job in jobs if job["state"] == "early"]
    if early:
        out += ["", f"{len(early)} could be begun"]
        out += [f"   best {job['aim']}  {job['title']}" for job in sorted(early, key=lambda job: job["aim"])]
    later = [job for job in jobs if job["state"] == "later"]
    if later:
        out += ["", f"{len(later)} later"]
        out += [f"   from {job['from']}  {job['title']}" for job in sorted(later, key=lambda job: job["from"])[:12]]
    lapsed = [job for job in jobs if job["state"] == "lapsed"]
    if lapsed:
        out += ["", f"{len(lapsed)} lapsed"]
        out += [f"   {job['title']}: {job['why'][0]}" for job in lapsed]
    return out


def _line(job: Job) -> str:
    head = f"   {job['title']}"
    if job["subject"] and job["subject"] not in job["title"]:
        head += f" ({job['subject']})"
    if job["state"] == "ready":
        answers = f" ({', '.join(way['say'] for way in job['ways'])}?)" if job["ways"] else ""
        return f"{head}: {leeway_words(job)}, {job['minutes']} min{answers}"
    if job["state"] == "waiting":
        return f"{head}: {leeway_words(job)}, waiting on {job['in_the_way'][0]['text']}"
    return f"{head}: {HEADS[job['state']]}"


def leeway_words(job: Job) -> str:
    """How long it can wait."""
    leeway = job["leeway"]
    if leeway is None:
        return "can wait"
    if leeway < 0:
        return f"{-leeway} days past" if leeway < -1 else "1 day past"
    return "today" if leeway == 0 else "by tomorrow" if leeway == 1 else f"can wait {leeway} days"
