"""The character table: every fingering's peaks, alignment, cut-off, radiation and venting."""

from __future__ import annotations

from typing import Any, NamedTuple

import jax.numpy as jnp
import numpy as np

from borewright.acoustics import kernels
from borewright.acoustics.air import air_state, temperature_profile
from borewright.acoustics.character.alignment import aligned, alignment_cents, sounding_number
from borewright.acoustics.character.evenness import evenness_of
from borewright.acoustics.character.fields import fields
from borewright.acoustics.character.lattice import first_hole, lattice_of, open_row
from borewright.acoustics.character.measures import MEASURES
from borewright.acoustics.character.peaks import peaks_of
from borewright.acoustics.character.radiation import at_pitch, bands_of
from borewright.acoustics.character.venting import venting, vents_of
from borewright.acoustics.character.words import alignment_words, cutoff_words, peak_words
from borewright.acoustics.options import Air
from borewright.acoustics.request import request_of_table, sweep_grid
from borewright.acoustics.side_holes import hole_level
from borewright.acoustics.tuning import table_of
from borewright.errors import AcousticsError
from borewright.model import (
    CharacterTable,
    FingeringTable,
    ImpedancePeak,
    Instrument,
    LatticeCutoff,
    NoteCharacter,
    NoteResult,
    TuningTable,
    Venting,
)
from borewright.words import Said, say

#: Figures are looked for up to about this frequency: the formulas of open ends hold to ka = 1.5.
HIGHEST_HZ = 4000.0
_HEADROOM = 1.35  # what sweep_grid adds


class Spectra(NamedTuple):
    """The curves behind a character table; [F, K] over the frequencies [K] (Hz)."""

    frequencies: np.ndarray
    impedance: np.ndarray  # complex, over the characteristic impedance at the bore's top
    radiated_holes: np.ndarray  # shares of the entering power
    radiated_end: np.ndarray
    wall: np.ndarray
    reflection: np.ndarray  # complex, of all below the first open hole
    row: np.ndarray  # complex, of the open-hole row alone
    vents: set[str]

    def of(self, name: str, index: int) -> dict[str, Any]:
        """The curves of one fingering as plain lists, for JSON and pictures."""
        return {
            "fingering": name,
            "frequency_hz": self.frequencies.tolist(),
            "impedance_db": (20 * np.log10(np.abs(self.impedance[index]))).tolist(),
            "radiated_holes": self.radiated_holes[index].tolist(),
            "radiated_end": self.radiated_end[index].tolist(),
            "wall": self.wall[index].tolist(),
            "returned_below": (np.abs(self.reflection[index]) ** 2).tolist(),
            "returned_row": (np.abs(self.row[index]) ** 2).tolist(),
        }


def spectra(instrument: Instrument, fingerings: FingeringTable, air: Air | None = None) -> Spectra:
    """All curves of all fingerings at once; arguments as for :func:`character`."""
    return _spectra(instrument, fingerings, air)[0]


def character(
    instrument: Instrument, fingerings: FingeringTable, air: Air | None = None
) -> CharacterTable:
    """Peaks, alignment, cut-off, radiated share and venting of every fingering, and evenness.

    Parameters
    ----------
    instrument, fingerings, air
        As for :func:`borewright.acoustics.tuning`.

    Returns
    -------
    CharacterTable
        With the definition and source of every figure, and the error of the energy balance.

    Raises
    ------
    AcousticsError
        Where no power can enter: a lossless tube whose end does not radiate.
    """
    return character_with_curves(instrument, fingerings, air)[0]


def character_with_curves(
    instrument: Instrument, fingerings: FingeringTable, air: Air | None = None
) -> tuple[CharacterTable, Spectra]:
    """The table and the curves behind it, computed once; arguments as for :func:`character`."""
    curves, tuned = _spectra(instrument, fingerings, air)
    balance = curves.radiated_holes + curves.radiated_end + curves.wall - 1.0
    peaks = peaks_of(curves.frequencies, 1.0 / curves.impedance)
    rows = dict(zip((note.fingering for note in tuned.notes), peaks, strict=True))
    vented = _venting(fingerings, tuned, rows)
    speed = speed_of_sound(instrument, air)
    notes = []
    for index, (fingering, note) in enumerate(zip(fingerings.fingerings, tuned.notes, strict=True)):
        lattice = lattice_of(
            instrument,
            fingering.open_holes,
            curves.vents,
            speed,
            curves.frequencies,
            curves.reflection[index],
            curves.row[index],
        )
        at = at_pitch(
            curves.frequencies,
            curves.radiated_holes[index],
            curves.radiated_end[index],
            note.sounding_hz,
        )
        radiated = curves.radiated_holes[index] + curves.radiated_end[index]
        notes.append(
            _note(note, peaks[index], lattice, vented.get(note.fingering)).model_copy(
                update={
                    "radiated_at_pitch": at[0],
                    "bell_share": at[1],
                    "bands": bands_of(curves.frequencies, radiated),
                }
            )
        )
    table = CharacterTable(
        instrument=instrument.name,
        notes=notes,
        evenness=evenness_of(notes),
        twelfths=tuned.twelfths,
        measures=MEASURES,
        highest_hz=float(curves.frequencies[-1]),
        balance_error=float(np.max(np.abs(balance))) if balance.size else 0.0,
        model_level=tuned.model_level,
        climate=tuned.climate,
    )
    return table, curves


