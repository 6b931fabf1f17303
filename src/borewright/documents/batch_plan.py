"""The batch plan for the wall beside the printers: what is started when, with room to tick."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from borewright.documents._page import Block, Column, Facts, Page, Paragraph, Points, Table
from borewright.documents._paper_words import BOX, file_stem


@dataclass(frozen=True)
class PlanRow:
    """One print: texts of the day and hour of its start, where, which part, how long, ready when.

    ``day`` is a whole day with its weekday, ``takes`` a time with its unit.
    """

    day: str
    start: str
    printer: str
    part: str
    takes: str
    ready: str


@dataclass(frozen=True)
class BatchPlan:
    """The prints of a batch in order of their start; ``notes`` are whole sentences."""

    batch: str
    design: str
    quantity: int
    hours: str
    ready: str
    rows: Sequence[PlanRow]
    notes: Sequence[str] = ()

    @property
    def file_stem(self) -> str:
        """The files' name."""
        return file_stem("plan", self.batch)

    @property
    def code(self) -> str:
        """The batch's name."""
        return self.batch

    def page(self) -> Page:
        """The plan's page."""
        blocks: list[Block] = [
            Facts(
                [
                    ("Design", self.design),
                    ("Instruments", str(self.quantity)),
                    ("Started", self.hours),
                    ("All printed on", self.ready),
                ]
            ),
            Table(
                "A print is started in working hours and may run through the night.",
                [
                    Column("", False),
                    Column("Day", True, 1.5),
                    Column("Start"),
                    Column("Printer", True),
                    Column("Part", True, 1.4),
                    Column("Takes"),
                    Column("Ready", True),
                ],
                [(BOX, r.day, r.start, r.printer, r.part, r.takes, r.ready) for r in self.rows],
            ),
            Paragraph("Write the job number beside the tick, and rejects on the back."),
        ]
        if self.notes:
            blocks.append(Points([("", one) for one in self.notes]))
        return Page(f"Plan {self.batch}", f"{len(self.rows)} prints", blocks)
