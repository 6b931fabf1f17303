"""Definitions and sources of every figure of the character table, as it prints them."""

from __future__ import annotations

from borewright.acoustics.character.words import COMMON
from borewright.model import Measure
from borewright.words import joined, say

_BENADE = say("Benade, Fundamentals of Musical Acoustics (1976), from memory")

MEASURES = [
    Measure(
        name=say("peaks"),
        unit=say("dB, Hz"),
        definition=say(
            "maxima of the input impedance's modulus as the reed sees it, at least 1 dB "
            "above both troughs: height over the characteristic impedance at the bore's top, width "
            "between half-power points, quality factor = frequency over width"
        ),
        source=say(
            "textbook definitions; Fletcher and Rossing, The Physics of Musical Instruments"
        ),
        words=say("high: the note sits firmly and resists bending; low: loose"),
        basis=COMMON,
    ),
    Measure(
        name=say("alignment"),
        unit=say("cents"),
        definition=say(
            "distance of an upper peak from its nearest harmonic of the sounding pitch; "
            "a note's figure is that of its highest upper peak within a semitone of a harmonic and "
            "15 dB of the sounding peak"
        ),
        source=_BENADE,
        words=say("near 0: focused, rings; far: stuffy, colour changes with loudness"),
        basis=COMMON,
    ),
    Measure(
        name=say("lattice cut-off"),
        unit=say("Hz"),
        definition=say(
            "lowest frequency at which the row of open holes, seen from above its first "
            "(vents aside) and with the bore endless below its last, returns half of the power; "
            "with fewer than two open holes the same of all below, hole and bell; beside it the "
            "formula c/(2 pi) (b/a) / sqrt(s t) for the first two open holes"
        ),
        source=say(
            "Benade 1960 and 1976; irregular rows: Moers and Kergomard 2011; both from memory"
        ),
        words=say("low: dark, warm; high: bright, open"),
        basis=COMMON,
    ),
    Measure(
        name=say("radiated share"),
        unit=say("share of entering power"),
        definition=say(
            "power radiated by holes and bottom end over power entering the bore, at the "
            "pitch and as the mean over thirds of an octave"
        ),
        source=say("energy balance, thirds of an octave of IEC 61260-1"),
        words=say("high: projects, gives its sound away; low: inward, resonant"),
        basis=COMMON,
    ),
    Measure(
        name=say("venting"),
        unit=say("dB, cents"),
        definition=say(
            "with the register vent open against closed: shift and loss of the first two "
            "peaks; advantage = second peak over first with the vent open; misalignment = three "
            "times the first against the second"
        ),
        source=joined([_BENADE, "Debut, Kergomard and Laloë, arXiv physics/0309051"], "; "),
        words=say(
            "advantage above 0, or the first peak out of line by 100 cents: the twelfth speaks; "
            "neither: may fall back to the low note"
        ),
        basis=COMMON,
    ),
    Measure(
        name=say("evenness"),
        unit=say("as the quantity"),
        definition=say(
            "mean and worst step between neighbouring standard notes, in two runs: "
            "chalumeau with throat, and clarion; cut-offs of rows of three open holes or more"
        ),
        source=say("our own definition"),
        words=say("small steps: even; a large step: the note stands out"),
        basis=COMMON,
    ),
]
