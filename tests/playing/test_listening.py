"""Rendered sound, listened to through analysis: loudness, peaks, clicks and pitch."""

from __future__ import annotations

import numpy as np
import pytest

from borewright.errors import PlayingError
from borewright.model import FingeringTable, PitchStandard, Use
from borewright.playing.listening import (
    ScoreNote,
    click_db,
    listen,
    loudness_lufs,
    made_equal,
    midi_score,
    notes_score,
    render,
    scale_score,
    true_peak_db,
)

RATE = 48_000


@pytest.fixture(scope="module")
def designs():
    """The example clarinet, and one with a narrower bore at the top; two notes suffice."""
    from pathlib import Path

    import borewright
    from borewright.model import load, read_fingerings

    folder = Path(borewright.__file__).parent / "examples" / "loan-clarinet"
    first = load(folder / "clarinet.toml")
    upper = first.parts[1].model_copy(
        update={"bore": [(station, wide - 0.15) for station, wide in first.parts[1].bore]}
    )
    second = first.model_copy(update={"parts": [first.parts[0], upper, *first.parts[2:]]})
    table = read_fingerings(folder / "fingerings.csv")
    return (first, second), table


@pytest.fixture(scope="module")
def compared(designs, tmp_path_factory):
    instruments, table = designs
    folder = tmp_path_factory.mktemp("sound")
    score = notes_score(["G3", "C4", "A3"], 0.7)
    renderings = [render(each, table, score) for each in instruments]
    return listen(renderings, [folder / "A.wav", folder / "B.wav"])


def test_two_designs_are_equally_loud(compared):
    # Asked for within 1 dB (ITU-R BS.1770); the same gain law brings both to one figure.
    first, second = compared
    assert abs(first.loudness_lufs - second.loudness_lufs) < 0.1
    assert -40 < first.loudness_lufs < -20


def test_nothing_clips_and_nothing_clicks(compared):
    for file in compared:
        assert file.true_peak_db < -0.9
        assert file.click_db < -70


def test_the_tracker_hears_the_models_pitch(compared):
    for file in compared:
        assert [note.fingering for note in file.notes] == ["G3", "C4", "A3"]
        for note in file.notes:
            assert note.hz is not None
            assert note.apart_cents is not None
            assert abs(note.apart_cents) < 2.0  # as asked for
    first, second = (np.array([note.hz for note in file.notes]) for file in compared)
    assert np.all(np.abs(1200 * np.log2(second / first)) > 0.1)  # they are two designs


def test_the_file_is_what_the_checks_saw(compared):
    import soundfile

    for file in compared:
        samples, rate = soundfile.read(file.path)
        assert rate == file.sample_rate == RATE
        assert len(samples) / rate == pytest.approx(file.seconds)
        assert loudness_lufs(samples, rate) == pytest.approx(file.loudness_lufs, abs=0.01)


def tone(level=0.1, seconds=1.0):
    time = np.arange(round(seconds * RATE)) / RATE
    envelope = np.clip(np.minimum(time, seconds - time) / 0.05, 0, 1)
    return level * (0.5 - 0.5 * np.cos(np.pi * envelope)) * np.sin(2 * np.pi * 440 * time)


