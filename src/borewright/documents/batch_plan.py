"""The batch plan for the wall beside the printers: what is started when, with room to tick."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date

from borewright.documents._page import Block, Column, Facts, PaperPage, Paragraph, Points, Table
from borewright.documents._paper_words import BOX, file_stem, number, weekday
from borewright.words import Reader, Text, say_as


@dataclass(frozen=True)
class PlanRow:
    """One print: day and hour of its start, where, which part, how many hours, ready when."""

    day: date
    start_hour: float
    printer: str
    part: str
    hours: float
    ready: date


@dataclass(frozen=True)
class BatchPlan:
    """The prints of a batch in order of their start; ``notes`` are whole sentences."""

    batch: str
    design: str
    quantity: int
    started: Text
    ready: date
    rows: Sequence[PlanRow]
    notes: Sequence[Text] = ()

    @property
    def file_stem(self) -> str:
        """The files' name."""
        return file_stem("plan", self.batch)

    @property
    def code(self) -> str:
        """The batch's name."""
        return self.batch

    def page(self, words: Reader) -> PaperPage:
        """The plan's page."""
        blocks: list[Block] = [
            Facts(
                [
                    (words("Design"), self.design),
                    (words("Instruments"), str(self.quantity)),
                    (words("Started"), words.tell(self.started)),
                    (words("All printed on"), weekday(words, self.ready)),
                ]
            ),
            Table(
                words("A print is started in working hours and may run through the night."),
                [
                    Column("", False),
                    Column(words("Day"), True, 1.5),
                    Column(words.tell(say_as("paper", "Start"))),
                    Column(words("Printer"), True),
                    Column(words("Part"), True, 1.4),
                    Column(words.tell(say_as("paper", "Takes"))),
                    Column(words.tell(say_as("paper", "Ready")), True),
                ],
                [self._cells(words, row) for row in self.rows],
            ),
            Paragraph(words("Write the job number beside the tick, and rejects on the back.")),
        ]
        if self.notes:
            blocks.append(Points([("", words.tell(one)) for one in self.notes]))
        count = words.many("1 print", "{count} prints", len(self.rows))
        return PaperPage(words("Plan {batch}", batch=self.batch), count, blocks)

    def _cells(self, words: Reader, row: PlanRow) -> tuple[str, ...]:
        hour, minutes = divmod(round(row.start_hour * 60), 60)
        return (
            BOX,
            weekday(words, row.day),
            f"{hour:02d}:{minutes:02d}",
            row.printer,
            row.part,
            f"{number(words, row.hours, '.1f')} h",
            row.ready.isoformat(),
        )
