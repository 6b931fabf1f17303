"""Who may come in: host, origin, password, size; asked of the layer itself, without a server."""

from __future__ import annotations

import asyncio

import pytest

from borewright.bench.limits import Limits
from borewright.bench.rights import Role
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


def asked(guard, *, kind="http", method="GET", path="/", query=b"", body=(b"",), **headers):
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
        "query_string": query,
        "headers": [(k.encode(), v.encode("latin-1")) for k, v in names.items()],
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
    return Guard(_inner, **{"host": "127.0.0.1", **options})


def come_in(guard, role=Role.OWNER, **headers):
    """Ask with the cookie of a session of this role."""
    cookie = f"{guard.cookie}={guard.sessions.open(role)}"
    return lambda **more: asked(guard, **{"cookie": cookie, **headers, **more})


def test_the_own_page_passes():
    ask = come_in(open_guard())
    assert ask()[0] == 200
    assert ask(origin="http://127.0.0.1:8080")[0] == 200
    assert ask(host="localhost:8080")[0] == 200
    assert ask(host="[::1]:8080")[0] == 200
    assert ask(kind="websocket")[0] == "websocket.accept"


def test_on_this_machine_too_only_the_token_of_this_start_opens():
    guard = open_guard(token="t0ken")
    status, _, page = asked(guard)
    assert status == 401
    assert "Open the address" in page
    assert asked(guard, kind="websocket")[0] == "websocket.close"
    assert asked(guard, path="/files/a.toml")[0] == 401
    for wrong in (b"token=", b"token=T0ken", b"token=%00", b"token=t0ken2"):
        status, headers, _ = asked(guard, query=wrong)
        assert status == 401
        assert "set-cookie" not in headers
    status, headers, _ = asked(guard, query=b"view=play&token=t0ken")
    assert (status, headers["location"]) == (303, "/?view=play")
    assert "HttpOnly; SameSite=Strict" in headers["set-cookie"]
    cookie = headers["set-cookie"].split(";")[0]
    assert asked(guard, cookie=cookie)[0] == 200
    assert asked(guard, kind="websocket", cookie=cookie)[0] == "websocket.accept"
    # The token does not stay in the address of a page that is open already.
    assert asked(guard, cookie=cookie, query=b"token=t0ken&view=fit")[1]["location"] == "/?view=fit"
    # It never opens a bench that others reach.
    shared = open_guard(host="0.0.0.0", token="t0ken", passwords={Role.OWNER: "p"})
    assert asked(shared, host="bench.local", query=b"token=t0ken")[0] == 401


def test_roles_come_in_by_their_own_passwords_and_a_viewer_sends_nothing():
    guard = open_guard(
        host="0.0.0.0", wrong_s=0.0,
        passwords={Role.OWNER: "Ahorn", Role.BENCH: "Birke", Role.VIEWER: "Eibe"},
    )  # fmt: skip
    door = {"method": "POST", "path": "/door", "host": "bench.local"}
    for word, role in (("Ahorn", Role.OWNER), ("Birke", Role.BENCH), ("Eibe", Role.VIEWER)):
        status, headers, _ = asked(guard, body=(f"password={word}".encode(),), **door)
        assert status == 303
        cookie = headers["set-cookie"].split(";")[0]
        assert guard.role({"cookie": cookie}) is role
        sent = asked(guard, method="POST", path="/receive/x", host="bench.local", cookie=cookie)
        assert sent[0] == (403 if role is Role.VIEWER else 200)


def test_after_wrong_passwords_an_address_waits():
    now = [0.0]
    limits = Limits(clock=lambda: now[0])
    guard = open_guard(host="0.0.0.0", wrong_s=0.0, passwords={Role.OWNER: "Ahorn"}, limits=limits)
    door = {"method": "POST", "path": "/door", "host": "bench.local"}
    for _ in range(8):
        assert asked(guard, body=(b"password=x",), **door)[0] == 401
    assert asked(guard, body=(b"password=Ahorn",), **door)[0] == 429
    now[0] = 61.0
    assert asked(guard, body=(b"password=Ahorn",), **door)[0] == 303


def test_too_many_requests_are_told_to_wait():
    now = [0.0]
    guard = open_guard(limits=Limits(burst=5, a_second=1, clock=lambda: now[0]))
    ask = come_in(guard)
    assert [ask()[0] for _ in range(7)] == [200] * 5 + [429] * 2
    now[0] = 2.0
    assert [ask()[0] for _ in range(3)] == [200, 200, 429]


@pytest.mark.parametrize(
    "headers",
    [
        {"host": "["},
        {"host": "[::1"},
        {"host": ""},
        {"host": "127.0.0.1:port"},
        {"host": "127.0.0.1:99999999"},
        {"host": "user@127.0.0.1"},
        {"host": "127.0.0.1/x"},
        {"origin": "http://["},
        {"origin": "http://127.0.0.1:8080/path"},
        {"origin": "https://127.0.0.1:8080"},
        {"origin": "file://"},
        {"origin": "\xff"},
        {"origin": ""},
    ],
)
@pytest.mark.parametrize("kind", ["http", "websocket"])
def test_malformed_hosts_and_origins_are_refused(kind, headers):
    ask = come_in(open_guard())
    assert ask(kind=kind, **headers)[0] == (403 if kind == "http" else "websocket.close")


def test_every_answer_forbids_framing_and_foreign_scripts():
    ask = come_in(open_guard())
    for _, headers, _ in (ask(), ask(host="evil.example"), asked(open_guard())):
        policy = headers["content-security-policy"]
        for part in ("frame-ancestors 'none'", "object-src 'none'", "default-src 'self'",
                     "base-uri 'none'", "form-action 'self'"):  # fmt: skip
            assert part in policy
        scripts = next(part for part in policy.split("; ") if part.startswith("script-src"))
        assert "unsafe-inline" not in scripts
        assert "nonce-" in scripts
        assert headers["x-content-type-options"] == "nosniff"
        assert headers["referrer-policy"] == "same-origin"


def test_a_secure_bench_marks_its_cookie_and_knows_its_own_origin():
    guard = open_guard(token="t", secure=True)
    assert "; Secure" in asked(guard, query=b"token=t")[1]["set-cookie"]
    ask = come_in(guard)
    assert ask(origin="https://127.0.0.1:8080")[0] == 200
    assert ask(origin="http://127.0.0.1:8080")[0] == 403


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
        assert come_in(open_guard())(kind=kind, **headers)[0] == closed


def test_a_password_is_asked_for_and_buys_a_token():
    guard = open_guard(wrong_s=0.0, host="0.0.0.0", passwords={Role.OWNER: "Ahorn 5/8 ü"})
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
    other = open_guard(host="0.0.0.0", passwords={Role.OWNER: "Ahorn 5/8 ü"})
    assert asked(other, host="bench.local:8080", cookie=token)[0] == 401


def test_large_bodies_are_cut_off():
    guard = open_guard(most_bytes=10)
    ask = come_in(guard)
    assert ask(method="POST", body=(b"12345", b"12345"))[2] == "10"
    assert ask(method="POST", content_length="11")[0] == 413
    assert ask(method="POST", body=(b"12345", b"123456"))[2] == "-1"
    assert ask(method="POST", content_length="many")[0] == 403