def test_a_click_is_found():
    smooth = tone()
    jump = smooth.copy()
    jump[20_000:] += 0.01  # -20 dB of the tone: plainly heard
    cut = smooth[: len(smooth) // 2 + 13]
    assert click_db(smooth, RATE) < -100
    assert click_db(jump, RATE) > -70
    assert click_db(cut, RATE) > -70


def test_the_true_peak_lies_between_samples():
    # A sine at a quarter of the rate, sampled 45 degrees off its peaks: 3.01 dB above them.
    samples = np.sin(np.pi / 2 * np.arange(4000) + np.pi / 4)
    assert 20 * np.log10(np.abs(samples).max()) == pytest.approx(-3.01, abs=0.01)
    middle = true_peak_db(samples * np.hanning(4000))
    assert middle == pytest.approx(0.0, abs=0.1)


def test_a_997_hz_sine_has_the_loudness_of_the_standard():
    # BS.1770: a full-scale sine near 1 kHz in one channel reads -3.01 LUFS.
    time = np.arange(5 * RATE) / RATE
    assert loudness_lufs(np.sin(2 * np.pi * 997 * time), RATE) == pytest.approx(-3.01, abs=0.05)


def test_loud_peaks_lower_both():
    bursts = np.zeros(4 * RATE)
    bursts[:: RATE // 2] = 50.0
    bursts += tone(1.0, 4.0) * 0.01
    first, second = made_equal([tone(2.0, 4.0), bursts], RATE)
    assert max(true_peak_db(first), true_peak_db(second)) < -0.9
    assert loudness_lufs(first, RATE) == pytest.approx(loudness_lufs(second, RATE), abs=0.1)


def test_silence_is_refused():
    with pytest.raises(PlayingError, match="no note speaks"):
        made_equal([np.zeros(RATE)], RATE)


def test_a_scale_holds_the_standard_fingerings_that_all_have(designs):
    _, table = designs
    standard = [each.name for each in table.fingerings if each.use is Use.STANDARD]
    shorter = FingeringTable(fingerings=table.fingerings[3:])
    assert [note.name for note in scale_score([table, shorter])] == standard[3:]


@pytest.mark.parametrize(
    ("names", "seconds", "words"),
    [([], 0.8, "no note"), (["E3"], 0.05, "0.05 s"), (["E3"] * 401, 0.2, "401 notes"),
     (["E3"] * 300, 2.0, "the whole")],
)  # fmt: skip
def test_scores_that_cannot_be_rendered(names, seconds, words):
    with pytest.raises(PlayingError, match=words):
        notes_score(names, seconds)


def tune(path, notes, channel=0):
    """A MIDI file of (number, start, end, velocity), in seconds."""
    import mido

    events = sorted(
        [(start, 1, number, velocity) for number, start, _, velocity in notes]
        + [(end, 0, number, 0) for number, _, end, _ in notes]
    )
    track, now = mido.MidiTrack(), 0.0
    for at, on, number, velocity in events:
        ticks = round((at - now) * 960)  # 480 a beat, 120 beats a minute
        track.append(
            mido.Message("note_on" if on else "note_off", note=number, velocity=velocity,
                         time=ticks, channel=channel)
        )  # fmt: skip
        now += ticks / 960
    file = mido.MidiFile(ticks_per_beat=480)
    file.tracks.append(track)
    file.save(path)
    return path


CLARINET = PitchStandard(written_to_sounding_semitones=-2)


def test_a_tune_is_read_as_one_voice(tmp_path):
    # Sounding D4, then F4 over it; velocity 64 is plain. Written notes lie a tone higher.
    path = tune(tmp_path / "t.mid", [(62, 1.0, 2.0, 64), (65, 1.5, 2.0, 127)])
    found = midi_score(path, CLARINET, ["E4", "G4"])
    assert [note.name for note in found] == ["E4", "G4"]
    assert found[0] == ScoreNote("E4", 0.0, pytest.approx(0.5), 1.0)
    assert found[1].start_s == pytest.approx(0.5)
    assert found[1].strength > 1.1


@pytest.mark.parametrize(
    ("data", "words"), [(b"", "not a MIDI"), (b"RIFF1234", "not a MIDI"), (b"MThd\0", "not a MIDI")]
)
def test_files_that_are_no_tune(tmp_path, data, words):
    path = tmp_path / "wrong.mid"
    path.write_bytes(data)
    with pytest.raises(PlayingError, match=words):
        midi_score(path, CLARINET, ["E4"])


def test_tunes_that_cannot_be_played(tmp_path):
    with pytest.raises(PlayingError, match="is not a file"):
        midi_score(tmp_path / "none.mid", CLARINET, ["E4"])
    with pytest.raises(PlayingError, match="no fingering"):
        midi_score(tune(tmp_path / "low.mid", [(30, 0, 1, 64)]), CLARINET, ["E4"])
    with pytest.raises(PlayingError, match="no note to play"):
        midi_score(tune(tmp_path / "drum.mid", [(62, 0, 1, 64)], channel=9), CLARINET, ["E4"])
