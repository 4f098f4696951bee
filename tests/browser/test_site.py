"""A household's first minutes: where it is, from a named climate or the phone, and what bad numbers get."""

from __future__ import annotations

import re
from collections.abc import Callable

from playwright.sync_api import expect

from tests.browser.phones import Phone
from tests.browser.serving import LiveServer


def test_site_is_begun_from_the_phones_place_and_a_climate_near_it(empty: LiveServer, phones: Callable[..., Phone]) -> None:
    phone = phones(empty.url, geolocation={"latitude": 53.104, "longitude": -3.21}, permissions=["geolocation"]).open()
    page = phone.page
    expect(page.get_by_text("Nothing grows here yet")).to_be_visible()
    phone.go("form/site/site")
    page.get_by_label("What the garden is called").fill("Our Patch")
    page.get_by_role("button", name="Where this phone is").click()
    expect(page.get_by_label("Latitude, degrees")).to_have_value("53.1")
    page.get_by_role("button", name="A climate like mine").click()
    near = page.locator(".board .line").first
    expect(near).to_contain_text(re.compile(r"\d+ km"))
    near.click()
    expect(page.get_by_label("Last frost of spring")).to_have_value(re.compile(r"\d+\s\w+"))
    expect(page.get_by_label("Jul, mean day maximum in °C")).to_have_value(re.compile(r"\d"))
    # the phone's own place stays
    expect(page.get_by_label("Latitude, degrees")).to_have_value("53.1")
    page.get_by_label("Latitude, degrees").fill("153")
    page.get_by_role("button", name="Write it down").click()
    expect(page.locator(".bad", has_text="from -90 to 90")).to_be_visible()
    assert not [row for row in phone.kept()["records"] if row["id"] == "site"], "nothing is saved half"
    page.get_by_label("Latitude, degrees").fill("53.1")
    page.get_by_role("button", name="Write it down").click()
    expect(page.locator(".undo")).to_contain_text("Written down")
    (site,) = [row["record"]["fields"] for row in phone.kept()["records"] if row["id"] == "site"]
    assert site["name"] == "Our Patch" and site["lat"] == 53.1 and len(site["normals"]) == 12
    phone.go("round")
    expect(page.locator(".head")).to_contain_text(re.compile(r"light until \d\d:\d\d"))


def test_climates_are_said_to_be_on_the_server_when_it_is_gone(empty: LiveServer, phones: Callable[..., Phone]) -> None:
    phone = phones(empty.url).open()
    phone.go("form/site/site")
    phone.page.get_by_label("What the garden is called").fill("Our Patch")
    empty.kill()
    phone.page.get_by_role("button", name="A climate like mine").click()
    expect(phone.page.get_by_text("on the server, which does not answer now")).to_be_visible()
    expect(phone.page.get_by_label("What the garden is called")).to_have_value("Our Patch")
