"""The list worked out in both halves, at one, three and ten seasons, old ones at rest as the app puts them to rest.

The floor of one season is reading the same records once from JSON text. Three and ten seasons are held against one, and so is
one deed taken into a list that is kept, as after each tick.
"""

from __future__ import annotations

import gc
import json
from collections.abc import Iterator
from typing import Any

from server.kernel.rest import resting
from server.kernel.settle import Settled, settle
from tests.bench.season import ON, rulebook, seasons
from tests.bench.table import Limit, Row, at_most, median, timed_ms, under
from tests.bench.tools import Tools

COUNTS = (1, 3, 10)
REPEATS = 25
WARM_UP = 5
OLD_SEASONS = 1.3
DEEDS = 120
ONE_DEED = 0.1
IN_PAGE = """async ({texts, rulebook, today, repeats, warmUp}) => {
  const [{settle}, {resting}] = await Promise.all(["settle", "rest"].map((name) => import(`/scripts/kernel/${name}.js`)));
  const timed = (work) => { const start = performance.now(); work(); return performance.now() - start; };
  const found = texts.map((text) => {
    const all = JSON.parse(text);
    const asleep = new Set(resting(rulebook, all, today));
    const awake = all.filter((record) => !asleep.has(record.id));
    return {all, awake, text: JSON.stringify(awake), ours: [], floor: [], whole: []};
  });
  const pause = () => new Promise((resolve) => setTimeout(resolve, 5));
  for (let at = 0; at < warmUp; at += 1) settle(rulebook, found[0].awake, today);
  for (let at = 0; at < repeats; at += 1) {
    for (const one of found) {
      await pause();
      one.ours.push(timed(() => settle(rulebook, one.awake, today)));
    }
  }
  for (let at = 0; at < repeats; at += 1) {
    for (const one of found) {
      await pause();
      one.floor.push(timed(() => JSON.parse(one.text)));
      if (at < 5) one.whole.push(timed(() => settle(rulebook, one.all, today)));
    }
  }
  return found.map(({all, awake, ours, floor, whole}) => ({
    all: all.length, awake: awake.length, jobs: settle(rulebook, awake, today).length, ours, floor, whole}));
}"""
TAKEN = """async ({text, rulebook, today, deeds}) => {
  const {Settled} = await import("/scripts/kernel/settle.js");
  const records = JSON.parse(text);
  for (let turn = 0; turn < 5; turn += 1) new Settled(rulebook, records, today);
  const kept = new Settled(rulebook, records, today);
  return deeds.map((deed) => {
    const start = performance.now();
    kept.take([deed]);
    kept.jobs();
    return performance.now() - start;
  });
}"""
FIRST = """async ({texts, rulebook, today}) => {
  const {settle} = await import("/scripts/kernel/settle.js");
  const records = JSON.parse(texts[0]);
  const start = performance.now();
  settle(rulebook, records, today);
  return performance.now() - start;
}"""


def python_rows(tools: Tools) -> Iterator[Row]:
    """The Python half."""
    found = _in_python()
    yield from _rows("Python", found, under(100, "ms"))
    kept, took = Settled(rulebook(), seasons(1), ON), []
    for deed in _deeds():
        took.append(timed_ms(lambda deed=deed: kept.take([deed]) or kept.jobs()))
    yield Row("one deed into a kept list, Python", median(found[0]["ours"]), median(took), "ms", at_most(ONE_DEED))


def browser_rows(tools: Tools) -> Iterator[Row]:
    """The JavaScript half, in a page that has settled before, as after each tick; and in one that has not."""
    texts = [json.dumps(seasons(count)) for count in COUNTS]
    given = {"texts": texts, "rulebook": rulebook(), "today": ON, "repeats": REPEATS, "warmUp": WARM_UP}
    first = []
    for _ in range(3):
        with tools.page(tools.scripts_url) as page:
            first.append(float(page.evaluate(FIRST, given)))
    with tools.page(tools.scripts_url) as page:
        found: list[dict[str, Any]] = page.evaluate(IN_PAGE, given)
        took = page.evaluate(TAKEN, {"text": texts[0], "rulebook": rulebook(), "today": ON, "deeds": _deeds()})
    yield from _rows("browser", found, under(16, "ms"))
    yield Row("one deed into a kept list, browser", median(found[0]["ours"]), median(took), "ms", at_most(ONE_DEED))
    yield Row("  the very first time in a page", median(found[0]["floor"]), median(first), "ms")


def _deeds() -> list[dict[str, Any]]:
    """Ticks of jobs all over the list, one after the other."""
    jobs = [job for job in settle(rulebook(), seasons(1), ON) if job["batch"] and job["writes"]]
    return [
        {
            "id": f"tick{at:022}",
            "kind": "diary",
            "stamp": f"0fffffffffff-{at:04x}-abcdefgh",
            "fields": {**job["writes"], "on": ON, "at": "10:00", "job": job["id"], "part": job["part"]},
        }
        for at, job in enumerate(jobs[:: len(jobs) // DEEDS])
    ]


def _in_python() -> list[dict[str, Any]]:
    found: list[dict[str, Any]] = []
    for count in COUNTS:
        records = seasons(count)
        asleep = set(resting(rulebook(), records, ON))
        awake = [record for record in records if record["id"] not in asleep]
        found.append({"records": records, "kept": awake, "text": json.dumps(awake), "ours": [], "floor": [], "whole": []})
    gc.collect()
    gc.freeze()  # the other seasons that lie here waiting are no part of the work
    for turn in range(REPEATS):
        for one in found:
            one["ours"].append(timed_ms(lambda one=one: settle(rulebook(), one["kept"], ON)))
            one["floor"].append(timed_ms(lambda one=one: json.loads(one["text"])))
            if turn < 5:
                one["whole"].append(timed_ms(lambda one=one: settle(rulebook(), one["records"], ON)))
    gc.unfreeze()
    for one in found:
        one |= {"all": len(one["records"]), "awake": len(one["kept"]), "jobs": len(settle(rulebook(), one["kept"], ON))}
    return found


def _rows(half: str, found: list[dict[str, Any]], limit: Limit) -> Iterator[Row]:
    least = median(found[0]["ours"])
    for count, one in zip(COUNTS, found, strict=True):
        size = f"{one['awake']:,} of {one['all']:,} records awake, {one['jobs']:,} jobs"
        if count == 1:
            yield Row(f"settle, {half}, 1 season ({size})", median(one["floor"]), least, "ms", limit)
        else:
            yield Row(f"settle, {half}, {count} seasons ({size})", least, median(one["ours"]), "ms", at_most(OLD_SEASONS))
            yield Row("  the same with nothing at rest", least, median(one["whole"]), "ms")
