"""The list worked out in both halves, at one, three and ten seasons, old ones at rest as the app puts them to rest.

The floor of one season is reading the same records once from JSON text. Three and ten seasons are held against one.
"""

from __future__ import annotations

import json
from collections.abc import Iterator
from typing import Any

from server.kernel.rest import resting
from server.kernel.settle import settle
from tests.bench.season import ON, rulebook, seasons
from tests.bench.table import Limit, Row, at_most, median, timed_ms, under
from tests.bench.tools import Tools

COUNTS = (1, 3, 10)
REPEATS = 15
OLD_SEASONS = 1.3
IN_PAGE = """async ({text, repeats}) => {
  const [{settle}, {resting}] = await Promise.all(["settle", "rest"].map((name) => import(`/scripts/kernel/${name}.js`)));
  const {records, rulebook, today} = JSON.parse(text);
  const timed = (work) => { const start = performance.now(); const made = work(); return [performance.now() - start, made]; };
  const asleep = new Set(resting(rulebook, records, today));
  const awake = records.filter((record) => !asleep.has(record.id));
  const awakeText = JSON.stringify(awake);
  const [first] = timed(() => settle(rulebook, awake, today));
  const ours = [];
  const floor = [];
  const all = [];
  for (let at = 0; at < repeats; at += 1) {
    await new Promise((resolve) => setTimeout(resolve));
    floor.push(timed(() => JSON.parse(awakeText))[0]);
    ours.push(timed(() => settle(rulebook, awake, today))[0]);
    all.push(timed(() => settle(rulebook, records, today))[0]);
  }
  return {first, floor, ours, all, awake: awake.length, jobs: settle(rulebook, awake, today).length};
}"""


def python_rows(tools: Tools) -> Iterator[Row]:
    """The Python half."""
    yield from _rows("Python", _in_python, under(100, "ms"))


def browser_rows(tools: Tools) -> Iterator[Row]:
    """The JavaScript half, in a page that has settled before, as after each tick."""

    def measured(records: list[dict[str, Any]]) -> dict[str, Any]:
        text = json.dumps({"records": records, "rulebook": rulebook(), "today": ON})
        with tools.page(tools.scripts_url) as page:
            found: dict[str, Any] = page.evaluate(IN_PAGE, {"text": text, "repeats": REPEATS})
        return found

    yield from _rows("browser", measured, under(16, "ms"))


def _in_python(records: list[dict[str, Any]]) -> dict[str, Any]:
    asleep = set(resting(rulebook(), records, ON))
    awake = [record for record in records if record["id"] not in asleep]
    text = json.dumps(awake)
    first = timed_ms(lambda: settle(rulebook(), awake, ON))
    floor, ours, all_ = [], [], []
    for _ in range(REPEATS):
        floor.append(timed_ms(lambda: json.loads(text)))
        ours.append(timed_ms(lambda: settle(rulebook(), awake, ON)))
        all_.append(timed_ms(lambda: settle(rulebook(), records, ON)))
    jobs = len(settle(rulebook(), awake, ON))
    return {"first": first, "floor": floor, "ours": ours, "all": all_, "awake": len(awake), "jobs": jobs}


def _rows(half: str, measure: Any, limit: Limit) -> Iterator[Row]:
    one = 0.0
    for count in COUNTS:
        records = seasons(count)
        found = measure(records)
        ours = median(found["ours"])
        size = f"{found['awake']:,} of {len(records):,} records awake, {found['jobs']:,} jobs"
        if count == 1:
            one = ours
            yield Row(f"settle, {half}, 1 season ({size})", median(found["floor"]), ours, "ms", limit)
            yield Row(f"  the very first time, {half}", median(found["floor"]), found["first"], "ms")
        else:
            yield Row(f"settle, {half}, {count} seasons ({size})", one, ours, "ms", at_most(OLD_SEASONS))
            yield Row(f"  the same with nothing at rest, {half}", one, median(found["all"]), "ms")
