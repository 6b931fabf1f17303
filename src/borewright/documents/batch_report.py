"""The batch report: every instrument of a batch, its state, and what the batch cost."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from borewright.documents._page import Block, Column, Facts, Heading, Page, Points, Table
from borewright.documents._paper_words import file_stem


@dataclass(frozen=True)
class BatchRow:
    """One instrument: serial, order, tuning in words, checks passed and made, what it waits for."""

    serial: str
    order: str
    tuning_rms_cents: str
    checks: str
    signed_by: str
    waits_for: str


@dataclass(frozen=True)
class BatchReport:
    """A batch as it stands; ``costs`` are names with amounts, ``notes`` whole sentences."""

    batch: str
    design: str
    quantity: int
    delivered: int
    day: str
    rows: Sequence[BatchRow]
    prints: Sequence[tuple[str, str, str, str, str]]
    costs: Sequence[tuple[str, str]]
    notes: Sequence[str] = ()

    @property
    def file_stem(self) -> str:
        """The files' name."""
        return file_stem("batch", self.batch)

    @property
    def code(self) -> str:
        """The batch's name."""
        return self.batch

    def page(self) -> Page:
        """The report's page."""
        rows = [
            (r.serial, r.order, r.tuning_rms_cents, r.checks, r.signed_by, r.waits_for)
            for r in self.rows
        ]
        blocks: list[Block] = [
            Facts(
                [
                    ("Design", self.design),
                    ("Planned", str(self.quantity)),
                    ("Delivered", f"{self.delivered} of {len(self.rows)} on record"),
                    ("Day", self.day),
                ]
            ),
            Heading("Instruments"),
            Table(
                "Tuning is the root mean square in cents, as measured.",
                [
                    Column("Serial", True),
                    Column("Order", True),
                    Column("Tuning"),
                    Column("Checks"),
                    Column("Signed by", True),
                    Column("Waits for", True, 2),
                ],
                rows,
            ),
        ]
        if self.prints:
            blocks += [
                Heading("Printing"),
                Table(
                    "Means over the good jobs on record.",
                    [
                        Column("Part", True),
                        Column("Good"),
                        Column("Rejected"),
                        Column("Hours"),
                        Column("Grams"),
                    ],
                    self.prints,
                ),
            ]
        if self.costs:
            blocks += [Heading("Cost"), Facts(self.costs)]
        if self.notes:
            blocks.append(Points([("", one) for one in self.notes]))
        return Page(f"Batch {self.batch}", f"{len(self.rows)} instruments", blocks)
