"""What the phone's store promises, asked of both of its implementations: over IndexedDB and in memory."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

import pytest
from playwright.sync_api import Browser, Page

from server.kernel.read.digest import Digest, mark
from server.kernel.read.merge import merge_record
from tests.kernel.browser_kernel import kernel_page

STORES = ("indexed-db", "memory")
DEVICE = "aaaaaaaa"
OTHER = "bbbbbbbb"
NOW_MS = 1_000_000
MAKE = """async (kind) => {
  const [{openStore}, {MemoryStore}] = await Promise.all(
    ["indexed-db", "memory"].map((name) => import(`/scripts/store/${name}.js`)));
  globalThis.nowMs = NOW;
  const given = {device: "aaaaaaaa", now: () => globalThis.nowMs};
  globalThis.store = kind === "memory" ? new MemoryStore(given) : await openStore(given);
}""".replace("NOW", str(NOW_MS))
CALL = (
    "async ([name, args]) => { const made = await globalThis.store[name](...args); return made === undefined ? null : made; }"
)


class Store:
    """A store in a page of its own."""

    def __init__(self, page: Page) -> None:
        self.page = page

    def __getattr__(self, name: str) -> Any:
        return lambda *args: self.page.evaluate(CALL, [name, list(args)])

    def clock(self, ms: int) -> None:
        """Set the phone's own clock."""
        self.page.evaluate("(ms) => { globalThis.nowMs = ms; }", ms)

    def ids(self) -> list[str]:
        """Ids of what is awake."""
        return sorted(record["id"] for record in self.live())


@pytest.fixture(scope="module")
def page(browser: Browser) -> Iterator[Page]:
    """One page from which the store can be imported."""
    with kernel_page(browser) as made:
        yield made


@pytest.fixture(params=STORES)
def store(request: pytest.FixtureRequest, page: Page) -> Iterator[Store]:
    """A fresh store of each kind."""
    page.evaluate(
        "() => new Promise((resolve) => { const gone = indexedDB.deleteDatabase('mudproof'); gone.onsuccess = resolve; })"
    )
    page.evaluate(MAKE, request.param)
    made = Store(page)
    yield made
    made.close()


def wish(id_: str = "d1", **fields: Any) -> dict[str, Any]:
    return {"id": id_, "kind": "diary", "fields": fields}


def record(id_: str, ms: int, device: str = OTHER, **fields: Any) -> dict[str, Any]:
    return {"id": id_, "kind": "diary", "stamp": f"{ms:012x}-0000-{device}", "fields": fields}


def reply(records: list[Any] | None = None, **more: Any) -> dict[str, Any]:
    base = {"upto": 7, "page": None, "epoch": "e1", "reset": False, "now": NOW_MS, "records": records or [],
            "taken": [], "refused": [], "restamped": []}  # fmt: skip
    return base | more


def marks(sent: list[dict[str, Any]]) -> list[dict[str, str]]:
    return [{"id": row["change"]["id"], "stamp": row["change"]["stamp"]} for row in sent]


def test_a_write_is_a_record_an_outbox_row_and_a_later_clock(store: Store) -> None:
    first = store.write([wish(count=1), wish(count=2), wish("d2", note="x")])
    assert {one["id"]: one["fields"] for one in first} == {"d1": {"count": 2}, "d2": {"note": "x"}}
    sent = [row["change"] for row in store.outbox(10)]
    assert [change["fields"] for change in sent] == [{"count": 1}, {"count": 2}, {"note": "x"}]
    stamps = [change["stamp"] for change in sent]
    assert stamps == sorted(set(stamps)) and all(stamp.endswith(DEVICE) for stamp in stamps)
    assert store.outboxCount() == 3 and len(store.outbox(2)) == 2


def test_a_clock_set_back_two_days_still_stamps_later(store: Store) -> None:
    store.write([wish(count=1)])
    store.clock(NOW_MS - 172_800_000)
    (after,) = store.write([wish(count=2)])
    assert after["fields"] == {"count": 2}
    first, second = (row["change"]["stamp"] for row in store.outbox(10))
    assert first < second


def test_what_was_taken_leaves_the_outbox_and_nothing_else_does(store: Store) -> None:
    store.write([wish(count=1)])
    sent = store.outbox(200)
    store.write([wish(count=2)])  # edited again while the push is under way
    store.applyReply(reply(taken=marks(sent)), sent)
    assert [row["change"]["fields"] for row in store.outbox(10)] == [{"count": 2}]
    assert store.live()[0]["fields"] == {"count": 2}


def test_what_was_refused_is_kept_apart_with_its_reason(store: Store) -> None:
    store.write([wish(count=-1), wish("d2", count=2)])
    sent = store.outbox(200)
    bad, good = marks(sent)
    store.applyReply(reply(taken=[good], refused=[bad | {"field": "count", "why": "The count is below nought."}]), sent)
    assert store.outboxCount() == 0
    (kept,) = store.refused()
    assert kept["why"] == "The count is below nought." and kept["change"]["fields"] == {"count": -1}
    store.dropRefused(kept["key"], True)
    assert store.refused() == [] and store.ids() == ["d1", "d2"], "its words stand while somebody mends them"


