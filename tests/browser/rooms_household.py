"""A small invented household for `rooms_table`: its records and rulebook, and what its people choose, type and are told."""

from __future__ import annotations

from typing import Any

from tests.kernel.small import rulebook

TODAY = "2031-05-19"


def record(kind: str, id_: str, **fields: Any) -> dict[str, Any]:
    """A record as the book holds it."""
    return {"id": id_, "kind": kind, "stamp": "000000000001-0000-aaaaaaaa", "fields": fields}


RECORDS = [
    record("site", "site", name="Nowhere Row", last_frost="05-12", first_frost="10-18"),
    record("place", "house", name="Long glass", sort="house", cover="glass", walk=2),
    record("place", "bed", name="bed 1", sort="bed", within="house", walk=1, length_cm=400, width_cm=100),
    record("place", "plot", name="Plot", sort="house", cover="open", walk=1),
    record("fixture", "bench", name="the trestle", sort="trestle", place="bed", in_way_of=["plant_out"], up=True, holds=True),
    record("variety", "red", name="Redbell", crop="bellfruit", seeds=10),
    record("batch", "b1", variety="red", year=2031, want=6, for_place="bed"),
    record("person", "ida", name="Ida"),
    record(
        "job", "door", title="Mend the glass door", place="house", hand=True, **{"from": "2031-05-10", "by_day": "2031-05-18"}
    ),
    record("diary", "d1", did="sow", batch="b1", count=9, on="2031-02-10", at="10:15", by="ida", place="plot"),
    record("diary", "d2", did="emerge", batch="b1", count=8, on="2031-02-22"),
    record("diary", "d3", did="measure", place="house", tmin=4, tmax=21, on="2031-05-18", at="08:00"),
    record("diary", "d4", did="look", batch="b1", found="mite", level="few", note="two leaves", on="2031-05-18", at="19:00"),
]
RULEBOOK = rulebook()
RULEBOOK["crops"]["bellfruit"]["spacing_cm"] = [40, 60, 50]

ASK = {
    "mode": "begin",
    "crop": "bellfruit",
    "variety": "red",
    "name": "",
    "want": 30,
    "place": "bed",
    "day": "",
    "spacing": "",
    "row": "",
    "pattern": "",
    "across": False,
    "tapeLength": "",
    "tapeWidth": "",
    "tapeEnd": "",
    "stage": "",
    "pot": 0,
    "here": "",
    "since": TODAY,
    "count": 6,
    "picked": False,
}
SLIP = {
    "did": "lose",
    "batch": "b1",
    "place": None,
    "fixture": None,
    "job": None,
    "found": None,
    "on": TODAY,
    "more": {},
    "note": "",
    "photos": [],
}
GIVEN = {"today": TODAY, "here": {"batch": None, "place": None}, "sure": False, "all": False, "asked": ""}
SHARED = {
    "kept": 2,
    "oldest": 1936944000000,
    "lastShared": None,
    "reachable": False,
    "problem": None,
    "clockAheadMs": 7200000,
    "keeps": True,
    "differs": False,
    "unread": [],
}
PHONES = {
    "this": "a",
    "phones": [
        {"id": "a", "name": "Mine", "person": "ida", "seen": 0},
        {"id": "b", "name": "Hers", "person": None, "seen": 1936944000000, "guest": {"until": "2031-05-30"}},
    ],
    "waiting": [{"id": "c", "name": "New one"}],
}
AT_UTC = {"book": "$book", "today": TODAY, "now": 1936944000000, "zone": "UTC"}
SEEDS = {
    "good": [{"variety": "Lim", "crop": "bellfruit", "germination_pct": 80, "seeds": 1, "weight_g": None}],
    "unknown": [{"name": "Oca", "lines": [3, 7], "near": ["bellfruit"]}],
    "left_out": 0,
    "bad": [],
}
DAYS = {"questions": [], "days": {"2030-01-01": [-3, 4], "2030-01-02": [1, 9]}, "left_out": 0, "bad": []}
GUEST = {
    "today": TODAY,
    "until": "2031-05-25",
    "places": [{"id": "plot", "name": "Plot"}],
    "cautions": {"heat": {"title": "Heat", "say": "Drink."}},
    "jobs": [
        {
            "id": "w",
            "title": "Water bed 1",
            "state": "ready",
            "where": "Long glass",
            "minutes": 10,
            "by": None,
            "subject": "",
            "hint": None,
            "cautions": ["heat", "none"],
        }
    ],
}
SOWINGS = {
    "sowings": [
        {
            "sow": "2031-06-01",
            "plant": "2031-07-01",
            "pick_from": "2031-08-01",
            "pick_to": "2031-08-09",
            "seeds": 9,
            "plants": 6,
        }
    ],
    "gaps": [{"from": "2031-09-01", "to": "2031-09-01", "why": "too cold"}],
    "says": "",
    "from": "",
    "to": "",
    "raised": True,
    "by_heat": False,
}

ALL_OF_IT = "It would see and write everything, as this phone does. Let it in only if you have it before you."
