"""From the wishes of a fit to the aims beside pitch."""

from __future__ import annotations

import itertools

import numpy as np

from borewright.acoustics.character.evenness import GROUPS
from borewright.acoustics.character.lattice import ROW, open_row
from borewright.acoustics.character.table import speed_of_sound
from borewright.acoustics.character.venting import vent_between
from borewright.acoustics.request import sweep_grid
from borewright.acoustics.tuning import twelfth_pairs
from borewright.fit.further import Alignment, EvenCutoff, EvenStrength, FurtherAim, VentedLead
from borewright.model import FingeringTable, Instrument, Register, Use, note_number
from borewright.model.fit_wishes import FirstAim

#: What "even first" asks of cut-off and strength at least: rows of open holes step by some
#: hundred Hz from note to note, so that more of the first would cost the tuning.
_EVEN_CUTOFF, _EVEN_STRENGTH = 0.3, 1.0


def further_aims(instrument: Instrument, fingerings: FingeringTable) -> tuple[FurtherAim, ...]:
    """Evenness, alignment and venting, as far as they are weighed."""
    wishes = instrument.fit
    even = wishes.first is FirstAim.EVEN
    cutoff = max(wishes.cutoff_evenness, _EVEN_CUTOFF if even else 0.0)
    strength = max(wishes.strength_evenness, _EVEN_STRENGTH if even else 0.0)
    found: list[FurtherAim] = []
    pairs = twelfth_pairs(fingerings.fingerings)
    if cutoff:
        rows = _rows(instrument, fingerings, pairs)
        has_row = {number for number, row in enumerate(rows) if row is not None}
        neighbours = _neighbours(fingerings, has_row)
        found.append(EvenCutoff(rows, neighbours, speed_of_sound(instrument), cutoff))
    if strength:
        everything = set(range(len(fingerings.fingerings)))
        found.append(EvenStrength(_neighbours(fingerings, everything), strength))
    if wishes.alignment:
        low = _standard(fingerings, (Register.CHALUMEAU, Register.THROAT))
        low = [row for row in low if fingerings.fingerings[row].resonance_number == 1]
        found.append(_alignment(instrument, fingerings, low, wishes.alignment))
    if wishes.venting:
        high = sorted({upper for _, upper in pairs} & set(_standard(fingerings, tuple(Register))))
        found.append(VentedLead(np.array(high, dtype=int), wishes.venting_db, wishes.venting))
    return tuple(found)


def _alignment(
    instrument: Instrument, fingerings: FingeringTable, low: list[int], weight: float
) -> Alignment:
    """With a sweep up to the third harmonic of the highest of the low notes, or of the table."""
    targets = [instrument.pitch.target_hz(each.written) for each in fingerings.fingerings]
    highest = max([*targets, *(3.0 * targets[row] for row in low)])
    return Alignment(np.array(low, dtype=int), sweep_grid(instrument, highest), weight)


def _standard(fingerings: FingeringTable, registers: tuple[Register, ...]) -> list[int]:
    """Rows of the standard fingerings of some registers, by their notes."""
    rows = [
        row
        for row, fingering in enumerate(fingerings.fingerings)
        if fingering.use is Use.STANDARD and fingering.register_ in registers
    ]
    return sorted(rows, key=lambda row: note_number(fingerings.fingerings[row].written))


def _neighbours(fingerings: FingeringTable, among: set[int]) -> np.ndarray:
    """Pairs of notes that follow each other in the runs whose evenness is heard."""
    runs = [[row for row in _standard(fingerings, group) if row in among] for group in GROUPS]
    return np.array([pair for run in runs for pair in itertools.pairwise(run)], dtype=int).reshape(
        -1, 2
    )


def _rows(
    instrument: Instrument, fingerings: FingeringTable, pairs: list[tuple[int, int]]
) -> list[tuple[int, int] | None]:
    """The first two holes of every open row that has a cut-off of its own."""
    table = fingerings.fingerings
    vents = {vent_between(table[low], table[high]) for low, high in pairs}
    names = instrument.hole_names()
    found: list[tuple[int, int] | None] = []
    for fingering in table:
        row = open_row(instrument, fingering.open_holes, vents)
        found.append((names.index(row[0]), names.index(row[1])) if len(row) >= ROW else None)
    return found
