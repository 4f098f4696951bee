"""What each room shows, by the table of `rooms_table`: its pure half run in the browser, nothing drawn."""

from __future__ import annotations

import json
from collections.abc import Iterator
from typing import Any

import pytest
from playwright.sync_api import Browser, Page

from tests.browser.rooms_household import RECORDS, RULEBOOK, TODAY
from tests.browser.rooms_table import TABLE as FIRST
from tests.browser.rooms_table_places import TABLE as PLACES
from tests.kernel.browser_kernel import kernel_page

TABLE = FIRST + PLACES

READ = """async ({records, rulebook, today, calls}) => {
  const at = (path) => import(`/scripts/${path}.js`);
  const [{ Book }, { Settled }, { standOf }] = await Promise.all(
    ["store/book", "kernel/settle", "kernel/stand"].map(at));
  const book = new Book({ channel: null, afterWrite: () => {} });
  const store = {
    live: async () => records, all: async () => records,
    outboxCount: async () => 0, outbox: async () => [], refused: async () => [],
    meta: async (name) => ({ rulebook, lastShared: null, restingYears: [] })[name] ?? null,
  };
  book.bring(store, { Settled, standOf });
  await book.load();
  const ids = { made: 0 };
  const given = {
    book, today, room: await book.room(today), jobs: book.jobs(today), nothing: new Set(), newId: () => `new${ids.made += 1}`,
  };
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


@pytest.mark.parametrize(
    ("module", "door", "args", "expected"),
    TABLE,
    ids=[f"{module.removeprefix('rooms/')}-{door}-{at}" for at, (module, door, *_) in enumerate(TABLE)],
)
def test_a_room_sees(page: Page, module: str, door: str, args: list[Any], expected: dict[str, Any]) -> None:
    answer = seen(page, module, door, *args)
    for path, wanted in expected.items():
        assert part(answer, path) == wanted, path
