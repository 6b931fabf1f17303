"""The character table of the little clarinet: alignment, venting, evenness, differences."""

from __future__ import annotations

import math

import numpy as np
import pytest

from borewright.acoustics import input_impedance, tuning
from borewright.acoustics.character import FIGURES, character, differences
from borewright.acoustics.character.alignment import aligned, alignment_cents, sounding_number
from borewright.acoustics.character.evenness import evenness_of
from borewright.acoustics.character.venting import vents_of
from borewright.model import CharacterTable, ImpedancePeak, Use


@pytest.fixture(scope="module")
def table(clarinet, fingerings) -> CharacterTable:
    return character(clarinet, fingerings)


def peak(number: int, hz: float, db: float = 20.0) -> ImpedancePeak:
    return ImpedancePeak(
        number=number,
        frequency_hz=hz,
        height=10 ** (db / 20),
        height_db=db,
        width_hz=None,
        quality=None,
    )


def test_pitches_and_twelfths_are_the_tuning_tables(table, clarinet, fingerings):
    tuned = tuning(clarinet, fingerings)
    for note, row in zip(table.notes, tuned.notes, strict=True):
        assert (note.fingering, note.sounding_hz, note.cents, note.status) == (
            row.fingering, row.sounding_hz, row.cents, row.status,
        )  # fmt: skip
    assert table.twelfths == tuned.twelfths


def test_peaks_are_those_of_the_input_impedance(table, clarinet, fingerings):
    """Height and half power looked up in the engine's own impedance (0.1 %)."""
    for index in (0, 5):
        note = table.notes[index]
        holes = fingerings.fingerings[index].open_holes
        found = note.peak()
        hz = found.frequency_hz
        near = np.abs(input_impedance(clarinet, holes, hz + np.array([-1, -0.1, 0, 0.1, 1])))
        assert np.argmax(near) in (1, 2, 3)
        edges = hz + np.array([-0.5, 0.5]) * found.width_hz
        half = np.abs(input_impedance(clarinet, holes, edges)) / near[2]
        assert np.mean(half) == pytest.approx(np.sqrt(0.5), abs=0.01)
    # The low notes sound on their first peak, the vented ones on their second.
    assert [note.sounding_peak for note in table.notes] == [1, 1, 1, 1, 1, 2, 2, 2, 2]


def test_harmonics_are_told_by_distance():
    peaks = aligned([peak(1, 100.0), peak(2, 296.0), peak(3, 530.0, 8.0)], 1, 100.0)
    assert (peaks[0].harmonic, peaks[0].harmonic_cents) == (None, None)
    assert (peaks[1].harmonic, peaks[2].harmonic) == (3, 5)
    assert peaks[1].harmonic_cents == pytest.approx(1200 * math.log2(296 / 300))
    assert alignment_cents(peaks, 1) == peaks[1].harmonic_cents


def test_far_or_faint_peaks_do_not_help():
    far = aligned([peak(1, 100.0), peak(2, 270.0)], 1, 100.0)
    assert alignment_cents(far, 1) is None
    faint = aligned([peak(1, 100.0), peak(2, 300.0, 4.9)], 1, 100.0)
    assert alignment_cents(faint, 1) is None
    assert alignment_cents(aligned([peak(1, 100.0), peak(2, 300.0, 5.1)], 1, 100.0), 1) == 0.0


def test_the_sounding_peak_is_the_nearest_within_a_tone():
    peaks = [peak(1, 100.0), peak(2, 310.0)]
    assert sounding_number(peaks, 305.0) == 2
    assert sounding_number(peaks, 200.0) is None
    assert sounding_number(peaks, None) is None
    assert sounding_number([], 100.0) is None


