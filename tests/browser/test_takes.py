"""What it takes: needs against what the shed holds, by random households and on a phone with no server."""

from __future__ import annotations

import json
import math
import re
from typing import Any

import pytest
from hypothesis import HealthCheck, Phase, given, settings
from playwright.sync_api import Browser, Page, expect

from server.kernel.room import room
from tests.browser.conftest import ON
from tests.browser.phones import Phone
from tests.browser.serving import LiveServer
from tests.browser.test_bed_working import KNOWS, LOADED
from tests.cases import cases_times
from tests.kernel.browser_kernel import kernel_page
from tests.kernel.small import step
from tests.kernel.strategies import cases

TODAY = "2031-05-19"
ONCE_A_CASE = [HealthCheck.function_scoped_fixture]


@pytest.fixture(scope="module")
def page(browser: Browser) -> Any:
    with kernel_page(browser) as made:
        yield made


def asked(page: Page, case: dict[str, Any], module: str, door: str, *args: Any) -> Any:
    page.evaluate(KNOWS, json.dumps(case["rulebook"]))
    given_ = {"records": case["records"], "today": case["today"]}
    return page.evaluate(LOADED, given_ | {"module": module, "door": door, "args": list(args)})


def test_the_list_is_what_is_needed_less_what_is_held_for_any_household(page: Page) -> None:
    some: list[dict[str, Any]] = []

    @settings(max_examples=cases_times(1), phases=[Phase.generate], database=None, suppress_health_check=ONCE_A_CASE)
    @given(cases)
    def invent(case: dict[str, Any]) -> None:
        some.append(case)

    invent()
    seen = 0
    for case in some[:60]:
        day = case["today"]
        stretch = {"from": day, "to": f"{int(day[:4]) + 1}{day[4:].replace('-02-29', '-02-28')}"}
        stock = [
            {
                "id": "supply.pots",
                "kind": "supply",
                "stamp": "0",
                "fields": {"what": "pots", "unit": "", "held": 7.25, "on": "2031-01-01"},
            },
            {
                "id": "x1",
                "kind": "bought",
                "stamp": "0",
                "fields": {"what": "cells", "unit": "", "amount": 3, "on": "2031-02-01"},
            },
        ]
        given_ = case | {"records": case["records"] + stock}
        for take in asked(page, given_, "household/takes-working", "takesOf", "$book", "$room", stretch, day):
            seen += 1
            assert take["held"] >= 0 and take["lack"] >= 0
            assert math.isclose(take["lack"], max(0, take["need"] - take["held"]), abs_tol=0.051), take
    assert seen > 5


def shed(records: list[dict[str, Any]]) -> float:
    """Litres of compost."""
    (compost,) = room({"crops": CROPS, "vessels": {"lasts": ["pot"]}}, records, TODAY)["stock"]
    return float(compost["held"])


POT = step("pot", "pot_up", "potted up", "here", "Pot up {plants}", 6, needs=[{"what": "compost", "each": 12, "unit": "L"}])
CROPS = {"c": {"one": "c", "many": "cs", "steps": [POT]}}


def row(id_: str, kind: str, **fields: Any) -> dict[str, Any]:
    return {"id": id_, "kind": kind, "stamp": id_, "fields": fields}


def test_stock_is_counted_bought_and_used_up_and_never_below_nought() -> None:
    """Ten pots take 1.2 L each: 12 L."""
    plants = [row("v", "variety", crop="c"), row("b", "batch", variety="v", year=2031, want=10)]
    potted = row("d", "diary", did="pot_up", batch="b", count=10, on="2031-05-10", job="b.pot", part=1)
    counted = row("supply.compost-l", "supply", what="compost", unit="L", held=30, on="2031-05-01")
    bought = row("y", "bought", what="compost", unit="L", amount=50, on="2031-05-12")
    assert shed([*plants, counted]) == 30
    assert shed([*plants, counted, potted]) == 18
    assert shed([*plants, counted, potted, bought]) == 68
    few = row("supply.compost-l", "supply", what="compost", unit="L", held=5, on="2031-05-01")
    assert shed([*plants, few, potted]) == 0
    late = row("supply.compost-l", "supply", what="compost", unit="L", held=5, on="2031-05-15")
    assert shed([*plants, late, potted, bought]) == 5, "what was counted later knows of both"


def test_a_list_is_ticked_with_no_server_and_taken_back(phone: Phone, server: LiveServer) -> None:
    page = phone.page
    phone.go("takes")
    expect(page.get_by_role("heading", name="To buy")).to_be_visible()
    server.kill()
    got = page.get_by_role("button", name=re.compile("^Got it: .* seed compost"))
    got.click()
    expect(page.locator(".undo")).to_contain_text("In the shed")
    expect(got).to_have_count(0)
    expect(page.locator(".bought")).to_contain_text("seed compost")
    page.get_by_role("button", name="Undo").click()
    expect(got).to_be_visible()
    got.click()
    expect(got).to_have_count(0)
    records = [one["record"] for one in phone.kept()["records"] if one["record"]["kind"] == "bought"]
    assert [one["fields"].get("gone", False) for one in sorted(records, key=lambda one: one["id"])] == [True, False]


def test_what_is_counted_in_the_shed_is_not_bought_again(phone: Phone) -> None:
    page = phone.page
    phone.go("takes")
    page.get_by_role("button", name=re.compile("^Strings of 3.m")).click()
    page.get_by_role("textbox", name=re.compile("Strings of 3.m in the shed")).fill("100")
    page.get_by_role("button", name="So much is there").click()
    expect(page.get_by_role("button", name=re.compile("^Got it: .*strings of 3.m"))).to_have_count(0)
    expect(page.get_by_role("button", name=re.compile("^Strings of 3.m"))).to_contain_text("100 in the shed")


def test_pots_of_ones_own_are_put_down(phone: Phone) -> None:
    page = phone.page
    phone.go("vessels")
    page.get_by_role("button", name="Add a pot or tray").click()
    page.get_by_role("combobox", name=re.compile("^It is")).select_option("pot")
    page.get_by_label("What you call it").fill("square black")
    page.get_by_label("Filled with").fill("0.3")
    page.get_by_label("Long, or across the rim").fill("8")
    page.get_by_role("button", name="Write it down").click()
    phone.go("vessels")
    expect(page.get_by_role("button", name=re.compile("Square black"))).to_contain_text("0.3")


def test_seeds_in_hand_are_what_was_counted_less_what_was_sown(phone: Phone, server: LiveServer) -> None:
    """Sixty were counted in February; each sowing since takes its number off, and a new count begins anew."""
    page = phone.page
    lettuces = [f"batch.2031.lettuce{at}" for at in (1, 3, 5, 6)]
    sown = [deed["count"] for deed in phone.deeds("sow") if deed.get("batch") in lettuces and deed["on"] > "2031-02-01"]
    assert len(sown) >= 2
    phone.go("form/variety/variety.butter_latch")
    expect(page.get_by_label("Seeds in hand")).to_have_value(str(60 - sum(sown)))
    server.kill()
    page.get_by_label("Seeds in hand").fill("31")
    page.get_by_role("button", name="Change it").click()
    expect(page.locator(".undo")).to_contain_text("Written down.")
    (fields,) = [one["record"]["fields"] for one in phone.kept()["records"] if one["record"]["id"] == "variety.butter_latch"]
    assert (fields["seeds"], fields["seeds_on"]) == (31, ON)
    phone.go("form/variety/variety.butter_latch")
    expect(page.get_by_label("Seeds in hand")).to_have_value("31")
