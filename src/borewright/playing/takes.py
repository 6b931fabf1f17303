"""From a recording to the pitches of its notes."""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence
from pathlib import Path

import numpy as np

from borewright.errors import PlayingError
from borewright.model import FingeringTable, PitchStandard
from borewright.model.bounds import refusal
from borewright.model.results.playtest import FoundNote, PitchTrack, Take
from borewright.playing import naming
from borewright.playing.recording import Recording, excerpt, inspect
from borewright.playing.segments import segments
from borewright.playing.steady import Steady, steady_part
from borewright.playing.tone import tone
from borewright.playing.tracking import Track, track
from borewright.words import Said, say

_LOWEST_HZ, _HIGHEST_HZ = 100.0, 2400.0
_ATTACK_S = 0.5


def analyse_take(
    path: Path | str,
    *,
    pitch: PitchStandard,
    temperature_c: float,
    order: Sequence[str] | None = None,
    table: FingeringTable | None = None,
    tones: bool = True,
    progress: Callable[[float], None] | None = None,
) -> tuple[Take, PitchTrack]:
    """Find the steady notes of a recording and measure them.

    Parameters
    ----------
    path
        WAV, FLAC, OGG or what a phone writes, any rate from 11 kHz, mono or stereo (the
        clearer channel counts).
    pitch
        Pitch standard and transposition; its ``a4_hz`` is the reference of this take.
    temperature_c
        Room temperature at the take: a pitch without it says little (common practice).
    order
        Fingering names in the order of playing, repeated as often as it was played; None
        names every note by the nearest semitone.
    table
        Written notes that the instrument has, for free naming.
    tones
        Also work out the tone descriptors.
    progress
        Called with the share that is done, some seconds of the recording at a time.

    Returns
    -------
    tuple
        The take, and the pitch track for a plot.

    Raises
    ------
    PlayingError
        For a file that cannot be judged, see :func:`borewright.playing.recording.inspect`,
        and one in which no steady note is found.
    """
    refused = refusal("recording_c", temperature_c)
    if refused is not None or math.isnan(temperature_c):
        raise PlayingError(
            say(
                "a room temperature of {temperature_c:g} °C is not credible",
                temperature_c=temperature_c,
            ),
            place=str(path),
            remedy=refused[1] if refused else say("Give degrees Celsius."),
        )
    recording = inspect(path)
    low, high = _range(pitch, order)
    frames = track(recording, low, high, progress)
    found = [(segment, steady_part(frames, segment)) for segment in segments(frames)]
    if not found:
        raise PlayingError(
            say("holds no steady note"),
            place=str(path),
            remedy=say("Play notes of two seconds or more, louder than the room."),
        )
    hz = [float(2 ** (steady.cents / 1200)) for _, steady in found]
    named = naming.planned(order, pitch, hz) if order else naming.free(pitch, hz, table)
    notes = [
        _note(recording, frames, (segment.first, segment.last), steady, name, tones)
        for (segment, steady), name in zip(found, named.notes, strict=True)
    ]
    take = Take(
        file=str(path),
        sample_rate=recording.sample_rate,
        channels=recording.channels,
        seconds=recording.seconds,
        temperature_c=temperature_c,
        a4_hz=pitch.a4_hz,
        takes=named.rounds,
        notes=notes,
        missing=named.missing,
        notices=_notices(recording, named.common_cents),
    )
    return take, PitchTrack(
        times_s=frames.times.tolist(), hz=frames.hz.tolist(), level_db=frames.level_db.tolist()
    )


def _range(pitch: PitchStandard, order: Sequence[str] | None) -> tuple[float, float]:
    """Pitches to look for: a third below what is planned, a twelfth above (a squeak)."""
    if not order:
        return _LOWEST_HZ, _HIGHEST_HZ
    targets = [naming.target_hz(name, pitch) for name in order]
    return max(min(targets) / 1.25, 40.0), min(3.1 * max(targets), 4000.0)


def _notices(recording: Recording, common_cents: float | None) -> list[Said]:
    found: list[Said] = []
    if recording.clipped_s is not None:
        found.append(
            say(
                "clipped at {clipped_s:.1f} s: pitches hold, levels and tone do not. "
                "Lower the input level",
                clipped_s=recording.clipped_s,
            )
        )
    if common_cents is not None:
        found.append(
            say(
                "all notes lie {cents:+.0f} cents from the plan together: that is the instrument "
                "or its reference A, and no note is called by another's name for it",
                cents=common_cents,
            )
        )
    return found


def _note(
    recording: Recording,
    frames: Track,
    span: tuple[int, int],
    steady: Steady,
    name: naming.Named,
    tones: bool,
) -> FoundNote:
    hz = float(2 ** (steady.cents / 1200))
    start, end = float(frames.times[span[0]]), float(frames.times[span[1] - 1])
    samples = excerpt(recording, steady.start, max(steady.end, steady.start + 0.05))
    rate = recording.sample_rate
    described = None
    if tones and recording.clipped_s is None:
        beginning = excerpt(recording, start - 0.05, max(start + _ATTACK_S, steady.start))
        described = tone(samples, beginning, rate, hz)
    return FoundNote(
        take=name.take,
        name=name.name,
        status=name.status,
        start_s=start,
        end_s=end,
        steady_start_s=steady.start,
        steady_end_s=steady.end,
        hz=hz,
        target_hz=name.target_hz,
        cents=float(1200 * np.log2(hz / name.target_hz)),
        spread_cents=steady.spread,
        uncertainty_cents=steady.uncertainty,
        start_cents=steady.start_cents,
        settle_ms=steady.settle_ms,
        drift_cents_per_s=steady.drift,
        vibrato_hz=steady.vibrato_hz,
        vibrato_cents=steady.vibrato_cents,
        level_db=float(10 * np.log10(max(float(np.mean(samples**2)), 1e-15))),
        tone=described,
    )