def test_venting_tells_what_two_impedances_tell(table, fingerings):
    assert vents_of(fingerings, table.twelfths) == {"V"}
    high, low = table.note("E5"), table.note("A3")
    vent = high.venting
    assert (vent.low, vent.high, vent.vent) == ("A3", "E5", "V")
    assert vent.first_shift_cents == pytest.approx(
        1200 * math.log2(high.peaks[0].frequency_hz / low.peaks[0].frequency_hz)
    )
    assert vent.first_loss_db == pytest.approx(low.peaks[0].height_db - high.peaks[0].height_db)
    assert vent.advantage_db == pytest.approx(high.peaks[1].height_db - high.peaks[0].height_db)
    # The vent's office: it pushes the first peak up and down in size, and spares the second.
    for note in table.notes:
        if note.venting:
            assert note.venting.first_shift_cents > 100
            assert note.venting.first_loss_db > 2
            assert abs(note.venting.second_shift_cents) < 50
            assert abs(note.venting.second_loss_db) < 2
            assert "twelfth" in str(note.words[-1]) or "low note" in str(note.words[-1])
    assert low.venting is None


def test_evenness_is_the_mean_step(table):
    [row] = [
        row
        for row in table.evenness
        if str(row.quantity) == "sounding peak" and row.registers == ["chalumeau", "throat"]
    ]
    # Eb4 stands before E4, whatever the order of the table.
    assert row.notes == ["A3", "C#4", "Eb4", "E4", "F#4"]
    steps = np.abs(np.diff(row.values))
    assert row.mean_step == pytest.approx(np.mean(steps))
    assert row.worst_step == pytest.approx(np.max(steps))
    at = int(np.argmax(steps))
    assert row.worst_between == (row.notes[at], row.notes[at + 1])
    assert row.values[0] == table.note("A3").peak().height_db


def test_alternates_take_no_part_in_evenness(table):
    apart = [note.model_copy(update={"use": Use.APART}) for note in table.notes]
    assert evenness_of(apart) == []


def test_every_measure_says_what_it_is(table):
    assert [str(measure.name) for measure in table.measures] == [
        "peaks", "alignment", "lattice cut-off", "radiated share", "venting", "evenness",
    ]  # fmt: skip
    assert all(str(measure.basis) == "common practice" for measure in table.measures)
    assert all(measure.source and measure.definition for measure in table.measures)


def test_an_instrument_does_not_differ_from_itself(table):
    same = differences(table, table)
    assert all(value == 0 for note in same.notes for value in note.differences.values())
    assert {str(note.words) for note in same.notes} == {"much the same"}
    assert "No standard note differs by what a player may plausibly notice." in map(
        str, same.sentences
    )
    assert {each.stretch_cents for each in same.twelfths} == {0.0}


def test_what_was_changed_is_what_is_told(table):
    def change(note):
        if note.fingering != "E4":
            return note
        lattice = note.lattice.model_copy(update={"cutoff_hz": note.lattice.cutoff_hz + 200})
        return note.model_copy(update={"cents": note.cents - 20, "lattice": lattice})

    other = table.model_copy(update={"notes": [change(note) for note in table.notes]})
    found = differences(table, other)
    assert set(found.units) == set(found.steps) == set(FIGURES)
    [note] = [note for note in found.notes if note.size > 0]
    assert note.fingering == "E4"
    assert note.differences["pitch"] == pytest.approx(-20)
    assert note.size == pytest.approx(math.hypot(20 / 5, 200 / 50))
    assert str(note.words) == (
        "flatter (pitch -20.0 cents); brighter, more open (lattice cut-off +200 Hz)"
    ) or str(note.words).startswith("brighter")
    assert "The standard notes that differ most: E4." in map(str, found.sentences)
    [register] = [row for row in found.registers if row.register_ == "chalumeau"]
    assert register.differences["pitch"] == pytest.approx(-20 / 4)


def test_notes_of_one_only_are_named(table):
    fewer = table.model_copy(update={"notes": table.notes[:3]})
    found = differences(table, fewer)
    assert found.only_first == [note.fingering for note in table.notes[3:]]
    assert found.only_second == []
    nothing = differences(table, table.model_copy(update={"notes": []}))
    assert [str(each) for each in nothing.sentences] == ["The two have no fingering in common."]
