"""Who may come in: a layer in front of every request, pages and live connections alike.

- Bound to the loopback address, a request must also name that address as its host: a page of
  some other site, opened in the same browser, would name its own.
- A request that names an origin must come from the bench's own page.
- With a password, everything but the door itself needs the token that the password buys.
- A body larger than the limit is cut off while it is read.
"""

from __future__ import annotations

import asyncio
import hmac
import secrets
from collections.abc import Awaitable, Callable, MutableMapping
from html import escape
from http.cookies import CookieError, SimpleCookie
from typing import Any
from urllib.parse import parse_qs, urlsplit

from borewright.words import Reader

Scope = MutableMapping[str, Any]
Receive = Callable[[], Awaitable[MutableMapping[str, Any]]]
Send = Callable[[MutableMapping[str, Any]], Awaitable[None]]
App = Callable[[Scope, Receive, Send], Awaitable[None]]

#: Largest body of a request (bytes): an hour of mono recording, 16 bit at 44.1 kHz, is 320 MB.
MOST_BYTES = 400_000_000
_LOOPBACK = {"127.0.0.1", "localhost", "::1"}
_COOKIE = "borewright-bench"
#: A wrong password costs a second, and wrong ones queue up behind each other.
WRONG_S = 1.0
_FORM_BYTES = 4000


def is_loopback(host: str) -> bool:
    """Whether an address is reached from this machine alone."""
    return host in _LOOPBACK


class Guard:
    """The layer; see the module.

    ``password`` None lets everybody on this machine in; ``reader`` tells who is spoken to.
    """

    def __init__(
        self,
        app: App,
        *,
        host: str,
        password: str | None,
        reader: Callable[[], Reader] = Reader,
        most_bytes: int = MOST_BYTES,
        wrong_s: float = WRONG_S,
    ) -> None:
        self.app = app
        self.loopback = is_loopback(host)
        self.password = password
        self.most_bytes = most_bytes
        self.wrong_s = wrong_s
        self.reader = reader
        self._token = secrets.token_urlsafe(32)
        self._door = asyncio.Lock()

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        """One request."""
        if scope["type"] not in ("http", "websocket"):
            await self.app(scope, receive, send)
            return
        words = self.reader()
        headers = {k.decode("latin-1").lower(): v.decode("latin-1") for k, v in scope["headers"]}
        if not self._welcome(headers):
            await _refuse(scope, send, 403, words("This address is not the bench's own."))
        elif self.password is not None and not self._has_token(headers):
            await self._at_the_door(scope, headers, receive, send)
        elif not headers.get("content-length", "0").isdecimal():
            await _refuse(scope, send, 403, words("This request is malformed."))
        elif int(headers.get("content-length", "0")) > self.most_bytes:
            await _refuse(scope, send, 413, words("This file is too large for the bench."))
        else:
            await self.app(scope, self._counted(receive), send)

    def _welcome(self, headers: dict[str, str]) -> bool:
        host = headers.get("host", "")
        if self.loopback and urlsplit(f"//{host}").hostname not in _LOOPBACK:
            return False
        origin = headers.get("origin")
        return origin is None or urlsplit(origin).netloc == host

    def _has_token(self, headers: dict[str, str]) -> bool:
        try:
            cookie = SimpleCookie(headers.get("cookie", "")).get(_COOKIE)
        except CookieError:
            return False
        return cookie is not None and hmac.compare_digest(cookie.value, self._token)

    def _counted(self, receive: Receive) -> Receive:
        """The same stream, ended as by a lost connection once it is longer than allowed."""
        seen = 0

        async def counted() -> MutableMapping[str, Any]:
            nonlocal seen
            message = await receive()
            if message["type"] == "http.request":
                seen += len(message.get("body", b""))
                if seen > self.most_bytes:
                    return {"type": "http.disconnect"}
            return message

        return counted

    async def _at_the_door(
        self, scope: Scope, headers: dict[str, str], receive: Receive, send: Send
    ) -> None:
        if scope["type"] == "websocket":
            await _refuse(scope, send, 403, "")
            return
        words = self.reader()
        if scope["method"] == "POST" and scope["path"] == "/door":
            given = await _password(headers, receive)
            async with self._door:
                if hmac.compare_digest(given.encode(), (self.password or "").encode()):
                    cookie = f"{_COOKIE}={self._token}; HttpOnly; SameSite=Strict; Path=/"
                    moved = [(b"location", b"/"), (b"set-cookie", cookie.encode())]
                    await _answer(send, 303, "", moved)
                    return
                await asyncio.sleep(self.wrong_s)
            said = words("That was not the password.")
            await _answer(send, 401, _door_page(words, said))
            return
        await _answer(send, 401, _door_page(words, ""))


async def _password(headers: dict[str, str], receive: Receive) -> str:
    body = b""
    while len(body) <= _FORM_BYTES:
        message = await receive()
        body += message.get("body", b"")
        if not message.get("more_body"):
            break
    try:
        return parse_qs(body[:_FORM_BYTES].decode("utf-8", "replace")).get("password", [""])[0]
    except ValueError:
        return ""


def _door_page(words: Reader, said: str) -> str:
    return (
        f'<!doctype html><html lang="{words.language}"><meta charset="utf-8">'
        '<meta name="viewport" content="width=device-width">'
        f"<title>{escape(words('Borewright bench'))}</title>"
        "<style>body{font:18px/1.5 system-ui,sans-serif;max-width:24em;margin:12vh auto;"
        "padding:0 1em;color:#22303a;background:#f7f4ee}input,button{font:inherit;padding:.5em;"
        "width:100%;box-sizing:border-box;margin:.3em 0}"
        "@media(prefers-color-scheme:dark){body{color:#e6e9ea;background:#1b2126}}</style>"
        f"<main><h1>{escape(words('Borewright bench'))}</h1><p role='alert'>{escape(said)}</p>"
        f"<form method='post' action='/door'><label>{escape(words('Password'))}"
        "<input type='password' name='password' autofocus required></label>"
        f"<button>{escape(words('Come in'))}</button></form></main></html>"
    )


async def _refuse(scope: Scope, send: Send, status: int, text: str) -> None:
    if scope["type"] == "websocket":
        await send({"type": "websocket.close", "code": 1008})
    else:
        await _answer(send, status, f"<!doctype html><meta charset='utf-8'><p>{escape(text)}</p>")


async def _answer(
    send: Send, status: int, html: str, headers: list[tuple[bytes, bytes]] | None = None
) -> None:
    kind = (b"content-type", b"text/html; charset=utf-8")
    await send(
        {
            "type": "http.response.start",
            "status": status,
            "headers": [kind, (b"cache-control", b"no-store"), *(headers or [])],
        }
    )
    await send({"type": "http.response.body", "body": html.encode()})
