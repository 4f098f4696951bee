"""The floors' own server: a bare page with its worker, records as one zipped answer, and a door that stores a push."""

from __future__ import annotations

import contextlib
import gzip
import http.server
import json
import sqlite3
import threading
from collections.abc import Iterator
from pathlib import Path
from typing import Any

PAGE = b"""<!doctype html><html lang=en><meta charset=utf-8><title>Bare</title><h1>Bare</h1><button>Tick</button>
<script src=/register.js></script>"""
REGISTER = b"""if (location.hash === "#worker") navigator.serviceWorker.register("/worker.js");"""
WORKER = b"""
self.addEventListener("install", (event) => event.waitUntil(
  caches.open("bare").then((cache) => cache.addAll(["/", "/register.js"])).then(() => self.skipWaiting())));
self.addEventListener("activate", (event) => event.waitUntil(self.clients.claim()));
self.addEventListener("fetch", (event) => event.respondWith(
  caches.open("bare").then((cache) => cache.match(event.request, {ignoreSearch: true}))));
"""
FILES = {"/": ("text/html", PAGE), "/register.js": ("text/javascript", REGISTER), "/worker.js": ("text/javascript", WORKER)}


class PlainServer:
    """Serves the bare page, and the records it was given as one gzipped JSON text."""

    def __init__(self, folder: Path, records: list[dict[str, Any]]) -> None:
        bare = [{name: record[name] for name in ("id", "kind", "fields")} for record in records]
        text = json.dumps(bare, ensure_ascii=False, separators=(",", ":")).encode()
        self.zipped = gzip.compress(text, 5)
        self._database = folder / "plain.db"
        with contextlib.closing(plain_database(self._database)):
            pass
        outer = self

        class Door(http.server.BaseHTTPRequestHandler):
            protocol_version = "HTTP/1.1"

            def do_GET(self) -> None:
                if self.path == "/records":
                    self._answer("application/json", outer.zipped, "gzip")
                elif self.path in FILES:
                    self._answer(*FILES[self.path])
                else:
                    self.send_error(404)

            def do_POST(self) -> None:
                outer.keep(self.rfile.read(int(self.headers["content-length"])))
                self._answer("application/json", b"{}")

            def _answer(self, kind: str, body: bytes, coding: str | None = None) -> None:
                self.send_response(200)
                self.send_header("content-type", kind)
                self.send_header("content-length", str(len(body)))
                self.send_header("cache-control", "no-store")
                if coding:
                    self.send_header("content-encoding", coding)
                self.end_headers()
                self.wfile.write(body)

            def log_message(self, format: str, *args: Any) -> None:
                """Quiet."""

        self._server = http.server.ThreadingHTTPServer(("127.0.0.1", 0), Door)
        self.port = self._server.server_port
        self._thread = threading.Thread(target=self._server.serve_forever, daemon=True)
        self._thread.start()

    def keep(self, zipped: bytes) -> None:
        """Store pushed records durably in one transaction."""
        rows = [(row["id"], json.dumps(row)) for row in json.loads(gzip.decompress(zipped))]
        with contextlib.closing(plain_database(self._database)) as db:
            put_rows(db, rows)

    @property
    def url(self) -> str:
        """Where the bare page is."""
        return f"http://127.0.0.1:{self.port}/"

    def stop(self) -> None:
        """Serve no more."""
        self._server.shutdown()
        self._server.server_close()


def plain_database(path: Path) -> sqlite3.Connection:
    """A table of texts by id, as durable as ours."""
    db = sqlite3.connect(path, isolation_level=None)
    db.execute("PRAGMA journal_mode = WAL")
    db.execute("PRAGMA synchronous = FULL")
    db.execute("CREATE TABLE IF NOT EXISTS rows (id TEXT PRIMARY KEY, body TEXT NOT NULL) WITHOUT ROWID")
    return db


def put_rows(db: sqlite3.Connection, rows: list[tuple[str, str]]) -> None:
    """One durable transaction."""
    db.execute("BEGIN IMMEDIATE")
    db.executemany("INSERT OR REPLACE INTO rows VALUES (?, ?)", rows)
    db.execute("COMMIT")


@contextlib.contextmanager
def plain_server(folder: Path, records: list[dict[str, Any]]) -> Iterator[PlainServer]:
    """The server, running."""
    folder.mkdir(parents=True, exist_ok=True)
    server = PlainServer(folder, records)
    try:
        yield server
    finally:
        server.stop()
