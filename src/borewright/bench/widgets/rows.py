"""A table whose rows end in buttons."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from typing import Any

from nicegui import ui
from nicegui.elements.mixins.text_element import TextElement

from borewright.bench.widgets.buttons import button
from borewright.bench.words import _

#: Words, what it does, and a name for tests.
Action = tuple[str, Callable[[], Any], str]


def rows_with_buttons(
    caption: str,
    headings: Sequence[str],
    rows: Sequence[Sequence[str]],
    actions: Sequence[Sequence[Action]],
    *,
    right: int = 99,
) -> None:
    """As :func:`borewright.bench.widgets.table`, with buttons at the end of every row.

    A screen reader hears a button's words with the row's first cell.
    """
    around = ui.element("div").classes("bw-scroll").props('tabindex="0" role="region"')
    around.props["aria-label"] = caption
    # Roles said out loud: on a phone a row is laid out as a card, which would hide them.
    with around, ui.element("table").classes("bw-table bw-rows").props('role="table"'):
        TextElement(tag="caption", text=caption)
        with ui.element("thead").props('role="rowgroup"'), ui.element("tr").props('role="row"'):
            for number, words in enumerate([*headings, _("to do")]):
                made = TextElement(tag="th", text=words).props('scope="col" role="columnheader"')
                made.classes("bw-right" if right <= number < len(headings) else "")
        with ui.element("tbody").props('role="rowgroup"'):
            for row, own in zip(rows, actions, strict=True):
                with ui.element("tr").props('role="row"'):
                    for number, words in enumerate(row):
                        cell = TextElement(tag="td" if number else "th", text=words)
                        if not number:
                            cell.props('scope="row" role="rowheader"')
                        else:
                            cell.props["role"] = "cell"
                            cell.props["data-label"] = headings[number]
                        cell.classes("bw-right" if number >= right else "")
                    with ui.element("td").props('role="cell"'), ui.element("div").classes("bw-row"):
                        for words, act, mark in own:
                            button(words, act, label=f"{words}: {row[0]}", mark=mark)
