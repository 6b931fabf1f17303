"""A field of a form that keeps what is typed: a line, several, a choice, a day or a number."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from typing import Any, Literal

from nicegui.element import Element

from borewright.bench.words import _
from borewright.errors import BorewrightError

Sort = Literal["line", "lines", "choice", "day", "number"]


class RecordField(Element, component="record_field.js"):
    """A labelled field; what is wrong with it stands beneath and is read out.

    What is typed stays whatever else on the page is drawn anew, until :meth:`show`.

    Parameters
    ----------
    label
        What it is called.
    value
        What stands in it at first.
    sort
        How it is typed; "choice" needs ``options``, {value: words}.
    needed
        Marked with a star.
    note
        A word that stays beneath it.
    keep
        A name of its own under which what is typed outlives a reload of the page.
    on_typed
        Called after each stroke.
    """

    def __init__(
        self,
        label: str,
        value: str,
        sort: Sort = "line",
        *,
        options: Mapping[str, str] | None = None,
        needed: bool = False,
        note: str = "",
        mark: str = "",
        keep: str = "",
        on_typed: Callable[[], Any] | None = None,
    ) -> None:
        super().__init__()
        self.label, self.value, self._on_typed = label, value, on_typed
        self.props.update(
            label=label, sort=sort, options=list((options or {}).items()), shown=value, turn=0,
            needed=needed, note=note, error="", mark=mark, keep=keep,
            language=_.language,
        )  # fmt: skip
        self.on("typed", lambda event: self._typed(str(event.args)))

    def show(self, value: str) -> None:
        """Put a value in place of what is typed, and take a message away."""
        self.value = value
        self.props["shown"] = value
        self.props["turn"] = int(self.props["turn"]) + 1
        self.props["error"] = ""
        self.update()

    def offer(self, options: Mapping[str, str]) -> None:
        """Offer other values; the one chosen stays."""
        wanted = list(options.items())
        if wanted != self.props["options"]:
            self.props["options"] = wanted
            self.update()

    def remark(self, note: str) -> None:
        """Let a word stand beneath the field."""
        if note != self.props["note"]:
            self.props["note"] = note
            self.update()

    def fail(self, error: BorewrightError | None) -> None:
        """Show what is wrong with this field, or nothing."""
        words = ""
        if error is not None:
            words = f"{self.label}: {_.at_field(error)}"
        if words != self.props["error"]:
            self.props["error"] = words
            self.update()

    @property
    def failed(self) -> bool:
        """Whether a message stands at it."""
        return bool(self.props["error"])

    def _typed(self, typed: str) -> None:
        self.value = typed
        if self._on_typed is not None:
            self._on_typed()
