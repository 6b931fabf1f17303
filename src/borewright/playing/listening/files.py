"""Renderings at equal loudness as WAV files, each listened to through analysis."""

from __future__ import annotations

import io
import math
from collections.abc import Sequence
from pathlib import Path

import numpy as np

from borewright.model import write_bytes
from borewright.model.results.listening import HeardNote, SoundFile
from borewright.playing.listening.checks import click_db, heard_pitches, true_peak_db
from borewright.playing.listening.loudness import loudness_lufs, made_equal
from borewright.playing.listening.rendering import Rendering

_SUBTYPE = "PCM_24"
_ZERO_PA = 20e-6
#: Shorter notes (s) have no steady part to measure.
_SHORTEST_MEASURED_S = 0.4


def listen(renderings: Sequence[Rendering], paths: Sequence[Path]) -> list[SoundFile]:
    """Write renderings at one loudness and check each file.

    Parameters
    ----------
    renderings
        One, or several to be compared: all get the same loudness.
    paths
        WAV files, 24 bits, mono; replaced where they exist.

    Raises
    ------
    PlayingError, ModelError
        Where nothing sounds; where a file cannot be written.
    """
    sounds = made_equal([each.samples for each in renderings], renderings[0].rate)
    done = []
    for rendering, sound, path in zip(renderings, sounds, paths, strict=True):
        write_bytes(path, _wav(sound, rendering.rate))
        done.append(_checked(rendering, sound, path))
    return done


def _wav(samples: np.ndarray, rate: int) -> bytes:
    import soundfile

    stream = io.BytesIO()
    soundfile.write(stream, samples, rate, subtype=_SUBTYPE, format="WAV")
    return stream.getvalue()


def _checked(rendering: Rendering, sound: np.ndarray, path: Path) -> SoundFile:
    ends = [
        note.start_s + note.seconds - rendering.release_s if note.seconds >= _SHORTEST_MEASURED_S
        else -math.inf
        for note in rendering.score
    ]  # fmt: skip
    heard = heard_pitches(path, ends, rendering.hz)
    rows = zip(
        rendering.score, rendering.fingerings, rendering.speaking, rendering.targets_hz,
        rendering.hz, heard, strict=True,
    )  # fmt: skip
    notes = []
    for note, fingering, speaking, target, hz, found in rows:
        measured = note.seconds >= _SHORTEST_MEASURED_S and math.isfinite(hz)
        apart = 1200 * math.log2(found / hz) if measured and found else None
        notes.append(
            HeardNote(
                fingering=fingering,
                start_s=round(note.start_s, 4),
                seconds=note.seconds,
                speaking=speaking,
                target_hz=target,
                hz=hz if measured else None,
                heard_hz=found,
                apart_cents=apart,
            )
        )
    level = 20 * math.log10(float(np.sqrt(np.mean(rendering.samples**2))) / _ZERO_PA)
    return SoundFile(
        path=str(path),
        instrument=rendering.instrument,
        seconds=len(sound) / rendering.rate,
        sample_rate=rendering.rate,
        loudness_lufs=loudness_lufs(sound, rendering.rate),
        true_peak_db=true_peak_db(sound),
        click_db=click_db(sound, rendering.rate),
        level_at_listener_db=level,
        notes=notes,
    )
