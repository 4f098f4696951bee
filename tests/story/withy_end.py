"""A worked week at Withy End, told record by record, with what the list says after each."""

from __future__ import annotations

from typing import Any

from server.kernel.fit import fit
from server.kernel.read.merge import merge_record
from server.kernel.said.say import Job
from server.kernel.settle import settle
from tests.builders import site_record, withy_end_rulebook

Record = dict[str, Any]
YEAR = 2031


def plain(text: str) -> str:
    """With plain spaces, as tests are typed."""
    return text.replace("\u00a0", " ")


class Household:
    """Records as they are told, by whom, and the list for a day. Every list that was asked for is remembered."""

    def __init__(self) -> None:
        self.records: dict[str, Record] = {}
        self.asked: list[tuple[list[Record], str]] = []
        self._clock = 0
        self.take(site_record())
        self._ground()

    def take(self, change: Record) -> Record:
        """Merge a change."""
        merged = merge_record(self.records.get(change["id"]), change)
        self.records[change["id"]] = merged
        return merged

    def put(self, kind: str, id_: str, device: str = "hazelaaa", **fields: Any) -> Record:
        """A record, or an edit of one."""
        self._clock += 1
        return self.take({"id": id_, "kind": kind, "stamp": f"{self._clock:012x}-0000-{device}", "fields": fields})

    def did(self, on: str, did: str, by: str = "hazel", id_: str | None = None, **fields: Any) -> str:
        """A deed; gives its id."""
        made = id_ or f"deed{self._clock + 1:04d}"
        device = {"hazel": "hazelaaa", "jim": "jimaaaaa", "bet": "betaaaaa"}[by]
        self.put("diary", made, device, on=f"{YEAR}-{on}", did=did, by=f"person.{by}", **fields)
        return made

    def tick(self, on: str, job: Job, by: str = "hazel", **more: Any) -> str:
        """What the app writes when a job is ticked."""
        fields = {**job["writes"], "job": job["id"], "part": job["part"]}
        if job["count"] is not None and job["verb"] != "clear":
            fields["count"] = job["count"]
        fields.pop("did")
        return self.did(on, job["writes"]["did"], by, **{**fields, **more})

    def list(self, on: str) -> list[Job]:
        """The list of a day."""
        today = f"{YEAR}-{on}"
        found = list(self.records.values())
        self.asked.append((found, today))
        return settle(withy_end_rulebook(), found, today)

    def job(self, on: str, words: str) -> Job:
        """The one open job whose title holds some words."""
        found = [job for job in self.list(on) if words in plain(job["title"]) and job["state"] != "done"]
        assert len(found) == 1, self.titles(on)
        return found[0]

    def titles(self, on: str, *states: str) -> list[str]:
        """Titles of a day's jobs in these states (all but done ones by default)."""
        return [plain(j["title"]) for j in self.list(on) if (j["state"] in states if states else j["state"] != "done")]

    def fits(self, on: str, minutes: int) -> tuple[list[Job], dict[str, Any]]:
        """The list and what of it goes into so many minutes."""
        jobs = self.list(on)
        return jobs, fit(jobs, minutes)

    def _ground(self) -> None:
        places: list[tuple[str, dict[str, Any]]] = [
            ("lean_to", {"name": "Lean-to", "sort": "house", "cover": "glass", "walk": 1}),
            ("lean_to.shelf", {"name": "shelf", "sort": "shelf", "within": "lean_to"}),
            ("lean_to.prop", {"name": "propagator", "sort": "propagator", "within": "lean_to", "heated_to_c": 25}),
            ("long", {"name": "Long House", "sort": "house", "cover": "glass", "walk": 2}),
            ("long.north", {"name": "north border", "sort": "border", "within": "long", "walk": 1}),
            ("long.south", {"name": "south border", "sort": "border", "within": "long", "walk": 2}),
            ("long.bench", {"name": "south bench", "sort": "bench", "within": "long", "walk": 3}),
            ("tunnel", {"name": "Tunnel", "sort": "house", "cover": "tunnel", "walk": 3}),
            *((f"tunnel.{n}", {"name": f"bed {n}", "sort": "bed", "within": "tunnel", "walk": n}) for n in range(1, 5)),
            ("frames", {"name": "Frames", "sort": "house", "cover": "frame", "walk": 4}),
            ("top", {"name": "Top beds", "sort": "house", "cover": "open", "walk": 5}),
            *((f"top.{n}", {"name": f"bed {n}", "sort": "bed", "within": "top", "walk": n}) for n in range(1, 5)),
        ]
        for id_, fields in places:
            self.put("place", id_, **fields)
        trestle = {"name": "the trestle", "sort": "trestle", "place": "tunnel.4", "in_way_of": ["plant_out"], "holds": True}
        self.put("fixture", "trestle", up=True, **trestle)
        self.put("fixture", "drip", name="the Frames' drip line", sort="drip_line", place="frames")
        for person in ("hazel", "jim", "bet"):
            self.put("person", f"person.{person}", name=person.title())

    def batch(self, id_: str, crop: str, variety: str, **fields: Any) -> None:
        """A batch of a variety of its own."""
        self.put("variety", f"v.{id_}", name=variety, crop=crop)
        self.put("batch", id_, variety=f"v.{id_}", year=YEAR, **fields)
