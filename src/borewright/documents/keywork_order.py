"""The keywork order: what is bought, and within what the sets must measure."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from borewright.documents._page import Block, Column, Facts, Heading, Page, Paragraph, Points, Table
from borewright.documents._paper_words import file_stem, note
from borewright.documents._words import figure


@dataclass(frozen=True)
class Tolerance:
    """One measure that the sets must keep, in mm."""

    feature: str
    measure: str
    nominal_mm: float
    tolerance_mm: float
    seen_mm: float | None = None


@dataclass(frozen=True)
class KeyworkOrder:
    """An order to a keywork source; amounts are texts with their currency.

    ``tolerances`` are the survey's: nominal values with what is allowed on both sides;
    ``seen_mm`` is the median of the samples measured.
    """

    order: str
    source: str
    day: str
    plating: str
    quantity: int
    unit_price: str
    amount: str
    lead_time: str
    tolerances: Sequence[Tolerance]
    note: str = ""

    @property
    def file_stem(self) -> str:
        """The files' name."""
        return file_stem("keywork-order", self.order)

    @property
    def code(self) -> str:
        """The order's number."""
        return self.order

    def page(self) -> Page:
        """The order's page."""
        rows = [
            (t.feature, t.measure, f"{t.nominal_mm:.2f}", f"±{t.tolerance_mm:.2f}",
             figure(t.seen_mm, 2))
            for t in self.tolerances
        ]  # fmt: skip
        blocks: list[Block] = [
            Facts(
                [
                    ("To", self.source),
                    ("Day", self.day),
                    ("Sets", str(self.quantity)),
                    ("Plating", self.plating),
                    ("Price of a set", self.unit_price),
                    ("Amount", self.amount),
                    ("Lead time", self.lead_time),
                ]
            ),
            Heading("What every set must measure"),
            Table(
                "In mm; the last column is the median of the samples already measured.",
                [
                    Column("Feature", True),
                    Column("Measure", True),
                    Column("Nominal"),
                    Column("Allowed"),
                    Column("Samples"),
                ],
                rows,
            ),
            Heading("Please"),
            Points(
                [
                    ("Alike", "make all sets on the same fixtures as the samples"),
                    ("Cartons", "mark every carton with the production lot"),
                    ("Plating", "send the plating report and the nickel release report (EN 1811)"),
                    ("Changes", "ask before changing anything, also in favour of the buyer"),
                ]
            ),
        ]
        if self.note:
            blocks.append(Paragraph(note(self.note)))
        return Page(f"Keywork order {self.order}", f"To {self.source}", blocks)
