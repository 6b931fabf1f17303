"""What a batch costs, and the price for a margin."""

from __future__ import annotations

from decimal import Decimal
from typing import Any

from nicegui import ui

from borewright.bench.page import Page
from borewright.bench.shop.book import opened
from borewright.bench.widgets import Choice, NumberField, button, heading, table, text
from borewright.bench.words import _
from borewright.bench.words.rooms import error_said, number_said, said
from borewright.errors import BorewrightError


class CostCard:
    """A batch, a margin, and the sheet the ledger makes of its records."""

    def __init__(self, page: Page) -> None:
        self.page, self._margin = page, 25.0
        self._batch = ""
        heading(_("Cost"))
        self._none = text(_("There is no batch in the ledger yet."))
        with ui.element("div").classes("bw-row") as self._row:
            self._choice = Choice(_("Batch"), {}, "", self._set_batch, mark="batch")
            NumberField(
                _("Margin"), 25, self._set_margin, unit=_("% of the price"), decimals=1,
                low=0, high=95, mark="margin",
            )  # fmt: skip
            button(_("Show the cost"), self._show, mark="cost")
        self._answer = ui.element("div").props('data-mark="cost-sheet" role="status"')
        self.refresh()

    def refresh(self) -> None:
        """Offer the batches there are."""
        batches = [str(each["code"]) for each in opened(self.page.workbench).records("batch")]
        self._none.set_visibility(not batches)
        self._row.set_visibility(bool(batches))
        if self._batch not in batches:
            self._batch = next(iter(batches), "")
        self._choice.set(self._batch, {each: each for each in batches})

    def _set_batch(self, value: str) -> None:
        self._batch = value

    def _set_margin(self, value: float) -> None:
        self._margin = value

    def _show(self) -> None:
        from borewright.doors.ledger.costs import cost_answer

        self._answer.clear()
        with self._answer:
            try:
                book = opened(self.page.workbench)
                margin = Decimal(str(self._margin))
                found = cost_answer(book, self._batch, margin, None, [], [])
                # Names that somebody gave stay as they are; the rest is the ledger's own words.
                given = {str(each["code"]) for each in book.records("expense")}
                given |= {str(each["step"]) for each in book.records("labour")}
            except BorewrightError as error:
                text(error_said(error))
                return
            _sheet(found, given)


def _sheet(found: dict[str, Any], given: set[str]) -> None:
    currency = found["currency"]
    text(
        _(
            "Unit cost {unit} {currency}; price for the margin {price}, with tax {taxed}. The "
            "batch of {count} leaves {profit}.",
            unit=number_said(found["unit_cost"]),
            currency=currency,
            price=number_said(found["price_for_margin"]),
            taxed=number_said(found["price_with_tax"]),
            count=found["quantity"],
            profit=number_said(found["profit"]),
        ),
        tag="strong",
    )
    for name, words in (("each", _("For each instrument")), ("for_the_batch", _("For the batch"))):
        if found[name]:
            table(
                words,
                (_("what"), _("how much"), _("price"), _("rejects %"), currency),
                [
                    (
                        line["name"] if line["name"] in given else said(line["name"]),
                        f"{number_said(_short(line['quantity']))} {said(line['unit'])}",
                        number_said(line["price"]),
                        number_said(line["reject_percent"]),
                        number_said(line["amount"]),
                    )
                    for line in found[name]
                ],
                right=1,
            )
    for note in found["notes"]:
        text(f"{said(note)}.", small=True)
    text(_("Amounts are {rounding}.", rounding=said(found["rounding"])), small=True)


def _short(quantity: str) -> str:
    """A quantity to a gram or a few seconds: more digits than that nobody weighs."""
    return f"{float(quantity):.3f}".rstrip("0").rstrip(".")
