"""The cautions that travel with every document a workshop prints, kept in one place.

Their substance follows the project's trade notes; local rules outrank them.
"""

from __future__ import annotations

from dataclasses import dataclass
from enum import Enum, auto

from borewright.words import Message, say


class Hazard(Enum):
    """What a caution is about, to choose by."""

    FUMES = auto()
    DUST = auto()
    ADHESIVES = auto()
    BLADES = auto()
    HEAT = auto()
    MOUTH = auto()
    NICKEL = auto()
    HEARING = auto()
    WHO_DECIDES = auto()


@dataclass(frozen=True)
class Caution:
    """One caution: what it is about, and what to do."""

    hazard: Hazard
    about: Message
    text: Message


CAUTIONS: tuple[Caution, ...] = (
    Caution(
        Hazard.FUMES,
        say("Printer fumes"),
        say(
            "A printer at work gives off vapours and ultrafine particles. Ventilate the room, "
            "enclose the printer, lead its air outdoors where you can, and do not sit beside it."
        ),
    ),
    Caution(
        Hazard.DUST,
        say("Dust"),
        say(
            "Sanding and reaming dust, above all of wood and cured resin, harms the lungs. Use "
            "extraction and a well-fitting dust mask, sand wet where possible, and wipe rather "
            "than blow."
        ),
    ),
    Caution(
        Hazard.ADHESIVES,
        say("Adhesives, epoxy and solvents"),
        say(
            "Uncured epoxy, cyanoacrylate and solvents irritate and may cause lasting allergy. "
            "Read the data sheet, wear the gloves it names, ventilate, keep flames away, and let "
            "everything cure fully before playing."
        ),
    ),
    Caution(
        Hazard.BLADES,
        say("Blades, reamers and spindles"),
        say(
            "Reamers, cutters and hot tools wound. Use the guards, clamp the work, wear eye "
            "protection, tie back hair and sleeves, and never wear gloves at a turning spindle."
        ),
    ),
    Caution(
        Hazard.HEAT,
        say("Heat"),
        say(
            "PLA softens at about 55 to 65 °C, and a closed car in summer passes that. Tell the "
            "player in writing: no car, no window sill, no radiator, no hot water."
        ),
    ),
    Caution(
        Hazard.MOUTH,
        say("Contact with the mouth"),
        say(
            "Whatever touches the lips needs a smooth, sealed surface and a material proven for "
            "contact with the mouth. This document makes no claim of food safety. One owner for "
            "each mouthpiece; wash it below 40 °C."
        ),
    ),
    Caution(
        Hazard.NICKEL,
        say("Nickel in keywork"),
        say(
            "Keys, also plated ones, may release nickel, to which many people are allergic. Ask "
            "the supplier for a test report (EN 1811) and tell your customers what it says."
        ),
    ),
    Caution(
        Hazard.HEARING,
        say("Hearing"),
        say(
            "Instruments and machines can be loud enough to harm hearing over hours. Rest, keep "
            "distance, and wear hearing protection where the level asks for it."
        ),
    ),
    Caution(
        Hazard.WHO_DECIDES,
        say("Who decides"),
        say(
            "Local law and rules, insurers, and licensed or medical professionals outrank this "
            "page. Where they differ from it, follow them."
        ),
    ),
)
