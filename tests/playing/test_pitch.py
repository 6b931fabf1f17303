"""Pitches of synthetic clarinet-like tones, whose truth is known."""

from __future__ import annotations

import numpy as np
import pytest

from borewright.model import note_name
from borewright.playing import analyse_take

#: Vibrato (cents) and length of the beginning's transient (ms).
KINDS = [(0, 20), (0, 300), (15, 60), (25, 2000), (0, 2000), (8, 1000)]


def test_tones_over_the_whole_range(recorded, scale, b_flat, synthesis):
    """E3 to G6 written; median error under 0.5 cent, 95 % under 1.5, no other register."""
    rng = np.random.default_rng(7)
    errors = []
    for vibrato, transient in KINDS:
        notes = [(note_name(number), rng.uniform(-30, 30)) for number in range(52, 92, 3)]
        samples = scale(
            notes,
            rng,
            seconds=1.6 + transient / 1000,
            vibrato_cents=vibrato,
            vibrato_hz=rng.uniform(4.5, 6.5),
            transient_ms=transient,
            glide_cents=rng.uniform(-40, 40),
        )
        order = [name for name, _ in notes]
        take, _ = analyse_take(
            recorded(samples), pitch=b_flat, temperature_c=21, order=order, tones=False
        )
        assert [note.name for note in take.notes] == order
        assert {note.status for note in take.notes} == {"ok"}
        errors += [note.cents - cents for note, (_, cents) in zip(take.notes, notes, strict=True)]
    size = np.abs(errors)
    assert len(size) == 14 * len(KINDS)
    assert np.median(size) < 0.5
    assert np.percentile(size, 95) < 1.5
    assert size.max() < 5.0  # an octave or twelfth error would be 1200 or 1900


def test_spread_drift_and_vibrato_are_those_planted(recorded, scale, b_flat):
    rng = np.random.default_rng(1)
    samples = scale([("A4", 5.0)], rng, seconds=3.0, vibrato_cents=20.0, vibrato_hz=5.5)
    take, track = analyse_take(recorded(samples), pitch=b_flat, temperature_c=21)
    [note] = take.notes
    assert note.vibrato_hz == pytest.approx(5.5, abs=0.1)
    # Windows of 30 ms average a vibrato of 180 ms: a few per cent of its extent are lost.
    assert note.vibrato_cents == pytest.approx(20.0, abs=1.5)
    assert abs(note.drift_cents_per_s) < 0.5
    assert note.spread_cents < 2.0
    assert note.level_db == pytest.approx(-20.0, abs=0.5)
    assert len(track.times_s) == len(track.hz) == len(track.level_db)


def test_a_drifting_note_is_judged_at_its_middle(recorded, synthesis, b_flat):
    time = np.arange(3 * 44_100) / 44_100
    hz = b_flat.target_hz("C5")
    phase = 2 * np.pi * np.cumsum(hz * 2 ** (4.0 * (time - 1.5) / 1200)) / 44_100
    samples = 0.1 * (np.sin(phase) + 0.3 * np.sin(3 * phase + 1))
    take, _ = analyse_take(recorded(samples), pitch=b_flat, temperature_c=21)
    [note] = take.notes
    assert note.drift_cents_per_s == pytest.approx(4.0, abs=0.2)
    middle = (note.steady_start_s + note.steady_end_s) / 2
    assert note.cents == pytest.approx(4.0 * (middle - 1.5), abs=0.2)


def test_settling_is_timed(recorded, scale, b_flat):
    rng = np.random.default_rng(2)
    samples = scale([("D5", 0.0)], rng, seconds=3.0, transient_ms=1500, glide_cents=-40)
    take, _ = analyse_take(recorded(samples), pitch=b_flat, temperature_c=21)
    [note] = take.notes
    # 40 cents fall to 1.5 within ln(40 / 1.5) = 3.3 of five time constants.
    assert note.settle_ms == pytest.approx(1500 * 3.3 / 5, rel=0.25)
    assert note.start_cents < -25


