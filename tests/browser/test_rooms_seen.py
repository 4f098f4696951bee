"""What each room shows, by table: its pure half run in the browser over a small household, nothing drawn.

The household and its crop are invented; what is checked is that a book and a choice give these words.
"""

from __future__ import annotations

import json
from collections.abc import Iterator
from typing import Any

import pytest
from playwright.sync_api import Browser, Page

from tests.kernel.browser_kernel import kernel_page
from tests.kernel.small import rulebook

TODAY = "2031-05-19"
NO_BREAK = "\u00a0"

READ = """async ({records, rulebook, today, calls}) => {
  const at = (path) => import(`/scripts/${path}.js`);
  const [{ Book }, { Settled }, { standOf }, { resting }] = await Promise.all(
    ["store/book", "kernel/settle", "kernel/stand", "kernel/rest"].map(at));
  const book = new Book({ channel: null, afterWrite: () => {} });
  const store = {
    live: async () => records, all: async () => records,
    outboxCount: async () => 0, outbox: async () => [], refused: async () => [],
    meta: async (name) => ({ rulebook, lastShared: null, restingYears: [] })[name] ?? null,
  };
  book.bring(store, { Settled, standOf, resting });
  await book.load();
  const ids = { made: 0 };
  const given = { book, today, jobs: book.jobs(today), nothing: new Set(), newId: () => `new${ids.made += 1}` };
  const filled = (arg) => {
    if (typeof arg === "string" && arg.startsWith("$")) return given[arg.slice(1)] ?? book.get(arg.slice(1));
    if (Array.isArray(arg)) return arg.map(filled);
    if (!arg || typeof arg !== "object") return arg;
    return Object.fromEntries(Object.entries(arg).map(([name, value]) => [name, filled(value)]));
  };
  const answers = [];
  for (const { module, door, args } of calls) {
    const work = (await at(module))[door];
    answers.push(work(...args.map(filled)));
  }
  return JSON.parse(JSON.stringify(answers, (_key, value) => (value instanceof Map ? [...value] : value)));
}"""


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


@pytest.fixture(scope="module")
def page(browser: Browser) -> Iterator[Page]:
    with kernel_page(browser) as made:
        yield made


def seen(page: Page, module: str, door: str, *args: Any) -> Any:
    """What one pure function of a room gives. `$book`, `$jobs`, `$ID` and others stand for what the household has."""
    calls = [{"module": module, "door": door, "args": list(args)}]
    (answer,) = page.evaluate(READ, {"records": RECORDS, "rulebook": RULEBOOK, "today": TODAY, "calls": calls})
    return json.loads(json.dumps(answer).replace("\\u00a0", " "))


def part(answer: Any, path: str) -> Any:
    """`jobs.0.title` of an answer."""
    for name in path.split(".") if path else []:
        answer = answer[int(name)] if isinstance(answer, list) else answer[name]
    return answer


