"""What a fit aims at: weights per fingering, evenness between neighbours, tolerances."""

from __future__ import annotations

import itertools
from typing import NamedTuple

import numpy as np

from borewright.model import FingeringTable, Instrument, Register, Use, note_number


class Aims(NamedTuple):
    """Targets and weights of F fingerings."""

    target_hz: np.ndarray  # [F]
    weight: np.ndarray  # [F]; 0: reported only
    tolerance: np.ndarray  # [F] cents
    neighbours: np.ndarray  # [E, 2] rows whose step should be even
    evenness: float


def aims(instrument: Instrument, fingerings: FingeringTable) -> Aims:
    """Aims of a fingering table under the instrument's wishes."""
    wishes = instrument.fit
    targets, weights, tolerances = [], [], []
    for fingering in fingerings.fingerings:
        weight = wishes.weights.get(fingering.register_, 1.0)
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
    return Aims(
        np.array(targets),
        np.array(weights),
        np.array(tolerances),
        _neighbours(fingerings),
        wishes.evenness_weight,
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
