"""The steady part of a note: its pitch, spread, drift and vibrato, and how it got there."""

from __future__ import annotations

from typing import NamedTuple

import numpy as np

from borewright.playing.segments import WINDOW_S, Segment
from borewright.playing.tracking import STEP_S, Track

_START_S = 0.06
_END_S = 0.05
_FADED_DB = 4.0
#: The pitch has settled once it stays this near (cents) to where it ends up.
_SETTLED_CENTS = 1.5
#: A drift is judged over so many frames at least, after as many of the attack.
_DRIFT_FRAMES, _ATTACK_FRAMES = 50, 25
#: Frames share samples with their neighbours: about this many make one independent value.
_OVERLAP_FRAMES = 3.0
_LEAST_UNCERTAINTY_CENTS = 0.05
_VIBRATO_HZ = (3.0, 9.0)
#: A vibrato explains this share of the variance at least.
_VIBRATO_SHARE = 0.5


class Steady(NamedTuple):
    """Pitch of a note (cents re 1 Hz) and how it behaved."""

    start: float  # of the steady part, s
    end: float
    cents: float
    spread: float
    uncertainty: float
    start_cents: float
    settle_ms: float
    drift: float  # cents a second
    vibrato_hz: float
    vibrato_cents: float


def steady_part(track: Track, segment: Segment) -> Steady:
    """Pitch of the steady part of a note.

    A constant, a drift and, where there is one, a vibrato are fitted to the frames of the
    steady part, so that a vibrato cut in mid-wave does not shift the pitch. A note that drifts
    evenly from beginning to end is steady all along: its pitch is that of its middle.
    """
    times = track.times[segment.first : segment.last]
    level = track.level_db[segment.first : segment.last]
    voiced = segment.voiced
    cents = np.interp(np.arange(len(times)), np.flatnonzero(voiced), segment.cents[voiced])
    first, last, settled = _window(times, cents, level)
    part = slice(first, last)
    middle, drift, rate, extent, residual = _fit(times[part], np.where(voiced, cents, np.nan)[part])
    count = np.isfinite(residual).sum()
    spread = float(np.nanstd(residual))
    return Steady(
        start=float(times[first]),
        end=float(times[last - 1]),
        cents=middle,
        spread=spread,
        uncertainty=max(spread * np.sqrt(_OVERLAP_FRAMES / count), _LEAST_UNCERTAINTY_CENTS),
        start_cents=float(np.median(cents[: round(_START_S / STEP_S)]) - middle),
        settle_ms=1000 * float(times[settled] - times[0]),
        drift=drift,
        vibrato_hz=rate,
        vibrato_cents=extent,
    )


def _window(times: np.ndarray, cents: np.ndarray, level: np.ndarray) -> tuple[int, int, int]:
    """First and last frame of the steady part, and the frame at which the pitch had settled."""
    count = len(times)
    edge = min(round(_END_S / STEP_S), count // 8)
    # A release fades, and what the room keeps of it wavers: the note ends before it.
    loud = np.flatnonzero(level > np.median(level[edge : count - edge]) - _FADED_DB)
    last = max(edge + 2, int(loud[-1]) + 1 - edge)
    smooth = _smoothed(cents[:last])
    if _drifts(smooth[_ATTACK_FRAMES:]):
        return _ATTACK_FRAMES, max(min(last, count - _ATTACK_FRAMES), _ATTACK_FRAMES + 2), 0
    tail = smooth[round(0.6 * last) :]
    reference, wander = np.median(tail), 2.5 * np.median(np.abs(tail - np.median(tail)))
    away = np.abs(smooth - reference) > max(_SETTLED_CENTS, float(wander))
    # Only a beginning can be unsettled: look at the first 60 % of the note.
    early = np.flatnonzero(away[: round(0.6 * last)])
    settled = int(early[-1]) + 1 if len(early) else 0
    # What settles like an exponential has not quite arrived: wait half as long again.
    first = min(max(edge, round(1.5 * settled)), max(edge, round(0.65 * last)))
    return first, last, settled


def _drifts(smooth: np.ndarray) -> bool:
    """Whether a note's pitch moves along one straight line, by more than it scatters."""
    if len(smooth) < _DRIFT_FRAMES:
        return False
    at = np.arange(len(smooth))
    slope, start = np.polyfit(at, smooth, 1)
    away = float(np.abs(smooth - start - slope * at).max())
    return away < _SETTLED_CENTS and abs(slope) * len(smooth) > 2 * _SETTLED_CENTS


def _smoothed(cents: np.ndarray) -> np.ndarray:
    width = min(round(WINDOW_S / STEP_S), max(1, len(cents) // 4))
    total = np.concatenate([[0.0], np.cumsum(cents)])
    at = np.arange(len(cents))
    low, high = np.maximum(at - width // 2, 0), np.minimum(at + width // 2 + 1, len(cents))
    smooth: np.ndarray = (total[high] - total[low]) / (high - low)
    return smooth


def _fit(times: np.ndarray, cents: np.ndarray) -> tuple[float, float, float, float, np.ndarray]:
    """Pitch at the middle, drift, vibrato rate and extent, and what is left over."""
    middle = (times[0] + times[-1]) / 2
    centred = times - middle
    known = np.isfinite(cents)
    known &= np.abs(cents - np.nanmedian(cents)) < 60.0
    shapes = np.stack([np.ones_like(centred), centred], axis=1)
    best = _solve(shapes, cents, known)
    rate = extent = 0.0
    duration = times[-1] - times[0]
    # Two whole waves tell a vibrato from a drift.
    for trial in np.arange(max(_VIBRATO_HZ[0], 2 / max(duration, 0.1)), _VIBRATO_HZ[1], 0.1):
        waves = np.stack([np.cos(2 * np.pi * trial * centred), np.sin(2 * np.pi * trial * centred)])
        fitted = _solve(np.concatenate([shapes, waves.T], axis=1), cents, known)
        if np.nanvar(fitted[1]) < np.nanvar(best[1]) * (1 if rate else 1 - _VIBRATO_SHARE):
            best, rate = fitted, float(trial)
            extent = float(np.hypot(*fitted[0][2:]))
    return float(best[0][0]), float(best[0][1]), rate, extent, best[1]


def _solve(
    shapes: np.ndarray, cents: np.ndarray, known: np.ndarray
) -> tuple[np.ndarray, np.ndarray]:
    """Least squares with one round of trimming at four standard deviations."""
    for _ in range(2):
        found = np.linalg.lstsq(shapes[known], cents[known], rcond=None)[0]
        residual = np.where(known, cents - shapes @ found, np.nan)
        known = known & (np.abs(residual) <= 4 * np.nanstd(residual) + 0.2)
    return found, residual
