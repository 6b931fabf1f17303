"""The care sheet that goes to the player with the instrument."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from borewright.documents._page import Block, Heading, Page, Paragraph, Points
from borewright.documents._paper_words import file_stem
from borewright.documents.cautions import CAUTIONS

#: Cautions that concern whoever plays and keeps the instrument.
FOR_THE_PLAYER = ("Heat", "Contact with the mouth", "Nickel in keywork", "Hearing", "Who decides")

#: Keeping and cleaning; common practice.
CARE = (
    ("After playing", "Swab the bore from the bell end until it is dry, and dry the pads that "
     "stick with thin paper. Do not close a damp case."),
    ("Cleaning", "Wipe the body with a soft cloth, damp at most. No alcohol, no solvent, no "
     "dish washer: printed plastic warps, and its seal coat may dissolve."),
    ("Keys", "Wipe keys with a dry cloth. Hold joints by the body, not by the keys, when you put "
     "them together; lift the bridge by pressing the upper rings."),
    ("Tenons", "A little cork grease now and then; where a joint sits tight, do not force it."),
    ("Warming up", "Pitch rises by about 3 cents for each °C of the air inside. Play a few "
     "minutes before you tune."),
    ("Repairs", "Do not heat a pad cup on its key while it is on the body: shellac needs a heat "
     "that the plastic does not stand. Bring it to the workshop."),
)  # fmt: skip


@dataclass(frozen=True)
class CareSheet:
    """Care and cautions for one instrument; ``material`` is its body's, ``plating`` its keys'."""

    serial: str
    instrument: str
    material: str
    plating: str
    nickel_report: str = ""
    extra: Sequence[tuple[str, str]] = ()

    @property
    def file_stem(self) -> str:
        """The files' name."""
        return file_stem("care", self.serial)

    @property
    def code(self) -> str:
        """The serial number."""
        return self.serial

    def page(self) -> Page:
        """The care sheet's page."""
        report = self.nickel_report or (
            "No nickel report from the supplier is on file for these keys. If your skin "
            "reacts to nickel, ask for advice before you play this instrument."
        )
        cautions = [(c.about, c.text) for c in CAUTIONS if c.about in FOR_THE_PLAYER]
        blocks: list[Block] = [
            Paragraph(
                "Never leave the instrument in a closed car, on a window sill or near a radiator: "
                "the body softens at about 55 to 65 °C and will not come back.",
                lead=True,
            ),
            Heading("Care"),
            Points([*CARE, *self.extra]),
            Heading("Cautions"),
            Points(cautions),
            Heading("Keys and nickel"),
            Paragraph(f"Keywork: {self.plating or 'plating not stated'}. {report}"),
        ]
        return Page(
            f"Care of instrument {self.serial}",
            f"{self.instrument}, body of {self.material or 'printed plastic'}",
            blocks,
        )
