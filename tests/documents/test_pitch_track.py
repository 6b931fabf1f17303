"""The chart of a take: written, the same each time, with its notes and what went wrong."""

from __future__ import annotations

import pytest

from borewright.documents.pitch_track import pitch_track_chart, pitch_track_figure
from borewright.errors import DocumentsError
from borewright.model.results.playtest import FoundNote, NoteStatus, PitchTrack, Take


def note(name, start, hz, target, status=NoteStatus.OK):
    return FoundNote(
        take=1, name=name, status=status, start_s=start, end_s=start + 1,
        steady_start_s=start + 0.1, steady_end_s=start + 0.9, hz=hz, target_hz=target,
        cents=4.2, spread_cents=0.3,
        uncertainty_cents=0.1, start_cents=-8.0, settle_ms=90.0, drift_cents_per_s=0.1,
        vibrato_hz=0.0, vibrato_cents=0.0, level_db=-20.0,
    )  # fmt: skip


@pytest.fixture
def take():
    notes = [
        note("E3", 1.0, 147.2, 146.83),
        note("A3", 3.0, 588.0, 196.0, NoteStatus.WRONG_REGISTER),
        note("$x_1$", 40.0, 200.0, 196.0),
    ]
    return Take(
        file="scale.wav", sample_rate=44_100, channels=1, seconds=42.0, temperature_c=21.0,
        a4_hz=440.0, takes=1, notes=notes, missing=[], notices=[],
    )  # fmt: skip


@pytest.fixture
def track():
    times = [0.01 * step for step in range(4200)]
    return PitchTrack(times_s=times, hz=[147.2 if t < 2 else 0.0 for t in times],
                      level_db=[-20.0] * len(times))  # fmt: skip


def test_a_panel_for_every_half_minute_with_its_notes(take, track):
    figure = pitch_track_figure(take, track)
    heading, *panels = figure.axes
    assert len(panels) == 2
    words = [[text.get_text() for text in axes.texts] for axes in panels]
    assert words == [["+4.2", "A3: wrong register"], ["+4.2"]]
    assert "A = 440 Hz and 21 °C" in heading.texts[1].get_text()


def test_the_same_bytes_each_time(take, track, tmp_path):
    paths = [pitch_track_chart(take, track, tmp_path / name) for name in ("a.svg", "b.svg")]
    assert paths[0].read_bytes() == paths[1].read_bytes()
    assert pitch_track_chart(take, track, tmp_path / "c.png").stat().st_size > 5000


def test_a_take_without_frames_is_drawn_too(take):
    empty = take.model_copy(update={"notes": []})
    figure = pitch_track_figure(empty, PitchTrack(times_s=[], hz=[], level_db=[]))
    assert len(figure.axes) == 3


def test_another_suffix_is_refused(take, track, tmp_path):
    with pytest.raises(DocumentsError, match="not a picture format"):
        pitch_track_chart(take, track, tmp_path / "a.bmp")
