"""Which register speaks, and how it sounds.

A register hole at a third of the sounding length leaves the second resonance alone, while it
shifts and weakens the first, so that the same fingering speaks a twelfth higher: Fletcher and
Rossing, "The Physics of Musical Instruments", chapter 15; Debut, Kergomard and Laloë, arXiv
physics/0309051 (both from memory).
"""

from __future__ import annotations

import numpy as np
import pytest

from borewright.acoustics.blowing import Blowing, blow
from borewright.acoustics.blowing.player import Blowing as Player
from borewright.errors import AcousticsError
from borewright.model import Mouthpiece, Reed, Register, ToneHole
from borewright.model.results.blowing import Speaking

LENGTH = 560.0


@pytest.fixture(scope="module")
def vented(pipe, fingered):
    """A cylinder with a vent at a third, and its two fingerings, blown softly."""
    # The node of the second resonance lies a quarter of its wave below the reed's volume.
    vent = ToneHole(name="V", station_mm=165.0, diameter_mm=3.0, into_bore_mm=2.0)
    tube = pipe(
        length=LENGTH, top=15.0, outside=30.0, holes=[vent],
        mouthpiece=Mouthpiece(bore_length_mm=1.0, chamber_mm3=500.0),
        reed=Reed(equivalent_volume_mm3=500.0),
    )  # fmt: skip
    table = fingered(("D3", [], Register.CHALUMEAU), ("A4", ["V"], Register.CLARION))
    return blow(tube, table, Blowing(pressure=0.42))


def test_the_vent_leaves_the_second_resonance_and_weakens_the_first(vented, cents):
    shut, opened = vented.notes
    (low, twelfth), (raised, kept) = ([t.hz for t in n.thresholds[:2]] for n in (shut, opened))
    assert abs(cents(kept, twelfth)) < 15
    assert cents(raised, low) > 200


def test_with_the_vent_the_twelfth_speaks_and_without_it_the_low_note(vented):
    shut, opened = vented.notes
    assert (shut.easiest, opened.easiest) == (1, 2)  # lowest threshold
    assert (shut.from_rest, opened.from_rest) == (1, 2)  # in time
    assert shut.speaking is opened.speaking is Speaking.BY_ITSELF


def test_the_damped_reed_flattens_the_onset(vented, cents):
    # The reed's damping delays its flow, which takes some cents off the resonance (the sign as
    # in Coyle, Guillemain, Kergomard and Dalmont, J. Acoust. Soc. Am. 138 (2015) 2770, from
    # memory).
    for note in vented.notes:
        assert -20 < cents(note.onset.hz, note.resonance_hz) < -2


def odd_over_even(tone):
    """Level (dB) of harmonics 3, 5 over 2, 4, inside."""
    power = 10 ** (np.array(tone.inside_db[:5]) / 10)
    return 10 * np.log10((power[2] + power[4]) / (power[1] + power[3]))


def test_odd_harmonics_dominate_in_a_cylinder_and_not_in_a_cone(vented, pipe, fingered):
    # A cone cut off near its tip; mouthpiece and reed hold what was cut off.
    cut, length, wide = 150.0, 500.0, 12.0
    volume = np.pi / 3 * (wide / 2) ** 2 * cut
    cone = pipe(
        length=length, top=wide, bottom=wide * (cut + length) / cut, outside=60.0,
        mouthpiece=Mouthpiece(bore_length_mm=1.0, bore_diameter_mm=wide, chamber_mm3=0.8 * volume),
        reed=Reed(equivalent_volume_mm3=0.2 * volume, resonance_hz=3000.0),
    )  # fmt: skip
    table = fingered(("F4", [], Register.CHALUMEAU))
    [note] = blow(cone, table, Blowing(pressure=0.45, embouchure=0.6)).notes
    assert note.tones[0].hz
    assert odd_over_even(note.tones[0]) < 3
    assert odd_over_even(vented.notes[0].tones[0]) > 15


@pytest.fixture(scope="module")
def small(clarinet, fingerings):
    return blow(clarinet, fingerings)


def test_a_table_of_a_small_clarinet(small, fingerings):
    assert [note.fingering for note in small.notes] == [f.name for f in fingerings.fingerings]
    plain, fork = small.notes[:3], small.notes[3]
    assert all(note.speaking is Speaking.BY_ITSELF for note in plain)
    assert all(1 / 3 < note.onset.pressure < 0.45 for note in small.notes if note.resonance == 1)
    # With one hole open between closed ones resonances are out of tune: it hardly speaks.
    assert fork.speaking is not Speaking.BY_ITSELF
    for note in small.notes:
        assert note.fit_error < 0.01
        if note.tones[0].hz:
            assert note.speaking in (Speaking.BY_ITSELF, Speaking.PREPARED, Speaking.HELPED)
            assert 50 < note.tones[0].radiated_db[0] < 110  # at 1 m, what players make
    assert "pressure 0.5 of closing (3.5 of 7 kPa)" in str(small.player)


def test_the_drift_is_the_pitch_of_strong_less_soft(small):
    for note in small.notes:
        soft, strong = note.tones[1], note.tones[2]
        assert soft.pressure < small.pressure < strong.pressure
        if note.drift_cents is not None:
            assert note.drift_cents == pytest.approx(1200 * np.log2(strong.hz / soft.hz))


def test_a_tight_lip_raises_the_pitch_of_low_notes(small):
    # A smaller slit draws less flow, and the damped reed's flow is what flattens.
    for note in small.notes[:3]:
        tight, loose = note.tones[3], note.tones[4]
        assert tight.embouchure < loose.embouchure
        assert tight.hz > loose.hz


@pytest.mark.parametrize(
    ("changed", "words"),
    [
        ({"pressure": 1.5}, "pressure is 1.5"),
        ({"embouchure": 0.0}, "embouchure is 0"),
        ({"closing_kpa": 100.0}, "closing_kpa is 100"),
        ({"distance_m": float("nan")}, "distance_m is nan"),
        ({"reed_hz": 10.0}, "reed_hz is 10"),
        ({"reed_damping": 0.0}, "reed_damping is 0"),
    ],
)
def test_what_no_player_does_is_refused(changed, words):
    with pytest.raises(AcousticsError, match=words):
        Player(**changed).checked()


def test_a_tube_without_a_reed_cannot_be_blown(pipe, fingered):
    with pytest.raises(AcousticsError, match="has no reed"):
        blow(pipe(), fingered(("C4", [], Register.CHALUMEAU)))
