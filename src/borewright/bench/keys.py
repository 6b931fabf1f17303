"""Keys of the page: only those that mean something are sent, none while a field is typed in."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

from nicegui.element import Element

from borewright.bench.page import Page
from borewright.bench.widgets import dialog, table, text
from borewright.bench.words import _


class Keys(Element, component="keys.js"):
    """Listens to the whole page and calls what a key stands for."""

    def __init__(self, page: Page) -> None:
        super().__init__()
        self._page = page
        self.set_keys()
        self.on("key", lambda event: self._pressed(str(event.args)))

    def set_keys(self) -> None:
        """Take the keys of the frame and of the view shown."""
        self.props["keys"] = [*self._page.keys, *self._page.view_keys]
        self.update()

    def _pressed(self, key: str) -> Any:
        actions: dict[str, tuple[str, Callable[[], Any]]] = self._page.keys | self._page.view_keys
        return actions[key][1]() if key in actions else None


def list_of_keys(page: Page) -> None:
    """A dialog with every key."""
    with dialog(_("Keys")):
        rows = [(_key_words(key), words) for key, (words, _action) in page.keys.items()]
        rows += [(_key_words(key), words) for key, (words, _action) in page.view_keys.items()]
        table(_("Keys of this page"), (_("key"), _("what it does")), rows)
        text(_("Tab goes from control to control; on a hole or a point arrows move it."))


def _key_words(key: str) -> str:
    return " ".join(step.capitalize() if len(step) > 1 else step.upper() for step in key.split("+"))
