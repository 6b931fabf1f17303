"""Orders: a new one, and the days on which something happened to it."""

from __future__ import annotations

from datetime import date
from functools import partial
from typing import TYPE_CHECKING, Any

from nicegui import ui
from nicegui.elements.mixins.text_element import TextElement

from borewright.bench.page import Page
from borewright.bench.shop.book import opened, write
from borewright.bench.widgets import button, heading, text
from borewright.bench.widgets.number_field import TextField
from borewright.bench.widgets.rows import rows_with_buttons
from borewright.bench.words import _

if TYPE_CHECKING:
    from borewright.ledger import Ledger


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
    if not field:
        return []
    code = str(order["code"])
    act = partial(_correct, page, code, {field: date.today().isoformat()}, int(order["version"]))
    return [(said, act, f"order-{code}")]


def _correct(page: Page, code: str, changes: dict[str, str], version: int) -> None:
    """Correct an order as it was seen: refused where somebody changed it meanwhile."""

    def act(book: Ledger, who: str) -> None:
        book.correct("order", code, changes, who=who, reason=_("at the bench"), version=version)

    write(page, act)


def order_form(page: Page) -> None:
    """A form for a new order; it stays as typed while the list above is drawn anew."""
    with ui.element("details"):
        TextElement(tag="summary", text=_("A new order"))
        _fields(page)


def _fields(page: Page) -> None:
    labels = {
        "code": _("Order's number"),
        "customer": _("Customer"),
        "quantity": _("How many"),
        "unit_price": _("Price of one, before tax"),
        "currency": _("Currency"),
        "promised": _("Promised (year-month-day)"),
    }
    with ui.element("div").classes("bw-row"):
        fields = {name: TextField(words, "", mark=f"new-{name}") for name, words in labels.items()}

        def add() -> None:
            values = {name: field.value for name, field in fields.items()}

            def act(book: Ledger, who: str) -> None:
                book.add("order", values, who=who)

            if write(page, act):
                for field in fields.values():
                    field.value = field.props["shown"] = ""
                    field.update()

        button(_("Add the order"), add, primary=True, mark="add-order")
