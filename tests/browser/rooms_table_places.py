"""The same table as `rooms_table`, for Ground, Season, Diary and Shed."""

from __future__ import annotations

from typing import Any

from tests.browser.rooms_household import ALL_OF_IT, ASK, AT_UTC, DAYS, PHONES, SEEDS, SHARED, SOWINGS, TODAY, record

SEASON = {"year": None, "order": "when", "words": ""}
TABLE: list[tuple[str, str, list[Any], dict[str, Any]]] = [
    (
        "rooms/ground/seen",
        "seeGround",
        ["$book", TODAY],
        {
            "words": "2 places, in walking order",
            "houses.0.name": "Plot",
            "houses.1.holds": "bed, empty",
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
            "plants": ["2 up, Plot", "6 potted up, Plot", "potted up about 15 April, by the calendar: nobody told"],
            "deeds.0.note": "“two leaves”",
            "deeds.2.verb": "Sowed",
        },
    ),
    ("rooms/ground/form/seen", "beginning", ["batch", ["for_place=bed"], TODAY], {"": {"for_place": "bed", "year": 2031}}),
    (
        "rooms/ground/form/seen",
        "fieldsOf",
        ["$book", {"kind": "job", "fresh": True}, {"title": "Mend", "place": None}],
        {"": {"title": "Mend", "hand": True}},
    ),
    ("rooms/ground/form/seen", "fieldsOf", ["$book", {"kind": "batch", "fresh": False}, {"want": None}], {"": {"want": None}}),
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
            "tape.sized": True,
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
        ["$book", TODAY, {"year": None, "order": "family", "words": ""}],
        {"year": 2031, "years": [], "groups.0.title": "Potato family", "groups.0.batches.0.says": "6 bellfruits"},
    ),
    ("rooms/season/seen", "seeSeason", ["$book", TODAY, {**SEASON, "year": 2029}], {"groups": [], "span.from": "2029-01-01"}),
    ("rooms/season/seen", "seeSeason", ["$book", TODAY, {**SEASON, "order": "place"}], {"groups.0.title": "Plot"}),
    ("rooms/season/seen", "seeSeason", ["$book", TODAY, SEASON], {"groups.0.title": "Growing now"}),
    ("rooms/season/seen", "seeSeason", ["$book", TODAY, {**SEASON, "words": "zzz"}], {"groups": [], "any": True}),
    ("rooms/season/seen", "seeSeason", ["$book", TODAY, {**SEASON, "words": "POTATO fam"}], {"groups.0.title": "Growing now"}),
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
            "lines.3": "This phone's clock is 2 h fast. What you write is kept in the right order all the same, "
            "and under the household's day.",
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
    (
        "rooms/ground/place/bed-seen",
        "seeBed",
        ["$book", "$room", "bed", {"day": "2031-06-20", "year": 2031}, TODAY],
        {
            "size": "4 m × 1 m",
            "end": "door end",
            "parts.0.words": "6 bellfruits",
            "parts.0.says": "Redbell, 50 cm apart, expected",
            "freeSays.0.says": "1 m",
            "time.when": "as expected, 20 June",
            "tapes.0.lines.0": "Rows 50 cm from the left edge of 100 cm",
        },
    ),
    ("rooms/ground/place/bed-seen", "seeBed", ["$book", "$room", "plot", {"day": TODAY, "year": 2031}, TODAY], {"": None}),
    (
        "rooms/ground/place/close-seen",
        "seeClose",
        ["$book", "$room", "bed", TODAY],
        {
            "batch": "b1",
            "heading": "6 bellfruits to plant, 20 May. How close?",
            "ways.0.words": "6 at 40 cm",
            "ways.1.chosen": True,
        },
    ),
    (
        "rooms/ground/place/house-seen",
        "seeHouse",
        ["$book", "$room", "house", {"day": "2031-06-20", "year": 2031}, TODAY],
        {"places.0.name": "bed 1", "places.0.taken": 75, "hangs": "Up here: the trestle."},
    ),
    (
        "rooms/ground/place/next-seen",
        "seeNext",
        ["$book", "$room", "bed", TODAY],
        {"years.0.says": "bellfruits", "gaps.0.from": TODAY},
    ),
    (
        "rooms/ground/fullness/seen",
        "seeFullness",
        ["$book", "$room", TODAY],
        {"over": 0, "houses.0.places.0.name": "bed 1", "unsized": "Without a size, and so not here: Plot."},
    ),
    (
        "rooms/ground/layout/seen",
        "seeLayouts",
        ["$book", "$room", "house", TODAY],
        {"layouts.0.name": "As it is", "layouts.0.facts.0": ["Plants", "all 6 find room"]},
    ),
    ("rooms/ground/layout/seen", "seeLayouts", ["$book", "$room", "plot", TODAY], {"": None}),
    (
        "rooms/shed/takes/seen",
        "seeTakes",
        ["$book", "$room", {"days": 366, "from": "", "to": "", "batch": None, "place": None}, TODAY],
        {"words": "19 May to 19 May 2032", "stretches.3.chosen": True, "buy.0.lack": 7},
    ),
    (
        "rooms/shed/takes/seen",
        "boughtWishes",
        [
            {"what": "Redbell", "unit": "seeds", "need": 20, "lack": 10, "variety": "red"},
            {"id": "x", "today": TODAY, "at": {"at": "9:00", "by": None}},
        ],
        {"0.kind": "variety", "0.fields.seeds": 20},
    ),
    ("rooms/shed/vessels/seen", "seeVessels", ["$book"], {"": []}),
]
