"""The views, in the order of the work. A new view is a module and a line here."""

from __future__ import annotations

from dataclasses import dataclass
from importlib import import_module
from typing import Any

from borewright.words import Message, say


@dataclass(frozen=True)
class View:
    """A view: its name in addresses, its title, key, and module.

    The module has ``build(page: Page) -> None``, which fills the page's content.
    """

    name: str
    title: Message
    key: str
    module: str

    def build(self, page: Any) -> None:
        """Fill the page's content; the module is loaded now."""
        import_module(self.module).build(page)


#: What an empty folder shows in place of any view.
WELCOME = View("", say(""), "", "borewright.bench.welcome")
VIEWS: tuple[View, ...] = (
    View("design", say("Body"), "1", "borewright.bench.design.view"),
    View("fit", say("Fit"), "2", "borewright.bench.fit.view"),
    View("print", say("Print"), "3", "borewright.bench.print.view"),
    View("play", say("Play test"), "4", "borewright.bench.play.view"),
    View("sound", say("Sound"), "5", "borewright.bench.sound.view"),
    View("shop", say("Shop"), "6", "borewright.bench.shop.view"),
)
