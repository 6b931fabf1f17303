"""Note names and the pitch standard: ISO 16, MIDI numbers, equal temperament."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from borewright.model import PitchStandard, note_name, note_number


@pytest.mark.parametrize(
    ("name", "number"),  # MIDI 1.0: middle C is 60, A above it 69
    [("A4", 69), ("C4", 60), ("Bb3", 58), ("B♭3", 58), ("F#5", 78), ("F♯5", 78), ("Cb4", 59)],
)
def test_note_numbers(name, number):
    assert note_number(name) == number


@given(st.integers(0, 127))
def test_names_and_numbers_agree(number):
    assert note_number(note_name(number)) == number


@pytest.mark.parametrize("name", ["", "H4", "A", "4", "A44", "Abb3", "A4 b", "do", "A-9", "C99"])
def test_what_is_no_note(name):
    with pytest.raises(ValueError, match="not a note"):
        note_number(name)


def test_equal_temperament_from_a440():
    # 440·2^((m−69)/12): D3 and F4 as printed in tables of equal temperament, to 0.001 Hz.
    standard = PitchStandard(written_to_sounding_semitones=-2)
    assert standard.target_hz("E3") == pytest.approx(146.832, abs=5e-4)
    assert standard.target_hz("G4") == pytest.approx(349.228, abs=5e-4)


def test_a_temperament_shifts_the_sounding_note():
    cents = [0.0] * 12
    cents[2] = -10.0  # D
    standard = PitchStandard(written_to_sounding_semitones=-2, temperament_cents=cents)
    assert standard.target_hz("E3") == pytest.approx(146.8324 * 2 ** (-10 / 1200), rel=1e-5)
    assert standard.target_hz("F3") == pytest.approx(155.5635, rel=1e-5)


@pytest.mark.parametrize("change", [{"a4_hz": float("nan")}, {"temperament_cents": [0.0] * 11}])
def test_a_wrong_standard(change):
    with pytest.raises(ValueError, match=r"a4_hz|twelve"):
        PitchStandard(**change)
