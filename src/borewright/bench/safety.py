"""Who may come in: a layer in front of every request, pages and live connections alike.

- Everything but the door needs a session. Without a password, the address that the bench prints
  opens the owner's, by a token of this start; with passwords, each opens the session of its role.
- Bound to the loopback address, a request must also name that address as its host: a page of
  some other site, opened in the same browser, would name its own. A host or origin that is no
  such thing is refused.
- A request that names an origin must come from the bench's own page.
- A body larger than the limit is cut off while it is read; who asks too often waits.
"""

from __future__ import annotations

import asyncio
import hmac
import secrets
from collections.abc import Awaitable, Callable, Mapping, MutableMapping
from html import escape
from http.cookies import CookieError, SimpleCookie
from typing import Any
from urllib.parse import parse_qsl, urlencode, urlsplit

from borewright.bench.headers import Headers
from borewright.bench.limits import Limits
from borewright.bench.rights import Role, Sessions
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
TOKEN = "token"


def is_loopback(host: str) -> bool:
    """Whether an address is reached from this machine alone."""
    return host in _LOOPBACK


class Guard:
    """The layer; see the module.

    Parameters
    ----------
    passwords
        By role; without any, only the token lets anybody in.
    token
        Of this start, for the owner at this machine; None makes one.
    sessions
        Shared with whoever asks what a session may do.
    secure
        Whether the bench is served encrypted: cookies then travel no other way.
    reader
        Tells who is spoken to.
    """

    def __init__(
        self,
        app: App,
        *,
        host: str,
        passwords: Mapping[Role, str] | None = None,
        token: str | None = None,
        sessions: Sessions | None = None,
        port: int = 0,
        secure: bool = False,
        reader: Callable[[], Reader] = Reader,
        most_bytes: int = MOST_BYTES,
        wrong_s: float = WRONG_S,
        limits: Limits | None = None,
    ) -> None:
        self.app = app
        self.loopback = is_loopback(host)
        self.passwords = dict(passwords or {})
        self.token = token or secrets.token_urlsafe(24)
        self.sessions = sessions or Sessions()
        self.most_bytes = most_bytes
        self.wrong_s = wrong_s
        self.reader = reader
        self.secure = secure
        self.limits = limits or Limits()
        # Cookies know no ports: two benches on one machine keep theirs apart by name.
        self.cookie = f"{_COOKIE}-{port}" if port else _COOKIE
        self._door = asyncio.Lock()

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        """One request."""
        if scope["type"] not in ("http", "websocket"):
            await self.app(scope, receive, send)
            return
        if scope["type"] == "http":
            send = Headers(send)
        words = self.reader()
        headers = {k.decode("latin-1").lower(): v.decode("latin-1") for k, v in scope["headers"]}
        address = (scope.get("client") or ("",))[0]
        if not self.limits.request(address):
            await _refuse(scope, send, 429, words("Too many requests at once. Wait a moment."))
        elif not self._welcome(scope, headers):
            await _refuse(scope, send, 403, words("This address is not the bench's own."))
        elif (role := self.role(headers)) is None:
            await self._at_the_door(scope, headers, receive, send, address)
        elif not headers.get("content-length", "0").isdecimal():
            await _refuse(scope, send, 403, words("This request is malformed."))
        elif int(headers.get("content-length", "0")) > self.most_bytes:
            await _refuse(scope, send, 413, words("This file is too large for the bench."))
        elif role is Role.VIEWER and scope.get("method", "GET") not in ("GET", "HEAD"):
            await _refuse(scope, send, 403, words("Whoever only looks may not send anything."))
        elif _token_of(scope) is not None:
            await _answer(send, 303, "", [(b"location", _without_token(scope))])
        else:
            scope["borewright.role"] = role
            await self.app(scope, self._counted(receive), send)

    def _welcome(self, scope: Scope, headers: dict[str, str]) -> bool:
        names = [name for name, _ in scope["headers"] if name.lower() in (b"host", b"origin")]
        if len({name.lower() for name in names}) != len(names):
            return False  # told twice, it is whatever an attacker likes
        host, origin = headers.get("host", ""), headers.get("origin")
        try:
            named = urlsplit(f"//{host}")
            if not named.hostname or named.path or named.username is not None:
                return False
            _ = named.port  # raises for what is no port
            if self.loopback and named.hostname not in _LOOPBACK:
                return False
            if origin is None:
                return True
            asked = urlsplit(origin)
            _ = asked.port
        except ValueError:
            return False
        return asked.scheme in ("https",) * self.secure + ("http",) * (not self.secure) and (
            asked.netloc == host and not asked.path
        )

    def role(self, headers: Mapping[str, str]) -> Role | None:
        """Who a request's cookie says it is; None where it has none that is known."""
        try:
            cookie = SimpleCookie(headers.get("cookie", "")).get(self.cookie)
        except CookieError:
            return None
        return None if cookie is None else self.sessions.role(cookie.value)

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
        self,
        scope: Scope,
        headers: dict[str, str],
        receive: Receive,
        send: Send,
        address: str,
    ) -> None:
        if scope["type"] == "websocket":
            await _refuse(scope, send, 403, "")
            return
        words = self.reader()
        given = _token_of(scope)
        if given is not None and not self.passwords and scope["method"] == "GET":
            if _same(given, self.token):
                await self._let_in(send, Role.OWNER, _without_token(scope))
                return
            await _answer(send, 401, _closed_page(words))
            return
        if not self.passwords:
            await _answer(send, 401, _closed_page(words))
            return
        if scope["method"] == "POST" and scope["path"] == "/door":
            await self._password_given(headers, receive, send, address)
            return
        await _answer(send, 401, _door_page(words, ""))

    async def _password_given(
        self, headers: dict[str, str], receive: Receive, send: Send, address: str
    ) -> None:
        words = self.reader()
        if self.limits.waits(address):
            said = words("Too many wrong passwords. Wait a minute.")
            await _answer(send, 429, _door_page(words, said))
            return
        given = await _password(headers, receive)
        async with self._door:
            # All are compared, so that how long it takes tells nothing.
            fitting = [role for role, known in self.passwords.items() if _same(given, known)]
            if fitting:
                await self._let_in(send, fitting[0], b"/")
                return
            self.limits.wrong(address)
            await asyncio.sleep(self.wrong_s)
        await _answer(send, 401, _door_page(words, words("That was not the password.")))

    async def _let_in(self, send: Send, role: Role, where: bytes) -> None:
        name = self.sessions.open(role)
        cookie = f"{self.cookie}={name}; HttpOnly; SameSite=Strict; Path=/"
        if self.secure:
            cookie += "; Secure"
        await _answer(send, 303, "", [(b"location", where), (b"set-cookie", cookie.encode())])


