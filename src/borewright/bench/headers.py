"""What every answer tells the browser: who may frame it, what may run in it, what it keeps.

Scripts run only from this server or with the answer's own nonce. ``unsafe-eval`` is there because
the page's library compiles its templates in the browser; nothing that a person types reaches it.
"""

from __future__ import annotations

import re
import secrets
from collections.abc import Awaitable, Callable, MutableMapping
from typing import Any

Send = Callable[[MutableMapping[str, Any]], Awaitable[None]]

_FIXED = (
    (b"x-content-type-options", b"nosniff"),
    (b"x-frame-options", b"DENY"),
    (b"referrer-policy", b"same-origin"),  # with none at all, a form would name no origin
    (b"cross-origin-opener-policy", b"same-origin"),
    (b"cross-origin-resource-policy", b"same-origin"),
    (b"permissions-policy", b"camera=(), geolocation=(), microphone=(), usb=(), payment=()"),
)
_SCRIPT = re.compile(rb"<script(?=[\s>])")


def policy(nonce: str) -> str:
    """The content security policy of an answer."""
    return "; ".join(
        (
            "default-src 'self'",
            "script-src 'self' 'nonce-" + nonce + "' 'unsafe-eval'",
            "style-src 'self' 'unsafe-inline'",
            "img-src 'self' data: blob:",
            "media-src 'self' data: blob:",
            "font-src 'self' data:",
            "connect-src 'self'",
            "worker-src 'self' blob:",
            "object-src 'none'",
            "base-uri 'none'",
            "form-action 'self'",
            "frame-src 'none'",
            "frame-ancestors 'none'",
        )
    )


class Headers:
    """Wraps a ``send``: adds the headers, and the nonce to the scripts of a page."""

    def __init__(self, send: Send) -> None:
        self._send = send
        self._nonce = secrets.token_urlsafe(16)
        self._start: MutableMapping[str, Any] | None = None
        self._body = bytearray()

    async def __call__(self, message: MutableMapping[str, Any]) -> None:
        """Pass a message on."""
        if message["type"] == "http.response.start":
            headers = [pair for pair in message.get("headers", []) if pair[0].lower() not in _NAMES]
            headers += [*_FIXED, (b"content-security-policy", policy(self._nonce).encode())]
            message = {**message, "headers": headers}
            if any(
                name.lower() == b"content-type" and value.startswith(b"text/html")
                for name, value in headers
            ):
                self._start = message  # held back until the page is whole
                return
        elif message["type"] == "http.response.body" and self._start is not None:
            self._body += message.get("body", b"")
            if message.get("more_body"):
                return
            await self._page()
            return
        await self._send(message)

    async def _page(self) -> None:
        assert self._start is not None
        mark = b'<script nonce="' + self._nonce.encode() + b'"'
        body = _SCRIPT.sub(mark, bytes(self._body))
        headers = [pair for pair in self._start["headers"] if pair[0].lower() != b"content-length"]
        headers += [(b"content-length", str(len(body)).encode())]
        if not any(name.lower() == b"cache-control" for name, _ in headers):
            headers.append((b"cache-control", b"no-store"))
        await self._send({**self._start, "headers": headers})
        await self._send({"type": "http.response.body", "body": body})


_NAMES = {name for name, _ in _FIXED} | {b"content-security-policy"}
