"""The place where errors stand: place, cause and remedy, read out, until closed."""

from __future__ import annotations

from nicegui import ui
from nicegui.elements.mixins.text_element import TextElement

from borewright.bench.widgets.buttons import button
from borewright.bench.words import _
from borewright.errors import BorewrightError


class Message:
    """A strip under the header; hidden while there is nothing to say."""

    def __init__(self) -> None:
        with ui.element("div").classes("bw-message").props('role="alert"') as self._box:
            self._cause = TextElement(tag="strong", text="").props('data-mark="message"')
            self._remedy = TextElement(tag="span", text="")
            button("×", self.hide, label=_("Close this message"))
        self._box.set_visibility(False)

    def show(self, error: BorewrightError) -> None:
        """Show an error."""
        place = f"{_.place(error.place)}: " if error.place else ""
        self._cause.set_text(f"{place}{_.tell(error.cause).rstrip('.')}.")
        self._remedy.set_text(_.tell(error.remedy))
        self._box.set_visibility(True)

    def hide(self) -> None:
        """Show nothing."""
        self._box.set_visibility(False)