ASK = {
    "mode": "begin",
    "crop": "bellfruit",
    "variety": "red",
    "name": "",
    "want": 30,
    "place": "bed",
    "day": "",
    "spacing": "",
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
GIVEN = {"today": TODAY, "placeInHand": None, "all": False}
SHARED = {"kept": 2, "oldest": 1936944000000, "lastShared": None, "reachable": False, "problem": None, "clockAheadMs": 7200000}
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
        ["$book", SLIP, "details", "ida"],
        {"who": "Ida, Monday 19 May.", "did.words": "Lost some", "to.words": "Redbell", "last.now": True},
    ),
    (
        "rooms/jot/seen",
        "seeBatches",
        ["$book", SLIP, GIVEN],
        {"batches.0.name": "Redbell", "batches.0.says": "up", "wholePlace": None, "more": ""},
    ),
    ("rooms/jot/seen", "seeCount", ["$book", SLIP, GIVEN], {"count": 1, "weighing": False, "to": None, "potbound": None}),
    (
        "rooms/jot/seen",
        "seeCount",
        ["$book", {**SLIP, "did": "plant_out"}, GIVEN],
        {"to.chosen": "bed", "to.places.0.name": "Long glass, bed 1", "potbound": False},
    ),
    ("rooms/jot/seen", "seeSightings", ["$book", SLIP], {"none.words": "Looked, all well", "troubles.0.name": "mites"}),
    (
        "rooms/jot/seen",
        "seeReading",
        ["$book", {**SLIP, "did": "measure", "place": "house"}],
        {"where": "Long glass", "low": 4, "high": 21},
    ),
    (
        "rooms/jot/seen",
        "seeFixtures",
        ["$book", {**SLIP, "did": "remove"}, TODAY],
        {"fixtures.0.name": "the trestle", "fixtures.0.where": "Long glass, bed 1"},
    ),
    ("rooms/jot/seen", "seeFixtures", ["$book", {**SLIP, "did": "connect"}, TODAY], {"fixtures": []}),
    (
        "rooms/ground/seen",
        "seeGround",
        ["$book", TODAY],
        {
            "words": "2 places, in walking order",
            "houses.0.name": "Plot",
            "houses.1.holds": "bed",
            "houses.1.past": ", 1 past",
            "drawn": True,
        },
    ),
    (
        "rooms/ground/place/seen",
        "seePlace",
        ["$book", "bed", TODAY],
        {
            "bed": "bed 1",
            "house.name": "Long glass",
            "none": "Nothing grows here now.",
            "fixtures.0.says": "up",
            "fixtures.0.key": "Take down",
        },
    ),
    ("rooms/ground/place/seen", "seePlace", ["$book", "nowhere", TODAY], {"": None}),
    (
        "rooms/ground/batch/seen",
        "seeBatch",
        ["$book", "b1", TODAY],
        {
            "crop": "bellfruits",
            "plants": ["1 sown, Plot", "8 up, Plot"],
            "deeds.0.note": "“two leaves”",
            "deeds.2.verb": "Sowed",
        },
    ),
    ("rooms/ground/form/seen", "beginning", ["batch", ["for_place=bed"], TODAY], {"": {"for_place": "bed", "year": 2031}}),
    (
        "rooms/ground/form/seen",
        "fieldsOf",
        [{"kind": "job", "fresh": True}, {"title": "Mend", "place": None}],
        {"": {"title": "Mend", "hand": True}},
    ),
    ("rooms/ground/form/seen", "fieldsOf", [{"kind": "batch", "fresh": False}, {"want": None}], {"": {"want": None}}),
    (
        "rooms/ground/form/seen",
        "standingIn",
        ["$book", {"kind": "place", "id": "house"}, TODAY],
        {"": "2 places lie in it. Move or clear it first."},
    ),
    ("rooms/ground/form/months", "readMonths", [["1", "2"] * 12], {"value.11": [1, 2]}),
    (
        "rooms/ground/form/months",
        "readMonths",
        [["1,5", "2"] + ["3", "2"] * 11],
        {"wrong": "In Feb the night is warmer than the day. Change one of them."},
    ),
    (
        "rooms/ground/form/months",
        "readMonths",
        [["", "2"] * 12],
        {"wrong": "Give all twelve pairs as numbers, or leave all of them empty."},
    ),
    ("rooms/ground/form/months", "readMonths", [[""] * 24], {"value": None}),
    (
        "rooms/ground/plan/seen",
        "seeQuestions",
        ["$book", ASK, TODAY],
        {
            "crops.0": ["bellfruit", "bellfruits"],
            "apart.0.cm": 40,
            "apart.1.fits": "16 fit",
            "apart.1.chosen": True,
            "growing.stage": "planted",
        },
    ),
    (
        "rooms/ground/plan/seen",
        "planWishes",
        [
            "$book",
            {**ASK, "mode": "growing", "stage": "planted"},
            {"today": TODAY, "at": {"at": "11:00", "by": None}, "newId": "$newId"},
        ],
        {"variety": "red", "wishes.0.kind": "batch", "wishes.1.fields.did": "plant_out"},
    ),
    (
        "rooms/ground/readings/seen",
        "seeReadings",
        ["$book", "house", ""],
        {"place": "Long glass", "shown": "2031", "years": [], "older": False},
    ),
    (
        "rooms/ground/readings/seen",
        "seeFound",
        [DAYS],
        {
            "days.count": "2 days",
            "days.coldest": "-3 °C on Tuesday 1 January",
            "days.span": "from Tuesday 1 January 2030 to Wednesday 2 January 2030",
        },
    ),
    (
        "rooms/season/seen",
        "seeSeason",
        ["$book", TODAY, None],
        {"year": 2031, "years": [], "families.0.family": "Potato family", "families.0.batches.0.says": "6 bellfruits"},
    ),
    ("rooms/season/seen", "seeSeason", ["$book", TODAY, 2029], {"families": [], "span.from": "2029-01-01"}),
    (
        "rooms/season/successions/seen",
        "question",
        [
            "bellfruit",
            {"mode": "days", "variety": "", "place": "bed", "from": "", "to": "", "a_week": 14, "every": 9, "plants": 3},
        ],
        {"": "/api/successions?crop=bellfruit&mode=days&a_day=2&every=9&plants=3&place=bed"},
    ),
    (
        "rooms/season/successions/seen",
        "seeAnswer",
        ["$book", "bellfruit", SOWINGS, TODAY],
        {
            "title": "1 sowing",
            "gaps": ["Nothing on 1 September: too cold."],
            "lines.0.first": "Sow 9, 1 June",
            "lines.0.then": "planted 1 July, picked 1 August to 9 August",
            "key": "Put it in the book",
        },
    ),
    (
        "rooms/diary/deed/seen",
        "seeDeed",
        ["$book", "$d1"],
        {
            "verb": "Sowed",
            "what": "9 bellfruits, Redbell",
            "facts": "Monday 10 February, 10:15, Ida",
            "gone": False,
            "toldBy": "",
        },
    ),
    (
        "rooms/diary/deed/seen",
        "seeBefore",
        [[{"field": "count", "value": None, "ms": 1936944000000}], 1936944000000, "UTC"],
        {"0.field": "how many", "0.words": "nothing, 08:00"},
    ),
    ("rooms/diary/photo/seen", "seePhoto", ["$book", "none"], {"": None}),
    (
        "rooms/shed/seen",
        "seeHousehold",
        ["$book", "ida"],
        {"words": "Nowhere Row: Ida", "people.0.holds": True, "varieties": 1, "site": "last frost 12 May, first 18 October"},
    ),
    (
        "rooms/shed/seen",
        "seeSharing",
        [SHARED, {"now": 1936944000000, "zone": "UTC"}],
        {
            "words": "2 changes kept on this phone",
            "lines.0": "The oldest is from 08:00. They keep as long as they need to.",
            "lines.3": "This phone's clock is 2 h fast. What you write is kept in the right order all the same.",
        },
    ),
    (
        "rooms/shed/seen",
        "seeRefused",
        ["$book", {"key": 1, "why": "no such place", "change": record("diary", "x", did="note", note="words")}],
        {"verb": "Note", "note": "“words”", "why": "no such place"},
    ),
    (
        "rooms/shed/seen",
        "roomWords",
        [{"usage": 1, "quota": 12e9}, True],
        {"": "1 MB used of 12.0 GB. The browser keeps it for good."},
    ),
    ("rooms/shed/seen", "roomWords", [None, None], {"": "This browser does not say how much room there is."}),
    ("rooms/shed/crops/seen", "seeCrops", ["$book", "POTATO"], {"none": "", "parts.0.crops.0.name": "bellfruits"}),
    (
        "rooms/shed/crops/seen",
        "seeCrops",
        ["$book", "zzz"],
        {"none": "No crop is called “zzz”. It may go by another name; or make it a crop of your own."},
    ),
    ("rooms/shed/varieties/seen", "seeVarieties", ["$book"], {"": [{"id": "red", "name": "Redbell", "crop": "bellfruits"}]}),
    (
        "rooms/shed/seed-list/seen",
        "seeFound",
        ["$book", SEEDS, "$nothing"],
        {"question.words": "What is “Oca”? It stands on lines 3, 7.", "question.near.0.many": "bellfruits"},
    ),
    (
        "rooms/shed/own-crop/seen",
        "cropWish",
        ["$book", {"one": "Bell Fruit", "many": "bell fruits", "like": "bellfruit"}],
        {"id": "crop.bell_fruit", "fields.crop": "bell_fruit"},
    ),
    ("rooms/shed/own-crop/seen", "cropWish", ["$book", {"one": "bellfruit"}], {"id": "crop.bellfruit_2"}),
    (
        "rooms/shed/phones/seen",
        "seePhones",
        [AT_UTC, PHONES],
        {
            "phones.0.words": "Ida, this phone",
            "phones.1.words": "a guest until 30 May, last here 08:00",
            "waiting.0.words": ALL_OF_IT,
        },
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
        ["$book"],
        {"known": True, "name": "Nowhere Row", "frosts": "last frost 12 May, first 18 October"},
    ),
    ("rooms/begin/seen", "atFirst", ["$book"], {"step": 2}),
    (
        "rooms/begin/seen",
        "seePlaces",
        ["$book", {"sort": "glass"}],
        {"there.0.name": "Plot", "there.1.says": "1 place", "adding.beds": "Beds in it"},
    ),
    ("rooms/begin/seen", "seePlan", ["$book", {"wanted": {"bellfruit": 4}}, TODAY], {"0.many": "bellfruits", "0.want": 4}),
]


@pytest.mark.parametrize(
    ("module", "door", "args", "expected"),
    TABLE,
    ids=[f"{module.removeprefix('rooms/')}-{door}-{at}" for at, (module, door, *_) in enumerate(TABLE)],
)
def test_a_room_sees(page: Page, module: str, door: str, args: list[Any], expected: dict[str, Any]) -> None:
    answer = seen(page, module, door, *args)
    for path, wanted in expected.items():
        assert part(answer, path) == wanted, path
