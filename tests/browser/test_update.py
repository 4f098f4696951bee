"""A newer shell arrives while changes wait: whole, when the grower says so, once, and nothing is lost."""

from __future__ import annotations

import shutil
from collections.abc import Callable, Iterator
from pathlib import Path

import pytest
from playwright.sync_api import expect

from tests.browser.conftest import ON
from tests.browser.phones import ALL, Phone
from tests.browser.serving import ROOT, LiveServer


@pytest.fixture
def changing(filled: Path, tmp_path: Path) -> Iterator[LiveServer]:
    """A household's data, and a server over it that will run from a copy of the code, so that its files can be changed."""
    for name in ("server", "web", "seed_scenario"):
        shutil.copytree(ROOT / name, tmp_path / "code" / name)
    shutil.copytree(filled, tmp_path / "data")
    made = LiveServer(tmp_path / "data", ON, tmp_path / "code")
    yield made
    made.kill()


@pytest.fixture
def before(changing: LiveServer) -> Iterator[LiveServer]:
    """The same server before anything was changed, on the same port: its code is still the project's own."""
    made = LiveServer(changing.data, ON, port=changing.port).start()
    yield made
    made.kill()


def alter(server: LiveServer, name: str, old: str, new: str) -> None:
    path = server.code_folder / "web" / name
    text = path.read_text(encoding="utf-8")
    assert old in text
    path.write_text(text.replace(old, new), encoding="utf-8")


def look_for_update(phone: Phone) -> None:
    phone.page.evaluate("async () => { await (await navigator.serviceWorker.getRegistration()).update(); }")


def test_update_waits_for_the_grower_and_keeps_what_waits(
    before: LiveServer, changing: LiveServer, phones: Callable[..., Phone]
) -> None:
    phone = phones(before.url).open().settled().worker_ready()
    before.kill()
    phone.row("Earth up").locator(".well").click()
    expect(phone.page.locator(".head .soft")).to_contain_text("1 change kept")
    alter(changing, "scripts/ui/dock.js", '["ground", "Ground"]', '["ground", "The Ground"]')
    alter(changing, "scripts/rooms/ground/draw.js", '"Ground")', '"The Ground")')
    loads: list[str] = []
    phone.page.on("load", lambda _: loads.append("load"))
    changing.start()
    look_for_update(phone)
    bar = phone.page.locator(".bar-note")
    expect(bar).to_contain_text("Update ready", timeout=30_000)  # every file of the app comes first
    expect(phone.page.locator(".dock")).not_to_contain_text("The Ground")
    assert loads == []
    bar.get_by_role("button", name="Update").click()
    expect(phone.page.locator(".dock")).to_contain_text("The Ground")
    assert loads == ["load"]
    expect(phone.page.locator(".lab.done", has_text="Earth up")).to_be_visible()
    phone.share()
    assert [d for d in phone.deeds("train") if d["batch"] == "batch.2031.potato" and d["on"] == ON]


def test_interrupted_update_leaves_the_old_shell_whole(
    before: LiveServer, changing: LiveServer, phones: Callable[..., Phone]
) -> None:
    phone = phones(before.url).open().settled().worker_ready()
    before.kill()
    alter(changing, "scripts/ui/dock.js", '["shed", "Shed"]', '["shed", "Barn"]')
    changing.start()
    # the list names a file whose bytes then differ: as when a server is changed under way
    phone.context.route("**/scripts/ui/dock.js", lambda route: route.abort())
    phone.page.evaluate(
        "async () => { try { await (await navigator.serviceWorker.getRegistration()).update(); } catch { /* refused */ } }"
    )
    changing.kill()
    phone.page.reload()
    phone.page.wait_for_selector(".lab")
    expect(phone.page.locator(".dock")).to_contain_text("Shed")
    assert not phone.errors


def test_worker_never_answers_for_records_or_news(server: LiveServer, phones: Callable[..., Phone]) -> None:
    phone = phones(server.url).open().settled().worker_ready()
    cached = phone.page.evaluate(
        "async () => (await Promise.all((await caches.keys()).map(async (name) => (await (await caches.open(name)).keys())"
        ".map((request) => new URL(request.url).pathname)))).flat()"
    )
    assert "/" in cached and not [path for path in cached if path.startswith("/api/")]
    server.kill()
    refused = phone.page.evaluate("async () => { try { await fetch('/api/jobs'); return false; } catch { return true; } }")
    assert refused


def test_recover_takes_away_a_broken_worker_and_no_record(server: LiveServer, phones: Callable[..., Phone]) -> None:
    phone = phones(server.url).open().settled().worker_ready()
    phone.row("Earth up").locator(".well").click()
    expect(phone.page.locator(".lab.done", has_text="Earth up")).to_be_visible()
    held = len(phone.kept()["records"])
    phone.page.goto(server.url + "recover")
    expect(phone.page.locator("#say")).to_contain_text("Done")
    assert (
        phone.page.evaluate(
            "async () => (await navigator.serviceWorker.getRegistrations()).length + (await caches.keys()).length"
        )
        == 0
    )
    phone.open().settled()
    assert len(phone.kept()["records"]) >= held


def test_a_shell_without_its_page_says_what_is_safe(server: LiveServer, phones: Callable[..., Phone]) -> None:
    """A browser that cleared a part of its caches, and no server: words instead of the browser's own error."""
    phone = phones(server.url).open().settled().worker_ready()
    server.kill()
    phone.page.evaluate("async () => { for (const name of await caches.keys()) await (await caches.open(name)).delete('/'); }")
    phone.page.reload()
    expect(phone.page.locator("body")).to_contain_text("What you wrote down is safe on this phone.")
    server.start()
    phone.open().settled()


def test_records_come_although_no_list_can_be_worked_out(changing: LiveServer, phones: Callable[..., Phone]) -> None:
    """The standing jobs of this installation are damaged: a new phone gets every record, and the list once they are mended."""
    standing = changing.code_folder / "server" / "calendars" / "standing.toml"
    sound = standing.read_text(encoding="utf-8")
    standing.write_text(sound.replace("look_every = 7", 'look_every = "7"'), encoding="utf-8")
    changing.start()
    phone = phones(changing.url).open()
    phone.until(f"async () => (await ({ALL})()).records.length > 300")
    expect(phone.page.locator("main")).to_contain_text("The crop calendars have not come to this phone yet")
    phone.go("diary")
    expect(phone.page.locator("main")).to_contain_text("Sunday 11 May")
    phone.go("shed")
    expect(phone.page.locator("main")).to_contain_text("standing.toml, key 'look_every': is '7'")
    standing.write_text(sound, encoding="utf-8")
    phone.go("round")
    phone.page.evaluate("() => { window.dispatchEvent(new Event('online')); }")
    expect(phone.row("Earth up")).to_be_visible(timeout=20_000)  # the rulebook is made anew for it
    assert phone.errors == []
