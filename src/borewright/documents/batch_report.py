"""The batch report: every instrument of a batch, its state, and what the batch cost."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date

from borewright.documents._page import Block, Column, Facts, Heading, PaperPage, Points, Table
from borewright.documents._paper_words import NONE, file_stem, number, sentence
from borewright.words import Reader, Text, say_as


@dataclass(frozen=True)
class BatchRow:
    """One instrument: tuning in cents, checks passed and made, its certificate, what is next."""

    serial: str
    order: str
    tuning_rms_cents: float | None
    passed: int
    checks: int
    signed_by: Text
    certificate: Text
    waits_for: Text


@dataclass(frozen=True)
class PrintRow:
    """One part: jobs that were good and rejected, means over the good ones."""

    part: str
    good: int
    rejected: int
    hours: float
    mass_g: float


@dataclass(frozen=True)
class BatchReport:
    """A batch as it stands; ``costs`` are names with amounts, ``notes`` clauses."""

    batch: str
    design: str
    quantity: int
    delivered: int
    day: date
    rows: Sequence[BatchRow]
    prints: Sequence[PrintRow]
    costs: Sequence[tuple[Text, Text]]
    notes: Sequence[Text] = ()

    @property
    def file_stem(self) -> str:
        """The files' name."""
        return file_stem("batch", self.batch)

    @property
    def code(self) -> str:
        """The batch's name."""
        return self.batch

    def page(self, words: Reader) -> PaperPage:
        """The report's page."""
        delivered = words(
            "{delivered} of {all} on record", delivered=self.delivered, all=len(self.rows)
        )
        blocks: list[Block] = [
            Facts(
                [
                    (words("Design"), self.design),
                    (words("Planned"), str(self.quantity)),
                    (words("Delivered"), delivered),
                    (words("Day"), self.day.isoformat()),
                ]
            ),
            Heading(words("Instruments")),
            self._instruments(words),
        ]
        if self.prints:
            blocks += [Heading(words("Printing")), self._printing(words)]
        if self.costs:
            costs = [(words.tell(name), words.tell(amount)) for name, amount in self.costs]
            blocks += [Heading(words("Cost")), Facts(costs)]
        if self.notes:
            blocks.append(Points([("", sentence(words.tell(one))) for one in self.notes]))
        count = words.many("1 instrument", "{count} instruments", len(self.rows))
        return PaperPage(words("Batch {batch}", batch=self.batch), count, blocks)

    def _instruments(self, words: Reader) -> Table:
        return Table(
            words("Tuning is the root mean square in cents, as measured."),
            [
                Column(words("Serial"), True),
                Column(words.tell(say_as("paper", "Order")), True),
                Column(words("Tuning")),
                Column(words("Checks")),
                Column(words("Signed by"), True),
                Column(words("Certificate"), True, 1.5),
                Column(words("Waits for"), True, 2),
            ],
            [
                (
                    row.serial,
                    row.order or NONE,
                    number(words, row.tuning_rms_cents, ".1f"),
                    words("{passed} of {all}", passed=row.passed, all=row.checks),
                    words.tell(row.signed_by) or NONE,
                    words.tell(row.certificate) or NONE,
                    words.tell(row.waits_for),
                )
                for row in self.rows
            ],
        )

    def _printing(self, words: Reader) -> Table:
        return Table(
            words("Means over the good jobs on record."),
            [
                Column(words("Part"), True),
                Column(words.tell(say_as("paper", "Good"))),
                Column(words.tell(say_as("paper", "Rejected"))),
                Column(words.tell(say_as("paper", "Hours"))),
                Column(words.tell(say_as("paper", "Grams"))),
            ],
            [
                (
                    one.part,
                    str(one.good),
                    str(one.rejected),
                    number(words, one.hours, ".1f"),
                    number(words, one.mass_g, ".0f"),
                )
                for one in self.prints
            ],
        )
