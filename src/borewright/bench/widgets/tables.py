"""A plain table of texts."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from nicegui import ui
from nicegui.elements.mixins.text_element import TextElement


def table(
    caption: str, headings: Sequence[str], rows: Iterable[Sequence[str]], *, right: int = 99
) -> None:
    """A table with a caption; columns from number ``right`` on hold figures, set to the right."""
    around = ui.element("div").classes("bw-scroll").props('tabindex="0" role="region"')
    around.props["aria-label"] = caption
    with around, ui.element("table").classes("bw-table"):
        TextElement(tag="caption", text=caption)
        with ui.element("thead"), ui.element("tr"):
            for number, words in enumerate(headings):
                made = TextElement(tag="th", text=words).props('scope="col"')
                made.classes("bw-right" if number >= right else "")
        with ui.element("tbody"):
            for row in rows:
                with ui.element("tr"):
                    for number, words in enumerate(row):
                        cell = TextElement(tag="td" if number else "th", text=words)
                        if not number:
                            cell.props('scope="row"')
                        cell.classes("bw-right" if number >= right else "")
