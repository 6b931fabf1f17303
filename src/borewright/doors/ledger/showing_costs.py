"""The answer of the cost command as JSON and as lines of text."""

from __future__ import annotations

from decimal import Decimal
from typing import TYPE_CHECKING, Any

from borewright.doors.columns import columns
from borewright.words import ENGLISH, Reader, say_as

if TYPE_CHECKING:
    from borewright.ledger import BatchCost, CostLine, Money
    from borewright.tasks.ledger.costs import CostAnswer


def cost_as_dict(found: CostAnswer) -> dict[str, Any]:
    """Cost of a batch for JSON; amounts are text in whole coins."""
    from borewright.ledger import ROUNDING

    sheet = found.cost.sheet
    return {
        "batch": found.cost.batch,
        "currency": sheet.currency,
        "rounding": str(ROUNDING),
        "margin_percent": f"{found.margin_percent:f}",
        "each": [_line(line) for line in sheet.each],
        "for_the_batch": [_line(line) for line in sheet.batch],
        **_summary(found.cost, found.price, found.margin_percent),
        "what_if": [_summary(other, found.price, found.margin_percent) for other in found.others],
        "notes": [str(note) for note in found.cost.notes],
    }


def _line(line: CostLine) -> dict[str, str]:
    return {
        "name": ENGLISH.tell(line.name),
        "quantity": f"{line.quantity.normalize():f}",
        "unit": ENGLISH.tell(line.unit),
        "price": f"{line.price.amount:f}",
        "reject_percent": f"{line.reject_rate * 100:.1f}",
        "amount": line.amount.plain,
    }


def _summary(cost: BatchCost, price: Money, margin: Decimal) -> dict[str, Any]:
    sheet = cost.sheet
    return {
        "quantity": sheet.quantity,
        "plating": cost.plating,
        "variable_cost": sheet.variable_cost.plain,
        "fixed_cost": sheet.fixed_cost.plain,
        "unit_cost": sheet.unit_cost.plain,
        "total_cost": sheet.total_cost.plain,
        "price_for_margin": sheet.price_for_margin(margin).plain,
        "price": f"{price.amount:f}",
        "price_with_tax": sheet.with_tax(price).plain,
        "profit": sheet.profit(price).plain,
        "break_even": sheet.break_even(price),
    }


def cost_lines(found: CostAnswer, words: Reader) -> list[str]:
    """The answer as text."""
    from borewright.ledger import ROUNDING

    sheet, price = found.cost.sheet, found.price
    lines = [
        words(
            "Batch {batch}: {count} instruments, {plating} keywork",
            batch=found.cost.batch,
            count=sheet.quantity,
            plating=found.cost.plating,
        ),
        *_table(words("For each"), sheet.each, sheet.currency, words),
        *_table(words("For the batch"), sheet.batch, sheet.currency, words),
        "",
        words(
            "Unit cost {unit}: {each} for each, {fixed} shared by {count}.",
            unit=sheet.unit_cost.words,
            each=sheet.variable_cost.words,
            fixed=sheet.fixed_cost.words,
            count=sheet.quantity,
        ),
        words(
            "Price for a margin of {margin:f} %: {price} before tax.",
            margin=found.margin_percent,
            price=sheet.price_for_margin(found.margin_percent).words,
        ),
        words(
            "At {price} ({taxed} with tax) the batch leaves {profit}; {break_even}.",
            price=price.words,
            taxed=sheet.with_tax(price).words,
            profit=sheet.profit(price).words,
            break_even=_break_even(sheet.break_even(price), words),
        ),
    ]
    if found.others:
        rows = [
            [
                words("{count} with {plating}", count=o.sheet.quantity, plating=o.plating),
                words.tell(o.sheet.unit_cost.words),
                words.tell(o.sheet.price_for_margin(found.margin_percent).words),
                words.tell(o.sheet.profit(price).words),
            ]
            for o in found.others
        ]
        headings = [
            words("What if"),
            words("unit cost"),
            words("price for margin"),
            words("profit at price"),
        ]
        lines += ["", *columns(headings, rows, right=(1, 2, 3))]
    notes = [words("Note: {note}.", note=note) for note in found.cost.notes]
    return [*lines, "", *notes, words("Amounts are {rounding}.", rounding=ROUNDING)]


def _table(title: str, lines: tuple[CostLine, ...], currency: str, words: Reader) -> list[str]:
    rows = [
        [
            words.tell(line.name),
            f"{words.number(line.quantity.normalize(), 'f')} {words.tell(line.unit)}",
            words("at {price:f}", price=line.price.amount),
            words("rejects {percent:.1f} %", percent=line.reject_rate * 100)
            if line.reject_rate
            else "",
            words.number(line.amount.rounded.amount, "f"),
        ]
        for line in lines
    ]
    headings = [title, words.tell(say_as("price", "quantity")), words("price"), "", currency]
    return ["", *columns(headings, rows, right=(4,))] if rows else []


def _break_even(even: int | None, words: Reader) -> str:
    if even is None:
        return words("break-even: no quantity, each sale loses money")
    return words("break-even: {count} instruments", count=even)
