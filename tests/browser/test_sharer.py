"""When a phone shares: with a server and a clock that the test holds in its hands."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

import pytest
from playwright.sync_api import Browser, Page

from tests.kernel.browser_kernel import kernel_page

MAKE = """async () => {
  const [{Sharer}, {Book}, {MemoryStore}] = await Promise.all(
    ["sync/sharer", "store/book", "store/memory"].map((name) => import(`/scripts/${name}.js`)));
  const now = () => 1_000_000;
  const store = new MemoryStore({device: "aaaaaaaa", now});
  const world = {pushed: [], timer: null, hold: null, answers: true, seq: 0, rulebooks: 0, comes: []};
  const answer = (body) => new Response(JSON.stringify(body), {headers: {"content-type": "application/json"}});
  const fetch = async (way, more) => {
    if (!world.answers) throw new TypeError("no network");
    if (way === "/api/rulebook") {
      world.rulebooks += 1;
      if (world.hold) await world.hold;
      return answer({version: "1"});
    }
    const {changes} = JSON.parse(more.body);
    world.pushed.push(changes.length);
    world.seq += changes.length;
    return answer({now: now(), epoch: "e", page: null, more: false, reset: false, upto: world.seq,
      taken: changes.map(({id, stamp}) => ({id, stamp})), refused: [], restamped: [], records: world.comes.splice(0)});
  };
  const book = new Book({afterWrite: (records) => sharer.wrote(records)});
  book.bring(store, {});
  const sharer = new Sharer({book, store, fetch, now, random: () => 1,
    setTimer: (work, ms) => { world.timer = {work, ms}; return world.timer; },
    clearTimer: (timer) => { if (world.timer === timer) world.timer = null; }});
  const note = (id) => ({id, kind: "diary", fields: {on: "2031-05-19", did: "note"}});
  const nextTurn = () => new Promise((resolve) => setTimeout(resolve, 0));
  Object.assign(globalThis, {world, store, book, sharer, note, nextTurn});
}"""


@pytest.fixture(scope="module")
def module_page(browser: Browser) -> Iterator[Page]:
    """One page from which the sharer can be imported."""
    with kernel_page(browser) as made:
        yield made


@pytest.fixture
def page(module_page: Page) -> Page:
    """A fresh phone and its server in it."""
    module_page.evaluate(MAKE)
    return module_page


def test_what_is_written_while_an_exchange_ends_is_shared_soon(page: Page) -> None:
    """After the push, while the rulebook still comes, somebody ticks: that goes out at once, not with the next minute."""
    plans: Any = page.evaluate(
        """async () => {
          await sharer.run();
          let letGo;
          world.hold = new Promise((resolve) => { letGo = resolve; });
          await book.write([{id: "bed", kind: "place", fields: {name: "Long bed"}}]);
          const running = sharer.run();
          while (world.pushed.length < 2) await nextTurn();
          await nextTurn();
          await book.write([note("late")]);
          letGo();
          await running;
          const planned = world.timer.ms;
          world.timer.work();
          while (world.pushed.length < 3) await nextTurn();
          while (book.sharing.kept) await nextTurn();
          return {planned, pushed: world.pushed};
        }"""
    )
    assert plans["planned"] < 1000
    assert plans["pushed"] == [0, 1, 1]


def test_a_note_never_waits_for_a_rulebook_that_does_not_come(page: Page) -> None:
    """On a line that takes and never answers, or a server whose calendars are damaged."""
    pushed: Any = page.evaluate(
        """async () => {
          await sharer.run();
          world.hold = new Promise(() => {});
          await book.write([{id: "bed", kind: "place", fields: {name: "Long bed"}}]);
          void sharer.run();
          while (world.rulebooks < 2) await nextTurn();
          for (const id of ["one", "two"]) {
            await book.write([note(id)]);
            void sharer.run();
            while (book.sharing.kept) await nextTurn();
          }
          return [world.pushed, world.rulebooks, book.sharing.reachable];
        }"""
    )
    assert pushed == [[0, 1, 1, 1], 2, True]


def test_a_first_rulebook_that_does_not_come_keeps_no_record_away(page: Page) -> None:
    told: Any = page.evaluate(
        """async () => {
          world.hold = new Promise(() => {});
          world.comes.push({id: "bench", kind: "place", stamp: "000000000009-0000-bbbbbbbb", fields: {name: "Bench"}});
          await book.load();
          await book.write([note("mine")]);
          void sharer.run();
          while (!book.get("bench") || book.sharing.kept) await nextTurn();
          return [world.pushed, (await store.all()).map(({id}) => id).sort()];
        }"""
    )
    assert told == [[1], ["bench", "mine"]]


DEADLINES = """async (failed) => {
  const given = [];
  const real = AbortSignal.timeout;
  AbortSignal.timeout = (ms) => { given.push(ms); return real.call(AbortSignal, ms); };
  try {
    await book.write([note("first")]);
    await sharer.run();
    await sharer.run();
    if (failed) { world.answers = false; await sharer.run(); world.answers = true; await sharer.run(); }
    await book.write(Array.from({length: 30}, (_, n) => note(`n${n}`)));
    await sharer.run();
  } finally { AbortSignal.timeout = real; }
  return given;
}"""


def test_what_a_good_line_does_at_once_is_not_waited_for_longer(page: Page) -> None:
    """A first load and many changes are given a minute; a usual exchange ten seconds, and a minute after one that failed."""
    minute, soon = 60_000, 10_000
    assert page.evaluate(DEADLINES, False) == [minute, minute, soon, minute]
    page.evaluate(MAKE)
    assert page.evaluate(DEADLINES, True) == [minute, minute, soon, soon, minute, minute], "the fourth came to nothing"


def test_a_crop_of_ones_own_written_while_the_rulebook_comes_is_asked_for_again(page: Page) -> None:
    """What comes was worked out before it was written."""
    asked: Any = page.evaluate(
        """async () => {
          await sharer.run();
          let letGo;
          world.hold = new Promise((resolve) => { letGo = resolve; });
          await book.write([{id: "bed", kind: "place", fields: {name: "Long bed"}}]);
          const running = sharer.run();
          while (world.rulebooks < 2) await nextTurn();
          await book.write([{id: "crop.ours", kind: "crop", fields: {crop: "ours", like: "kale"}}]);
          letGo();
          await running;
          const before = world.rulebooks;
          await sharer.run();
          const after = world.rulebooks;
          await sharer.run();
          return [before, after, world.rulebooks];
        }"""
    )
    assert asked == [2, 3, 3]


def test_a_rulebook_that_did_not_come_is_asked_for_again(page: Page) -> None:
    """Whether its records were written here or came from another phone."""
    asked: Any = page.evaluate(
        """async () => {
          await sharer.run();
          const found = [];
          for (const bring of [
            () => book.write([{id: "bed", kind: "place", fields: {name: "Long bed"}}]),
            () => world.comes.push({id: "bench", kind: "place", stamp: "000000000009-0000-bbbbbbbb", fields: {name: "Bench"}}),
          ]) {
            await bring();
            let fail;
            world.hold = new Promise((_, refuse) => { fail = refuse; });
            world.hold.catch(() => {});
            const before = world.rulebooks;
            const running = sharer.run();
            while (world.rulebooks === before) await nextTurn();
            fail(new TypeError("no network"));
            const came = await running;
            world.hold = null;
            await sharer.run();
            await sharer.run();
            found.push([came, world.rulebooks - before]);
          }
          return found;
        }"""
    )
    assert asked == [[False, 2], [False, 2]]


def test_what_is_written_while_the_book_is_read_stays_in_it(page: Page) -> None:
    """Another window wrote, so the store is read again; in between something is written here, and again read."""
    found: Any = page.evaluate(
        """async () => {
          await book.load();
          const real = store.meta.bind(store);
          let letGo;
          const hold = new Promise((resolve) => { letGo = resolve; });
          store.meta = async (name) => { await hold; return real(name); };
          const first = book.reload();
          await book.write([note("while")]);
          store.meta = real;
          await store.write([note("elsewhere")]);
          await book.reload();
          letGo();
          await first;
          return ["while", "elsewhere"].map((id) => book.get(id) !== null);
        }"""
    )
    assert found == [True, True]


def test_word_of_ones_own_change_makes_no_second_exchange(page: Page) -> None:
    rounds: Any = page.evaluate(
        """async () => {
          await book.write([note("one")]);
          const running = sharer.run();
          await Promise.all([running, sharer.heard(1)]);
          const own = world.timer.ms;
          await sharer.heard(2);
          return {own, others: world.timer.ms, pushed: world.pushed};
        }"""
    )
    assert rounds["own"] == 60_000
    assert rounds["others"] < 1000
    assert rounds["pushed"] == [1]


def test_any_word_from_a_server_that_was_away_is_a_reason_to_try_again(page: Page) -> None:
    """Its number is the one already held: what is kept here must go out all the same."""
    planned: Any = page.evaluate(
        """async () => {
          await sharer.run();
          world.answers = false;
          for (let n = 0; n < 9; n += 1) await sharer.run();
          world.answers = true;
          await sharer.heard(0);
          return world.timer.ms;
        }"""
    )
    assert planned < 1000


def test_asked_while_one_runs_it_goes_round_once_more(page: Page) -> None:
    pushed: Any = page.evaluate(
        "async () => { await Promise.all([sharer.run(), sharer.run(), sharer.run()]); return world.pushed; }"
    )
    assert pushed == [0, 0]


def test_pauses_grow_while_nobody_answers_and_never_past_two_minutes(page: Page) -> None:
    """Doubling from a second to a limit: common practice for trying again (exponential back-off)."""
    pauses: Any = page.evaluate(
        """async () => {
          world.answers = false;
          const pauses = [];
          for (let n = 0; n < 9; n += 1) { await sharer.run(); pauses.push(world.timer.ms); }
          world.answers = true;
          await sharer.run();
          return [...pauses, world.timer.ms];
        }"""
    )
    assert pauses == [1000, 2000, 4000, 8000, 16_000, 32_000, 64_000, 120_000, 120_000, 60_000]


def test_one_window_listens_for_news_and_another_when_that_goes_out_of_sight(page: Page) -> None:
    """A phone freezes windows that nobody sees: one that kept the lock would leave the others without news."""
    streams: Any = page.evaluate(
        """async () => {
          const {listenForNews} = await import("/scripts/sync/pokes.js");
          const open = {};
          const windows = ["one", "other"].map((name) => {
            const doc = new EventTarget();
            doc.visibilityState = "visible";
            const makeSource = () => {
              open[name] = (open[name] ?? 0) + 1;
              return Object.assign(new EventTarget(), {close: () => { open[name] -= 1; }});
            };
            const stop = listenForNews({onNews: () => {}, locks: navigator.locks, makeSource, doc});
            const see = (state) => { doc.visibilityState = state; doc.dispatchEvent(new Event("visibilitychange")); };
            return {see, stop};
          });
          const seen = [];
          const note = async (...wanted) => {
            const now = () => [open.one ?? 0, open.other ?? 0];
            for (let waited = 0; String(now()) !== String(wanted) && waited < 5000; waited += 50) {
              await new Promise((resolve) => setTimeout(resolve, 50));
            }
            seen.push(now());
          };
          await note(1, 0);
          windows[0].see("hidden"); await note(0, 1);
          windows[0].see("visible"); await note(0, 1);
          windows[1].see("hidden"); await note(1, 0);
          windows[0].see("hidden"); await note(0, 0);
          windows[1].see("visible"); await note(0, 1);
          for (const one of windows) one.stop();
          await note(0, 0);
          return seen;
        }"""
    )
    assert streams == [[1, 0], [0, 1], [0, 1], [1, 0], [0, 0], [0, 1], [0, 0]]
