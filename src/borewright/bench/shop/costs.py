"""What a batch costs, and the price for a margin."""

from __future__ import annotations

from decimal import Decimal
from functools import partial

from nicegui import ui

from borewright.bench.page import Page
from borewright.bench.shop.book import opened, write
from borewright.bench.widgets import Choice, NumberField, button, heading, table, text
from borewright.bench.widgets.record_field import RecordField
from borewright.bench.widgets.units import number_from
from borewright.bench.words import _
from borewright.errors import BorewrightError
from borewright.ledger import ROUNDING, Ledger, open_orders, price_order, unit_price
from borewright.ledger.kinds.selling import Order
from borewright.tasks.ledger.costs import CostAnswer, cost_answer
from borewright.words import Text


class CostCard:
    """A batch, a margin, and the sheet the ledger makes of its records."""

    def __init__(self, page: Page) -> None:
        self.page, self._margin = page, 25.0
        self._batch = self._plating = ""
        heading(_("Cost"))
        self._none = text(_("There is no batch in the ledger yet."))
        with ui.element("div").classes("bw-row") as self._row:
            self._choice = Choice(_("Batch"), {}, "", self._set_batch, mark="batch")
            NumberField(
                _("Margin"), 25, self._set_margin, unit=_("% of the price"), decimals=1,
                low=0, high=95, mark="margin",
            )  # fmt: skip
            self._many = RecordField(_("What if there were"), "", "number", mark="cost-quantity")
            self._platings = Choice(_("Plated"), {}, "", self._set_plating, mark="cost-plating")
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
        quotes = opened(self.page.workbench).records("quote")
        platings = sorted({str(each["plating"]) for each in quotes})
        if self._plating not in platings:
            self._plating = ""
        self._platings.set(self._plating, {"": _("as planned")} | {each: each for each in platings})

    def _set_batch(self, value: str) -> None:
        self._batch = value

    def _set_plating(self, value: str) -> None:
        self._plating = value

    def _set_margin(self, value: float) -> None:
        self._margin = value

    def _show(self) -> None:
        quantities, platings = [], [self._plating] if self._plating else []
        self._many.fail(None)
        if self._many.value.strip():
            try:
                quantities = [int(number_from(self._many.value, 1, 100_000))]
            except BorewrightError as error:
                self._many.fail(error)
                return
        self._answer.clear()
        with self._answer:
            try:
                book = opened(self.page.workbench)
                margin = Decimal(str(self._margin))
                found = cost_answer(book, self._batch, margin, None, quantities, platings)
            except BorewrightError as error:
                text(error.told(_.reader))
                return
            _sheet(found)
            self._offer(found)

    def _offer(self, found: CostAnswer) -> None:
        """Give an order that is not accepted yet the price above, without typing it again."""
        for order in open_orders(opened(self.page.workbench), found.cost.batch):
            button(
                _("Price order {order} at it", order=order.code),
                partial(self._price, found, order),
                mark=f"price-{order.code}",
            )
        self._priced = text("", small=True).props('data-mark="priced"')

    def _price(self, found: CostAnswer, order: Order) -> None:
        def act(book: Ledger, who: str) -> None:
            made = price_order(
                book, order.code, margin_percent=found.margin_percent, who=who,
                batch=found.cost.batch, version=order.version,
            )  # fmt: skip
            price = _.tell(unit_price(made).words)
            self._priced.set_text(
                _("Order {order} costs {price} each.", order=order.code, price=price)
            )

        write(self.page, act)


def _sheet(found: CostAnswer) -> None:
    sheet, price, margin = found.cost.sheet, found.price, found.margin_percent
    text(
        _(
            "Unit cost {unit}; price for the margin {price}, with tax {taxed}. The "
            "batch of {count} leaves {profit}.",
            unit=_.tell(sheet.unit_cost.words),
            price=_.tell(sheet.price_for_margin(margin).words),
            taxed=_.tell(sheet.with_tax(price).words),
            count=sheet.quantity,
            profit=_.tell(sheet.profit(price).words),
        ),
        tag="strong",
    )
    if found.others:
        headings = (_("What if"), _("unit cost"), _("price for the margin"), _("the batch leaves"))
        table(
            _("At the price for the margin above, in {currency}", currency=sheet.currency),
            headings,
            [
                (
                    _("{count}, {plating}", count=one.sheet.quantity, plating=one.plating),
                    _.tell(one.sheet.unit_cost.words),
                    _.tell(one.sheet.price_for_margin(margin).words),
                    _.tell(one.sheet.profit(price).words),
                )
                for one in found.others
            ],
            right=1,
        )
    for lines, words in ((sheet.each, _("For each instrument")), (sheet.batch, _("For the batch"))):
        if lines:
            table(
                words,
                (_("what"), _("how much"), _("price"), _("rejects %"), sheet.currency),
                [
                    (
                        _told(line.name),
                        f"{_short(line.quantity)} {_told(line.unit)}",
                        _.number(line.price.amount, "f"),
                        _.number(line.reject_rate * 100, ".1f"),
                        _.number(Decimal(line.amount.plain), "f"),
                    )
                    for line in lines
                ],
                right=1,
            )
    for note in found.cost.notes:
        text(f"{_.tell(note)}.", small=True)
    text(_("Amounts are {rounding}.", rounding=_.tell(ROUNDING)), small=True)


def _told(words: Text) -> str:
    """The ledger's own words; a name that somebody gave stays as it is."""
    return words if isinstance(words, str) else _.tell(words)


def _short(quantity: Decimal) -> str:
    """A quantity to a gram or a few seconds: more digits than that nobody weighs."""
    return _.number(Decimal(f"{quantity:.3f}").normalize(), "f")
