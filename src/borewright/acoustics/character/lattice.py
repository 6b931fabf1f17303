"""Cut-off of the row of open holes, from what it returns and from the formula.

Just above the first open hole (register vents left aside) the sound is split into a wave that
comes down and one that goes back, with the characteristic impedance of the bore there; R is
their ratio. The row is seen alone: below its last open hole the bore is taken as endless, so
that the bell's own section, whose resonances let sound out well below the row's cut-off, does
not mix in. Every hole of the row radiates, closed holes between take part. The cut-off is the
lowest frequency at which the row returns half of the power, |R|² = 1/2. Taken at
40 or 60 % it would lie 1 to 8 % lower or higher on the example clarinet.

For an endless lossless row of equal holes |R| is 1 below the band edge of the periodic
lattice, and half the power passes 1 to 2 % above it. With fewer than two open holes there is
no row, and the figure is that of all below, hole and bell together.

The formula of a periodic lattice beside it, fc = c/(2 pi) (b/a) / sqrt(s t), is that of Benade
(J. Acoust. Soc. Am. 32 (1960) 1591, and "Fundamentals of Musical Acoustics", chapter 21; from
memory), with s the distance between the first two open holes, b and t (tube with its
corrections) their means. What irregularity does to it: Moers and Kergomard, Acta Acustica 97
(2011) 984, from memory.
"""

from __future__ import annotations

import math

import jax.numpy as jnp
import numpy as np
from jax import Array

from borewright.acoustics.elements.hole_junction import inner_length, matching_length
from borewright.acoustics.elements.hole_outside import pad_length, rim_length
from borewright.model import Instrument, LatticeCutoff, LatticeKind, Part, ToneHole

#: A row of fewer open holes than this is called short: it blurs its cut-off.
ROW = 3


def first_hole(instrument: Instrument, open_holes: tuple[str, ...], vents: set[str]) -> str:
    """The topmost open hole besides vents; the lowest hole where none is open; "" for none."""
    placed = [
        (position, hole.name)
        for _, hole, position in instrument.placed_holes()
        if hole.name not in vents
    ]
    opened = [row for row in placed if row[1] in open_holes]
    if opened:
        return min(opened)[1]
    return max(placed)[1] if placed else ""


def open_row(instrument: Instrument, open_holes: tuple[str, ...], vents: set[str]) -> list[str]:
    """Open holes besides vents, from the top down."""
    placed = [
        (position, hole.name)
        for _, hole, position in instrument.placed_holes()
        if hole.name in open_holes and hole.name not in vents
    ]
    return [name for _, name in sorted(placed)]


def lattice_of(
    instrument: Instrument,
    open_holes: tuple[str, ...],
    vents: set[str],
    speed_of_sound: float,
    frequencies: np.ndarray,
    below: np.ndarray,
    row: np.ndarray,
) -> LatticeCutoff:
    """Cut-off of one fingering.

    Parameters
    ----------
    instrument, open_holes, vents
        The fingering, and the holes that are register vents.
    speed_of_sound
        m/s, for the formula.
    frequencies
        [K] Hz.
    below, row
        Complex reflections [K] of all below and of the row alone, as in ``fields.Fields``.
    """
    names = open_row(instrument, open_holes, vents)
    kind = LatticeKind.SHORT_ROW if len(names) > 1 else LatticeKind.BELL
    kind = LatticeKind.ROW if len(names) >= ROW else kind
    return LatticeCutoff(
        cutoff_hz=half_returned_hz(frequencies, below if kind is LatticeKind.BELL else row),
        formula_hz=formula_hz(instrument, names, speed_of_sound),
        kind=kind,
        first_hole=first_hole(instrument, open_holes, vents),
        open_holes=len(names),
    )


def half_returned_hz(frequencies: np.ndarray, reflection: np.ndarray) -> float | None:
    """Lowest frequency (Hz) at which half of the power is returned; None where there is none."""
    over = 0.5 - np.abs(reflection) ** 2
    rising = np.flatnonzero((over[:-1] < 0) & (over[1:] >= 0))
    if not len(rising):
        return None
    at = int(rising[0])
    share = -over[at] / (over[at + 1] - over[at])
    return float(frequencies[at] + share * (frequencies[at + 1] - frequencies[at]))


def formula_hz(instrument: Instrument, row: list[str], speed_of_sound: float) -> float | None:
    """Formula of the periodic lattice (Hz) for the first two open holes; None with fewer."""
    if len(row) < 2:
        return None
    placed = {hole.name: (part, hole, x) for part, hole, x in instrument.placed_holes()}
    first, second = (placed[name] for name in row[:2])
    apart = (second[2] - first[2]) / 1e3
    if apart <= 0:
        return None
    squared = [_hole_term(part, hole, instrument.fit.chimney_wall_mm) for part, hole, _ in
               (first, second)]  # fmt: skip
    return speed_of_sound / (2 * math.pi) * math.sqrt(sum(squared) / 2 / apart)


def _hole_term(part: Part, hole: ToneHole, chimney_wall_mm: float) -> float:
    """(b/a)² / t (1/m) of one hole."""
    pad = hole.pad
    sizes = (
        part.bore_diameter_at(hole.station_mm) / 2,
        hole.diameter_mm / 2,
        part.tube_height_mm(hole),
        part.outside_diameter_at(hole.station_mm) / 2,
        hole.chimney_mm,
        chimney_wall_mm,
        pad.diameter_mm / 2 if pad else 0.0,
        pad.lift_mm if pad else 1.0,
    )
    return float(lattice_term(*(jnp.asarray(size / 1e3) for size in sizes)))


def lattice_term(
    bore_radius: Array,
    radius: Array,
    height: Array,
    body_radius: Array,
    chimney: Array,
    chimney_wall: Array,
    pad_radius: Array,
    lift: Array,
) -> Array:
    """(b/a)² / t (1/m) of holes (SI), with the engine's own inner and outer corrections.

    Parameters
    ----------
    bore_radius, radius, height, body_radius, chimney, chimney_wall
        As in ``geometry.Holes``.
    pad_radius, lift
        Of the pad over an open hole; a radius of 0 where there is none.
    """
    a, b = bore_radius, radius
    length = height + matching_length(a, b) + inner_length(a, b)
    length = length + rim_length(b, body_radius, chimney, chimney_wall)
    padded = pad_radius > 0
    above = pad_length(b, jnp.where(padded, pad_radius, 2 * b), jnp.where(padded, lift, b))
    return (b / a) ** 2 / (length + jnp.where(padded, above, 0.0))
