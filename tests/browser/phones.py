"""A phone: a browser context of phone size with the app open, and what a thumb does on it."""

from __future__ import annotations

import functools
import json
import re
import weakref
from typing import Any

from playwright.sync_api import BrowserContext, Page, expect

from server import app
from server.handlers.shell_files import HandedOn
from tests.worked_ahead import DEMO_ON

SIZE = {"width": 390, "height": 844}
PATIENCE_MS = 20_000
expect.set_options(timeout=PATIENCE_MS)
POLL_MS = 100
BETWEEN_TAPS_MS = 450
"""Two taps in one list that are quicker are one."""
ALL = """() => new Promise((resolve, reject) => {
  const open = indexedDB.open("mudproof");
  open.onerror = () => reject(open.error);
  open.onsuccess = () => {
    const db = open.result;
    const done = {};
    const tx = db.transaction(["records", "outbox", "meta", "refused"]);
    for (const name of ["records", "outbox", "refused"]) {
      tx.objectStore(name).getAll().onsuccess = (e) => (done[name] = e.target.result);
    }
    tx.objectStore("meta").get("cursor").onsuccess = (e) => (done.cursor = e.target.result);
    tx.oncomplete = () => { db.close(); resolve(done); };
  };
})"""
NOTED = """(name) => new Promise((resolve) => {
  indexedDB.open("mudproof").onsuccess = (event) => {
    const db = event.target.result;
    const asked = db.transaction("meta").objectStore("meta").get(name);
    asked.onsuccess = () => { db.close(); resolve(asked.result ?? 0); };
  };
})"""
JOBS = """async (today) => {
  const {settle} = await moduleAt("kernel/settle");
  const {openStore} = await moduleAt("store/indexed-db");
  const store = await openStore({device: "aaaaaaaa", now: Date.now});
  const jobs = settle(await store.meta("rulebook"), await store.live(), today);
  await store.close();
  return JSON.stringify(jobs);
}"""

GO = """([way, patience]) => new Promise((done, fail) => {
  if (location.hash !== way) {
    document.querySelector("#room")?.setAttribute("data-left", "");
    location.hash = way;
  }
  const until = performance.now() + patience;
  const look = () => {
    if (!document.querySelector("#room[data-left]")) setTimeout(done, 50);
    else if (performance.now() > until) fail(new Error(`${way} does not come`));
    else setTimeout(look, 10);
  };
  look();
})"""

KNOWING: weakref.WeakSet[BrowserContext] = weakref.WeakSet()
"""Browser contexts in which each page knows `moduleAt`: a script given twice is read twice for each page."""
LINKED = re.compile(r'import\{(\$\w+)\}from"([^"]+)"')


@functools.cache
def module_at() -> str:
    """A script by which tests take a module of the app, as `moduleAt("kernel/settle")`, out of the file it travels in: the
    phone has that with no server too, the module's own address it may not."""
    files = app.read_shell(DEMO_ON, True).files
    found = {url: LINKED.search(file.body.decode()) for url, file in files.items() if isinstance(file, HandedOn)}
    places = {url[len("/scripts/") : -len(".js")]: [one[2], one[1]] for url, one in found.items() if one}
    return f"""globalThis.moduleAt = async (name) => {{
      const [file, held] = ({json.dumps(places)})[name];
      return (await import(file))[held];
    }}"""


def put_down(context: BrowserContext) -> Page:
    """Make a phone forget what it was told by a test and allowed. It is left with one new page, which the next test takes."""
    context.set_offline(False)
    context.unroute_all(behavior="ignoreErrors")
    context.clear_permissions()
    context.clear_cookies()
    blank = context.new_page()
    for page in context.pages:
        if page != blank:
            page.close()
    return blank


def wipe(context: BrowserContext, url: str) -> None:
    """Put a phone down and make it forget all that it kept; scripts it has once read it need not read again."""
    blank = put_down(context)
    cdp = context.new_cdp_session(blank)
    cdp.send("Storage.clearDataForOrigin", {"origin": url.rstrip("/"), "storageTypes": "all"})
    cdp.detach()


class Phone:
    """The app in one window."""

    def __init__(self, context: BrowserContext, url: str) -> None:
        self.context = context
        if context not in KNOWING:
            context.add_init_script(module_at())
            KNOWING.add(context)
        self.url = url
        self.page: Page = context.pages[0] if context.pages else context.new_page()
        self.errors: list[str] = []
        self.page.on("pageerror", lambda error: self.errors.append(str(error)))

    def open(self, way: str = "") -> Phone:
        """Open the app and wait until it has drawn itself."""
        self.page.goto(self.url + way)
        self.page.wait_for_selector("html[data-ready=yes]", state="attached")
        return self

    def settled(self) -> Phone:
        """Wait until the household is here and everything is shared."""
        self.page.wait_for_selector(".lab, .empty .key")
        self.page.wait_for_function("() => document.querySelector('.head .soft')?.textContent.startsWith('all shared')")
        return self

    def worker_ready(self) -> Phone:
        """Wait until the service worker runs this page."""
        self.page.wait_for_function("() => navigator.serviceWorker.controller !== null")
        return self

    def share(self) -> Phone:
        """Exchange with the server now, and wait until that has come through with nothing left to send.

        Twice: one may have been under way already, and then knows nothing of what happened just before this call.
        """
        for _ in range(2):
            before = self.page.evaluate(NOTED, "lastShared")
            self.page.evaluate("() => { window.dispatchEvent(new Event('online')); }")
            self.until(f"async (before) => (await ({NOTED})('lastShared')) > before", before)
        return self.settled()

    def until(self, asked: str, given: Any = None) -> None:
        """Wait for what can only be asked by waiting: Playwright's own wait takes a promise itself for a yes."""
        for _ in range(PATIENCE_MS // POLL_MS):
            if self.page.evaluate(asked, given):
                return
            self.page.wait_for_timeout(POLL_MS)
        raise AssertionError(f"not within {PATIENCE_MS} ms: {asked}")

    def go(self, way: str) -> None:
        """To another room, and wait until it stands in the place of the one that is left: its code may still be on the way."""
        self.page.evaluate(GO, [f"#/{way}", PATIENCE_MS])

    def kept(self) -> dict[str, Any]:
        """Everything the phone's store holds."""
        found: dict[str, Any] = json.loads(self.page.evaluate(f"async () => JSON.stringify(await ({ALL})())"))
        return found

    def deeds(self, did: str | None = None) -> list[dict[str, Any]]:
        """Fields of visible diary records written here and not yet shared, or shared: newest last."""
        rows = [row["record"] for row in self.kept()["records"] if row["record"]["kind"] == "diary"]
        rows = [row for row in rows if not row["fields"].get("gone") and (did is None or row["fields"]["did"] == did)]
        return [row["fields"] | {"id": row["id"]} for row in sorted(rows, key=lambda row: str(row["stamp"]))]

    def jobs(self, today: str) -> list[dict[str, Any]]:
        """The list as this phone's own kernel works it out from its own store."""
        found: list[dict[str, Any]] = json.loads(self.page.evaluate(JOBS, today))
        return found

    def row(self, words: str) -> Any:
        """The row of the Round whose title holds some words."""
        return self.page.locator(".lab", has_text=words).first
