"""The answer of the cost command: the sheet, the price and what other choices would bring."""

from __future__ import annotations

from collections.abc import Sequence
from decimal import Decimal
from typing import TYPE_CHECKING, Any

from borewright.doors.columns import columns

if TYPE_CHECKING:
    from borewright.ledger import BatchCost, CostLine, Ledger


def cost_answer(
    book: Ledger,
    batch: str,
    margin: Decimal,
    price: Decimal | None,
    quantities: Sequence[int],
    platings: Sequence[str],
) -> dict[str, Any]:
    """Cost of a batch for JSON; amounts are text in whole coins."""
    from borewright.ledger import ROUNDING_WORDS, batch_cost

    found = batch_cost(book, batch)
    asked = found.sheet.price_for_margin(margin) if price is None else price
    others = [batch_cost(book, batch, quantity=quantity) for quantity in quantities]
    others += [batch_cost(book, batch, plating=plating) for plating in platings]
    return {
        "batch": batch,
        "currency": found.sheet.currency,
        "rounding": ROUNDING_WORDS,
        "margin_percent": f"{margin:f}",
        "each": [_line(found, line) for line in found.sheet.each],
        "for_the_batch": [_line(found, line) for line in found.sheet.batch],
        **_summary(found, asked, margin),
        "what_if": [_summary(other, asked, margin) for other in others],
        "notes": list(found.notes),
    }


def _line(cost: BatchCost, line: CostLine) -> dict[str, str]:
    return {
        "name": line.name,
        "quantity": f"{line.quantity.normalize():f}",
        "unit": line.unit,
        "price": f"{line.price:f}",
        "reject_percent": f"{line.reject_rate * 100:.1f}",
        "amount": _coins(cost, line.amount),
    }


def _summary(cost: BatchCost, price: Decimal, margin: Decimal) -> dict[str, Any]:
    sheet = cost.sheet
    return {
        "quantity": sheet.quantity,
        "plating": cost.plating,
        "variable_cost": _coins(cost, sheet.variable_cost),
        "fixed_cost": _coins(cost, sheet.fixed_cost),
        "unit_cost": _coins(cost, sheet.unit_cost),
        "total_cost": _coins(cost, sheet.total_cost),
        "price_for_margin": f"{sheet.price_for_margin(margin):f}",
        "price": f"{price:f}",
        "price_with_tax": f"{sheet.with_tax(price):f}",
        "profit": _coins(cost, sheet.profit(price)),
        "break_even": sheet.break_even(price),
    }


def _coins(cost: BatchCost, amount: Decimal) -> str:
    from borewright.ledger import rounded

    return f"{rounded(amount, cost.sheet.currency):f}"


def cost_lines(found: dict[str, Any]) -> list[str]:
    """The answer as text."""
    currency = found["currency"]
    lines = [f"Batch {found['batch']}: {found['quantity']} instruments, {found['plating']} keywork"]
    for title, name in (("For each", "each"), ("For the batch", "for_the_batch")):
        rows = [
            [
                line["name"],
                f"{line['quantity']} {line['unit']}",
                f"at {line['price']}",
                f"rejects {line['reject_percent']} %" if line["reject_percent"] != "0.0" else "",
                line["amount"],
            ]
            for line in found[name]
        ]
        if rows:
            headings = [title, "quantity", "price", "", currency]
            lines += ["", *columns(headings, rows, right=(4,))]
    even = found["break_even"]
    lines += [
        "",
        f"Unit cost {found['unit_cost']} {currency}: {found['variable_cost']} for each, "
        f"{found['fixed_cost']} shared by {found['quantity']}.",
        f"Price for a margin of {found['margin_percent']} %: {found['price_for_margin']} "
        f"{currency} before tax.",
        f"At {found['price']} {currency} ({found['price_with_tax']} with tax) the batch leaves "
        f"{found['profit']} {currency}; break-even: "
        + ("no quantity, each sale loses money." if even is None else f"{even} instruments."),
    ]
    if found["what_if"]:
        rows = [
            [
                f"{one['quantity']} with {one['plating']}",
                one["unit_cost"],
                one["price_for_margin"],
                one["profit"],
            ]
            for one in found["what_if"]
        ]
        headings = ["What if", "unit cost", "price for margin", "profit at price"]
        lines += ["", *columns(headings, rows, right=(1, 2, 3))]
    return [
        *lines,
        "",
        *[f"Note: {note}." for note in found["notes"]],
        f"Amounts are {found['rounding']}.",
    ]
