"""Links to files of the folder."""

from __future__ import annotations

from urllib.parse import quote

from nicegui.elements.mixins.text_element import TextElement


def file_link(name: str, words: str, *, mark: str = "") -> TextElement:
    """A link that downloads a file of the folder; ``name`` as the folder knows it."""
    made = TextElement(tag="a", text=words).classes("bw-link")
    made.props["href"] = f"/files/{quote(name)}"
    made.props["download"] = name.rsplit("/", 1)[-1]
    if mark:
        made.props["data-mark"] = mark
    return made
