"""The quotation: what is offered, at what price, until when."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date

from borewright.documents._page import Block, Column, Facts, Heading, PaperPage, Paragraph, Table
from borewright.documents._paper_words import NONE, file_stem, note, sign_line
from borewright.words import Reader, Text, say_as


@dataclass(frozen=True)
class PriceLine:
    """One line: what, how many, price of one and amount, both rounded and with their currency."""

    what: Text
    quantity: int
    price: Text
    amount: Text


@dataclass(frozen=True)
class Quotation:
    """An offer to a customer; amounts have their currency, ``rounding`` says how they came."""

    order: str
    customer: str
    day: date | None
    variant: Sequence[tuple[Text, Text]]
    lines: Sequence[PriceLine]
    totals: Sequence[tuple[Text, Text]]
    deposit: Text
    promised: date | None
    rounding: Text
    note: str = ""

    @property
    def file_stem(self) -> str:
        """The files' name."""
        return file_stem("quotation", self.order)

    @property
    def code(self) -> str:
        """The order's number."""
        return self.order

    def page(self, words: Reader) -> PaperPage:
        """The quotation's page."""
        tell = words.tell
        rows = [
            (tell(one.what), str(one.quantity), tell(one.price), tell(one.amount))
            for one in self.lines
        ]
        rows += [(tell(name), "", "", tell(amount)) for name, amount in self.totals]
        blocks: list[Block] = [
            Facts(
                [
                    (words.tell(say_as("paper", "For")), self.customer),
                    (words("Day"), self.day.isoformat() if self.day else NONE),
                    *[(tell(name), tell(value)) for name, value in self.variant],
                ]
            ),
            Heading(words("Price")),
            Table(
                words("Amounts are {rounding}.", rounding=self.rounding),
                [
                    Column("", True, 3),
                    Column(words.tell(say_as("paper", "Quantity"))),
                    Column(words.tell(say_as("paper", "Each"))),
                    Column(words("Amount")),
                ],
                rows,
            ),
            Facts(
                [
                    (words("Deposit with the order"), tell(self.deposit) or words("none")),
                    (
                        words("Delivery promised"),
                        self.promised.isoformat() if self.promised else words("by agreement"),
                    ),
                ]
            ),
        ]
        if self.note:
            blocks.append(Paragraph(note(self.note)))
        blocks += [
            Paragraph(
                words(
                    "Every instrument comes with its certificate, its own tuning chart and a care "
                    "sheet. The body is printed plastic and must be kept from heat; keys may "
                    "release nickel, see the care sheet."
                )
            ),
            Heading(words("Acceptance")),
            Facts(sign_line(words("Name"), words("Day and signature"))),
        ]
        return PaperPage(
            words("Quotation {order}", order=self.order),
            words("Offered to {customer}", customer=self.customer),
            blocks,
        )
