"""The digest by which phone and server find that they differ: the same in both halves, and moved by whatever changes."""

from __future__ import annotations

import json
import zlib
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st
from playwright.sync_api import Browser, Page

from server.kernel.read.digest import Digest, mark
from server.kernel.read.merge import merge_record
from tests.kernel.browser_kernel import kernel_page

THEIRS = """async (records) => {
  const {EMPTY, mark, moved, digestWords, crc32} = await import("/scripts/kernel/read/digest.js");
  const held = JSON.parse(records);
  return [held.map(mark), digestWords(held.reduce((sum, one) => moved(sum, null, one), EMPTY)), crc32("123456789")];
}"""
VALUE = st.recursive(
    st.none() | st.booleans() | st.integers(-(2**53), 2**53) | st.floats(allow_nan=False, allow_infinity=False) | st.text(),
    lambda inner: st.lists(inner, max_size=3) | st.dictionaries(st.text(max_size=4), inner, max_size=3),
    max_leaves=5,
)
DEVICES = st.sampled_from(["aaaaaaaa", "bbbbbbbb"])
STAMP = st.builds(lambda ms, n, device: f"{ms:012x}-{n:04x}-{device}", st.integers(0, 9), st.integers(0, 2), DEVICES)
NAMES = st.sampled_from(["on", "note", "count", "gone", "constructor"])


@st.composite
def records(draw: st.DrawFn) -> dict[str, Any]:
    """A record as some changes made it."""
    made: dict[str, Any] | None = None
    for _ in range(draw(st.integers(1, 3))):
        fields = draw(st.dictionaries(NAMES, VALUE, min_size=1, max_size=3))
        made = merge_record(made, {"id": "d1", "kind": "diary", "stamp": draw(STAMP), "fields": fields})
    assert made is not None
    return made


@pytest.fixture(scope="module")
def page(browser: Browser) -> Any:
    with kernel_page(browser) as made:
        yield made


@pytest.mark.browser
@given(st.lists(records(), max_size=20))
def test_both_halves_make_the_same_of_any_records(page: Page, some: list[dict[str, Any]]) -> None:
    """CRC-32 has the check value cbf43926 for the figures 1 to 9 (ITU-T V.42; Python's zlib)."""
    some = json.loads(json.dumps(some))
    marks, words, check = page.evaluate(THEIRS, json.dumps(some))
    digest = Digest()
    for one in some:
        digest = digest.moved(None, mark(one))
    assert marks == [mark(one) for one in some] and words == str(digest)
    assert check == zlib.crc32(b"123456789") == 0xCBF43926


PINNED = {
    "id": "d1", "kind": "diary", "stamp": "01a21a29024b-0000-aaaaaaaa",
    "fields": {"count": 2.5, "note": "Gr\u00fcn \U0001f345", "on": "2031-05-19"},
    "stamps": {"note": "01a21a29024c-0001-bbbbbbbb"},
}  # fmt: skip


@pytest.mark.browser
def test_a_phone_of_today_and_a_server_of_tomorrow_make_the_same(page: Page) -> None:
    """Pinned: were both halves changed at once, every phone not yet updated would send and fetch everything anew."""
    marks, words, _ = page.evaluate(THEIRS, json.dumps([PINNED]))
    assert marks == [mark(PINNED)] == [3048466150] and words == "1-b5b3e6e6"


@given(records(), records(), records())
def test_what_a_record_was_makes_no_difference_to_what_it_is(
    a: dict[str, Any], b: dict[str, Any], other: dict[str, Any]
) -> None:
    there = Digest().moved(None, mark(other)).moved(None, mark(a)).moved(mark(a), mark(b))
    assert there == Digest().moved(None, mark(b)).moved(None, mark(other))
    assert there.moved(mark(b), None).moved(mark(other), None) == Digest()


def test_like_changes_of_two_records_do_not_cancel() -> None:
    """A plain sum or exclusive-or of CRC-32 would: it is linear, and the same letter changed at the same place."""

    def record(id_: str, note: str) -> dict[str, Any]:
        return {"id": id_, "kind": "diary", "stamp": "000000000001-0000-aaaaaaaa", "fields": {"note": note}}

    seen = set()
    for first in "abcdefgh":
        for second in "abcdefgh":
            seen.add(str(Digest().moved(None, mark(record("d1", first))).moved(None, mark(record("d2", second)))))
    assert len(seen) == 64
