"""Headings and paragraphs."""

from __future__ import annotations

from nicegui.elements.mixins.text_element import TextElement


def heading(words: str, level: int = 2) -> TextElement:
    """A heading of level 1 to 6."""
    return TextElement(tag=f"h{level}", text=words).classes("bw-heading")


def text(words: str = "", *, small: bool = False, tag: str = "p") -> TextElement:
    """A paragraph; ``small`` for how a number was computed."""
    return TextElement(tag=tag, text=words).classes("bw-small" if small else "bw-text")
