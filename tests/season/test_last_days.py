"""The last day on which a sowing still pays, held against the kernel's own list and against what growers say."""

from __future__ import annotations

from typing import Any

import pytest

from server.calendars.read import read_calendars
from server.kernel.read.days import in_season, iso, parse
from server.kernel.settle import settle
from server.season.calendar_schema import COVERS
from server.season.climate import read_site
from server.season.last_days import LATEST_D, last_that_pays
from server.season.windows import Line
from tests.builders import FIRST_STAMP, WITHY_END, withy_end_rulebook

CROPS = read_calendars().crops
SITE = read_site(WITHY_END)
YEAR = 2031

MID_SEASON = [
    ("french_bean", "open", "06-16", "07-15"),
    ("courgette", "open", "06-02", "07-10"),
    ("beetroot", "open", "07-15", "08-10"),
    ("carrot", "open", "07-07", "08-05"),
    ("radish", "open", "09-01", "09-20"),
    ("sweetcorn", "open", "05-19", "06-15"),
    ("sweet_pepper", "glass", "03-30", "05-10"),
    ("tomato", "glass", "03-30", "05-31"),
]
"""Last sowings that British growers give: common practice, days from memory; earliest and latest that is said."""


@pytest.mark.parametrize(("crop", "cover", "soonest", "latest"), MID_SEASON, ids=[row[0] for row in MID_SEASON])
def test_last_sowings_are_those_that_growers_give(crop: str, cover: str, soonest: str, latest: str) -> None:
    line = Line(SITE, CROPS[crop], cover)
    place = last_that_pays(line, CROPS[crop]["steps"][0]["id"])
    assert place is not None and soonest <= line.month_day(place) <= latest


@pytest.mark.parametrize("crop", sorted(CROPS))
def test_it_is_never_before_the_calendars_own_nor_weeks_beyond(crop: str) -> None:
    for cover in COVERS:
        line = Line(SITE, CROPS[crop], cover)
        for step in CROPS[crop]["steps"]:
            window, last = line.window(step["id"]), last_that_pays(line, step["id"])
            assert (window is None) == (last is None)
            if window is not None and last is not None:
                assert window[2] <= last <= window[2] + LATEST_D


def record(kind: str, id_: str, **fields: Any) -> dict[str, Any]:
    return {"id": id_, "kind": kind, "stamp": FIRST_STAMP, "fields": fields}


@pytest.mark.parametrize("crop", ["beetroot", "carrot", "french_bean", "pea", "potato", "radish", "kohlrabi"])
def test_what_is_begun_on_that_day_is_picked_before_its_end(crop: str) -> None:
    """The list itself, worked out by the kernel, has the first picking before frost or the end of growth."""
    rulebook = withy_end_rulebook()
    step = rulebook["crops"][crop]["steps"][0]
    entry = step["window"].get("open", step["window"]["*"])
    on = iso(in_season(entry.get("last", entry["by"]), YEAR))
    records = [
        record("place", "beds", name="Beds", sort="bed", cover="open"),
        record("place", "prop", name="Propagator", sort="propagator", cover="indoors", heated_to_c=20),
        record("variety", "v", name="Kind", crop=crop),
        record("batch", "b", variety="v", want=10, for_place="beds", year=YEAR),
        record(
            "diary", "d", did=step["verb"], batch="b", count=20, on=on, place="beds" if step["where"] == "final" else "prop"
        ),
    ]
    pick = next(job for job in settle(rulebook, records, on) if job["verb"] == "pick")
    assert parse(pick["from"]) < parse(f"{YEAR}-11-10"), (on, pick["from"])
