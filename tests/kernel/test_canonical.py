"""The canonical form by which equal stamps break their tie, against RFC 8785 and the browser's own writing of numbers."""

from __future__ import annotations

import json
import struct

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from playwright.sync_api import Browser

from server.kernel.read.merge import text
from server.sync.messages import read_json
from tests.cases import cases_times
from tests.kernel.browser_kernel import ask, kernel_page
from tests.kernel.python_kernel import answer


@pytest.mark.parametrize(
    ("bits", "written"),
    [
        ("0000000000000000", "0"),
        ("8000000000000000", "0"),
        ("0000000000000001", "5e-324"),
        ("8000000000000001", "-5e-324"),
        ("7fefffffffffffff", "1.7976931348623157e+308"),
        ("ffefffffffffffff", "-1.7976931348623157e+308"),
        ("4340000000000000", "9007199254740992"),
        ("c340000000000000", "-9007199254740992"),
        ("4430000000000000", "295147905179352830000"),
        ("44b52d02c7e14af5", "9.999999999999997e+22"),
        ("44b52d02c7e14af6", "1e+23"),
        ("44b52d02c7e14af7", "1.0000000000000001e+23"),
        ("444b1ae4d6e2ef4e", "999999999999999700000"),
        ("444b1ae4d6e2ef4f", "999999999999999900000"),
        ("444b1ae4d6e2ef50", "1e+21"),
        ("3eb0c6f7a0b5ed8c", "9.999999999999997e-7"),
        ("3eb0c6f7a0b5ed8d", "0.000001"),
        ("41b3de4355555553", "333333333.3333332"),
        ("41b3de4355555557", "333333333.33333343"),
        ("becbf647612f3696", "-0.0000033333333333333333"),
    ],
)
def test_numbers_are_written_as_rfc_8785_says(bits: str, written: str) -> None:
    """RFC 8785, appendix B, number serialization samples. From memory."""
    (value,) = struct.unpack(">d", bytes.fromhex(bits))
    assert text(value) == written
    assert float(written) == value


@pytest.mark.parametrize("value", [float("nan"), float("inf"), float("-inf")])
def test_what_has_no_form_is_refused(value: float) -> None:
    """RFC 8785, 3.2.2.3."""
    with pytest.raises(ValueError, match="no form"):
        text(value)


VALUES = st.recursive(
    st.none()
    | st.booleans()
    | st.integers(-(2**53), 2**53)
    | st.floats(allow_nan=False, allow_infinity=False)
    | st.text(max_size=4),
    lambda inner: st.lists(inner, max_size=3) | st.dictionaries(st.text(max_size=3), inner, max_size=3),
    max_leaves=6,
)


def as_the_server_reads(value: object) -> object:
    """A number beyond 2 to the 53rd is one of those that a phone can hold, however it was written."""
    return read_json(json.dumps(value))


def test_a_tie_is_broken_alike_whatever_the_values(browser: Browser) -> None:
    with kernel_page(browser) as page:

        @settings(max_examples=cases_times(2))
        @given(st.lists(st.tuples(VALUES, VALUES), min_size=20, max_size=20))
        def alike(pairs: list[tuple[object, object]]) -> None:
            asked = []
            for one, other in json.loads(json.dumps(pairs, ensure_ascii=True).encode("utf-8", "replace")):
                change = {"id": "b1", "kind": "batch", "stamp": "000000000001-0000-aaaaaaaa"}
                asked.append(
                    {"door": "merge", "changes": [{**change, "fields": {"v": one}}, {**change, "fields": {"v": other}}]}
                )
            for question, their in zip(asked, ask(page, asked), strict=True):
                assert as_the_server_reads(their) == as_the_server_reads(answer(question))

        alike()
