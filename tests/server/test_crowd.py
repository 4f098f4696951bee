"""Callers who take much and give nothing: idle lines, trickling bodies, streams without end. The others are served."""

from __future__ import annotations

import asyncio
import contextlib
import json
import socket
from pathlib import Path

import pytest
import uvicorn

from server.commands import lines
from server.commands.serving import listen
from server.settings import Settings
from server.sync.pokes import MOST_LINES, Pokes
from tests.browser.serving import HomeServer, free_port
from tests.server.conftest import change, run

IDLE = 1500
"""More than the 1,024 open files that a process is often given to begin with."""
SLOW = 40
STREAMS = 40


def call(server: HomeServer, stack: contextlib.ExitStack) -> socket.socket:
    return stack.enter_context(socket.create_connection(("127.0.0.1", server.port), timeout=30))


def head(server: HomeServer, first: str, *more: str) -> bytes:
    return "\r\n".join([first, f"Host: 127.0.0.1:{server.port}", "Content-Type: application/json", *more, "", ""]).encode()


def ask(server: HomeServer, path: str, body: object, *more: str) -> tuple[str, dict[str, str], bytes]:
    """Status line, headers and body of a whole exchange."""
    text = json.dumps(body).encode()
    with contextlib.ExitStack() as stack:
        line = call(server, stack)
        said = head(server, f"POST {path} HTTP/1.1", f"Content-Length: {len(text)}", "Connection: close", *more)
        line.sendall(said + text)
        answer = b""
        while part := line.recv(65_536):
            answer += part
    top, _, rest = answer.partition(b"\r\n\r\n")
    status, *rows = top.decode().split("\r\n")
    return status, {name.lower(): value for name, _, value in (row.partition(": ") for row in rows)}, rest


def join(server: HomeServer, name: str) -> str:
    """A joined phone's cookie, as a header."""
    status, headers, _ = ask(server, "/api/join", {"code": server.code(), "name": name})
    assert status.endswith("200 OK")
    return f"Cookie: {headers['set-cookie'].split(';')[0]}"


def read_on(line: socket.socket) -> bytes | None:
    """What a stream has said since; None once it has ended."""
    said = b""
    line.settimeout(0.3)
    with contextlib.suppress(TimeoutError):
        while part := line.recv(65_536):
            said += part
        return None
    return said


def test_a_crowd_that_asks_nothing_holds_up_nobody(plain_home: HomeServer) -> None:
    lines.allow_many_lines()  # for this process too, after the server has begun with what it was given
    hazel, jim = join(plain_home, "Hazel"), join(plain_home, "Jim")
    with contextlib.ExitStack() as stack:
        for _ in range(IDLE):
            call(plain_home, stack)
        for _ in range(SLOW):
            head_only = head(plain_home, "POST /api/sync HTTP/1.1", "Content-Length: 90000", hazel)
            call(plain_home, stack).sendall(head_only + b'{"changes": [')
        ears = []
        for _ in range(STREAMS):
            ears.append(call(plain_home, stack))
            ears[-1].sendall(head(plain_home, "GET /api/pokes HTTP/1.1", "Connection: close", hazel))
        jims = call(plain_home, stack)
        jims.sendall(head(plain_home, "GET /api/pokes HTTP/1.1", jim))
        assert jims.recv(65_536).startswith(b"HTTP/1.1 200 OK")
        status, _, body = ask(plain_home, "/api/sync", {"since": 0, "changes": [change("d1")]}, hazel)
        assert status.endswith("200 OK") and b'"taken":[{"id":"d1"' in body
        heard = read_on(jims)
        assert heard is not None and b"data: 1\n" in heard, "news reaches Jim through the crowd"
        assert sum(read_on(ear) is not None for ear in ears) == MOST_LINES, "one phone holds a few streams and no more"


