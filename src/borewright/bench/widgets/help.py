"""Help where one stands: a term with one sentence."""

from __future__ import annotations

from nicegui import ui
from nicegui.elements.mixins.text_element import TextElement


def term(words: str, sentence: str) -> TextElement:
    """A term whose sentence opens on click, on Enter and for screen readers."""
    with ui.element("details").classes("bw-term"):
        made = TextElement(tag="summary", text=words)
        TextElement(tag="p", text=sentence).classes("bw-small")
    return made
