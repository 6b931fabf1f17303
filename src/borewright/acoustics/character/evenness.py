"""How evenly a figure runs from note to note.

Through the standard fingerings of a group of registers in rising order, the step is the size
of the difference between neighbours; evenness is given by the mean step (small is even) and
by the worst with its two notes. Our own definition: what is heard is the step from a note to
the next, not the distance from a mean. That makers aim at an even cut-off along the tube:
Benade, "Fundamentals of Musical Acoustics", chapter 21, from memory.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence

import numpy as np

from borewright.model import Evenness, LatticeKind, NoteCharacter, Register, Use, note_number
from borewright.words import Message, say

#: The two long runs of the instrument; the altissimo's cross-fingerings are no scale of holes.
GROUPS = ((Register.CHALUMEAU, Register.THROAT), (Register.CLARION,))
#: The band (Hz) whose radiated share stands for projection.
_PROJECTION_HZ = 1250.0


def _cutoff(note: NoteCharacter) -> float | None:
    return note.lattice.cutoff_hz if note.lattice.kind is LatticeKind.ROW else None


def _height(note: NoteCharacter) -> float | None:
    peak = note.peak()
    return peak.height_db if peak else None


def _radiated(note: NoteCharacter) -> float | None:
    return 10 * math.log10(note.radiated_at_pitch) if note.radiated_at_pitch else None


def _upper_radiated(note: NoteCharacter) -> float | None:
    for band in note.bands:
        if band.centre_hz == _PROJECTION_HZ and band.radiated > 0:
            return 10 * math.log10(band.radiated)
    return None


def _vented(note: NoteCharacter) -> float | None:
    return note.venting.advantage_db if note.venting else None


#: Words, unit and figure of what may run evenly, by a key.
QUANTITIES: dict[str, tuple[Message, str, Callable[[NoteCharacter], float | None]]] = {
    "cutoff": (say("lattice cut-off"), "Hz", _cutoff),
    "peak": (say("sounding peak"), "dB", _height),
    "radiated": (say("radiated at pitch"), "dB", _radiated),
    "projection": (say("radiated at 1250 Hz"), "dB", _upper_radiated),
    "venting": (say("venting"), "dB", _vented),
}


def evenness_of(notes: Sequence[NoteCharacter]) -> list[Evenness]:
    """Evenness of every quantity in every group of registers with two notes or more."""
    found = []
    for registers in GROUPS:
        own = [n for n in notes if n.register_ in registers and n.use is Use.STANDARD]
        own.sort(key=lambda note: note_number(note.written))
        for quantity, unit, read in QUANTITIES.values():
            rows = [(note.fingering, value) for note in own if (value := read(note)) is not None]
            if len(rows) >= 2:
                present = {note.register_ for note in own}
                names = [register.value for register in Register if register in present]
                found.append(_evenness(quantity, unit, names, rows))
    return found


def _evenness(
    quantity: Message, unit: str, registers: list[str], rows: list[tuple[str, float]]
) -> Evenness:
    names, values = [name for name, _ in rows], np.array([value for _, value in rows])
    steps = np.abs(np.diff(values))
    worst = int(np.argmax(steps))
    return Evenness(
        quantity=quantity,
        unit=unit,
        registers=registers,
        notes=names,
        values=values.tolist(),
        mean=float(values.mean()),
        mean_step=float(steps.mean()),
        worst_step=float(steps[worst]),
        worst_between=(names[worst], names[worst + 1]),
    )
