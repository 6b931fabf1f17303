"""Measured sizes of a coupon, typed in on the page."""

from __future__ import annotations

import re
from typing import TYPE_CHECKING

from nicegui import ui
from nicegui.elements.mixins.text_element import TextElement

from borewright.bench.page import Page
from borewright.bench.print.wishes import keep, wishes_of
from borewright.bench.widgets import button, heading, text
from borewright.bench.widgets.record_field import RecordField
from borewright.bench.widgets.units import decimal, number_from
from borewright.bench.words import _
from borewright.bench.workbench import Change
from borewright.errors import BenchError, BorewrightError
from borewright.words import say

if TYPE_CHECKING:
    from borewright.printing.coupon_features import CouponFeature

_NAME = re.compile(r"[\w ,.-]{1,40}")


class CouponForm:
    """A field for every size of the coupon; kept as a sheet of the folder and chosen above.

    A sheet that is chosen already is shown in it, to be carried on with.
    """

    def __init__(self, page: Page) -> None:
        self.page = page
        self._fields: dict[str, RecordField] = {}
        self._features: dict[str, CouponFeature] = {}
        self._filled = False
        with ui.element("details").props('data-mark="coupon-form"') as fold:
            TextElement(tag="summary", text=_("Type the measured sizes in here"))
            self._box = ui.element("div")
        # Some forty fields are made when somebody wants them.
        fold.on("toggle", lambda _event: self._fill())

    def _fill(self) -> None:
        if self._filled:
            return
        self._filled = True
        from borewright.printing.coupon_features import coupon_features

        chosen, known = wishes_of(self.page).measured, self._known()
        self._features = {each.feature: each for each in coupon_features()}
        with self._box:
            text(
                _(
                    "In mm. Leave empty what you did not measure; three sizes of a kind and more "
                    "make its error sure."
                )
            )
            stem = re.sub(r"^coupon |\.csv$", "", chosen)
            self._name = RecordField(
                _("Printed with (lot, printer)"), stem, needed=True, mark="measured-name"
            )
            kind = None
            kinds = list(dict.fromkeys(each.kind for each in self._features.values()))
            in_kinds = sorted(self._features.values(), key=lambda each: kinds.index(each.kind))
            for feature in in_kinds:
                if feature.kind is not kind:
                    kind = feature.kind
                    words = _.tell(kind.words)
                    heading(words[:1].upper() + words[1:], 3)
                    grid = ui.element("div").classes("bw-record-fields")
                with grid:
                    value = known.get(feature.feature)
                    self._fields[feature.feature] = RecordField(
                        f"{_.tell(feature.what)}: {decimal(feature.nominal_mm, 2)} mm",
                        "" if value is None else decimal(value, 3), "number",
                        note=_.tell(feature.where), mark=f"measured-{feature.feature}",
                    )  # fmt: skip
            with ui.element("div").classes("bw-row"):
                button(_("Keep the sizes"), self._keep, primary=True, mark="keep-measured")
            self._said = text("").props('role="status" data-mark="measured-said"')

    def _known(self) -> dict[str, float]:
        """Sizes of the sheet that is chosen; none where there is none or it cannot be read."""
        from borewright.printing import read_measured

        chosen = wishes_of(self.page).measured
        if not chosen:
            return {}
        try:
            found = read_measured(self.page.workbench.folder.path(chosen))
        except BorewrightError:
            return {}  # the card above says what is wrong with it
        return {each.feature.feature: each.measured_mm for each in found}

    def _read(self) -> dict[str, float]:
        """What is typed; what cannot be is said at its field."""
        from borewright.printing.measuring import check_plausible

        found = {}
        for name, field in self._fields.items():
            field.fail(None)
            if not field.value.strip():
                continue
            try:
                value = number_from(field.value)
                check_plausible(self._features[name], value, "")
                found[name] = value
            except BorewrightError as error:
                field.fail(error)
        return found

    def _keep(self) -> None:
        from borewright.printing.coupon_features import coupon_sheet

        bench, name = self.page.workbench, self._name.value.strip()
        self._name.fail(
            None if _NAME.fullmatch(name) else BenchError(
                say("a coupon needs a name of 1 to 40 letters"),
                remedy=say("Write the lot, such as 'lot 7'."),
            )
        )  # fmt: skip
        values = self._read()
        wrong = next((each for each in (self._name, *self._fields.values()) if each.failed), None)
        if wrong is not None or not values:
            self._said.set_text(
                _("Nothing was written yet: look at the fields marked.")
                if wrong is not None
                else _("Nothing was typed yet.")
            )
            if wrong is not None:
                mark = wrong.props["mark"]
                self.page.client.run_javascript(
                    f"document.querySelector('[data-mark=\"{mark}\"]').focus()"
                )
            return
        file = f"coupon {name}.csv"
        sheet = coupon_sheet(lambda feature: values.get(feature.feature), words=_.reader, lot=name)

        def save() -> None:
            if bench.folder.path(file).exists() and wishes_of(self.page).measured != file:
                raise BenchError(
                    say("there is a coupon of that name already"),
                    place=file,
                    remedy=say("Choose it above to carry on with it, or give this another name."),
                )
            what = _("sizes of the coupon '{name}'", name=name)
            bench.folder.save_all({file: sheet.encode("utf-8")}, what)

        if self.page.save(save):
            keep(self.page, measured=file)
            self._said.set_text(
                _("{count} sizes are kept in {file}.", count=len(values), file=file)
            )
            bench.tell(Change("files", self.page))
