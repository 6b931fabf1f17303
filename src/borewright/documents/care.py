"""The care sheet that goes to the player with the instrument."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from borewright.documents._page import Block, Heading, PaperPage, Paragraph, Points
from borewright.documents._paper_words import cautions, file_stem
from borewright.documents.cautions import Hazard
from borewright.words import Reader, Text, say

#: Cautions that concern whoever plays and keeps the instrument.
FOR_THE_PLAYER = (Hazard.HEAT, Hazard.MOUTH, Hazard.NICKEL, Hazard.HEARING, Hazard.WHO_DECIDES)

#: Keeping and cleaning; common practice.
CARE = (
    (
        say("After playing"),
        say(
            "Swab the bore from the bell end until it is dry, and dry the pads that "
            "stick with thin paper. Do not close a damp case."
        ),
    ),
    (
        say("Cleaning"),
        say(
            "Wipe the body with a soft cloth, damp at most. No alcohol, no solvent, no "
            "dish washer: printed plastic warps, and its seal coat may dissolve."
        ),
    ),
    (
        say("Keys"),
        say(
            "Wipe keys with a dry cloth. Hold joints by the body, not by the keys, when you put "
            "them together; lift the bridge by pressing the upper rings."
        ),
    ),
    (
        say("Tenons"),
        say("A little cork grease now and then; where a joint sits tight, do not force it."),
    ),
    (
        say("Warming up"),
        say(
            "Pitch rises by about 3 cents for each °C of the air inside. Play a few "
            "minutes before you tune."
        ),
    ),
    (
        say("Repairs"),
        say(
            "Do not heat a pad cup on its key while it is on the body: shellac needs a heat "
            "that the plastic does not stand. Bring it to the workshop."
        ),
    ),
)


@dataclass(frozen=True)
class CareSheet:
    """Care and cautions for one instrument; ``material`` is its body's, ``plating`` its keys'."""

    serial: str
    instrument: str
    material: str
    plating: str
    nickel_report: Text = ""
    extra: Sequence[tuple[Text, Text]] = ()

    @property
    def file_stem(self) -> str:
        """The files' name."""
        return file_stem("care", self.serial)

    @property
    def code(self) -> str:
        """The serial number."""
        return self.serial

    def page(self, words: Reader) -> PaperPage:
        """The care sheet's page."""
        report = words.tell(self.nickel_report) or words(
            "No nickel report from the supplier is on file for these keys. If your skin "
            "reacts to nickel, ask for advice before you play this instrument."
        )
        plating = self.plating or words("plating not stated")
        care = [(words.tell(about), words.tell(text)) for about, text in (*CARE, *self.extra)]
        blocks: list[Block] = [
            Paragraph(
                words(
                    "Never leave the instrument in a closed car, on a window sill or near a "
                    "radiator: the body softens at about 55 to 65 °C and will not come back."
                ),
                lead=True,
            ),
            Heading(words("Care")),
            Points(care),
            Heading(words("Cautions")),
            Points(cautions(words, FOR_THE_PLAYER)),
            Heading(words("Keys and nickel")),
            Paragraph(words("Keywork: {plating}. {report}", plating=plating, report=report)),
        ]
        return PaperPage(
            words("Care of instrument {serial}", serial=self.serial),
            words(
                "{instrument}, body of {material}",
                instrument=self.instrument,
                material=self.material or words("printed plastic"),
            ),
            blocks,
        )
