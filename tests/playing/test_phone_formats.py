"""What phones record: the same pitches as uncompressed, and clear words for what is no recording.

The files are written by FFmpeg's own encoders, as phones and browsers write them.
"""

from __future__ import annotations

import av
import numpy as np
import pytest

from borewright.errors import PlayingError
from borewright.playing import analyse_take
from borewright.playing.phone_formats import decoded
from borewright.playing.recording import excerpt, inspect

NOTES = [("E3", -20.0), ("B3", 12.5), ("F#4", -3.0), ("C5", 7.0), ("A5", 0.0), ("E6", 15.0)]
#: Ending, container, encoder, rate (Hz), bits a second.
KINDS = [
    ("m4a", "mp4", "aac", 44_100, 96_000),
    ("aac", "adts", "aac", 48_000, 64_000),
    ("webm", "webm", "libopus", 48_000, 48_000),
    ("opus", "ogg", "libopus", 48_000, 32_000),
    ("mp3", "mp3", "libmp3lame", 44_100, 96_000),
]


def encoded(samples, path, container, codec, rate, bits):
    """Write mono or stereo samples [N] or [N, C] at 44.1 kHz as a phone would."""
    samples = np.atleast_2d(samples.T)
    layout = "mono" if len(samples) == 1 else "stereo"
    with av.open(str(path), "w", format=container) as file:
        stream = file.add_stream(codec, rate=rate, layout=layout)
        stream.bit_rate = bits
        frame = av.AudioFrame.from_ndarray(
            np.ascontiguousarray(samples.astype(np.float32)), format="fltp", layout=layout
        )
        frame.sample_rate = 44_100
        resampler = av.AudioResampler(
            format=stream.codec_context.format, layout=layout, rate=rate,
            frame_size=stream.codec_context.frame_size or 1024,
        )  # fmt: skip
        for each in (frame, None):
            for piece in resampler.resample(each):
                file.mux(stream.encode(piece))
        file.mux(stream.encode(None))
    return path


@pytest.fixture(scope="module")
def samples(scale):
    return scale(NOTES, np.random.default_rng(4), seconds=1.0)


@pytest.mark.parametrize(("ending", "container", "codec", "rate", "bits"), KINDS)
def test_pitches_survive_what_a_phone_writes(
    tmp_path, samples, b_flat, ending, container, codec, rate, bits
):
    path = encoded(samples, tmp_path / f"take.{ending}", container, codec, rate, bits)
    order = [name for name, _ in NOTES]
    take, _ = analyse_take(path, pitch=b_flat, temperature_c=20, order=order)
    assert [(note.name, str(note.status)) for note in take.notes] == [(n, "ok") for n in order]
    assert [note.cents for note in take.notes] == pytest.approx([c for _, c in NOTES], abs=0.7)
    assert take.file == str(path)
    assert take.sample_rate == rate


def test_the_ending_does_not_matter(tmp_path, samples, b_flat):
    path = encoded(samples, tmp_path / "take.wav", "mp4", "aac", 44_100, 96_000)
    take, _ = analyse_take(path, pitch=b_flat, temperature_c=20, tones=False)
    assert len(take.notes) == len(NOTES)


def test_both_channels_come_through_and_a_file_is_decoded_once(tmp_path, samples):
    both = np.stack([0.02 * samples, samples], axis=1)
    path = encoded(both, tmp_path / "take.m4a", "mp4", "aac", 44_100, 128_000)
    recording = inspect(path)
    assert (recording.channels, recording.seconds) == (
        2,
        pytest.approx(len(samples) / 44_100, abs=0.1),
    )
    plain = decoded(path)
    assert decoded(path) == plain
    assert np.abs(excerpt(recording, 1.0, 2.0)).max() > 0.05
    # Another recording under the same name is another recording.
    encoded(both[: len(both) // 2], path, "mp4", "aac", 44_100, 128_000)
    assert inspect(path).seconds == pytest.approx(len(samples) / 88_200, abs=0.1)


@pytest.mark.parametrize(
    "content", [b"\x00\x00\x00\x18ftypM4A " + bytes(400), b"cents;4\n" * 300, b""]
)
def test_what_is_no_recording_is_refused_with_a_way_out(tmp_path, content):
    path = tmp_path / "take.m4a"
    path.write_bytes(content)
    with pytest.raises(PlayingError, match="not a recording that can be read") as refused:
        inspect(path)
    assert "save it as WAV" in str(refused.value.remedy)
    assert str(path) in str(refused.value.place)


def test_a_film_without_sound_is_refused(tmp_path):
    path = tmp_path / "film.mp4"
    with av.open(str(path), "w") as file:
        stream = file.add_stream("mpeg4", rate=10)
        stream.width = stream.height = 32
        stream.pix_fmt = "yuv420p"
        for _ in range(5):
            frame = av.VideoFrame.from_ndarray(np.zeros((32, 32, 3), np.uint8), format="rgb24")
            file.mux(stream.encode(frame))
        file.mux(stream.encode(None))
    with pytest.raises(PlayingError, match="holds no sound"):
        inspect(path)
