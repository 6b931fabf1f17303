"""Buttons."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

from nicegui.elements.mixins.text_element import TextElement


def button(
    words: str,
    on_click: Callable[[], Any],
    *,
    primary: bool = False,
    label: str = "",
    mark: str = "",
) -> TextElement:
    """A native button.

    Parameters
    ----------
    words
        What stands on it.
    on_click
        Called without arguments; may be a coroutine function.
    primary
        The one thing to do next in its place.
    label
        What a screen reader says, where ``words`` is a sign.
    mark
        Name for tests (``data-mark``).
    """
    made = TextElement(tag="button", text=words)
    made.props["type"] = "button"
    made.classes("bw-button bw-primary" if primary else "bw-button")
    if label:
        made.props["aria-label"] = label
        made.props["title"] = label
    if mark:
        made.props["data-mark"] = mark
    made.on("click", lambda _event: on_click())
    return made


def enable(made: TextElement, wanted: bool) -> None:
    """Let a button be pressed, or not."""
    if wanted:
        made.props.pop("disabled", None)
    else:
        made.props["disabled"] = True
    made.update()