def _spectra(
    instrument: Instrument, fingerings: FingeringTable, air: Air | None
) -> tuple[Spectra, TuningTable]:
    level = hole_level(instrument)
    request = request_of_table(instrument, fingerings, air, level.terms)
    solved = kernels.resonances(*request)
    tuned = table_of(instrument, fingerings, solved, air, level=level.words)
    vents = vents_of(fingerings, tuned.twelfths)
    names = instrument.hole_names()
    tops = [first_hole(instrument, row.open_holes, vents) for row in fingerings.fingerings]
    rows = [open_row(instrument, row.open_holes, vents) for row in fingerings.fingerings]
    first = np.array([names.index(name) if name else len(names) for name in tops], dtype=int)
    last = np.array([names.index(row[-1]) if row else len(names) for row in rows], dtype=int)
    grid = sweep_grid(instrument, HIGHEST_HZ / _HEADROOM)
    found = fields(*request[:4], grid, request.masks, first, last)
    curves = Spectra(
        grid,
        1.0 / np.asarray(found.admittance),
        np.asarray(found.radiated_holes),
        np.asarray(found.radiated_end),
        np.asarray(found.wall),
        np.asarray(found.reflection),
        np.asarray(found.row),
        vents,
    )
    if not all(np.all(np.isfinite(entry)) for entry in curves[1:7]):
        raise AcousticsError(
            say("no power enters the tube, so shares of it have no meaning"),
            place=say("'{instrument}'", instrument=instrument.name),
            remedy=say("Leave losses on, or let the end radiate."),
        )
    return curves, tuned


def _note(
    note: NoteResult, peaks: list[ImpedancePeak], lattice: LatticeCutoff, vent: Venting | None
) -> NoteCharacter:
    sounding = sounding_number(peaks, note.sounding_hz)
    peaks = aligned(peaks, sounding, note.sounding_hz)
    carrying = next((peak for peak in peaks if peak.number == sounding), None)
    alignment = alignment_cents(peaks, sounding)
    words: list[Said] = [cutoff_words(lattice), peak_words(carrying), alignment_words(alignment)]
    return NoteCharacter(
        written=note.written,
        register=note.register_,
        fingering=note.fingering,
        use=note.use,
        target_hz=note.target_hz,
        sounding_hz=note.sounding_hz,
        cents=note.cents,
        peaks=peaks,
        sounding_peak=sounding,
        alignment_cents=alignment,
        lattice=lattice,
        radiated_at_pitch=None,
        bell_share=None,
        bands=[],
        venting=vent,
        words=[*words, *([vent.words] if vent else [])],
        status=note.status,
    )


def _venting(
    fingerings: FingeringTable, tuned: TuningTable, peaks: dict[str, list[ImpedancePeak]]
) -> dict[str, Venting]:
    """By the name of the upper note."""
    by_name = {fingering.name: fingering for fingering in fingerings.fingerings}
    found = {}
    for pair in tuned.twelfths:
        served = venting(by_name[pair.low], by_name[pair.high], peaks[pair.low], peaks[pair.high])
        if served:
            found[pair.high] = served
    return found


def speed_of_sound(instrument: Instrument, air: Air | None = None) -> float:
    """Speed (m/s) for the formula: that of the middle of the bore."""
    if air is not None:
        return air.speed_of_sound
    climate = instrument.climate
    middle = temperature_profile(
        jnp.asarray(instrument.length_mm / 2e3),
        climate.reed_end_c,
        climate.room_c,
        climate.decay_mm / 1e3,
    )
    state = air_state(
        middle, climate.relative_humidity, climate.carbon_dioxide, climate.pressure_hpa * 100
    )
    return float(state.speed_of_sound)
