"""What the phone works out about beds: gaps and what ripens in them, rotation, what is free, what could move. No server."""

from __future__ import annotations

import functools
import json
from collections.abc import Iterator
from typing import Any

import pytest
from playwright.sync_api import Browser, Page

from server.calendars.read import read_calendars
from server.season.rulebook import make_rulebook
from tests.builders import FIRST_STAMP, site_record
from tests.kernel.browser_kernel import kernel_page

TODAY = "2031-05-19"
Record = dict[str, Any]


def record(id_: str, kind: str, **fields: Any) -> Record:
    return {"id": id_, "kind": kind, "stamp": FIRST_STAMP, "fields": fields}


GROUND = [
    site_record(),
    record("plot", "place", name="Plot", sort="house", cover="open"),
    record("bed", "place", name="bed 1", sort="bed", within="plot", length_cm=600, width_cm=120),
    record("spare", "place", name="bed 2", sort="bed", within="plot", length_cm=600, width_cm=120),
    record("glass", "place", name="Glass", sort="house", cover="glass"),
    record("shelf", "place", name="shelf", sort="shelf", within="glass", length_cm=60, width_cm=40),
    record("bench", "place", name="bench", sort="shelf", within="glass", length_cm=300, width_cm=60),
    record("prop", "place", name="propagator", sort="propagator", within="glass", heated_to_c=20, length_cm=100, width_cm=50),
]


@functools.cache
def book() -> dict[str, Any]:
    return make_rulebook(read_calendars(), GROUND)


KNOWS = "(text) => { globalThis.rulebook = JSON.parse(text); }"
"""By which rulebook the page works from here on: it is large, and sent once."""
LOADED = """async ({records, today, module, door, args}) => {
  const at = (path) => import(`/scripts/${path}.js`);
  const [{ Book }, { Settled }, { standOf }] = await Promise.all(["store/book", "kernel/settle", "kernel/stand"].map(at));
  const book = new Book({ channel: null, afterWrite: () => {} });
  book.bring({
    live: async () => records, all: async () => records, outboxCount: async () => 0, outbox: async () => [],
    refused: async () => [], meta: async (name) => ({ rulebook, lastShared: null, restingYears: [] })[name] ?? null,
  }, { Settled, standOf });
  await book.load();
  const given = { $book: book, $room: await book.room(today) };
  return (await at(module))[door](...args.map((arg) => given[arg] ?? arg));
}"""
FILLERS = """async ([records, place, gap, today]) => {
  const { fillersOf } = await import("/scripts/household/gap-fillers.js");
  return [...fillersOf(rulebook, records, place, gap, today)];
}"""
BY_THE_DAY = """async ([ground, crops, gap, today]) => {
  const { courseOn } = await import("/scripts/household/gap-fillers.js");
  const { firstWindow } = await import("/scripts/household/plan-working.js");
  const { inSeason, iso, parse, yearOf } = await import("/scripts/kernel/read/days.js");
  const fits = {};
  for (const crop of crops) {
    fits[crop] = false;
    const wish = { crop, variety: null, want: 1, for_place: "bed", year: 0, sow_on: null, spacing_cm: null, pot_l: null };
    for (let turn = 0; turn <= (rulebook.crops[crop].turns || []).length; turn += 1) {
      const window = firstWindow(rulebook, ground, wish, turn);
      if (!window?.from || !window.by || window.unfit) continue;
      for (let year = yearOf(parse(gap.from)) - 1; year <= yearOf(parse(gap.to)); year += 1) {
        for (let day = inSeason(window.from, year); day <= inSeason(window.by, year); day += 1) {
          if (iso(day) < today || iso(day) > gap.to) continue;
          const course = courseOn({ rulebook, ground, today }, { ...wish, turn, year, sow_on: iso(day) });
          if (course && course.plant >= gap.from && course.pick <= gap.to) fits[crop] = true;
        }
      }
    }
  }
  return fits;
}"""


@pytest.fixture(scope="module")
def page(browser: Browser) -> Iterator[Page]:
    with kernel_page(browser) as made:
        made.evaluate(KNOWS, json.dumps(book()))
        yield made


def asked(page: Page, records: list[Record], module: str, door: str, *args: Any) -> Any:
    """What one function gives for a household. `$book` and `$room` stand for what the phone has of it."""
    question = {
        "records": GROUND + records,
        "today": TODAY,
        "module": module,
        "door": door,
        "args": list(args),
    }
    return page.evaluate(LOADED, question)


