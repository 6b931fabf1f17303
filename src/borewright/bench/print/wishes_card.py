"""The form: printer, material, coupon, reaming allowance."""

from __future__ import annotations

import tempfile
from functools import partial
from pathlib import Path
from typing import TYPE_CHECKING

from nicegui import ui
from nicegui.elements.mixins.text_element import TextElement

from borewright.bench.folder.naming import named
from borewright.bench.page import Page
from borewright.bench.print.wishes import keep, profiles, sheets_of, wishes_of
from borewright.bench.widgets import Choice, FileDrop, NumberField, heading, table, text
from borewright.bench.widgets.units import decimal
from borewright.bench.words import _
from borewright.bench.workbench import Change
from borewright.errors import BenchError, BorewrightError
from borewright.words import say

if TYPE_CHECKING:
    from borewright.printing import Calibration

_MOST_COUPON_BYTES = 1_000_000
_MOST_REAMED_MM = 2.0


class WishesCard:
    """What is chosen is kept at once; profiles and coupons of the folder are offered."""

    def __init__(self, page: Page) -> None:
        self.page = page
        now = wishes_of(page)
        self._reams: dict[str, NumberField] = {}
        heading(_("1. Choose"))
        with ui.element("div").classes("bw-row"):
            self._printer = Choice(
                _("Printer"), {}, now.printer, lambda value: keep(page, printer=value),
                help=_("Built-in printers are invented; put a profile of yours into the folder."),
                mark="printer",
            )  # fmt: skip
            self._material = Choice(
                _("Material"), {}, now.material, lambda value: keep(page, material=value),
                mark="material",
            )  # fmt: skip
            self._coupon = Choice(
                _("Measured coupon"), {}, now.measured, self._choose_coupon,
                help=_("Its errors are taken off every size, so that parts come out true."),
                mark="coupon",
            )  # fmt: skip
            self._gauged = Choice(
                _("A printed body, gauged"), {}, now.gauged, self._choose_gauged,
                help=_("Its inspection.csv with what you measured, of the same lot: its lengths "
                       "are longer than a coupon's, and make shrinkage surer."),
                mark="gauged",
            )  # fmt: skip
            for label, value, name in (
                (_("Bores under size by"), now.ream_bore_mm, "ream_bore_mm"),
                (_("Holes under size by"), now.ream_holes_mm, "ream_holes_mm"),
            ):
                self._reams[name] = NumberField(
                    label, value, partial(self._ream, name), units=page.units, mark=name
                )
            self._drawings = Choice(
                _("Drawings and templates"), {"yes": _("draw them"), "no": _("leave them out")},
                "yes" if now.drawings else "no",
                lambda value: keep(page, drawings=value == "yes"), mark="drawings",
            )  # fmt: skip
            self._despite = Choice(
                _("Where faults are found"),
                {"no": _("make nothing"), "yes": _("go on, and say so")},
                "yes" if now.despite_faults else "no",
                lambda value: keep(page, despite_faults=value == "yes"), mark="despite",
            )  # fmt: skip
        with ui.element("details"):
            TextElement(tag="summary", text=_("A coupon of mine"))
            FileDrop(
                _("The sheet of a coupon or of a printed body, with your measurements"),
                (".csv",),
                _MOST_COUPON_BYTES,
                self._received,
                mark="coupon-file",
            )
        self._said = ui.element("div").props('data-mark="calibration"')
        self.refresh()

    def _ream(self, name: str, value: float) -> None:
        if not 0 <= value <= _MOST_REAMED_MM:
            raise BenchError(
                say("{value} mm cannot be reamed", value=decimal(value, 2)),
                remedy=say("Common are 0.2 to 0.3 mm; 0 leaves the sizes as drawn."),
            )
        keep(self.page, **{name: value})

    def refresh(self) -> None:
        """Offer what the folder holds now, and show what is chosen, on another page too."""
        now = wishes_of(self.page)
        printers, materials = profiles(self.page.workbench)
        self._printer.set(now.printer if now.printer in printers else "tall frame", printers)
        self._material.set(now.material if now.material in materials else "plain PLA", materials)
        coupons, gauged = sheets_of(self.page.workbench)
        found = {"": _("none, sizes as drawn")} | {name: name for name in coupons}
        self._coupon.set(now.measured if now.measured in found else "", found)
        bodies = {"": _("none")} | {name: name for name in gauged}
        self._gauged.set(now.gauged if now.gauged in bodies else "", bodies)
        for name, field in self._reams.items():
            if field.value != getattr(now, name):
                field.show(getattr(now, name))
        self._drawings.set("yes" if now.drawings else "no")
        self._despite.set("yes" if now.despite_faults else "no")
        self._say()

    def _choose_coupon(self, name: str) -> None:
        keep(self.page, measured=name)
        self._say()

    def _choose_gauged(self, name: str) -> None:
        keep(self.page, gauged=name)
        self._say()

    def _received(self, name: str, data: bytes) -> None:
        """Refuse what is no measured sheet before it is kept."""
        from borewright.tasks.printing.coupon import read_coupon

        with tempfile.TemporaryDirectory() as folder:
            path = Path(folder) / name
            path.write_bytes(data)
            try:
                read_coupon(path)
            except BorewrightError as error:
                raise named(error, path, name) from error
        bench = self.page.workbench
        bench.folder.receive(name, data)
        with_body = name in sheets_of(bench)[1]
        keep(self.page, **{"gauged" if with_body else "measured": name})
        bench.tell(Change("files", self.page))

    def _say(self) -> None:
        from borewright.tasks.printing.coupon import read_coupon

        now = wishes_of(self.page)
        self._said.clear()
        sheets = now.sheets(self.page.workbench)
        if not sheets:
            return
        with self._said:
            try:
                found = read_coupon(sheets)
            except BorewrightError as error:
                text(error.told(_.reader))
                return
            _calibration(found)


def _calibration(found: Calibration) -> None:
    def from_to(low: float, high: float) -> str:
        return f"{_signed(low)} … {_signed(high)}"

    table(
        _("What the coupon says: printed less drawn, mm, with 95 % intervals"),
        (
            _("kind"),
            _("readings"),
            _("sizes"),
            _("offset"),
            _("from … to"),
            _("slope, %"),
            _("scatter"),
        ),
        [
            (
                _.tell(line.kind.words),
                str(line.readings),
                f"{decimal(line.least_mm, 1)} … {decimal(line.most_mm, 1)}",
                _signed(line.offset_mm),
                from_to(line.offset_low_mm, line.offset_high_mm),
                f"{_signed(100 * line.slope)} ± {decimal(100 * line.slope_sure, 3)}",
                decimal(line.scatter_mm, 3),
            )
            for line in found.kinds
        ],
        right=1,
    )
    for kind, why in found.refused.items():
        text(
            _("Not compensated: {kind}, {why}.", kind=_.tell(kind.words), why=_.tell(why)),
            small=True,
        )


def _signed(value: float) -> str:
    return ("+" if value > 0 else "") + decimal(value, 3).replace("-", "−")