def test_a_refused_change_that_is_let_go_stands_no_longer(store: Store) -> None:
    store.applyReply(reply([record("d1", 5, count=7, note="theirs")], upto=9), [])
    store.write([wish(count=-1), wish("d9", count=-2)])
    sent = store.outbox(200)
    store.applyReply(reply(refused=[one | {"field": "count", "why": "no"} for one in marks(sent)], upto=9), sent)
    for kept in store.refused():
        store.dropRefused(kept["key"])
    assert {one["id"]: one["fields"] for one in store.all()} == {"d1": {"note": "theirs"}}
    assert store.meta("cursor") == 0, "what the server holds comes back"
    store.applyReply(reply([record("d1", 5, count=7, note="theirs")], upto=9), [])
    assert store.all()[0]["fields"] == {"count": 7, "note": "theirs"}
    assert store.compare(digest_of(store.all())) == "same"


def digest_of(records: list[dict[str, Any]]) -> str:
    """As the server tells it."""
    digest = Digest()
    for one in records:
        digest = digest.moved(None, mark(one))
    return str(digest)


def test_the_digest_follows_every_write(store: Store) -> None:
    assert store.compare("0-00000000") == "same"
    store.write([wish(count=1), wish(count=2), wish("d2", note="x")])
    assert store.compare("0-00000000") == "unfinished", "something waits still"
    sent = store.outbox(200)
    store.applyReply(reply([record("d3", 6, note="new")], taken=marks(sent)), sent)
    store.bringIn([record("d4", 7, weight_g=0.5), record("d2", NOW_MS + 5, note="later")])
    sent = store.outbox(200)
    made = [{"from": row["change"]["stamp"], "to": f"{NOW_MS + 9:012x}-0000-{OTHER}"} for row in sent[:1]]
    store.applyReply(reply(taken=marks(sent), restamped=made), sent)
    store.rest(["d3"])
    assert store.compare(digest_of(store.all())) == "same"
    assert store.outboxCount() == 0, "nothing had to be mended"


def test_two_that_differ_send_and_fetch_everything_anew_once(store: Store) -> None:
    store.applyReply(reply([record("d1", 5, note="a"), record("d2", 6, note="b")], upto=9), [])
    assert store.compare("2-12345678") == "repairs"
    assert [row["change"]["id"] for row in store.outbox(9)] == ["d1", "d2"] and store.meta("cursor") == 0
    assert store.compare("2-12345678") == "unfinished"
    sent = store.outbox(9)
    store.applyReply(reply(taken=marks(sent), upto=9), sent)
    assert store.compare("2-12345678") == "differs", "it is said, and not tried for ever"
    store.clock(NOW_MS + 7 * 3_600_000)
    assert store.compare("2-12345678") == "differs"
    assert store.compare("2-99999999") == "repairs", "hours later, for another difference"


def test_records_merge_and_the_cursor_moves_with_the_last_page_only(store: Store) -> None:
    store.write([wish(count=1)])
    store.applyReply(reply([record("d1", NOW_MS - 5, note="theirs"), record("d2", 5, note="new")], page=[9, 1, 1], upto=9), [])
    assert store.meta("cursor") is None and store.meta("page") == [9, 1, 1] and store.meta("epoch") == "e1"
    store.applyReply(reply([record("d3", 6, note="last")], upto=9), [])
    assert store.meta("cursor") == 9 and store.meta("page") is None
    assert store.ids() == ["d1", "d2", "d3"]
    assert next(one for one in store.live() if one["id"] == "d1")["fields"] == {"count": 1, "note": "theirs"}


def test_a_server_that_lost_something_is_given_everything(store: Store) -> None:
    """Records of others too, each in changes small enough, that together are the record again."""
    wide = record("w1", 5, **{f"f{n:03d}": "x" * 90 for n in range(200)})
    wide["stamps"] = {"f007": f"{9:012x}-0000-{OTHER}"}
    store.applyReply(reply([wide]), [])
    store.write([wish(count=1)])
    store.applyReply(reply(reset=True, epoch="e2", page=[3, 1, 1]), [])
    assert store.meta("cursor") == 0 and store.meta("page") is None and store.meta("epoch") == "e2"
    given = [row["change"] for row in store.outbox(100) if row["change"]["id"] == "w1"]
    assert len(given) > 3 and all(len(change["fields"]) <= 64 for change in given)
    again = None
    for change in reversed(given):
        again = merge_record(again, change)
    assert again == wide


def test_stamps_brought_down_are_rewritten_and_the_clock_follows(store: Store) -> None:
    """A phone years fast writes, is told, and from then on stamps by the server's clock."""
    store.clock(NOW_MS + 10**11)
    store.write([wish(count=1)])
    sent = store.outbox(200)
    made = f"{NOW_MS:012x}-0003-{DEVICE}"
    told = [{"from": sent[0]["change"]["stamp"], "to": made}]
    store.applyReply(reply(taken=marks(sent), restamped=told), sent)
    assert store.live()[0]["stamp"] == made
    (after,) = store.write([wish(count=2)])
    assert made < after["stamp"] < f"{NOW_MS + 300_000:012x}"
    assert after["fields"] == {"count": 2}