def batch(id_: str, crop: str, place: str = "bed", **fields: Any) -> list[Record]:
    given = {"variety": f"v.{id_}", "year": 2031, "want": 12, "for_place": place} | fields
    return [record(f"v.{id_}", "variety", name=id_.title(), crop=crop), record(id_, "batch", **given)]


def deed(id_: str, did: str, on: str, **fields: Any) -> Record:
    return record(id_, "diary", did=did, on=on, **fields)


GAPS = [("2031-06-10", "2031-08-20"), ("2031-07-20", "2031-11-15"), ("2031-09-10", "2032-04-20"), ("2032-03-01", "2032-06-30")]


@pytest.mark.parametrize(("since", "until"), GAPS)
def test_every_filler_is_picked_before_the_gap_ends(page: Page, since: str, until: str) -> None:
    found = [one for one in page.evaluate(FILLERS, [GROUND, "bed", {"from": since, "to": until}, TODAY]) if one]
    assert found
    for one in found:
        assert TODAY <= one["sow"] <= one["plant"] and since <= one["plant"] and one["pick"] <= until, one


@pytest.mark.parametrize(("since", "until"), GAPS)
def test_nothing_that_would_fit_is_left_out(page: Page, since: str, until: str) -> None:
    """Held against every day of every window of crops of each kind: sown there, raised, set, and hardy through winter."""
    crops = ["radish", "lettuce", "french_bean", "garlic", "lambs_lettuce", "courgette", "leek", "pea", "calabrese", "spinach"]
    gap = {"from": since, "to": until}
    offered = {one["crop"] for one in page.evaluate(FILLERS, [GROUND, "bed", gap, TODAY]) if one}
    by_the_day = page.evaluate(BY_THE_DAY, [[one for one in GROUND if one["kind"] == "place"], crops, gap, TODAY])
    assert {crop for crop in crops if crop in offered} == {crop for crop, fits in by_the_day.items() if fits}


def test_a_family_that_comes_back_is_cautioned_with_what_it_risks(page: Page) -> None:
    then = [
        *batch("old", "cabbage", year=2030),
        deed("d1", "sow", "2030-03-20", batch="old", place="prop", count=20, job="old.sow", part=1),
        deed("d2", "plant_out", "2030-05-10", batch="old", to_place="bed", count=12, job="old.plant_out", part=1),
        deed("d3", "clear", "2030-10-05", batch="old", place="bed", job="old.clear", part=1),
    ]
    cautions = "household/rotation-working", "rotationCautions"
    kale = {"crop": "kale", "know": book()["crops"]["kale"], "from": "2031-06-10"}
    said = " ".join(asked(page, then, *cautions, "$book", "$room", "bed", kale))
    assert "of the same family (Cabbage family), stood here until 2030" in said
    assert "clubroot 7 years" in said and "black rot 2 to 3 years" in said
    assert asked(page, then, *cautions, "$book", "$room", "spare", kale) == []
    later = {**kale, "from": "2038-06-10"}
    assert asked(page, then, *cautions, "$book", "$room", "bed", later) == []
    lettuce = {"crop": "lettuce", "know": book()["crops"]["lettuce"], "from": "2031-06-10"}
    assert asked(page, then, *cautions, "$book", "$room", "bed", lettuce) == []


def test_another_family_with_the_same_disease_is_cautioned_too(page: Page) -> None:
    then = [
        *batch("fruit", "strawberry", year=2029),
        deed("d1", "plant_out", "2029-09-01", batch="fruit", to_place="bed", count=12, job="fruit.plant_out", part=1),
        deed("d2", "clear", "2031-04-05", batch="fruit", place="bed", job="fruit.clear", part=1),
    ]
    what = {"crop": "potato", "know": book()["crops"]["potato"], "from": "2031-05-25"}
    said = asked(page, then, "household/rotation-working", "rotationCautions", "$book", "$room", "bed", what)
    assert said[0] == "After strawberries there waits in the ground: Verticillium wilt 4 years."


