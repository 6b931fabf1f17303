"""The quotation: what is offered, at what price, until when."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from borewright.documents._page import Block, Column, Facts, Heading, Page, Paragraph, Table
from borewright.documents._paper_words import file_stem, note, sign_line


@dataclass(frozen=True)
class PriceLine:
    """One line: what, how many, price of one and amount, all in words already rounded."""

    what: str
    quantity: str
    price: str
    amount: str


@dataclass(frozen=True)
class Quotation:
    """An offer to a customer; amounts are texts with their currency."""

    order: str
    customer: str
    day: str
    variant: Sequence[tuple[str, str]]
    lines: Sequence[PriceLine]
    totals: Sequence[tuple[str, str]]
    deposit: str
    promised: str
    rounding: str
    note: str = ""

    @property
    def file_stem(self) -> str:
        """The files' name."""
        return file_stem("quotation", self.order)

    @property
    def code(self) -> str:
        """The order's number."""
        return self.order

    def page(self) -> Page:
        """The quotation's page."""
        rows = [(one.what, one.quantity, one.price, one.amount) for one in self.lines]
        rows += [(name, "", "", amount) for name, amount in self.totals]
        blocks: list[Block] = [
            Facts([("For", self.customer), ("Day", self.day or "–"), *self.variant]),
            Heading("Price"),
            Table(
                f"Amounts are {self.rounding}.",
                [
                    Column("", True, 3),
                    Column("Quantity"),
                    Column("Each"),
                    Column("Amount"),
                ],
                rows,
            ),
            Facts(
                [
                    ("Deposit with the order", self.deposit or "none"),
                    ("Delivery promised", self.promised or "by agreement"),
                ]
            ),
        ]
        if self.note:
            blocks.append(Paragraph(note(self.note)))
        blocks += [
            Paragraph(
                "Every instrument comes with its certificate, its own tuning chart and a care "
                "sheet. The body is printed plastic and must be kept from heat; keys may release "
                "nickel, see the care sheet."
            ),
            Heading("Acceptance"),
            Facts(sign_line("Name", "Day and signature")),
        ]
        return Page(f"Quotation {self.order}", f"Offered to {self.customer}", blocks)
