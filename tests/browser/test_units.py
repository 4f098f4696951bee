"""A household that thinks in °F, inches, pounds and gallons: what is shown and typed is so, what is kept is metric."""

from __future__ import annotations

import tomllib
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest
from playwright.sync_api import Browser, Page, expect

from tests.browser.phones import Phone
from tests.kernel.browser_kernel import kernel_page

SIZES = [(360, 640), (390, 844)]
ROWS = tomllib.loads((Path(__file__).parent.parent / "quantities.toml").read_text())["rows"]
TURN = """async ([site, texts]) => {
  const { measureAs, asMeasured } = await import("/scripts/lib/quantities.js");
  measureAs(site);
  return texts.map(asMeasured);
}"""
READ = """async ([site, name, text]) => {
  (await import("/scripts/lib/quantities.js")).measureAs(site);
  return (await import("/scripts/lib/amounts.js"))[name](text);
}"""
US = {"degrees": "F", "units": "us"}
IMPERIAL = {"degrees": "C", "units": "imperial"}
# A foot is 30.48 cm, a pound 453.59237 g, a US pint 0.473176473 L (NIST Handbook 44, appendix C); an imperial gallon is
# 4.54609 L (Weights and Measures Act 1985).
TYPED: list[tuple[dict[str, str], str, str, float | None]] = [
    (US, "readDegrees", "70", 21.1), (US, "readDegrees", "70F", 21.1), (US, "readDegrees", "21 C", 21),
    (US, "readWarmer", "9", 5), (IMPERIAL, "readDegrees", "70F", 21.1), (IMPERIAL, "readDegrees", "21", 21),
    (US, "readLength", "12", 30.5), (US, "readLength", "12 in", 30.5), (US, "readLength", "3 ft 6 in", 106.7),
    (US, "readLength", "3' 6\"", 106.7), (US, "readLength", "30 cm", 30), (US, "readLength", "6 in 3 ft", None),
    (US, "readGrams", "2 lb 3 oz", 992), (US, "readGrams", "2lb3oz", 992), (US, "readGrams", "8", 227),
    (US, "readGrams", "1.5", 680), (US, "readGrams", "2.3 kg", 2300), (US, "readGrams", "2 lb 3 heads", None),
    (US, "readLitres", "1", 0.473), (US, "readLitres", "2 gal", 7.571), (IMPERIAL, "readLitres", "1 gallon", 4.546),
    (US, "readLitres", "10 L", 10), (US, "readLitres", "a can", None), (US, "readLitres", "3 cups", None),
]  # fmt: skip


@pytest.fixture(scope="module")
def page(browser: Browser) -> Iterator[Page]:
    with kernel_page(browser) as made:
        yield made


def test_what_is_said_is_turned_as_on_the_server(page: Page) -> None:
    said, us, imperial = (["".join(row[at]).replace("_", "\u00a0") for row in ROWS] for at in range(3))
    assert page.evaluate(TURN, [US, said]) == us
    assert page.evaluate(TURN, [IMPERIAL, said]) == imperial
    assert page.evaluate(TURN, [{}, said]) == said


@pytest.mark.parametrize(("site", "name", "text", "value"), TYPED)
def test_what_is_typed_is_kept_in_metric_or_refused_with_a_word(
    page: Page, site: dict[str, str], name: str, text: str, value: float | None
) -> None:
    read = page.evaluate(READ, [site, name, text])
    assert read.get("value") == value and bool(read.get("why")) == (value is None)


def chosen(phone: Phone) -> Page:
    """Choose inches, pounds, US gallons and °F as a household does."""
    phone.go("form/site/site")
    phone.page.get_by_label("Warmth is told in").select_option("F")
    phone.page.get_by_label("Lengths, weights and volumes").select_option("us")
    phone.page.get_by_role("button", name="Change it").click()
    expect(phone.page.locator(".undo")).to_contain_text("Written down")
    return phone.page


def kept_of(phone: Phone, id_: str) -> dict[str, Any]:
    (record,) = [row["record"] for row in phone.kept()["records"] if row["record"]["id"] == id_]
    fields: dict[str, Any] = record["fields"]
    return fields


@pytest.mark.parametrize("size", SIZES, ids=str)
def test_the_list_is_read_in_the_units_that_were_chosen(phone: Phone, size: tuple[int, int]) -> None:
    phone.page.set_viewport_size({"width": size[0], "height": size[1]})
    phone.go("round")
    expect(phone.row("Pot up 6 melons to 1 L")).to_be_visible()
    page = chosen(phone)
    phone.go("round")
    expect(phone.row("Pot up 6 melons to 2.1 pt")).to_be_visible()
    assert page.evaluate("document.documentElement.scrollWidth <= innerWidth")
    assert not page.locator("main").get_by_text("°C").count()
    kept_of(phone, "site")


def test_a_bed_typed_in_feet_and_left_alone_stays_as_it_was(phone: Phone) -> None:
    page = chosen(phone)
    before = kept_of(phone, "place.tunnel.bed1")
    phone.go("form/place/place.tunnel.bed1")
    page.get_by_label("A word").fill("by the door")
    page.get_by_role("button", name="Change it").click()
    expect(page.locator(".undo")).to_contain_text("Written down")
    assert kept_of(phone, "place.tunnel.bed1")["length_cm"] == before["length_cm"], "what nobody touched is not rounded"
    phone.go("form/place/place.tunnel.bed1")
    page.get_by_label("Length, in").fill("12 ft 6 in")
    page.get_by_role("button", name="Change it").click()
    phone.until(
        "async () => { const {openStore} = await import('/scripts/store/indexed-db.js');"
        " const store = await openStore({device: 'aaaaaaaa', now: Date.now}); const all = await store.all();"
        " await store.close(); return all.find((one) => one.id === 'place.tunnel.bed1').fields.length_cm === 381; }"
    )


def test_pickings_and_readings_are_typed_and_told_in_pounds_and_fahrenheit(phone: Phone) -> None:
    page = chosen(phone)
    phone.go("jot/pick/batch.2031.parsnip")
    if page.get_by_label("Ounces", exact=True).count() == 0:
        page.get_by_role("button", name="Weigh").click()
    page.get_by_label("Ounces", exact=True).last.fill("2 lb 3 oz")
    page.get_by_role("button", name="Write it down").click()
    expect(page.locator(".undo")).to_contain_text("Written down")
    assert phone.deeds("pick")[-1]["weight_g"] == 992
    phone.go("jot/measure")
    page.locator(".line", has_text="Tunnel").click()
    page.get_by_label("Night minimum, °F", exact=True).last.fill("41")
    page.get_by_label("Day maximum, °F", exact=True).last.fill("77")
    page.get_by_role("button", name="Write it down").click()
    expect(page.locator(".undo")).to_contain_text("Written down")
    told = phone.deeds("measure")[-1]
    assert (told["tmin"], told["tmax"]) == (5, 25)
    phone.go("diary")
    expect(page.get_by_text("2 lb 3 oz").first).to_be_visible()
    expect(page.get_by_text("41 °F to 77 °F").first).to_be_visible()