def test_what_is_free_is_what_is_left_over_all_the_days(page: Page) -> None:
    there = [
        *batch("one", "cabbage", spacing_cm=40, row_cm=40, at_cm=0),
        deed("d1", "plant_out", "2031-05-01", batch="one", to_place="bed", count=12, job="one.plant_out", part=1),
    ]
    ask = {"from": "2031-06-01", "to": "2031-09-01"}
    fields = {"length_cm": 600, "width_cm": 120}
    free = asked(page, there, "household/bed-working", "freeStretch", "$room", "bed", fields, ask)
    assert free == {"length": 4400, "width": 1200}  # three rows of four at 40 cm: 1.6 m taken, worked by hand


def test_a_strip_is_free_where_only_its_neighbour_is_full(page: Page) -> None:
    """The cabbages in the left 40 cm of a bed 1.2 m wide leave the other 80 cm free over their whole length."""
    there = [
        *batch("one", "cabbage", spacing_cm=40, row_cm=40, wide_cm=40),
        deed("d1", "plant_out", "2031-05-01", batch="one", to_place="bed", count=15, job="one.plant_out", part=1),
    ]
    fields = {"length_cm": 600, "width_cm": 120}
    ask = {"from": "2031-06-01", "to": "2031-09-01"}
    beside = {**ask, "layout": {"left": 400, "wide": None}}
    assert asked(page, there, "household/bed-working", "freeStretch", "$room", "bed", fields, ask) == {
        "length": 0,
        "width": 1200,
    }
    strip = asked(page, there, "household/bed-working", "freeStretch", "$room", "bed", fields, beside)
    assert strip == {"length": 6000, "width": 800}


def test_choices_are_counted_and_the_usual_distance_is_among_them(page: Page) -> None:
    """A bed of 4 m by 1.2 m for 14 tomatoes, 45 to 60 cm apart in rows as the calendar has them."""
    size = {"length": 4000, "width": 1200}
    know = {"spacing_cm": [45, 64, 53], "row_cm": 60}
    ways = asked(page, [], "household/bed-working", "closenesses", size, know, 14)
    told = {(way["count"], way["cm"]): way["spare"] for way in ways}
    assert told[(14, 57)] == 0, "7 x 57 cm is 3.99 m"
    assert any(count > 14 for count, _ in told) and any(spare > 0 for spare in told.values())
    roomy = asked(page, [], "household/bed-working", "closenesses", {"length": 9000, "width": 1200}, know, 6)
    assert [(way["cm"], way["spare"]) for way in roomy] == [(45, 0), (53, 0), (64, 0)]
    assert [way["run"] for way in roomy] == sorted(way["run"] for way in roomy)


def test_a_shelf_that_overflows_says_when_and_what_could_move(page: Page) -> None:
    """Forty-eight pots of 13 cm, as they are to be potted on, are 8,112 cm2, and a shelf of 60 by 40 cm has 2,400: 338 of 100,
    and 5,712 cm2 are 34 such pots too many. In pots of 11 cm they take 1 - (11 / 13)^2 less."""
    there: list[Record] = []
    for at in range(3):
        there += batch(f"b{at}", "tomato", want=16)
        potted = {"batch": f"b{at}", "to_place": "shelf", "count": 16, "pot_l": 0.3, "job": f"b{at}.pot_up_1", "part": 1}
        there.append(deed(f"s{at}", "pot_up", "2031-05-10", **potted))
    (over,) = asked(page, there, "household/room-working", "overflows", "$room", "shelf", TODAY)
    assert over["percent"] == 338 and over["from"] == TODAY
    ways = asked(page, there, "household/room-working", "couldMove", "$book", "$room", over, TODAY)
    said = " ".join(ways).replace("\u00a0", " ")
    assert "There is room then in Glass, bench." in said
    assert "34 pots fewer would do." in said
    assert "16 tomatoes in pots of 11 cm take 28 % less." in said
    told = asked(page, there, "household/room-working", "overflowsOf", "$book", "$room", "b1", TODAY)
    assert told and "338 % of what fits" in told[0]


def test_pots_stand_side_by_side_and_what_finds_no_room_is_counted(page: Page) -> None:
    lots = [{"batch": "a", "sort": "pot", "length": 90, "width": 90, "cells": 1, "many": 30}]
    stood = asked(page, [], "household/bench-working", "standSideBySide", 600, 400, lots)
    assert len(stood["stood"]) == 24 and stood["without"] == [6], "six along, four across"
    tray = [{"batch": "a", "sort": "cells", "length": 380, "width": 240, "cells": 24, "many": 2}]
    assert asked(page, [], "household/bench-working", "standSideBySide", 1000, 250, tray)["without"] == [0], (
        "turned where it must be"
    )