def test_a_slow_clock_is_put_right_and_a_near_one_left_alone(store: Store) -> None:
    store.clock(NOW_MS - 10**5)
    store.applyReply(reply(), [])
    (near,) = store.write([wish(count=1)])
    assert int(near["stamp"][:12], 16) == NOW_MS - 10**5
    store.applyReply(reply(now=NOW_MS + 10**10), [])
    (far,) = store.write([wish(count=2)])
    assert int(far["stamp"][:12], 16) == NOW_MS + 10**10


def test_a_later_record_pulls_the_clock_along(store: Store) -> None:
    theirs = record("d1", NOW_MS + 60_000, count=5)
    store.applyReply(reply([theirs]), [])
    (mine,) = store.write([wish(count=6)])
    assert mine["stamp"] > theirs["stamp"] and mine["fields"] == {"count": 6}


def test_what_rests_is_out_of_the_way_until_it_is_touched(store: Store) -> None:
    store.write([wish("d1", count=1), wish("d2", count=2), wish("d3", count=3)])
    store.rest(["d1", "d2"])
    assert store.ids() == ["d3"] and len(store.all()) == 3
    store.applyReply(reply([record("d1", NOW_MS + 5, note="late news")]), [])
    assert store.ids() == ["d1", "d3"]
    store.rest([])
    assert store.ids() == ["d1", "d2", "d3"]


def test_a_saved_copy_is_merged_once_and_shared(store: Store) -> None:
    copy = [record("d1", 5, note="old"), record("d2", 6, note="two")]
    assert {one["id"] for one in store.bringIn(copy)} == {"d1", "d2"}
    assert store.outboxCount() == 2
    assert store.bringIn(copy) == [] and store.outboxCount() == 2


def test_facts_of_the_phones_own_are_kept(store: Store) -> None:
    assert store.meta("person") is None
    store.setMeta("person", "person.bet")
    assert store.meta("person") == "person.bet"


def test_half_a_merge_is_no_merge(page: Page) -> None:
    """The second of two records cannot be stored: then the first is not there either, and nothing left the outbox."""
    page.evaluate(
        "() => new Promise((resolve) => { const gone = indexedDB.deleteDatabase('mudproof'); gone.onsuccess = resolve; })"
    )
    page.evaluate(MAKE, "indexed-db")
    store = Store(page)
    store.write([wish("mine", count=1)])
    sent = store.outbox(10)
    broken = {"id": 5, "kind": "diary", "stamp": "x"}
    with pytest.raises(Exception):  # noqa: B017 (whatever the browser throws)
        page.evaluate(
            CALL, ["applyReply", [reply([record("d1", 5, note="one"), broken | {"id": {}}], taken=marks(sent)), sent]]
        )
    assert store.ids() == ["mine"] and store.outboxCount() == 1 and store.meta("cursor") is None
    store.close()


def test_a_connection_lost_behind_our_back_is_opened_again(page: Page) -> None:
    page.evaluate(MAKE, "indexed-db")
    store = Store(page)
    session = page.context.new_cdp_session(page)
    origin = page.evaluate("() => location.origin")
    session.send("Storage.clearDataForOrigin", {"origin": origin, "storageTypes": "indexeddb"})
    store.write([wish("after", count=1)])
    assert store.ids() == ["after"]
    store.close()


@pytest.mark.parametrize("times", [1, 2, 4])
def test_a_connection_that_is_lost_again_and_again_for_a_moment_loses_nothing(page: Page, times: int) -> None:
    """A browser that clears its store may take away the next connection too; each time nothing is half kept."""
    page.evaluate(MAKE, "indexed-db")
    store = Store(page)
    page.evaluate(
        """(times) => {
          const {transaction} = IDBDatabase.prototype;
          let left = times;
          IDBDatabase.prototype.transaction = function (...given) {
            if (left > 0) {
              left -= 1;
              this.close();
            } else IDBDatabase.prototype.transaction = transaction;
            return transaction.apply(this, given);
          };
        }""",
        times,
    )
    store.write([wish("after", count=1)])
    assert store.ids() == ["after"]
    store.close()


def test_two_windows_never_make_the_same_stamp(page: Page) -> None:
    page.evaluate(MAKE, "indexed-db")
    stamps = page.evaluate(
        """async () => {
          const {openStore} = await import("/scripts/store/indexed-db.js");
          const other = await openStore({device: "aaaaaaaa", now: () => globalThis.nowMs});
          const writes = [];
          for (let n = 0; n < 40; n += 1) {
            writes.push((n % 2 ? other : globalThis.store).write([{id: `s${n}`, kind: "diary", fields: {count: n}}]));
          }
          const made = (await Promise.all(writes)).flat().map((record) => record.stamp);
          await other.close();
          return made;
        }"""
    )
    assert len(set(stamps)) == 40
    Store(page).close()
