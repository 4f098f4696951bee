"""A thermometer's file on the phone: read, asked about, taken, taken back, and what it does to the list."""

from __future__ import annotations

import datetime
from pathlib import Path

from playwright.sync_api import expect

from tests.browser.phones import Phone


def logger_file(folder: Path, warmer: float) -> Path:
    """Forty nights in the tunnel of the year the demo stands in, so many degrees above a usual May."""
    start = datetime.date(2031, 4, 8)
    rows = [f"{start + datetime.timedelta(days=n)},{8 + warmer + n % 3},{24 + warmer + n % 5}" for n in range(40)]
    path = folder / "tunnel.csv"
    path.write_text("Date,Min °C,Max °C\n" + "\n".join(rows) + "\nbroken,row,here\n")
    return path


def months(phone: Phone) -> list[dict[str, object]]:
    return [row["record"]["fields"] for row in phone.kept()["records"] if row["record"]["kind"] == "readings"]


def test_file_is_read_taken_once_and_taken_back(phone: Phone, tmp_path: Path) -> None:
    page = phone.page
    phone.go("place/place.tunnel")
    page.get_by_role("button", name="Thermometer").click()
    page.locator("input[type=file]").set_input_files(logger_file(tmp_path, -6))
    expect(page.get_by_text("1 row left out")).to_be_visible()
    page.get_by_role("button", name="Take these 40 days").click()
    expect(page.locator(".undo")).to_contain_text("40 days written down")
    assert {row["month"] for row in months(phone)} == {"2031-04", "2031-05"}
    # colder nights and days than usual bring the tomatoes in the tunnel later, and the list says so
    phone.go("round")
    phone.share()
    phone.until(
        "async () => { const {openStore} = await import('/scripts/store/indexed-db.js');"
        " const {settle} = await import('/scripts/kernel/settle.js');"
        " const store = await openStore({device: 'aaaaaaaa', now: Date.now});"
        " const jobs = settle(await store.meta('rulebook'), await store.live(), '2031-05-19'); await store.close();"
        " return jobs.some((job) => job.verb === 'pick' && job.house === 'place.tunnel'"
        " && job.why.some((why) => why.includes('later than usual by the heat read there'))); }"
    )
    phone.go("readings/place.tunnel")
    expect(page.locator("figure.chart")).to_be_visible()
    page.locator("input[type=file]").set_input_files(logger_file(tmp_path, -6))
    page.get_by_role("button", name="Take these 40 days").click()
    expect(page.get_by_text("All of these days are in the book already.")).to_be_visible()
    page.locator("input[type=file]").set_input_files(logger_file(tmp_path, 2))
    page.get_by_role("button", name="Take these 40 days").click()
    page.get_by_role("button", name="Undo").click()
    phone.until(
        "async () => { const {openStore} = await import('/scripts/store/indexed-db.js');"
        " const store = await openStore({device: 'aaaaaaaa', now: Date.now}); const all = await store.all();"
        " await store.close(); return all.find((one) => one.id === 'readings.place.tunnel.2031-05').fields.d01[0] === 4; }"
    )


def test_with_no_server_the_room_says_what_to_do(fresh_phone: Phone, tmp_path: Path) -> None:
    phone = fresh_phone
    page = phone.worker_ready().page
    phone.context.set_offline(True)
    phone.go("readings/place.tunnel")
    page.locator("input[type=file]").set_input_files(logger_file(tmp_path, 0))
    expect(page.get_by_role("alert")).to_contain_text("does not answer now")
