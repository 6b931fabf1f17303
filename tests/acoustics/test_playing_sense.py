"""What every player and maker knows, as signs and sizes; one compiled instrument for all."""

from __future__ import annotations

import numpy as np
import pytest

from borewright.acoustics import input_impedance, tuning
from borewright.acoustics.air import air_state
from borewright.model import (
    Climate,
    Instrument,
    PitchStandard,
    dimensions,
    read_values,
    with_values,
)


@pytest.fixture(scope="module")
def pitches(fingerings):
    """Frequencies (Hz) of all fingerings of an instrument; every one must sound."""

    def find(instrument: Instrument) -> np.ndarray:
        return np.array([note.sounding_hz for note in tuning(instrument, fingerings).notes])

    return find


@pytest.fixture(scope="module")
def moved(clarinet, pitches, cents):
    """Cents by which notes move when one dimension of the clarinet grows by so many mm."""

    def find(label: str, millimetres: float) -> np.ndarray:
        labels = [dimension.label for dimension in dimensions(clarinet)]
        values = read_values(clarinet)
        values[labels.index(label)] += millimetres
        return cents(pitches(with_values(clarinet, values)), pitches(clarinet))

    return find


def column(fingerings, *names: str) -> list[int]:
    every = [fingering.name for fingering in fingerings.fingerings]
    return [every.index(name) for name in names]


def test_a_larger_hole_sharpens_and_a_note_of_its_own_most(fingerings, moved):
    """And never flattens one where it is open; where it is closed, its volume flattens."""
    change = moved("F diameter", 0.2)
    first_open = column(fingerings, "E4", "Eb4", "B5", "F#5")
    assert np.all(change[first_open] > 0)
    assert np.all(change[column(fingerings, "A3", "C#4")] < 0)
    assert np.argmax(change) in first_open


def test_a_lower_pad_flattens(fingerings, moved):
    change = moved("P lift", -1.0)
    assert np.all(change[column(fingerings, "C#4", "G#5")] < -1)
    # Where its hole stays shut the lift means nothing at all.
    assert change[column(fingerings, "A3", "E5", "Eb4", "F#5")] == pytest.approx(0, abs=1e-6)


def test_a_higher_chimney_flattens(fingerings, moved):
    change = moved("P chimney", 0.5)
    assert np.all(change[column(fingerings, "C#4", "E4", "G#5")] < 0)


def test_a_deeper_or_wider_undercut_sharpens(fingerings, moved):
    """Workshop lore: any undercut raises its note (common practice)."""
    for label in ("F undercut diameter", "F undercut depth"):
        assert np.all(moved(label, 0.4)[column(fingerings, "E4", "Eb4")] > 0)


def test_a_longer_barrel_flattens_everything_and_short_notes_most(fingerings, moved):
    """1 mm costs a B-flat clarinet 2.9 cents on the lowest note and 7.1 on open G (trade
    handbook, computed). This one is half as long at its lowest: 6 cents, and more above."""
    change = moved("barrel length", 1.0)
    assert np.all(change < 0)
    long, middle, short = change[column(fingerings, "A3", "C#4", "F#4")]
    assert short < middle < long
    # 1200 / ln 2 * 1 mm / L, with L = c / 4 f some 430 and 260 mm.
    assert [long, short] == pytest.approx([-4.0, -6.6], abs=0.6)


def test_a_hole_further_up_sharpens(fingerings, moved):
    change = moved("P station", -2.0)
    assert np.all(change[column(fingerings, "C#4", "G#5")] > 0)


def test_mouthpiece_and_reed_volume_flatten_like_a_longer_tube(clarinet, pitches, cents):
    """A small volume at the closed end counts as the length of bore that would hold it.

    500 mm³ are 2.8 mm of a 15 mm bore: on the lowest note, 430 long, 11 cents.
    """
    roomy = clarinet.mouthpiece.model_copy(update={"chamber_mm3": 3400.0})
    soft = clarinet.reed.model_copy(update={"equivalent_volume_mm3": 1500.0})
    for change in ({"mouthpiece": roomy}, {"reed": soft}):
        shift = cents(pitches(clarinet.model_copy(update=change)), pitches(clarinet))
        assert np.all(shift < 0)
        assert shift[0] == pytest.approx(-11.3, rel=0.1)


def in_climate(clarinet: Instrument, **changes: float) -> Instrument:
    dry = {"room_c": 20, "reed_end_c": 20, "relative_humidity": 0, "carbon_dioxide": 0.0004}
    return clarinet.model_copy(update={"climate": Climate(**{**dry, **changes})})


def test_uniform_warmth_follows_the_square_root_law(clarinet, pitches, cents):
    """1200 log2 sqrt(T ratio): 29.3 cents for 10 °C, some 3 a degree (trade handbook).

    Warm air also drags more: 0.8 cent covers the growth of the losses.
    """
    cold, warm = (in_climate(clarinet, room_c=t, reed_end_c=t) for t in (20.0, 30.0))
    shift = cents(pitches(warm), pitches(cold))
    assert shift == pytest.approx(600 * np.log2(303.15 / 293.15), abs=0.8)
    assert np.all(shift < 600 * np.log2(303.15 / 293.15))


