"""Orders: a new one, and the days on which something happened to it."""

from __future__ import annotations

from datetime import date
from functools import partial
from typing import TYPE_CHECKING, Any

from nicegui import ui
from nicegui.elements.mixins.text_element import TextElement

from borewright.bench.page import Page
from borewright.bench.shop.book import attempt, opened, write
from borewright.bench.shop.record_form import RecordForm
from borewright.bench.shop.records import look_at
from borewright.bench.widgets import button, heading, text
from borewright.bench.widgets.rows import rows_with_buttons
from borewright.bench.words import _
from borewright.ledger import record_kind

if TYPE_CHECKING:
    from borewright.ledger import Ledger

#: What is known of an order when it comes in.
_FIRST = ("code", "customer", "contact", "quantity", "unit_price", "currency", "promised")


def orders_card(page: Page) -> None:
    """Every order with its next step."""
    book = opened(page.workbench)
    heading(_("Orders"))
    orders = book.records("order")
    if orders:
        rows_with_buttons(
            _("Orders, in the order they came"),
            (_("order"), _("customer"), _("how many"), _("price"), _("promised"), _("state")),
            [
                (
                    str(each["code"]),
                    str(each["customer"]),
                    str(each["quantity"]),
                    ""
                    if each["unit_price"] is None
                    else f"{each['unit_price']:f} {each['currency']}",
                    "" if each["promised"] is None else str(each["promised"]),
                    _state(each)[0],
                )
                for each in orders
            ],
            [_actions(page, each) for each in orders],
        )
    else:
        text(_("No orders yet."))


def _state(order: dict[str, Any]) -> tuple[str, str, str]:
    """What is the case, the field that comes next, and what its button says."""
    if order["delivered"] is not None:
        return _("delivered {day}", day=order["delivered"]), "", ""
    if order["deposit"] is not None and order["deposit_paid"] is None and order["accepted"]:
        return _("waits for its deposit"), "deposit_paid", _("Deposit came today")
    if order["accepted"] is None:
        return _("quoted"), "accepted", _("Ordered today")
    return _("in work"), "delivered", _("Delivered today")


def _actions(page: Page, order: dict[str, Any]) -> list[tuple[str, Any, str]]:
    _words, field, said = _state(order)
    code = str(order["code"])
    look = (_("Look at it"), partial(look_at, page, "order", code), f"order-record-{code}")
    if not field:
        return [look]
    act = partial(_correct, page, code, {field: date.today().isoformat()}, int(order["version"]))
    return [(said, act, f"order-{code}"), look]


def _correct(page: Page, code: str, changes: dict[str, str], version: int) -> None:
    """Correct an order as it was seen: refused where somebody changed it meanwhile."""

    def act(book: Ledger, who: str) -> None:
        book.correct("order", code, changes, who=who, reason=_("at the bench"), version=version)

    write(page, act)


class OrderForm:
    """A form for a new order; it stays as typed while the list above is drawn anew."""

    def __init__(self, page: Page) -> None:
        self.page = page
        with ui.element("details"):
            TextElement(tag="summary", text=_("A new order"))
            with ui.element("form").props("novalidate") as whole:
                self._form = RecordForm(page, record_kind("order"), only=_FIRST, prefix="new-")
                text(
                    _("* is needed. Everything else of it stands under 'All records'."), small=True
                )
                add = button(_("Add the order"), lambda: None, primary=True, mark="add-order")
                add.props["type"] = "submit"
            whole.on("submit.prevent", lambda _event: self._add())

    def _add(self) -> None:
        if not self._form.check():
            self._form.first_wrong()
            return

        def act(book: Ledger, who: str) -> None:
            book.add("order", self._form.typed(), who=who)

        error = attempt(self.page, act)
        if error is None:
            self._form.clear()
        elif self._form.show_at_field(error):
            self._form.first_wrong()
        else:
            self.page.fail(error)