@pytest.mark.parametrize(
    ("name", "rate", "more"),
    [("take.flac", 48_000, {}), ("take.ogg", 44_100, {}), ("take.wav", 22_050, {}),
     ("take.wav", 96_000, {"subtype": "PCM_24"}), ("take.wav", 37_001, {"subtype": "FLOAT"})],
)  # fmt: skip
def test_formats_and_rates(recorded, synthesis, b_flat, name, rate, more):
    rng = np.random.default_rng(3)
    tone = synthesis.tone(b_flat.target_hz("G4"), 1.5, rng, rate=rate)
    stereo = np.stack([0.05 * tone, tone], axis=1)
    path = recorded(stereo, name, rate, **more)
    take, _ = analyse_take(path, pitch=b_flat, temperature_c=21)
    [note] = take.notes
    assert (note.name, take.sample_rate, take.channels) == ("G4", rate, 2)
    assert note.cents == pytest.approx(0.0, abs=0.5)


def test_tone_descriptors_are_those_of_the_harmonics(recorded, b_flat):
    """Amplitudes 1/k for odd and 0.1/k for even harmonics, worked out by hand."""
    hz = b_flat.target_hz("G4")
    time = np.arange(2 * 44_100) / 44_100
    numbers = np.arange(1, int(5000 / hz) + 1)
    strength = np.where(numbers % 2, 1.0, 0.1) / numbers
    samples = 0.1 * sum(
        a * np.sin(2 * np.pi * k * hz * time + k) for k, a in zip(numbers, strength, strict=True)
    )
    take, _ = analyse_take(recorded(samples), pitch=b_flat, temperature_c=21)
    tone = take.notes[0].tone
    assert tone.centroid_hz == pytest.approx(
        hz * np.sum(numbers * strength) / strength.sum(), rel=0.01
    )
    odd, even = strength[2::2], strength[1::2]
    balance = 10 * np.log10(np.mean(odd**2) / np.mean(even**2))
    assert tone.odd_even_db == pytest.approx(balance, abs=0.2)
    line = np.polyfit(np.log2(numbers), 20 * np.log10(strength), 1)[0]
    assert tone.slope_db_per_octave == pytest.approx(line, abs=0.2)


def test_a_drifting_note_is_told_at_its_middle(recorded, b_flat):
    """A tone that falls 6 cents a second: the middle's pitch, by the sine's own phase."""
    rate, seconds, fall = 44_100, 2.4, -6.0
    time = np.arange(int(seconds * rate)) / rate
    hz = b_flat.target_hz("C5")
    cents = 5.0 + fall * (time - seconds / 2)
    phase = 2 * np.pi * np.cumsum(hz * 2 ** (cents / 1200)) / rate
    wave = 0.2 * (np.sin(phase) + 0.4 * np.sin(3 * phase))
    quiet = 1e-4 * np.random.default_rng(0).normal(size=rate // 2)
    samples = np.concatenate([quiet, wave, quiet])
    take, _ = analyse_take(
        recorded(samples), pitch=b_flat, temperature_c=20, order=["C5"], tones=False
    )
    [note] = take.notes
    assert note.cents == pytest.approx(5.0, abs=0.4)
    assert note.drift_cents_per_s == pytest.approx(fall, abs=0.3)


@pytest.mark.parametrize("clear", [0, 1])
def test_the_clear_channel_is_listened_to_not_the_louder(recorded, scale, b_flat, clear):
    """A second microphone picks up 12 dB more level, nearly all of it noise and hum."""
    rng = np.random.default_rng(3)
    names = ["E4", "F4", "G4", "A4"]
    own = scale([(name, 7.0) for name in names], rng, noise=0.0005)
    time = np.arange(len(own)) / 44_100
    noisy = 0.2 * own + 0.25 * rng.normal(size=len(own)) + 0.3 * np.sin(2 * np.pi * 50 * time)
    samples = np.stack([own, noisy] if clear == 0 else [noisy, own], axis=1)
    take, _ = analyse_take(
        recorded(samples), pitch=b_flat, temperature_c=20, order=names, tones=False
    )
    assert [(note.name, str(note.status)) for note in take.notes] == [(n, "ok") for n in names]
    assert [note.cents for note in take.notes] == pytest.approx([7.0] * 4, abs=1.0)