def link(id_: str, batch: str | None, *waits: str, state: str = "later", by: str = "2031-06-12") -> dict[str, Any]:
    ways = [{"job": one, "text": f"{one} done"} for one in waits]
    return {"id": id_, "batch": batch, "title": id_, "state": state, "aim": by, "by": by, "in_the_way": ways}


def chain(page: Page, jobs: list[dict[str, Any]], own: str) -> list[tuple[str, str, bool]]:
    job = next(one for one in jobs if one["id"] == own)
    found = asked(page, [], "household/chain", "chainOf", jobs, job)
    return [(one["job"]["id"], one["text"], one["own"]) for one in found]


def test_leeks_out_shelf_down_strings_up_is_one_chain_from_each_of_its_links(page: Page) -> None:
    jobs = [
        link("leeks", "b.leek", state="ready"),
        link("shelf", None, "leeks", state="waiting"),
        link("strings", "b.tomato", "shelf", "planting"),
        link("planting", "b.tomato", state="ready"),
        link("train", "b.tomato", "strings"),
        link("feed", "b.tomato", "train"),
    ]
    links = ["leeks", "shelf", "strings"]
    for own in links:
        assert [one[0] for one in chain(page, jobs, own)][:3] == links
        assert [one[0] for one in chain(page, jobs, own) if one[2]] == [own]
    assert chain(page, jobs, "strings")[0][1] == "leeks done"


def test_a_plants_own_next_step_is_no_chain_and_a_circle_ends(page: Page) -> None:
    own = [link("planting", "b", state="ready"), link("strings", "b", "planting")]
    assert chain(page, own, "strings") == [] and chain(page, own, "planting") == []
    round_ = [link("a", "x", "b"), link("b", "y", "a")]
    assert [one[0] for one in chain(page, round_, "a")] == ["b", "a"]


HOUSE = {"length": 900, "width": 420}
SPOT = {"x": 40, "y": 40, "long": 400, "wide": 120}


def test_a_bed_that_is_moved_comes_to_lie_on_an_edge_and_never_leaves_its_house(page: Page) -> None:
    other = {"x": 460, "y": 200, "long": 400, "wide": 120}
    module = "household/layout-working"
    assert asked(page, [], module, "moved", SPOT, {"dx": -32, "dy": 3}, [other], HOUSE) == {**SPOT, "x": 0, "y": 45}
    assert asked(page, [], module, "moved", SPOT, {"dx": 28, "dy": 150}, [other], HOUSE) == {**SPOT, "x": 60, "y": 200}, (
        "level with it"
    )
    assert asked(page, [], module, "moved", SPOT, {"dx": 9000, "dy": -9000}, [], HOUSE) == {**SPOT, "x": 500, "y": 0}
    assert asked(page, [], module, "moved", SPOT, {"dx": 10, "dy": 0}, [other], HOUSE, False) == {**SPOT, "x": 50}


def worth(page: Page, door: str, spots: dict[str, Any], *args: Any) -> Any:
    script = """async ([door, spots, args]) => {
      const module = await import("/scripts/household/layout-working.js");
      return module[door](new Map(Object.entries(spots)), ...args);
    }"""
    return page.evaluate(script, [door, spots, list(args)])


def test_what_a_layout_is_worth_is_worked_out_from_where_its_beds_lie(page: Page) -> None:
    """Two beds of 4 by 1.2 m along a house of 9 by 4.2 m, the door in the middle of its near end; all worked by hand."""
    two = {"a": SPOT, "b": {**SPOT, "y": 260}}
    assert worth(page, "narrowest", two) == 100
    assert worth(page, "overlapping", two) == [] and worth(page, "overlapping", {**two, "b": {**SPOT, "y": 100}}) == [
        ["a", "b"]
    ]
    assert worth(page, "outside", {"a": {**SPOT, "x": 600}}, HOUSE) == ["a"]
    assert worth(page, "walkOf", {"a": {"x": 30, "y": 210, "long": 400, "wide": 120}}, HOUSE) == 60, "30 cm there and 30 back"
    assert worth(page, "lightOf", two, 0) == 100 and worth(page, "lightOf", two, 90) == 0
    assert worth(page, "lightOf", {"a": {**SPOT, "long": 120, "wide": 400}}, 90) == 100
    assert worth(page, "lightOf", two, None) is None
