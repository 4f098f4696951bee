"""What people write where an amount is asked for is understood, or said at the field; it is never guessed."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

import pytest
from playwright.sync_api import Browser, Page, expect

from tests.browser.phones import BETWEEN_TAPS_MS, Phone
from tests.kernel.browser_kernel import kernel_page

READ = """async ([name, text]) => (await import("/scripts/lib/amounts.js"))[name](text)"""
# The international pound is exactly 453.59237 g, an ounce a sixteenth of it: NIST Handbook 44, appendix C.
GRAMS: list[tuple[str, int | None]] = [
    ("800", 800), ("800 g", 800), ("2.3 kg", 2300), ("2,3", 2300), ("2,3kg", 2300), ("1 lb", 454), ("2 lbs", 907),
    ("8 oz", 227), (" 1 kilo ", 1000), ("1 200", 1200), ("0.5", 500), (".5 kg", 500),
    ("a dozen", None), ("", None), ("3 heads", None), ("kg", None),
]  # fmt: skip
COUNTS: list[tuple[str, int | None]] = [
    ("12", 12), (" 12 ", 12), ("1,200", 1200), ("1 200", 1200), ("1.200", 1200), ("0", 0), ("2.5", None), ("2,5", None),
    ("2 kg", None), ("a dozen", None), ("twelve", None), ("12 plants", None), ("", None), ("1e3", None),
]  # fmt: skip
# Celsius from Fahrenheit: 32 °F is 0 °C and 212 °F is 100 °C by definition.
DEGREES: list[tuple[str, float | None]] = [
    ("4.5", 4.5), ("4,5", 4.5), ("-2", -2), ("\u22122 °C", -2), ("4 c", 4), ("32 °F", 0), ("50F", 10),
    ("cold", None), ("4 bar", None),
]  # fmt: skip
# The foot is exactly 30.48 cm, an inch its twelfth: NIST Handbook 44, appendix C.
LENGTHS: list[tuple[str, float | None]] = [
    ("350", 350), ("3.5 m", 350), ("3,5 m", 350), ("80cm", 80), ("12 ft", 365.8), ("40 in", 101.6), ("500 mm", 50),
    ("14 ft 5", 439.4), ("4 m 40", 440),
    ("long", None), ("3 rods", None), ("", None),
]  # fmt: skip
ROWS: dict[str, list[tuple[str, Any]]] = {
    "readGrams": [*GRAMS],
    "readCount": [*COUNTS],
    "readDegrees": [*DEGREES],
    "readLength": [*LENGTHS],
}
CASES = [(name, *row) for name, rows in ROWS.items() for row in rows]


@pytest.fixture(scope="module")
def page(browser: Browser) -> Iterator[Page]:
    with kernel_page(browser) as made:
        yield made


@pytest.mark.parametrize(("name", "text", "value"), CASES)
def test_an_amount_is_understood_or_said(page: Page, name: str, text: str, value: float | None) -> None:
    read = page.evaluate(READ, [name, text])
    assert read.get("value") == value and bool(read.get("why")) == (value is None)
    assert value is not None or read["why"].endswith(".")


def test_a_weight_in_kilograms_is_written_as_such(phone: Phone) -> None:
    phone.go("jot/pick/batch.2031.parsnip")
    if phone.page.get_by_label("Grams", exact=True).count() == 0:
        phone.page.get_by_role("button", name="Weigh").click()
    phone.page.get_by_label("Grams", exact=True).last.fill("2.3 kg")
    phone.page.get_by_role("button", name="Write it down").click()
    expect(phone.page.locator(".undo")).to_contain_text("Written down")
    assert phone.deeds("pick")[-1]["weight_g"] == 2300


def test_what_is_not_understood_is_said_at_the_field_and_nothing_is_written(phone: Phone) -> None:
    before = phone.deeds("lose")
    phone.go("jot/lose/batch.2031.melon")
    many = phone.page.get_by_label("How many", exact=True).last
    many.fill("a dozen")
    phone.page.get_by_role("button", name="Write it down").click()
    expect(phone.page.get_by_role("alert")).to_have_text("Type a whole number in figures, such as 12.")
    expect(many).to_have_value("a dozen")
    assert phone.deeds("lose") == before
    many.fill("2")
    expect(phone.page.get_by_role("alert")).to_be_hidden()
    phone.page.wait_for_timeout(BETWEEN_TAPS_MS)
    phone.page.get_by_role("button", name="Write it down").click()
    expect(phone.page.locator(".undo")).to_contain_text("Written down")
    assert phone.deeds("lose")[-1]["count"] == 2


def test_a_bed_is_as_long_as_it_was_written_in_any_unit(phone: Phone) -> None:
    phone.go("form/place/place.tunnel.bed1")
    phone.page.get_by_label("Length, cm").fill("3 rods")
    phone.page.get_by_role("button", name="Change it").click()
    expect(phone.page.get_by_text("no length known here")).to_be_visible()
    phone.page.get_by_label("Length, cm").fill("7.25 m")
    phone.page.get_by_role("button", name="Change it").click()
    expect(phone.page.locator(".undo")).to_contain_text("Written down")
    (bed,) = [row["record"] for row in phone.kept()["records"] if row["record"]["id"] == "place.tunnel.bed1"]
    assert bed["fields"]["length_cm"] == 725
