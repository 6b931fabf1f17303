"""The job traveller: goes round the benches with one serial number, ticked step by step."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from borewright.documents._page import Block, Column, Facts, Heading, Page, Points, Table
from borewright.documents._paper_words import BOX, TICKED, file_stem, note, sign_line
from borewright.documents.cautions import CAUTIONS

#: Cautions that concern the bench rather than the player.
_AT_THE_BENCH = ("Dust", "Adhesives, epoxy and solvents", "Blades, reamers and spindles")


@dataclass(frozen=True)
class Step:
    """One step of the work: what, its limit in words, and whether it is done, by whom."""

    what: str
    limit: str = ""
    done: bool = False
    who: str = ""


@dataclass(frozen=True)
class Traveller:
    """One instrument's way through the workshop."""

    serial: str
    instrument: str
    design: str
    design_sha256: str
    batch: str
    order: str
    plating: str
    steps: Sequence[Step]
    note: str = ""

    @property
    def file_stem(self) -> str:
        """The files' name."""
        return file_stem("traveller", self.serial)

    @property
    def code(self) -> str:
        """The serial number."""
        return self.serial

    def page(self) -> Page:
        """The traveller's page."""
        rows = [
            (TICKED if step.done else BOX, step.what, step.limit, step.who, "")
            for step in self.steps
        ]
        cautions = [(c.about, c.text) for c in CAUTIONS if c.about in _AT_THE_BENCH]
        blocks: list[Block] = [
            Facts(
                [
                    ("Serial number", self.serial),
                    ("Design revision", f"{self.design} (content {self.design_sha256[:12]})"),
                    ("Batch", self.batch or "–"),
                    ("Order", self.order or "–"),
                    ("Keywork", self.plating or "–"),
                    *([("Note", note(self.note))] if self.note else []),
                ]
            ),
            Heading("Steps"),
            Table(
                "Tick each box when the step is done; write readings and initials beside it.",
                [
                    Column("", False),
                    Column("Step", True, 3),
                    Column("Limit", True, 2),
                    Column("Who", True, 1),
                    Column("Reading, day", True, 2),
                ],
                rows,
            ),
            Heading("At the bench"),
            Points(cautions),
            Facts(sign_line("Ready for the case", "Day")),
        ]
        return Page(f"Job traveller {self.serial}", self.instrument, blocks)
