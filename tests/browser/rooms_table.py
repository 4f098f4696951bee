"""What each room shows, as a table: a module, its pure function, what it is given, and what the answer holds by path.

What is checked is that a book and a choice give these words.
"""

from __future__ import annotations

from typing import Any

from tests.browser.rooms_household import (
    GIVEN,
    GUEST,
    SLIP,
    TODAY,
)

TABLE: list[tuple[str, str, list[Any], dict[str, Any]]] = [
    ("rooms/job/seen", "seeWhere", ["$book", None], {"house": None, "beds": ""}),
    (
        "rooms/job/seen",
        "seeKeys",
        [{"state": "ready", "verb": "sow", "count": 3, "writes": {}}],
        {"sort": "done", "done": "Done, all 3", "beside": "some"},
    ),
    (
        "rooms/job/seen",
        "seeKeys",
        [{"state": "ready", "verb": "look", "count": None, "writes": {"found": "mite"}}],
        {"sort": "look", "beside": "more"},
    ),
    (
        "rooms/job/seen",
        "seeKeys",
        [{"state": "waiting", "verb": "sow", "count": 1, "writes": {}}],
        {"sort": "waits", "beside": ""},
    ),
    ("rooms/job/seen", "seeKeys", [{"state": "let go", "verb": "sow", "count": 1, "writes": {}}], {"sort": "take back"}),
    (
        "household/names",
        "tickSaid",
        ["$book", {"title": "Look for mites", "place": "bed", "count": None, "writes": {}}, {"level": "none"}],
        {"": "Look for mites; Long glass, bed 1; none seen"},
    ),
    (
        "household/names",
        "tickSaid",
        ["$book", {"title": "Plant 15 leeks in bed 1", "place": "bed", "count": 15, "writes": {}}, {"count": 9}],
        {"": "Plant 15 leeks in bed 1: 9 of 15; Long glass"},
    ),
    ("rooms/jot/slip", "stepNow", [{**SLIP, "did": None}], {"": "did"}),
    ("rooms/jot/slip", "stepNow", [{**SLIP, "did": "look", "batch": None}], {"": "batch"}),
    ("rooms/jot/slip", "stepNow", [{**SLIP, "did": "look", "batch": None, "place": "bed"}], {"": "found"}),
    ("rooms/jot/slip", "stepNow", [{**SLIP, "did": "move"}], {"": "where"}),
    ("rooms/jot/slip", "stepNow", [{**SLIP, "did": "remove", "batch": None}], {"": "fixture"}),
    ("rooms/jot/slip", "oneBack", [{**SLIP, "did": "plant_out", "more": {"to_place": "bed"}}], {"batch": None, "more": {}}),
    ("rooms/jot/slip", "oneBack", [{**SLIP, "found": "mite"}], {"found": None}),
    ("rooms/jot/slip", "oneBack", [{**SLIP, "batch": None}], {"did": None}),
    (
        "rooms/jot/slip",
        "deedOf",
        [
            {**SLIP, "note": "  slugs ", "more": {"typed": 9, "condition": "potbound"}},
            {"count": 2, "pot_l": None},
            {"jobs": "$jobs", "moment": {"on": TODAY, "at": "11:00", "by": None}},
        ],
        {"": {"did": "lose", "batch": "b1", "on": TODAY, "at": "11:00", "note": "slugs", "condition": "potbound", "count": 2}},
    ),
    (
        "rooms/jot/seen",
        "seeFrame",
        ["$book", SLIP, {"step": "details", "person": "ida", "here": None}],
        {"who": "Ida, Monday 19 May.", "did.words": "Lost some", "to.words": "Bellfruits", "last.now": True},
    ),
    (
        "rooms/jot/seen",
        "seeBatches",
        ["$book", SLIP, GIVEN],
        {"groups.0.lines.0.name": "Redbell", "groups.0.lines.0.says": "potted up", "wholePlace": None, "more": ""},
    ),
    ("rooms/jot/seen", "seeCount", ["$book", SLIP, GIVEN], {"count": 1, "weighing": False, "to": None, "potbound": None}),
    (
        "rooms/jot/seen",
        "seeCount",
        ["$book", {**SLIP, "did": "plant_out"}, GIVEN],
        {"to.chosen": "bed", "to.places.0.name": "Long glass, bed 1", "potbound": False},
    ),
    ("rooms/jot/seen", "seeSightings", ["$book", SLIP, TODAY], {"none.words": "Looked, all well", "likely.0.name": "mites"}),
    (
        "rooms/jot/seen",
        "seeReading",
        ["$book", {**SLIP, "did": "measure", "place": "house"}],
        {"where": "Long glass", "low": 4, "high": 21},
    ),
    (
        "rooms/jot/seen",
        "seeFixtures",
        ["$book", {**SLIP, "did": "remove"}, GIVEN],
        {"fixtures.0.name": "the trestle", "fixtures.0.where": "Long glass, bed 1"},
    ),
    ("rooms/jot/seen", "seeFixtures", ["$book", {**SLIP, "did": "connect"}, GIVEN], {"fixtures": []}),
    (
        "rooms/shed/upkeep/seen",
        "seeWorks",
        ["$book"],
        {"0.title": "Beds", "0.works.0.says": "every 10 to 42 days, as things grow, 7 March to 26 October"},
    ),
    (
        "rooms/shed/upkeep/seen",
        "seeWork",
        ["$book", "wash"],
        {
            "rhythm": "Once a year, 15 October to 7 January",
            "takes": "16 min for 4 m². Source: common practice.",
            "groups.1.house": "Long glass",
            "groups.1.targets.0.chosen": False,
            "none": "",
        },
    ),
    ("rooms/shed/upkeep/seen", "seeWork", ["$book", "heap"], {"whole.chosen": False, "groups": []}),
    (
        "rooms/shed/upkeep/seen",
        "seeWork",
        ["$book", "drain"],
        {"none": "No drip line or hose is in the book. Put it in on the Ground, as something put up in its bed."},
    ),
    (
        "rooms/shed/upkeep/seen",
        "chooseWish",
        ["weed", {"id": "upkeep.weed.bed", "target": "bed"}, True, TODAY],
        {"fields": {"work": "weed", "place": "bed", "since": TODAY, "gone": False}},
    ),
    (
        "rooms/jot/choices",
        "stageOfNew",
        ["plant_out"],
        {"": "planted"},
    ),
    ("rooms/join/seen", "phoneName", ["Mozilla/5.0 (Linux; Android 14)"], {"": "Android phone"}),
    (
        "rooms/join/seen",
        "notesOf",
        [{"kept": 3}],
        {"1": "What is kept on this phone is shared as soon as it has joined."},
    ),
    (
        "rooms/join/guest/seen",
        "seeGuest",
        ["$book", "g", GUEST, 0],
        {
            "words": "until 25 May. not shared yet",
            "parts.0.title": "To do",
            "parts.0.jobs.0.facts": "Long glass, 10 min",
            "parts.0.jobs.0.cautions.0.say": "Drink.",
            "parts.1.jobs": [],
            "none": False,
            "done": [],
        },
    ),
    ("rooms/join/guest/seen", "seeGuest", ["$book", "g", None, 0], {"none": False, "places": None}),
    (
        "rooms/begin/seen",
        "seeSite",
        ["$book", {"again": False}, {"climates": [], "asked": "", "zone": ""}],
        {"known": True, "asks": False, "name": "Nowhere Row", "frosts": "last frost 12 May, first 18 October"},
    ),
    ("lib/dates", "readMonthDay", ["12 May"], {"": "05-12"}),
    ("lib/dates", "readMonthDay", ["May 12"], {"": "05-12"}),
    ("lib/dates", "readMonthDay", ["18. 10."], {"": "10-18"}),
    ("lib/dates", "readMonthDay", ["05-12"], {"": "05-12"}),
    ("lib/dates", "readMonthDay", ["31 June"], {"": ""}),
    ("lib/dates", "readMonthDay", ["soon"], {"": ""}),
    ("rooms/begin/seen", "placeless", ["$book", {"wanted": {"bellfruit": 4}, "stands": {"bellfruit": "none"}}], {"": []}),
    ("rooms/begin/where", "readSpot", ["53,2", "-1.4"], {"spot.lat": 53.2, "spot.lon": -1.4}),
    ("rooms/begin/seen", "atFirst", ["$book"], {"step": 2}),
    (
        "rooms/begin/seen",
        "seePlaces",
        ["$book", {"sort": "glass"}],
        {"there.0.name": "Plot", "there.1.says": "1 place", "adding.beds": "Beds in it"},
    ),
    (
        "rooms/begin/seen",
        "seePlan",
        ["$book", {"wanted": {"bellfruit": 4}, "stands": {}}, TODAY],
        {"0.many": "bellfruits", "0.want": 4, "0.stands": "bed"},
    ),
]
