"""How far each model level is off, measured against the level above it.

They are for instruments of the examples' kind and replace nobody's own comparison.
"""

from __future__ import annotations

import math
from collections import defaultdict

import numpy as np

from borewright.acoustics.side_holes import HoleLevel
from borewright.model import FingeringTable, Instrument, SideHoles
from borewright.words import Said, listed, say

#: Root mean square (cents). Solved holes against whole resonators in 3-D, over the resonances of
#: the cases in docs/levels.md: 0.4, over those of the clarinet 0.6; 1.0 is counted, for the
#: reference's own mesh leaves 0.3 and rings, keys and posts are in neither. Closed forms against
#: solved holes, over the fingerings of the example clarinet (docs/acoustics.md): 5.0, which adds
#: in squares.
LEVEL_CENTS = {
    SideHoles.CLOSED_FORMS: 5.1,
    SideHoles.SOLVED: 1.0,
    SideHoles.EACH: 1.0,
}
#: What a bell's closed form adds in squares where the bell could not be solved: closed forms'
#: whole departure over the example clarinet's fingerings, of which the bell makes the most.
BELL_CENTS = 5.0
#: What closed forms of holes add: their mean departure in the random resonators of docs/levels.md.
HOLES_CENTS = 3.6


def model_cents(level: HoleLevel) -> float:
    """Standard deviation (cents) of a level, wider where something keeps its closed form."""
    parts = [LEVEL_CENTS[level.way]]
    if level.bell_fell_back:
        parts.append(BELL_CENTS)
    if level.holes_fell_back:
        parts.append(HOLES_CENTS)
    return math.hypot(*parts)


def held_cents(
    level: HoleLevel, instrument: Instrument, fingerings: FingeringTable
) -> tuple[np.ndarray, Said]:
    """Standard deviation (cents) of the model, [F], and the level's words.

    Where fingerings of a register were held to whole resonators of this very body
    (``borewright reference``), that register's is what was found there, the reference's own
    error included; elsewhere it is the level's usual one.
    """
    usual = np.full(len(fingerings.fingerings), model_cents(level))
    if level.way is SideHoles.CLOSED_FORMS:
        return usual, level.words
    from borewright.acoustics.solved.whole import held_resonances

    rows = {
        (frozenset(fingering.open_holes), fingering.resonance_number): fingering.register_
        for fingering in fingerings.fingerings
    }
    squares = defaultdict(list)
    for each in held_resonances(instrument):
        register = rows.get((frozenset(each.open_holes), each.number))
        if register is not None and each.own_cents is not None:
            squares[register].append(each.solved_cents**2 + each.own_cents**2)
    if not squares:
        return usual, level.words
    found = [
        math.sqrt(sum(squares[f.register_]) / len(squares[f.register_]))
        if f.register_ in squares
        else usual[row]
        for row, f in enumerate(fingerings.fingerings)
    ]
    words = say(
        "{level}, held to whole resonators in {registers}",
        level=level.words,
        registers=listed([register.words for register in squares]),
    )
    return np.array(found), words
