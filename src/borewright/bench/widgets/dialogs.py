"""Dialogs: named for screen readers, gone from the page once closed."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager

from nicegui import ui

from borewright.bench.widgets.texts import heading


@contextmanager
def dialog(title: str) -> Iterator[ui.dialog]:
    """A dialog that is open and filled by the ``with`` block; Escape closes it."""
    box = ui.dialog(value=True)
    box.props["aria-label"] = title
    with box, ui.card().classes("bw-card"):
        heading(title)
        yield box
    box.on("hide", box.delete)
