"""A field for a number or a length; decimal point or comma, millimetres or inches."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

from nicegui.element import Element

from borewright.bench.widgets.units import Units, decimal, length_from, number_from
from borewright.bench.words import _
from borewright.errors import BorewrightError


def changed_words() -> dict[str, str]:
    """What a field says that is being typed in while a file changes; ``{value}`` is the new one."""
    return {
        "same": _("A file was changed meanwhile. What you are typing is kept."),
        "other": _(
            "It was changed to {value} meanwhile. What you are typing is kept: Enter saves it, "
            "Escape takes {value}.",
            value="{value}",
        ),
    }


class NumberField(Element, component="number_field.js"):
    """A labelled field; what is wrong stands beneath it and is read out.

    Parameters
    ----------
    label, unit
        ``unit`` stands behind the label; for lengths it is set from ``units``.
    value
        In mm where ``units`` is given.
    on_set
        Called with the new value (mm where ``units`` is given). It may raise BorewrightError:
        then the message is shown and the old value comes back at the next :meth:`show`.
    units
        For lengths only.
    """

    def __init__(
        self,
        label: str,
        value: float,
        on_set: Callable[[float], Any],
        *,
        unit: str = "",
        units: Units | None = None,
        decimals: int = 2,
        low: float = float("-inf"),
        high: float = float("inf"),
        help: str = "",
        mark: str = "",
    ) -> None:
        super().__init__()
        self._units, self._decimals, self._range = units, decimals, (low, high)
        self._on_set = on_set
        self.props.update(
            label=label, unit=units or unit, error="", help=help, mark=mark, plain=False,
            changed_words=changed_words(), language=_.language,
        )  # fmt: skip
        self.show(value)
        self.on("typed", lambda event: self._typed(str(event.args)))

    def show(self, value: float) -> None:
        """Show a value and take a message away."""
        self.value = value
        units = self._units
        self.props["shown"] = (
            units.shown(value, self._decimals) if units else decimal(value, self._decimals)
        )
        self.props["error"] = ""
        self.update()

    def fail(self, error: BorewrightError) -> None:
        """Show what is wrong with what was typed."""
        self.props["error"] = _.at_field(error)
        self.update()

    def _typed(self, typed: str) -> None:
        try:
            value = (
                length_from(typed, self._units) if self._units else number_from(typed, *self._range)
            )
            self._on_set(value)
            self.show(value)
        except BorewrightError as error:
            self.fail(error)


class TextField(Element, component="number_field.js"):
    """A labelled field for words; ``on_set`` gets what was typed when the field is left."""

    def __init__(
        self,
        label: str,
        value: str,
        on_set: Callable[[str], Any] | None = None,
        *,
        placeholder: str = "",
        mark: str = "",
    ) -> None:
        super().__init__()
        self.value = value
        self._on_set = on_set
        self.props.update(
            label=label, shown=value, error="", mark=mark, plain=True, placeholder=placeholder,
            changed_words=changed_words(), language=_.language,
        )  # fmt: skip
        self.on("typed", lambda event: self._typed(str(event.args)))

    def show(self, value: str) -> None:
        """Show other words."""
        self.value = value
        self.props["shown"] = value
        self.update()

    def _typed(self, typed: str) -> None:
        self.value = typed
        self.props["shown"] = typed
        if self._on_set is not None:
            self._on_set(typed)
