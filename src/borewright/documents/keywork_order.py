"""The keywork order: what is bought, and within what the sets must measure."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date

from borewright.documents._page import (
    Block,
    Column,
    Facts,
    Heading,
    PaperPage,
    Paragraph,
    Points,
    Table,
)
from borewright.documents._paper_words import file_stem, note, number
from borewright.words import Reader, Text, say_as


@dataclass(frozen=True)
class Tolerance:
    """One measure that the sets must keep, in mm."""

    feature: str
    measure: Text
    nominal_mm: float
    tolerance_mm: float
    seen_mm: float | None = None


@dataclass(frozen=True)
class KeyworkOrder:
    """An order to a keywork source; amounts have their currency.

    ``tolerances`` are the survey's: nominal values with what is allowed on both sides;
    ``seen_mm`` is the median of the samples measured. ``hint`` says how measures are taken.
    """

    order: str
    source: str
    day: date
    plating: str
    quantity: int
    unit_price: Text
    amount: Text
    lead_time_days: int | None
    tolerances: Sequence[Tolerance]
    note: str = ""
    hint: Text = ""

    @property
    def file_stem(self) -> str:
        """The files' name."""
        return file_stem("keywork-order", self.order)

    @property
    def code(self) -> str:
        """The order's number."""
        return self.order

    def page(self, words: Reader) -> PaperPage:
        """The order's page."""
        lead_time = words("by agreement")
        if self.lead_time_days is not None:
            lead_time = words.many("1 day", "{count} days", self.lead_time_days)
        blocks: list[Block] = [
            Facts(
                [
                    (words.tell(say_as("paper", "To")), self.source),
                    (words("Day"), self.day.isoformat()),
                    (words("Sets"), str(self.quantity)),
                    (words("Plating"), self.plating),
                    (words("Price of a set"), words.tell(self.unit_price)),
                    (words("Amount"), words.tell(self.amount)),
                    (words("Lead time"), lead_time),
                ]
            ),
            Heading(words("What every set must measure")),
            Table(
                words("In mm; the last column is the median of the samples already measured."),
                [
                    Column(words("Feature"), True),
                    Column(words.tell(say_as("paper", "Measure")), True),
                    Column(words("Nominal")),
                    Column(words("Allowed")),
                    Column(words("Samples")),
                ],
                [
                    (
                        one.feature,
                        words.tell(one.measure),
                        number(words, one.nominal_mm, ".2f"),
                        f"±{number(words, one.tolerance_mm, _digits(one.tolerance_mm))}",
                        number(words, one.seen_mm, ".2f"),
                    )
                    for one in self.tolerances
                ],
            ),
            *([Paragraph(words.tell(self.hint))] if self.hint else []),
            Heading(words("Please")),
            Points(
                [
                    (words("Alike"), words("make all sets on the same fixtures as the samples")),
                    (words("Cartons"), words("mark every carton with the production lot")),
                    (
                        words("Plating"),
                        words("send the plating report and the nickel release report (EN 1811)"),
                    ),
                    (
                        words("Changes"),
                        words("ask before changing anything, also in favour of the buyer"),
                    ),
                ]
            ),
        ]
        if self.note:
            blocks.append(Paragraph(note(self.note)))
        return PaperPage(
            words("Keywork order {order}", order=self.order),
            words("To {source}", source=self.source),
            blocks,
        )


def _digits(tolerance_mm: float) -> str:
    """A tolerance below 0.05 mm is told to the thousandth: 0.015 is not 0.01."""
    return ".3f" if tolerance_mm < 0.05 else ".2f"
