"""Reading recordings in pieces, so that memory stays small: what libsndfile or a phone knows."""

from __future__ import annotations

import itertools
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path
from typing import Any

import numpy as np

from borewright.errors import PlayingError
from borewright.playing.phone_formats import decoded
from borewright.words import say

#: Telephone audio (8 kHz) has no room for harmonics and mostly went through a lossy codec.
LOWEST_RATE = 11_025
LONGEST_S = 1800.0
SHORTEST_S = 0.2
#: Quieter than this (dB, loudest tenth of a second) nothing was played.
SILENT_DB = -70.0
#: Pitch is tracked at this rate or just above; it holds the fifth harmonic of the top note.
WORKING_RATE = 16_000
#: Neighbouring samples at the top of the scale that count as clipped.
_CLIP_LEVEL, _CLIP_RUN = 0.9995, 3
#: Tones are looked for between mains hum and the highest notes (Hz); channels whose tones make
#: up as much of them, to this share, are equally clear.
_HUM_HZ, _HIGHEST_HZ, _AS_CLEAR = 125, 2500, 0.03
_PIECE_S = 30.0
_OVERLAP_S = 0.25


@dataclass(frozen=True)
class Recording:
    """What a first pass over a file learnt."""

    path: Path
    sample_rate: int
    channels: int
    seconds: float
    channel: int  # the one with the clearer tone
    clipped_s: float | None  # first clipped moment, None where there is none

    @property
    def decimation(self) -> int:
        """Whole factor from the file's rate down to the working rate or just above."""
        return max(1, self.sample_rate // WORKING_RATE)


def inspect(path: Path | str) -> Recording:
    """Read a file once through, in blocks of a second, and refuse what cannot be judged.

    Raises
    ------
    PlayingError
        For a file that is missing or no audio, telephone audio, one that is longer than
        half an hour, too short, silent, or holds samples that are no numbers.
    """
    path = Path(path)
    with _opened(path) as file:
        rate, channels, frames = int(file.samplerate), int(file.channels), int(file.frames)
        _check_shape(path, rate, frames / rate)
        clear: list[np.ndarray] = []
        loudest, clipped = 0.0, None
        for number, block in enumerate(file.blocks(rate, dtype="float64", always_2d=True)):
            if not np.all(np.isfinite(block)):
                raise PlayingError(
                    say("holds samples that are not numbers"),
                    place=str(path),
                    remedy=say("Export the recording again from the program that made it."),
                )
            if channels > 1 and len(block) > rate // 4:
                clear.append(_clearness(block, rate))
            tenths = np.array_split(np.sum(block**2, axis=1) / channels, 10)
            loudest = max([loudest, *(float(np.mean(tenth)) for tenth in tenths if len(tenth))])
            if clipped is None:
                at = _clipped(block)
                clipped = None if at is None else number + at / rate
    if 10 * np.log10(max(loudest, 1e-30)) < SILENT_DB:
        raise PlayingError(
            say("is silent"),
            place=str(path),
            remedy=say("Check the microphone and the input level, and record again."),
        )
    return Recording(path, rate, channels, frames / rate, _clearest(clear), clipped)


def _clearness(block: np.ndarray, rate: int) -> np.ndarray:
    """Power of each channel's tones, and their share of all that it holds, [2, C].

    A tone repeats itself: its autocorrelation is high again after a period. Hum below the
    instrument's lowest notes is left out.
    """
    spectrum = np.abs(np.fft.rfft(block, 2 * len(block), axis=0)) ** 2
    spectrum[: int(_HUM_HZ * 2 * len(block) / rate)] = 0.0
    again = np.fft.irfft(spectrum, axis=0)
    first, last = rate // _HIGHEST_HZ, rate // _HUM_HZ
    window = 1 - np.arange(first, last) / len(block)
    power = np.maximum(again[0], 1e-30)
    share = (again[first:last] / window[:, None]).max(axis=0) / power
    return np.stack([power * np.clip(share, 0.0, 1.0), np.clip(share, 0.0, 1.0)])


def _clearest(clear: list[np.ndarray]) -> int:
    """The channel whose tones stand out most where something sounds; of equals the louder."""
    if not clear:
        return 0
    power, share = np.array([each[0] for each in clear]), np.array([each[1] for each in clear])
    sounding = power >= 0.1 * power.max(axis=0)
    mean = np.where(sounding, share, 0.0).sum(axis=0) / sounding.sum(axis=0)
    good = np.flatnonzero(mean >= mean.max() - _AS_CLEAR)
    return int(good[np.argmax(power.sum(axis=0)[good])])


def _opened(path: Path) -> Any:
    import soundfile

    if not path.is_file():
        raise PlayingError(say("is not a file"), place=str(path), remedy=say("Check the name."))
    try:
        return soundfile.SoundFile(str(path))
    except (soundfile.SoundFileError, TypeError, OSError):
        return soundfile.SoundFile(str(decoded(path)))


def _check_shape(path: Path, rate: int, seconds: float) -> None:
    if rate < LOWEST_RATE:
        raise PlayingError(
            say("has a sample rate of {rate} Hz, as telephones have", rate=rate),
            place=str(path),
            remedy=say("Record with at least {rate} Hz; 44100 is usual.", rate=LOWEST_RATE),
        )
    if seconds > LONGEST_S:
        raise PlayingError(
            say("is {minutes:.0f} minutes long", minutes=seconds / 60),
            place=str(path),
            remedy=say(
                "Cut it into takes of at most {minutes:.0f} minutes each.",
                minutes=LONGEST_S / 60,
            ),
        )
    if seconds < SHORTEST_S:
        raise PlayingError(
            say("is {seconds:.2f} s long", seconds=seconds),
            place=str(path),
            remedy=say("Record notes of two seconds or more."),
        )


def _clipped(block: np.ndarray) -> int | None:
    """First sample of a run at the top of the scale, in any channel."""
    full = np.abs(block) >= _CLIP_LEVEL
    runs = full[:-2] & full[1:-1] & full[2:] if len(full) >= _CLIP_RUN else full[:0]
    where = np.flatnonzero(np.any(runs, axis=1))
    return int(where[0]) if len(where) else None


def pieces(recording: Recording) -> Iterator[tuple[float, float, float, np.ndarray]]:
    """The louder channel at the working rate, in overlapping pieces.

    Yields
    ------
    tuple
        Start of the samples (s), start and end of the piece proper (s), samples. The rate of
        the samples is ``sample_rate / decimation``.
    """
    from scipy.signal import resample_poly

    rate = recording.sample_rate
    count = max(1, round(recording.seconds / _PIECE_S))
    edges = np.linspace(0.0, recording.seconds, count + 1)
    for start, end in itertools.pairwise(edges):
        first = max(0, int((start - _OVERLAP_S) * rate))
        samples = excerpt(recording, first / rate, end + _OVERLAP_S)
        if recording.decimation > 1:
            samples = resample_poly(samples, 1, recording.decimation)
        yield first / rate, float(start), float(end), samples


def excerpt(recording: Recording, start_s: float, end_s: float) -> np.ndarray:
    """Samples of the clearer channel between two moments, at the file's own rate."""
    rate = recording.sample_rate
    first = max(0, round(start_s * rate))
    with _opened(recording.path) as file:
        file.seek(min(first, file.frames))
        block = file.read(max(0, round(end_s * rate) - first), dtype="float64", always_2d=True)
    samples: np.ndarray = block[:, recording.channel]
    return samples
