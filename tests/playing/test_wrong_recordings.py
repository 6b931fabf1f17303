"""What cannot be judged gets a clear word, and neither memory nor time without bound."""

from __future__ import annotations

import tracemalloc

import numpy as np
import pytest

from borewright.errors import PlayingError
from borewright.playing import analyse_take
from borewright.playing.recording import inspect


@pytest.fixture
def refused(b_flat):
    def word(path, **more):
        with pytest.raises(PlayingError) as error:
            analyse_take(path, pitch=b_flat, **{"temperature_c": 21.0, **more})
        assert error.value.place
        assert str(error.value.remedy).endswith(".")
        return str(error.value.cause)

    return word


def test_silence(recorded, refused):
    assert refused(recorded(np.zeros(44_100))) == "is silent"


def test_noise_without_a_note(recorded, refused):
    noise = 0.1 * np.random.default_rng(0).normal(size=88_200)
    assert refused(recorded(noise)) == "holds no steady note"


def test_telephone_audio(recorded, refused):
    tone = 0.1 * np.sin(np.arange(16_000) * 0.2)
    assert "8000 Hz, as telephones have" in refused(recorded(tone, rate=8000))


def test_text_renamed(tmp_path, refused):
    path = tmp_path / "take.wav"
    path.write_text("written,cents\nE3,4\n" * 400, encoding="utf-8")
    assert refused(path) == "is not a recording that can be read"


def test_no_such_file(tmp_path, refused):
    assert refused(tmp_path / "absent.wav") == "is not a file"
    assert refused(tmp_path) == "is not a file"


def test_too_short(recorded, refused):
    assert "is 0.05 s long" in refused(recorded(np.ones(2205) * 0.1))


def test_not_numbers(recorded, refused):
    samples = np.full(44_100, np.nan)
    assert "not numbers" in refused(recorded(samples, subtype="FLOAT"))


def test_a_temperature_in_another_unit(recorded, refused):
    assert "70 °C is not credible" in refused(recorded(np.zeros(44_100)), temperature_c=70.0)


def test_a_plan_that_is_none(recorded, refused, synthesis):
    path = recorded(synthesis.tone(440.0, 1.0, np.random.default_rng(0)))
    assert "is not a note" in refused(path, order=["H3"])


def test_clipping_is_noticed_and_tone_left_out(recorded, synthesis, b_flat):
    tone = synthesis.tone(b_flat.target_hz("C5"), 2.0, np.random.default_rng(0), level=0.1)
    path = recorded(np.clip(20 * tone, -1, 1))
    take, _ = analyse_take(path, pitch=b_flat, temperature_c=21)
    assert "clipped at 0." in str(take.notices[0])
    assert take.notes[0].tone is None
    assert take.notes[0].cents == pytest.approx(0.0, abs=0.5)


def test_an_hour_is_refused_before_it_is_read(recorded, refused):
    """8-bit samples at 11 kHz keep the file small; the header alone decides."""
    samples = np.zeros(3600 * 11_025, dtype=np.float32)
    path = recorded(samples, rate=11_025, subtype="PCM_U8")
    assert "is 60 minutes long" in refused(path)


def test_memory_stays_bounded(recorded, synthesis):
    """Ten minutes at 44.1 kHz are 212 MB as numbers; the first pass holds a second of them."""
    minute = synthesis.tone(220.0, 60.0, np.random.default_rng(0))
    path = recorded(np.tile(minute, 10))
    tracemalloc.start()
    inspect(path)
    peak = tracemalloc.get_traced_memory()[1]
    tracemalloc.stop()
    assert peak < 20e6
