"""What a fit aims at beside the pitch of its fingerings: evenness, alignment, venting.

Each aim is a list of figures whose squares are cents², with their derivatives, so that the search
adds them to what out-of-tune notes cost. What a player may just notice of a figure counts like
``NOTICED_CENTS`` of pitch (common practice; the steps are those of ``character.comparing``).
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import NamedTuple, Protocol

import numpy as np

from borewright.acoustics import kernels
from borewright.acoustics.cents import CENTS_PER_LOG
from borewright.acoustics.qualities import Quality, lattice_cutoffs, strengths
from borewright.acoustics.request import Request

#: What a player may just notice: of pitch (cents), cut-off (Hz), strength (dB), alignment (cents).
NOTICED_CENTS, CUTOFF_HZ, STRENGTH_DB, _ALIGNMENT_CENTS = 5.0, 50.0, 1.0, 10.0
#: From here on (cents) a resonance does not belong to a harmonic.
_NEIGHBOUR_CENTS = 100.0


class Seen(NamedTuple):
    """What a measurement knows already, of the table's F fingerings."""

    request: Request  # with the values at hand
    solved: kernels.Solved
    log_slopes: np.ndarray  # [F, D] d ln f / d dimension (1/mm)
    cents: np.ndarray  # [F]; NaN where no resonance was found
    jacobian: np.ndarray  # [F, D] cents per mm


class Off(NamedTuple):
    """What an aim is off by."""

    by: np.ndarray  # [M]; their squares are cents²
    slopes: np.ndarray  # [M, D] per mm of every dimension


class FurtherAim(Protocol):
    """Something to be lowered beside the cents of the fingerings."""

    def off(self, seen: Seen) -> Off:
        """How far off, and its derivatives."""
        ...


def _steps(quality: Quality, pairs: np.ndarray, strength: float) -> Off:
    """Steps of a figure from a note to the next; nothing for those that have none."""
    first, second = pairs[:, 0], pairs[:, 1]
    by = quality.value[second] - quality.value[first]
    known = np.isfinite(by)
    slopes = quality.slope[second] - quality.slope[first]
    return Off(
        strength * np.where(known, by, 0.0), strength * np.where(known[:, None], slopes, 0.0)
    )


@dataclass(frozen=True)
class EvenCutoff:
    """The open holes' cut-off runs evenly from a note to the next."""

    rows: list[tuple[int, int] | None]  # the first two open holes of every fingering
    pairs: np.ndarray  # [I, 2] neighbours
    speed_of_sound: float  # m/s
    weight: float

    def off(self, seen: Seen) -> Off:
        """Steps of the cut-off (50 Hz count as 5 cents)."""
        quality = lattice_cutoffs(seen.request, self.rows, self.speed_of_sound)
        return _steps(quality, self.pairs, self.weight * NOTICED_CENTS / CUTOFF_HZ)


@dataclass(frozen=True)
class EvenStrength:
    """The sounding resonance is about as strong from a note to the next."""

    pairs: np.ndarray  # [I, 2] neighbours
    weight: float

    def off(self, seen: Seen) -> Off:
        """Steps of its height (1 dB counts as 5 cents)."""
        quality = strengths(seen.request, seen.solved, seen.log_slopes)
        return _steps(quality, self.pairs, self.weight * NOTICED_CENTS / STRENGTH_DB)


def _other_resonances(seen: Seen, order: np.ndarray) -> tuple[Request, kernels.Solved, np.ndarray]:
    """Other resonances of the same fingerings, and d ln f / d dimension [F, D]."""
    request = seen.request._replace(order=order)
    solved = kernels.resonances(*request)
    return request, solved, np.asarray(kernels.jacobian(*request[:5], solved))


def usable(solved: kernels.Solved) -> np.ndarray:
    """Which resonances were found and settled, [F]."""
    settled = np.abs(np.asarray(solved.residual)) < 1e-6
    known: np.ndarray = np.asarray(solved.found) & settled
    return known


@dataclass(frozen=True)
class Alignment:
    """The second resonance of a low note stands at its third harmonic.

    Beyond a semitone a resonance is no neighbour of the harmonic any more: what is lowered
    flattens out there.
    """

    rows: np.ndarray  # [M] fingerings that sound their first resonance
    grid: np.ndarray  # Hz, of a sweep that reaches those third harmonics
    weight: float

    def off(self, seen: Seen) -> Off:
        """Distance of the second resonance from it (10 cents count as 5)."""
        order = np.array(seen.request.order)
        order[self.rows] += 1.0
        reaching = seen._replace(request=seen.request._replace(grid=self.grid))
        _, solved, slopes = _other_resonances(reaching, order)
        first, second = np.asarray(seen.solved.frequency), np.asarray(solved.frequency)
        known = (usable(solved) & usable(seen.solved))[self.rows]
        ratio = second[self.rows] / (3.0 * first[self.rows])
        strength = self.weight * NOTICED_CENTS / _ALIGNMENT_CENTS
        cents = CENTS_PER_LOG * np.log(np.where(known, ratio, 1.0))
        share = np.tanh(cents / _NEIGHBOUR_CENTS)
        apart = CENTS_PER_LOG * (slopes - seen.log_slopes)[self.rows]
        apart = (1 - share**2)[:, None] * np.where(known[:, None], apart, 0.0)
        return Off(strength * _NEIGHBOUR_CENTS * share, strength * apart)


@dataclass(frozen=True)
class VentedLead:
    """With the vent open, the upper register's resonance leads the low note's."""

    rows: np.ndarray  # [M] fingerings of the upper register
    least_db: float
    weight: float

    def off(self, seen: Seen) -> Off:
        """What the lead lacks (1 dB counts as 5 cents); leading by more costs nothing."""
        order = np.array(seen.request.order)
        order[self.rows] -= 1.0
        low_request, low_solved, low_slopes = _other_resonances(seen, order)
        upper = strengths(seen.request, seen.solved, seen.log_slopes)
        lower = strengths(low_request, low_solved, low_slopes)
        lead = (upper.value - lower.value)[self.rows]
        lacks = np.isfinite(lead) & (lead < self.least_db)
        strength = self.weight * NOTICED_CENTS / STRENGTH_DB
        slopes = -(upper.slope - lower.slope)[self.rows]
        return Off(
            strength * np.where(lacks, self.least_db - lead, 0.0),
            strength * np.where(lacks[:, None], slopes, 0.0),
        )
