"""How far each model level is off, measured against the level above it.

They are for instruments of the examples' kind and replace nobody's own comparison.
"""

from __future__ import annotations

import math
from collections import defaultdict
from typing import NamedTuple

import numpy as np

from borewright.acoustics import kernels
from borewright.acoustics.cents import CENTS_PER_LOG
from borewright.acoustics.request import request_of_table
from borewright.acoustics.side_holes import HoleLevel, HoleProgress, hole_level
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


class ModelDoubt(NamedTuple):
    """How far the model is off: what is known of it, and what is not."""

    departure: np.ndarray  # [F] cents that the prediction is known to stand too high
    deviation: np.ndarray  # [F] cents, standard deviation of what is left
    words: Said


def model_doubt(
    instrument: Instrument,
    fingerings: FingeringTable,
    level: HoleLevel,
    frequencies: np.ndarray,
    progress: HoleProgress | None = None,
) -> ModelDoubt:
    """The model's part of every note's error bar; ``frequencies`` (Hz, [F]) are the level's.

    What is known is taken off, not told as if it were chance. Closed forms are known to stand
    off by what the same body solved in 3-D moves each note. The solved level is known by what
    whole resonators of this very body showed (``borewright reference``), register by register:
    one part of its usual error is a register's own, the other each note's, and what was seen of
    a register counts by how well the reference knew it. (Normal prior and normal reading, as in
    any textbook of statistics; that the parts are equal is our own assumption.)
    """
    if level.way is SideHoles.CLOSED_FORMS:
        return _doubt_of_closed_forms(instrument, fingerings, level, frequencies, progress)
    usual = model_cents(level)
    count = len(fingerings.fingerings)
    from borewright.acoustics.solved.whole import held_resonances

    rows = {
        (frozenset(fingering.open_holes), fingering.resonance_number): fingering.register_
        for fingering in fingerings.fingerings
    }
    seen = defaultdict(list)
    for each in held_resonances(instrument):
        register = rows.get((frozenset(each.open_holes), each.number))
        if register is not None and each.own_cents is not None:
            seen[register].append((each.solved_cents, each.own_cents))
    if not seen:
        return ModelDoubt(np.zeros(count), np.full(count, usual), level.words)
    share = usual**2 / 2
    known = {}
    for register, readings in seen.items():
        weights = [1 / (share + own**2) for _, own in readings]
        variance = 1 / (1 / share + sum(weights))
        told = zip(weights, readings, strict=True)
        departure = variance * sum(weight * off for weight, (off, _) in told)
        known[register] = departure, math.sqrt(share + variance)
    each_row = [known.get(f.register_, (0.0, usual)) for f in fingerings.fingerings]
    departure, deviation = np.array(each_row).T
    words = say(
        "{level}, held to whole resonators in {registers}",
        level=level.words,
        registers=listed([register.words for register in seen]),
    )
    return ModelDoubt(departure, deviation, words)


def _doubt_of_closed_forms(
    instrument: Instrument,
    fingerings: FingeringTable,
    level: HoleLevel,
    frequencies: np.ndarray,
    progress: HoleProgress | None,
) -> ModelDoubt:
    """Closed forms beside the same body solved: what lies between them is known."""
    better = hole_level(instrument, SideHoles.SOLVED, progress)
    request = request_of_table(instrument, fingerings, None, better.terms)
    solved = np.asarray(kernels.resonances(*request).frequency)
    beyond = model_doubt(instrument, fingerings, better, solved)
    departure = CENTS_PER_LOG * np.log(frequencies / solved) + beyond.departure
    words = say("{level}, set right by {better}", level=level.words, better=beyond.words)
    return ModelDoubt(departure, beyond.deviation, words)