def test_of_too_many_streams_the_oldest_ends() -> None:
    async def listen() -> tuple[list[bytes], list[bytes]]:
        pokes = Pokes()
        streams = [pokes.stream(3, quiet_s=30, device="phone.a") for _ in range(MOST_LINES + 1)]
        other = pokes.stream(3, quiet_s=30, device="phone.b")
        for stream in [*streams, other]:
            await anext(stream)
        await pokes.tell(4)
        ended = [part async for part in streams[0]]
        return ended, [await anext(stream) for stream in [*streams[1:], other]]

    ended, heard = run(listen())
    assert ended == [] and heard == [b"event: new\ndata: 4\n\n"] * (MOST_LINES + 1)


def test_a_line_on_which_nothing_is_asked_is_closed(monkeypatch: pytest.MonkeyPatch) -> None:
    """Never a word, half a head, half of a second head: all are hung up on. A stream that is silent for long is not."""
    monkeypatch.setattr(lines, "ASK_WITHIN_S", 0.3)
    whole = b"GET / HTTP/1.1\r\nHost: here\r\n\r\n"
    half = whole[:20]

    async def app(scope: dict[str, str], receive: object, send: object) -> None:
        assert scope["type"] == "http" and callable(send)
        await send({"type": "http.response.start", "status": 200, "headers": [(b"content-length", b"2")]})
        if scope["path"] == "/stream":
            await asyncio.sleep(1.5)
        await send({"type": "http.response.body", "body": b"ok"})

    async def said_until_it_ends(port: int, words: bytes) -> bytes:
        reader, writer = await asyncio.open_connection("127.0.0.1", port)
        writer.write(words)
        said = await asyncio.wait_for(reader.read(), 20)
        writer.close()
        return said

    async def work() -> list[bytes]:
        port = free_port()
        server = uvicorn.Server(
            uvicorn.Config(app, port=port, log_level="warning", http=lines.AskingProtocol, lifespan="off", timeout_keep_alive=1)
        )
        running = asyncio.create_task(server.serve())
        while not server.started:
            await asyncio.sleep(0.01)
        streaming = whole.replace(b"/ ", b"/stream ")
        said = await asyncio.gather(*(said_until_it_ends(port, words) for words in (b"", half, whole + half, streaming, whole)))
        server.should_exit = True
        await running
        return list(said)

    nothing, half_said, second_half, stream, kept_alive = run(work())
    assert nothing == half_said == b""
    assert all(said.endswith(b"ok") for said in (second_half, stream, kept_alive))


def test_an_answer_goes_at_once_head_and_body(tmp_path: Path) -> None:
    """On a line that stays open the body of each further answer would else wait some 40 ms for the head to be acknowledged:
    Nagle (RFC 896) against delayed acknowledgements (RFC 1122). Asked of a socket as `listen` opens it."""
    options: list[int] = []

    class Watched(lines.AskingProtocol):
        def connection_made(self, transport: asyncio.Transport) -> None:  # type: ignore[override]
            super().connection_made(transport)
            options.append(transport.get_extra_info("socket").getsockopt(socket.IPPROTO_TCP, socket.TCP_NODELAY))

    async def app(scope: dict[str, str], receive: object, send: object) -> None:
        assert callable(send)
        await send({"type": "http.response.start", "status": 200, "headers": [(b"content-length", b"2")]})
        await send({"type": "http.response.body", "body": b"ok"})

    async def work() -> None:
        settings = Settings(data=tmp_path, port=free_port())
        server = uvicorn.Server(uvicorn.Config(app, log_level="warning", http=Watched, lifespan="off"))
        running = asyncio.create_task(server.serve(sockets=[listen(settings)]))
        while not server.started:
            await asyncio.sleep(0.01)
        reader, writer = await asyncio.open_connection("127.0.0.1", settings.port)
        writer.write(b"GET / HTTP/1.1\r\nHost: here\r\nConnection: close\r\n\r\n")
        assert (await reader.read()).endswith(b"ok")
        writer.close()
        server.should_exit = True
        await running

    run(work())
    assert options == [1]