def test_breath_moves_pitch_by_its_speed_of_sound(clarinet, pitches, cents):
    """Humidity up, carbon dioxide down; what remains are losses, half a cent."""
    plain = pitches(in_climate(clarinet, room_c=30, reed_end_c=30))
    for change in ({"relative_humidity": 0.9}, {"carbon_dioxide": 0.035}):
        climate = {"room_c": 30, "reed_end_c": 30, **change}
        air = air_state(30.0, change.get("relative_humidity", 0), change.get("carbon_dioxide", 0))
        expected = 1200 * np.log2(float(air.speed_of_sound / air_state(30.0).speed_of_sound))
        shift = cents(pitches(in_climate(clarinet, **climate)), plain)
        assert shift == pytest.approx(expected, abs=0.5)


def test_a_warm_reed_end_sharpens_short_notes_most(clarinet, pitches, cents, fingerings):
    """The bore is warm at the top and near the room below: the profile matters by note."""
    cold, warm = in_climate(clarinet), in_climate(clarinet, reed_end_c=30, decay_mm=200)
    shift = cents(pitches(warm), pitches(cold))
    uniform = cents(pitches(in_climate(clarinet, room_c=30, reed_end_c=30)), pitches(cold))
    long, middle, short = column(fingerings, "A3", "C#4", "F#4")
    assert np.all((shift > 0) & (shift < uniform))
    assert shift[short] > shift[middle] > shift[long]


def test_the_profile_has_both_uniform_limits(clarinet, pitches, cents):
    """A decay far longer than the tube is the reed's air throughout; a short one the room's."""
    for decay, same in ((1e5, 30.0), (5.0, 20.0)):
        found = pitches(in_climate(clarinet, reed_end_c=30, decay_mm=decay))
        expected = pitches(in_climate(clarinet, room_c=same, reed_end_c=same))
        # The very top of the mouthpiece is always at the reed's temperature: 0.5 cent.
        assert cents(found, expected) == pytest.approx(0, abs=0.5)


def test_thin_air_hardly_moves_the_pitch(clarinet, pitches, cents):
    """The speed of sound does not know the pressure; thin air drags more: below 2 cents."""
    shift = cents(pitches(in_climate(clarinet, pressure_hpa=900)), pitches(in_climate(clarinet)))
    assert np.all((shift < 0) & (shift > -2))


def test_rough_walls_damp_and_flatten(clarinet, pitches, cents):
    """Half as much loss again: lower peaks, a smaller |R|, a lower pitch."""
    rough = clarinet.model_copy(update={"wall_loss_factor": 1.5})
    smooth_hz, rough_hz = pitches(clarinet), pitches(rough)
    assert np.all(cents(rough_hz, smooth_hz) < 0)
    characteristic = 346 * 1.18 / (np.pi * 7.5e-3**2)
    low = smooth_hz[:1], rough_hz[:1]
    peaks = [
        input_impedance(instrument, [], hz)[0].real / characteristic
        for instrument, hz in zip((clarinet, rough), low, strict=True)
    ]
    assert peaks[1] < 0.8 * peaks[0]
    modulus = [(peak - 1) / (peak + 1) for peak in peaks]
    assert 0 < modulus[1] < modulus[0] < 1


def test_the_pitch_standard_only_moves_the_goal(clarinet, fingerings):
    """440 to 442 is 7.85 cents (trade handbook); the instrument sounds as before."""
    high = clarinet.model_copy(
        update={"pitch": PitchStandard(a4_hz=442, written_to_sounding_semitones=-2)}
    )
    before, after = tuning(clarinet, fingerings), tuning(high, fingerings)
    for old, new in zip(before.notes, after.notes, strict=True):
        assert new.sounding_hz == pytest.approx(old.sounding_hz, rel=1e-12)
        assert old.cents - new.cents == pytest.approx(7.85, abs=0.01)


def test_twelfths_are_pairs_that_differ_by_the_vent(clarinet, fingerings, cents):
    """A fork whose vented pitch is written otherwise is no twelfth."""
    table = tuning(clarinet, fingerings)
    pairs = [(twelfth.low, twelfth.high) for twelfth in table.twelfths]
    assert pairs == [("A3", "E5"), ("C#4", "G#5"), ("E4", "B5")]
    low, high = (table.note(name).sounding_hz for name in pairs[1])
    assert table.twelfths[1].stretch_cents == pytest.approx(float(cents(high, low)) - 1901.955)


def test_the_table_names_model_and_climate(clarinet, fingerings):
    table = tuning(clarinet, fingerings)
    assert str(table.model_level) == "closed forms"
    assert "room 21 °C" in str(table.climate)
    assert table.summary.worst_note in {fingering.name for fingering in fingerings.fingerings}
