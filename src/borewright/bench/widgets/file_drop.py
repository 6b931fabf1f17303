"""A place to drop files, limited in kind and size."""

from __future__ import annotations

import secrets
from collections.abc import Callable, Collection
from inspect import isawaitable
from typing import Any
from urllib.parse import unquote

from fastapi import Request
from nicegui import app
from nicegui.element import Element

from borewright.bench.folder.paths import plain_name
from borewright.bench.rights import Right, Role, acting, require
from borewright.bench.words import _
from borewright.errors import BorewrightError

_PLACES: dict[str, FileDrop] = {}


class FileDrop(Element, component="file_drop.js"):
    """A labelled file input that takes drops too.

    Parameters
    ----------
    suffixes
        Such as ``(".wav", ".flac")``; anything else is refused by the server.
    most_bytes
        Files beyond are refused, on the page and by the server while they arrive.
    on_file
        Called with the plain name and the content. It may raise BorewrightError, which is
        shown beside the file; it must check the content itself. It may be a coroutine function.
    """

    def __init__(
        self,
        label: str,
        suffixes: Collection[str],
        most_bytes: int,
        on_file: Callable[[str, bytes], Any],
        *,
        many: bool = False,
        mark: str = "",
    ) -> None:
        super().__init__()
        self.suffixes, self.most_bytes, self.on_file = tuple(suffixes), most_bytes, on_file
        self._token = secrets.token_urlsafe(12)
        _PLACES[self._token] = self
        size = f"{most_bytes / 1e6:g} MB"
        self.props.update(
            label=label, accept=",".join(suffixes), many=many, most=most_bytes, mark=mark,
            url=f"/receive/{self._token}",
            hint=_("{kinds}, up to {size}", kinds=" ".join(suffixes), size=size),
            gone=_("this page is no longer open; load it anew"),
            too_large=_("larger than {size}", size=size),
        )  # fmt: skip

    def _handle_delete(self) -> None:
        _PLACES.pop(self._token, None)
        super()._handle_delete()


async def _receive(token: str, request: Request) -> dict[str, str]:
    place = _PLACES.get(token)
    if place is None or place.client.is_deleted:
        return {"gone": "yes"}
    with place.client:
        return await _received(place, request)


async def _received(place: FileDrop, request: Request) -> dict[str, str]:
    try:
        name = plain_name(unquote(request.headers.get("x-file-name", "")))
    except BorewrightError as error:
        return {"error": _.at_field(error)}
    if not name.lower().endswith(place.suffixes):
        return {"error": _("only {kinds} belong here", kinds=" ".join(place.suffixes))}
    data = bytearray()
    async for chunk in request.stream():
        data += chunk
        if len(data) > place.most_bytes:
            return {"error": _("larger than {size}", size=f"{place.most_bytes / 1e6:g} MB")}
    try:
        with acting(request.scope.get("borewright.role", Role.VIEWER)):
            require(Right.WORK)
        told = place.on_file(name, bytes(data))
        if isawaitable(told):
            await told
    except BorewrightError as error:
        return {"error": error.told(_.reader)}
    return {}


def add_routes() -> None:
    """Let the server take files; called once, before it starts."""
    app.add_api_route("/receive/{token}", _receive, methods=["POST"], include_in_schema=False)
