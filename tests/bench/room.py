"""A year of room and a bed's plan on the phone's half: some 150 batches in 40 places, 4x slower beside it.

The floor is the list of the same household worked out in the same page: room is what comes on top of it.
"""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from tests.bench.season import ON, rulebook, season
from tests.bench.table import Row, median, under
from tests.bench.tools import SLOW_CPU, Tools

BATCHES, PLACES = 150, 40
REPEATS = 15
IN_PAGE = """async ({records, rulebook, today, repeats}) => {
  const at = (path) => import(`/scripts/${path}.js`);
  const [{Settled}, {roomOf}, {bedOn}] = await Promise.all(["kernel/settle", "kernel/room", "household/bed-working"].map(at));
  const timed = (work) => { const start = performance.now(); work(); return performance.now() - start; };
  const pause = () => new Promise((resolve) => setTimeout(resolve, 5));
  const found = {settle: [], room: [], bed: []};
  const settled = new Settled(rulebook, records, today);
  const room = roomOf(settled, records);
  const beds = records.filter((one) => one.kind === "place" && one.fields.length_cm);
  const standing = room.stays.filter((stay) => stay.layout && stay.from <= today && today < stay.to);
  const fullest = beds.map((bed) => ({bed, many: standing.filter((stay) => stay.place === bed.id).length}));
  const {bed} = fullest.reduce((best, one) => (one.many > best.many ? one : best));
  for (let turn = 0; turn < repeats + 3; turn += 1) {
    await pause();
    const keep = turn >= 3;
    const times = [timed(() => new Settled(rulebook, records, today)), timed(() => roomOf(settled, records)),
      timed(() => bedOn(room, bed.id, bed.fields, today))];
    if (keep) [found.settle, found.room, found.bed].forEach((list, which) => list.push(times[which]));
  }
  const batches = records.filter((one) => one.kind === "batch").length;
  return {...found, batches, places: room.places.length, stays: room.stays.length};
}"""


def rows(tools: Tools) -> Iterator[Row]:
    """At the machine's own pace and at a quarter of it."""
    given = {"records": household(), "rulebook": rulebook(), "today": ON, "repeats": REPEATS}
    for slower in (1, SLOW_CPU):
        with tools.page(tools.scripts_url, slow=slower) as page:
            found: dict[str, Any] = page.evaluate(IN_PAGE, given)
        pace = "" if slower == 1 else f", CPU {slower}x"
        size = f"{found['batches']} batches, {found['places']} places, {found['stays']} stays"
        limit = under(16, "ms") if slower == 1 else None
        yield Row(f"a year of room ({size}){pace}", median(found["settle"]), median(found["room"]), "ms", limit)
        yield Row(f"  the fullest bed's plan{pace}", median(found["settle"]), median(found["bed"]), "ms", limit)


def household() -> list[dict[str, Any]]:
    """150 batches with all that was told of them, in the household's places and as many again as make 40."""
    records = season()
    batches = [record["id"] for record in records if record["kind"] == "batch"][:BATCHES]
    gone = {record["id"] for record in records if record["kind"] == "batch"} - set(batches)
    kept = [one for one in records if one["id"] not in gone and one["fields"].get("batch") not in gone]
    places = [one for one in kept if one["kind"] == "place"]
    outer = {one["fields"].get("within") for one in places}
    sized = [one for one in places if one["fields"].get("length_cm") and one["id"] not in outer]
    more = sized[: max(0, PLACES - len(sized))]
    return kept + [one | {"id": f"{one['id']}.more"} for one in more]
