"""How scatter between keywork sets becomes scatter of pitch, through given sensitivities."""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass

from borewright.errors import LedgerError
from borewright.model import SensitivityMap
from borewright.words import say


@dataclass(frozen=True)
class NoteScatter:
    """Scatter of one fingering in cents (one standard deviation), and what causes most of it.

    ``together_cents`` is the most it could be, were all dimensions off at once in the worst way.
    """

    fingering: str
    cents: float
    together_cents: float
    largest: str
    largest_cents: float


@dataclass(frozen=True)
class TuningScatter:
    """Every fingering's scatter, and the survey's dimensions that no sensitivity knows."""

    notes: tuple[NoteScatter, ...]
    unknown: tuple[str, ...]


def tuning_scatter(scatter_mm: Mapping[str, float], sensitivity: SensitivityMap) -> TuningScatter:
    """Scatter of pitch from the scatter of dimensions.

    For independent dimensions variances add: σ² = Σ (s · 10 σ_mm)², with s in cents per
    0.1 mm (first-order propagation; JCGM 100:2008, equation 10).

    Parameters
    ----------
    scatter_mm
        Standard deviation in mm by the dimension's name, such as ``FC station``.
    sensitivity
        Cents per 0.1 mm of every dimension.

    Raises
    ------
    LedgerError
        Where not one of the dimensions is known to the sensitivities.
    """
    columns = sensitivity.columns
    known = {name: value for name, value in scatter_mm.items() if name in columns}
    unknown = tuple(name for name in scatter_mm if name not in columns)
    if not known:
        raise LedgerError(
            say("none of the surveyed dimensions is one of the instrument's"),
            place=say("tuning scatter"),
            remedy=say("Name features by hole and measure, such as FC and station or lift."),
        )
    notes = []
    for fingering, row in zip(sensitivity.fingerings, sensitivity.cents_per_tenth_mm, strict=True):
        shares = {name: abs(row[columns[name]] * 10 * value) for name, value in known.items()}
        largest = max(shares, key=lambda name: shares[name])
        notes.append(
            NoteScatter(
                fingering=fingering,
                cents=math.sqrt(sum(share**2 for share in shares.values())),
                together_cents=sum(shares.values()),
                largest=largest,
                largest_cents=shares[largest],
            )
        )
    return TuningScatter(tuple(notes), unknown)
