"""What a fit aims at: weights per fingering, evenness, twelfths, tolerances, the price of moves."""

from __future__ import annotations

import itertools
from typing import NamedTuple

import numpy as np

from borewright.model import FingeringTable, FitWishes, Instrument, Register, Use, note_number
from borewright.model.fit_wishes import FirstAim

#: What "even first" and "close to my drawing" multiply: cents, evenness, price of a move.
_FIRST = {
    FirstAim.TUNE: (1.0, 1.0, 1.0),
    FirstAim.EVEN: (0.6, 4.0, 1.0),
    FirstAim.DRAWING: (1.0, 1.0, 6.0),
}


class Aims(NamedTuple):
    """Targets and weights of F fingerings, and of I intervals between two of them."""

    target_hz: np.ndarray  # [F]
    weight: np.ndarray  # [F]; 0: reported only
    tolerance: np.ndarray  # [F] cents
    intervals: np.ndarray  # [I, 2] rows: the second less the first …
    wanted: np.ndarray  # [I] … should be so many cents wide of its target
    interval_weight: np.ndarray  # [I]
    price: float  # cents² that a moderate step must win


def aims(instrument: Instrument, fingerings: FingeringTable) -> Aims:
    """Aims of a fingering table under the instrument's wishes."""
    wishes = instrument.fit
    cents, even, price = _FIRST[wishes.first]
    targets, weights, tolerances = [], [], []
    for fingering in fingerings.fingerings:
        weight = wishes.weights.get(fingering.register_, 1.0) * cents
        if fingering.use is Use.ALTERNATE:
            weight *= wishes.alternate_weight
        elif fingering.use is Use.APART:
            weight = 0.0
        targets.append(instrument.pitch.target_hz(fingering.written))
        weights.append(weight)
        tolerances.append(
            wishes.alternate_tolerance_cents
            if fingering.use is Use.ALTERNATE
            else wishes.tolerance_cents
        )
    weighed = np.array(weights)
    neighbours, twelfths = _neighbours(fingerings), _twelfths(fingerings, wishes)
    intervals = np.concatenate([neighbours, twelfths])
    least = np.minimum(weighed[intervals[:, 0]], weighed[intervals[:, 1]])
    strength = [wishes.evenness_weight * even] * len(neighbours)
    strength += [wishes.twelfths_weight] * len(twelfths)
    return Aims(
        np.array(targets),
        weighed,
        np.array(tolerances),
        intervals,
        np.array([0.0] * len(neighbours) + [wishes.twelfths_cents] * len(twelfths)),
        np.array(strength) * least,
        wishes.keep_close * price,
    )


def _neighbours(fingerings: FingeringTable) -> np.ndarray:
    """Pairs of standard fingerings a semitone or a tone apart, registers crossed as well."""
    standard: list[tuple[int, int, Register]] = sorted(
        (note_number(fingering.written), row, fingering.register_)
        for row, fingering in enumerate(fingerings.fingerings)
        if fingering.use is Use.STANDARD
    )
    pairs = [
        (first[1], second[1])
        for first, second in itertools.pairwise(standard)
        if second[0] - first[0] in (1, 2)
    ]
    return np.array(pairs, dtype=int).reshape(-1, 2)


def _twelfths(fingerings: FingeringTable, wishes: FitWishes) -> np.ndarray:
    """Pairs of standard fingerings a twelfth apart, a register apart; none without weight."""
    if not wishes.twelfths_weight:
        return np.zeros((0, 2), dtype=int)
    rows = [
        (note_number(fingering.written), fingering.resonance_number, row)
        for row, fingering in enumerate(fingerings.fingerings)
        if fingering.use is Use.STANDARD
    ]
    pairs = [
        (low, high)
        for note, resonance, low in rows
        for upper, over, high in rows
        if upper - note == 19 and over == resonance + 1
    ]
    return np.array(pairs, dtype=int).reshape(-1, 2)
