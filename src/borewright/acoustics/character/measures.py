"""Definitions and sources of every figure of the character table, as it prints them."""

from __future__ import annotations

from borewright.acoustics.character.words import COMMON
from borewright.model import Measure

_BENADE = "Benade, Fundamentals of Musical Acoustics (1976), from memory"

MEASURES = [
    Measure(
        name="peaks",
        unit="dB, Hz",
        definition="maxima of the input impedance's modulus as the reed sees it, at least 1 dB "
        "above both troughs: height over the characteristic impedance at the bore's top, width "
        "between half-power points, quality factor = frequency over width",
        source="textbook definitions; Fletcher and Rossing, The Physics of Musical Instruments",
        words="high: the note sits firmly and resists bending; low: loose",
        basis=COMMON,
    ),
    Measure(
        name="alignment",
        unit="cents",
        definition="distance of an upper peak from its nearest harmonic of the sounding pitch; "
        "a note's figure is that of its highest upper peak within a semitone of a harmonic and "
        "15 dB of the sounding peak",
        source=_BENADE,
        words="near 0: focused, rings; far: stuffy, colour changes with loudness",
        basis=COMMON,
    ),
    Measure(
        name="lattice cut-off",
        unit="Hz",
        definition="lowest frequency at which the row of open holes, seen from above its first "
        "(vents aside) and with the bore endless below its last, returns half of the power; with "
        "fewer than two open holes the same of all below, hole and bell; beside it the formula "
        "c/(2 pi) (b/a) / sqrt(s t) for the first two open holes",
        source="Benade 1960 and 1976; irregular rows: Moers and Kergomard 2011; both from memory",
        words="low: dark, warm; high: bright, open",
        basis=COMMON,
    ),
    Measure(
        name="radiated share",
        unit="share of entering power",
        definition="power radiated by holes and bottom end over power entering the bore, at the "
        "pitch and as the mean over thirds of an octave",
        source="energy balance, thirds of an octave of IEC 61260-1",
        words="high: projects, gives its sound away; low: inward, resonant",
        basis=COMMON,
    ),
    Measure(
        name="venting",
        unit="dB, cents",
        definition="with the register vent open against closed: shift and loss of the first two "
        "peaks; advantage = second peak over first with the vent open; misalignment = three "
        "times the first against the second",
        source=f"{_BENADE}; Debut, Kergomard and Laloë, arXiv physics/0309051",
        words="advantage above 0, or the first peak out of line by 100 cents: the twelfth speaks; "
        "neither: may fall back to the low note",
        basis=COMMON,
    ),
    Measure(
        name="evenness",
        unit="as the quantity",
        definition="mean and worst step between neighbouring standard notes, in two runs: "
        "chalumeau with throat, and clarion; cut-offs of rows of three open holes or more",
        source="our own definition",
        words="small steps: even; a large step: the note stands out",
        basis=COMMON,
    ),
]
