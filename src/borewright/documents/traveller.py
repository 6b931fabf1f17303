"""The job traveller: goes round the benches with one serial number, ticked step by step."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from borewright.documents._page import Block, Column, Facts, Heading, PaperPage, Points, Table
from borewright.documents._paper_words import (
    BOX,
    NONE,
    TICKED,
    cautions,
    file_stem,
    note,
    sign_line,
)
from borewright.documents.cautions import Hazard
from borewright.model.results.work import WorkStep
from borewright.words import Reader, Text, say_as

#: Cautions that concern the bench rather than the player.
_AT_THE_BENCH = (Hazard.DUST, Hazard.ADHESIVES, Hazard.BLADES)


@dataclass(frozen=True)
class Traveller:
    """One instrument's way through the workshop; ``certificates`` with whether they hold."""

    serial: str
    instrument: str
    design: str
    design_sha256: str
    batch: str
    order: str
    plating: str
    steps: Sequence[WorkStep]
    certificates: Sequence[Text] = ()
    note: str = ""

    @property
    def file_stem(self) -> str:
        """The files' name."""
        return file_stem("traveller", self.serial)

    @property
    def code(self) -> str:
        """The serial number."""
        return self.serial

    def page(self, words: Reader) -> PaperPage:
        """The traveller's page."""
        design = words(
            "{design} (content {start})", design=self.design, start=self.design_sha256[:12]
        )
        blocks: list[Block] = [
            Facts(
                [
                    (words("Serial number"), self.serial),
                    (words("Design revision"), design),
                    (words("Batch"), self.batch or NONE),
                    (words.tell(say_as("paper", "Order")), self.order or NONE),
                    (words("Keywork"), self.plating or NONE),
                    *[(words("Certificate"), words.tell(one)) for one in self.certificates],
                    *(
                        [(words.tell(say_as("paper", "Note")), note(self.note))]
                        if self.note
                        else []
                    ),
                ]
            ),
            Heading(words("Steps")),
            Table(
                words(
                    "Tick each box when the step is done; write readings and initials beside it."
                ),
                [
                    Column("", False),
                    Column(words.tell(say_as("paper", "Step")), True, 3),
                    Column(words.tell(say_as("paper", "Limit")), True, 2),
                    Column(words.tell(say_as("paper", "Who")), True, 1),
                    Column(words("Reading, day"), True, 2),
                ],
                [self._cells(words, step) for step in self.steps],
            ),
            Heading(words("At the bench")),
            Points(cautions(words, _AT_THE_BENCH)),
            Facts(sign_line(words("Ready for the case"), words("Day"))),
        ]
        title = words("Job traveller {serial}", serial=self.serial)
        return PaperPage(title, self.instrument, blocks)

    def _cells(self, words: Reader, step: WorkStep) -> tuple[str, ...]:
        limit = words.tell(step.limit).replace("-", "−") if step.limit else ""
        return (TICKED if step.done else BOX, words.tell(step.what), limit, step.who, "")
