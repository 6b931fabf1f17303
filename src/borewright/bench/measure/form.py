"""A key's numbers with their uncertainties as a form, and its drawing."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from functools import partial
from typing import Any

from nicegui import ui

from borewright.bench.measure.drawing import SKETCH, KeyDrawing
from borewright.bench.page import Page
from borewright.bench.widgets import length_from, number_from
from borewright.bench.widgets.record_field import RecordField
from borewright.bench.widgets.units import decimal
from borewright.bench.words import _
from borewright.errors import BorewrightError
from borewright.keywork.numbers import SAME, Measured, Number


class NumbersForm:
    """One field a number and one for how sure it is; the drawing follows what is typed."""

    def __init__(
        self,
        page: Page,
        numbers: Sequence[Number],
        known: Mapping[Number, Measured],
        *,
        needed: Sequence[Number] = (),
        ring: Sequence[float] | None = None,
        key: str = "",
    ) -> None:
        self.page, self.known, self._ring = page, dict(known), ring
        self.numbers = list(numbers)
        self._values: dict[Number, RecordField] = {}
        self._doubts: dict[Number, RecordField] = {}
        with ui.element("div").classes("bw-measure") as box:
            box.props["data-key"] = key
            with ui.element("div").classes("bw-measure-fields"):
                for place, number in enumerate(self.numbers, 1):
                    self._row(place, number, number in needed)
            self.drawing = KeyDrawing(self.numbers)
        self._draw()

    def _row(self, place: int, number: Number, needed: bool) -> None:
        measured = self.known.get(number)
        unit = number.unit if number.unit != "mm" else self.page.units.value
        label = _("{place}. {what}, {unit}", place=place, what=_.tell(number.words), unit=unit)
        name = number.name.lower().replace("_", "-")
        with ui.element("div").classes("bw-measure-row") as row:
            self._values[number] = RecordField(
                label,
                "" if measured is None else self._shown(number, measured.value),
                "number",
                needed=needed,
                mark=f"number-{name}",
                on_typed=self._draw,
            )
            doubt = None if measured is None else measured.uncertainty
            self._doubts[number] = RecordField(
                _("± of {place}", place=place),
                "" if doubt is None else self._shown(number, doubt),
                "number",
                mark=f"number-{name}-off",
            )
        row.on("focusin", partial(self._focused, number), args=[])

    def _focused(self, number: Number, _event: Any = None) -> None:
        self.drawing.choose(number)

    def _shown(self, number: Number, value: float) -> str:
        return decimal(value, 2) if number.unit == "°" else self.page.units.shown(value, 2)

    def _read(self, number: Number, text: str) -> float:
        return number_from(text) if number.unit == "°" else length_from(text, self.page.units)

    def _draw(self) -> None:
        # A number that nobody has typed yet shows on a sketch: that is what it means.
        values = {number: SKETCH[number] for number in self._values if number in SKETCH}
        for number, field in self._values.items():
            try:
                values[number] = self._read(number, field.value)
            except BorewrightError:
                continue  # half typed: it is told when the form is saved
        self.drawing.show(values, self._ring)

    def fill(self, measured: Mapping[Number, Measured]) -> list[Number]:
        """Put measured numbers in; those that this key has not are left out. What was put in."""
        taken = [number for number in measured if number in self._values]
        for number in taken:
            one = measured[number]
            self._values[number].show(self._shown(number, one.value))
            if one.uncertainty is not None:
                self._doubts[number].show(self._shown(number, one.uncertainty))
        self._draw()
        return taken

    def given(self) -> dict[Number, Measured] | None:
        """What was typed; None where something is wrong, which then stands at its field.

        A number that still reads as it is known keeps its digits.
        """
        found: dict[Number, Measured] = {}
        good = True
        for number, field in self._values.items():
            value = self._field(number, field)
            doubt = self._field(number, self._doubts[number])
            good = good and not field.failed and not self._doubts[number].failed
            if value is None:
                continue
            known = self.known.get(number)
            if known is not None and field.value.strip() == self._shown(number, known.value):
                value = known.value
            found[number] = Measured(value, doubt if doubt and doubt > SAME else None)
        return found if good else None

    def _field(self, number: Number, field: RecordField) -> float | None:
        field.fail(None)
        if not field.value.strip():
            return None
        try:
            return self._read(number, field.value)
        except BorewrightError as error:
            field.fail(error)
            return None
