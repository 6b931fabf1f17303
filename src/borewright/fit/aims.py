"""What a fit aims at: weights per fingering, evenness, twelfths, tolerances, the price of moves."""

from __future__ import annotations

import itertools
from typing import NamedTuple

import numpy as np

from borewright.errors import FitError
from borewright.model import FingeringTable, FitWishes, Instrument, Register, Use, note_number
from borewright.model.fit_wishes import FirstAim
from borewright.words import say

#: What "even first" and "close to my drawing" multiply: cents, evenness, price of a move.
_FIRST = {
    FirstAim.TUNE: (1.0, 1.0, 1.0),
    FirstAim.EVEN: (0.6, 4.0, 1.0),
    FirstAim.DRAWING: (1.0, 1.0, 6.0),
}


class Aims(NamedTuple):
    """Targets and weights of F fingerings, and of I intervals between two of them."""

    target_hz: np.ndarray  # [F] of the scale
    wish: np.ndarray  # [F] cents from it at which a fingering shall sound
    weight: np.ndarray  # [F]; 0: reported only
    tolerance: np.ndarray  # [F] cents
    intervals: np.ndarray  # [I, 2] rows: the second less the first …
    wanted: np.ndarray  # [I] … should be so many cents wider than their wishes
    interval_weight: np.ndarray  # [I]
    price: float  # cents² that a moderate step must win
    least_gain: float  # cents² that anything moved must win, however little it moves

    def off(self, cents: np.ndarray) -> np.ndarray:
        """Cents [F] from the scale, as cents from where each fingering shall sound."""
        off: np.ndarray = cents - self.wish
        return off


def aims(instrument: Instrument, fingerings: FingeringTable) -> Aims:
    """Aims of a fingering table under the instrument's wishes.

    Raises
    ------
    FitError
        Where a wish names a fingering that the table lacks.
    """
    wishes = instrument.fit
    _check_names(wishes, fingerings)
    cents, even, price = _FIRST[wishes.first]
    targets, weights, tolerances = [], [], []
    for fingering in fingerings.fingerings:
        weight = wishes.weights.get(fingering.register_, 1.0) * cents
        weight *= wishes.note_weights.get(fingering.name, 1.0)
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
    wish = np.array([wishes.note_cents.get(each.name, 0.0) for each in fingerings.fingerings])
    neighbours, twelfths = _neighbours(fingerings), _twelfths(fingerings, wishes)
    widths = [
        wishes.twelfths.get(fingerings.fingerings[low].name, wishes.twelfths_cents)
        for low, _ in twelfths
    ]
    wished = wish[twelfths[:, 1]] - wish[twelfths[:, 0]]
    intervals = np.concatenate([neighbours, twelfths])
    least = np.minimum(weighed[intervals[:, 0]], weighed[intervals[:, 1]])
    strength = [wishes.evenness_weight * even] * len(neighbours)
    strength += [wishes.twelfths_weight] * len(twelfths)
    return Aims(
        np.array(targets),
        wish,
        weighed,
        np.array(tolerances),
        intervals,
        np.concatenate([np.zeros(len(neighbours)), np.array(widths) - wished]),
        np.array(strength) * least,
        wishes.keep_close * price,
        wishes.least_gain,
    )


def _check_names(wishes: FitWishes, fingerings: FingeringTable) -> None:
    """Fingerings named in the wishes are those of the table."""
    known = [fingering.name for fingering in fingerings.fingerings]
    for key in ("note_weights", "note_cents", "twelfths"):
        for name in getattr(wishes, key):
            if name not in known:
                raise FitError(
                    say("the fingering table has no fingering '{name}'", name=name),
                    place=("fit", key),
                    remedy=say("Its fingerings are: {names}.", names=", ".join(known)),
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