def _same(given: str, known: str) -> bool:
    return hmac.compare_digest(given.encode(), known.encode())


def _token_of(scope: Scope) -> str | None:
    query = scope.get("query_string", b"").decode("latin-1")
    return dict(parse_qsl(query)).get(TOKEN) if f"{TOKEN}=" in query else None


def _without_token(scope: Scope) -> bytes:
    """The same address without the token, which shall not stay in it; never another server."""
    query = parse_qsl(scope.get("query_string", b"").decode("latin-1"), keep_blank_values=True)
    kept = urlencode([(name, value) for name, value in query if name != TOKEN])
    return (f"/?{kept}" if kept else "/").encode()


async def _password(headers: dict[str, str], receive: Receive) -> str:
    body = b""
    while len(body) <= _FORM_BYTES:
        message = await receive()
        body += message.get("body", b"")
        if not message.get("more_body"):
            break
    try:
        return dict(parse_qsl(body[:_FORM_BYTES].decode("utf-8", "replace"))).get("password", "")
    except ValueError:
        return ""


def _closed_page(words: Reader) -> str:
    """What is said to whoever comes without the token of this start."""
    said = words("Open the address that borewright bench has printed: it opens this page.")
    return (
        f'<!doctype html><html lang="{words.language}"><meta charset="utf-8">'
        f"<title>{escape(words('Borewright bench'))}</title>"
        f"<main><h1>{escape(words('Borewright bench'))}</h1><p>{escape(said)}</p></main></html>"
    )


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
