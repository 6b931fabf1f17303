"""Who may come in: host, origin, password, size; asked of the layer itself, without a server."""

from __future__ import annotations

import asyncio

import pytest

from borewright.bench.safety import Guard


async def _inner(scope, receive, send):
    if scope["type"] == "websocket":
        await send({"type": "websocket.accept"})
        return
    size = 0
    while True:
        message = await receive()
        if message["type"] == "http.disconnect":
            size = -1
            break
        size += len(message.get("body", b""))
        if not message.get("more_body"):
            break
    await send({"type": "http.response.start", "status": 200, "headers": []})
    await send({"type": "http.response.body", "body": str(size).encode()})


def asked(guard, *, kind="http", method="GET", path="/", body=(b"",), **headers):
    """Status (or message type), headers and body of the answer to one request."""
    sent = []
    chunks = [
        {"type": "http.request", "body": part, "more_body": i < len(body) - 1}
        for i, part in enumerate(body)
    ]
    names = {"host": "127.0.0.1:8080", **{k.replace("_", "-"): v for k, v in headers.items()}}
    scope = {
        "type": kind,
        "method": method,
        "path": path,
        "headers": [(k.encode(), v.encode()) for k, v in names.items()],
    }

    async def run():
        async def receive():
            return chunks.pop(0)

        async def send(message):
            sent.append(message)

        await guard(scope, receive, send)

    asyncio.run(run())
    first = sent[0]
    given = {k.decode(): v.decode() for k, v in first.get("headers", [])}
    text = b"".join(message.get("body", b"") for message in sent[1:]).decode()
    return first.get("status", first["type"]), given, text


def open_guard(**options):
    return Guard(_inner, **{"host": "127.0.0.1", "password": None, **options})


def test_the_own_page_passes():
    assert asked(open_guard())[0] == 200
    assert asked(open_guard(), origin="http://127.0.0.1:8080")[0] == 200
    assert asked(open_guard(), host="localhost:8080")[0] == 200
    assert asked(open_guard(), host="[::1]:8080")[0] == 200
    assert asked(open_guard(), kind="websocket")[0] == "websocket.accept"


@pytest.mark.parametrize("kind", ["http", "websocket"])
def test_other_hosts_and_origins_stay_out(kind):
    closed = 403 if kind == "http" else "websocket.close"
    for headers in (
        {"host": "evil.example"},
        {"host": "127.0.0.1.evil.example"},
        {"origin": "http://evil.example"},
        {"origin": "null"},
        {"origin": "http://127.0.0.1:9999"},
    ):
        assert asked(open_guard(), kind=kind, **headers)[0] == closed


def test_a_password_is_asked_for_and_buys_a_token():
    guard = open_guard(wrong_s=0.0, host="0.0.0.0", password="Ahorn 5/8 ü")
    status, _, page = asked(guard, host="bench.local:8080")
    assert status == 401
    assert "password" in page
    assert asked(guard, kind="websocket", host="bench.local:8080")[0] == "websocket.close"
    door = {"method": "POST", "path": "/door", "host": "bench.local:8080"}
    for wrong in (b"", b"password=", b"password=ahorn", b"\xff\xfe", b"x" * 9000):
        status, headers, _ = asked(guard, body=(wrong,), **door)
        assert status == 401
        assert "set-cookie" not in headers
    given = b"password=Ahorn+5%2F8+%C3%BC"
    status, headers, _ = asked(guard, body=(given[:5], given[5:]), **door)
    assert status == 303
    cookie = headers["set-cookie"]
    assert "HttpOnly" in cookie
    assert "SameSite=Strict" in cookie
    token = cookie.split(";")[0]
    assert asked(guard, host="bench.local:8080", cookie=token)[0] == 200
    assert asked(guard, host="bench.local:8080", cookie=token[:-1])[0] == 401
    assert asked(guard, host="bench.local:8080", cookie="borewright-bench=; =;;")[0] == 401
    assert (
        asked(guard, kind="websocket", host="bench.local:8080", cookie=token)[0]
        == "websocket.accept"
    )
    other = open_guard(host="0.0.0.0", password="Ahorn 5/8 ü")
    assert asked(other, host="bench.local:8080", cookie=token)[0] == 401


def test_large_bodies_are_cut_off():
    guard = open_guard(most_bytes=10)
    assert asked(guard, method="POST", body=(b"12345", b"12345"))[2] == "10"
    assert asked(guard, method="POST", content_length="11")[0] == 413
    assert asked(guard, method="POST", body=(b"12345", b"123456"))[2] == "-1"
    assert asked(guard, method="POST", content_length="many")[0] == 403
