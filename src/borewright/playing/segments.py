"""Where notes begin and end on a pitch track.

A note ends where there is no pitch, where the pitch steps, or where the level dips between
two tongued notes of one pitch. Windows are a vibrato's period long, so that vibrato steps
nowhere.
"""

from __future__ import annotations

import itertools
from typing import NamedTuple

import numpy as np

from borewright.playing.tracking import STEP_S, Track

#: A vibrato's period (s); means over it are free of vibrato (5 to 6 Hz, common practice).
WINDOW_S = 0.18
#: A step of more than this (cents) between neighbouring windows parts two notes.
_STEP_CENTS = 60.0
_DIP_DB = 8.0
#: Quieter than the loud notes by this (dB) is room noise.
_QUIET_DB = 40.0
#: Longest hole (frames) in a pitch track that a note bridges.
_BRIDGE = 3
SHORTEST_NOTE_S = 0.15
#: Shorter (s) and softer (dB) than the loud notes by this, a stretch is no note.
_TAILS = ((0.3, 8.0), (0.6, 15.0))
#: Spread (cents, median absolute) of pitch beyond which a stretch is noise or a glide.
_UNSTEADY_CENTS = 40.0


class Segment(NamedTuple):
    """Frames ``first`` to ``last - 1`` of a track, with a pitch at ``voiced``."""

    first: int
    last: int
    voiced: np.ndarray  # [last - first] booleans
    cents: np.ndarray  # [last - first] re 1 Hz; NaN where not voiced


def segments(track: Track) -> list[Segment]:
    """Notes of a track, in order of time."""
    voiced = track.hz > 0
    if not voiced.any():
        return []
    loud = np.percentile(track.level_db[voiced], 90)
    voiced &= track.level_db > loud - _QUIET_DB
    cents = np.full(len(track.hz), np.nan)
    cents[voiced] = 1200 * np.log2(track.hz[voiced])
    found = []
    for first, last in _runs(voiced):
        edges = [first, *_edges(cents, track.level_db, first, last), last]
        for start, end in itertools.pairwise(edges):
            segment = _segment(voiced, cents, start, end)
            if segment is not None and not _is_tail(segment, track.level_db, loud):
                found.append(segment)
    return found


def _runs(voiced: np.ndarray) -> list[tuple[int, int]]:
    """Stretches of frames with a pitch; short holes are bridged."""
    where = np.flatnonzero(voiced)
    if not len(where):
        return []
    breaks = np.flatnonzero(np.diff(where) > _BRIDGE + 1)
    firsts = where[np.concatenate([[0], breaks + 1])]
    lasts = where[np.concatenate([breaks, [len(where) - 1]])] + 1
    return [(int(first), int(last)) for first, last in zip(firsts, lasts, strict=True)]


def _edges(cents: np.ndarray, level: np.ndarray, first: int, last: int) -> list[int]:
    """Frames inside a stretch where one note ends and another begins."""
    from scipy.signal import find_peaks

    width = round(WINDOW_S / STEP_S)
    count = last - first
    if count < 2 * round(SHORTEST_NOTE_S / STEP_S):
        return []
    own = _filled(cents[first:last])
    step, dip = np.zeros(count), np.zeros(count)
    for at in range(3, count - 3):
        before, after = own[max(0, at - width) : at], own[at : at + width]
        step[at] = abs(np.median(after) - np.median(before))
        near = level[first:last]
        peak = min(near[max(0, at - width) : at].max(), near[at : at + width].max())
        dip[at] = peak - near[at]
    apart = width // 2
    steps, _ = find_peaks(step, height=_STEP_CENTS, distance=apart + apart // 2)
    dips, _ = find_peaks(dip, height=_DIP_DB, distance=apart)
    return sorted({first + at for at in (*(_steepest(own, at, apart) for at in steps), *dips)})


def _filled(cents: np.ndarray) -> np.ndarray:
    known = np.flatnonzero(np.isfinite(cents))
    filled: np.ndarray = np.interp(np.arange(len(cents)), known, cents[known])
    return filled


def _steepest(own: np.ndarray, at: int, apart: int) -> int:
    """Where the pitch turns fastest near a frame: a step's plateau of equal medians is wide."""
    low, high = max(1, at - apart), min(len(own) - 1, at + apart)
    return low + int(np.argmax(np.abs(np.diff(own[low - 1 : high]))))


def _is_tail(segment: Segment, level: np.ndarray, loud: float) -> bool:
    """Whether a short, soft stretch is the end of a note in the room, or a stray sound."""
    length = (segment.last - segment.first) * STEP_S
    below = loud - float(np.median(level[segment.first : segment.last]))
    return any(length < short and below > soft for short, soft in _TAILS)


def _segment(voiced: np.ndarray, cents: np.ndarray, first: int, last: int) -> Segment | None:
    own = np.where(voiced[first:last], cents[first:last], np.nan)
    if not np.isfinite(own).any():
        return None
    middle = np.nanmedian(own)
    spread = float(np.nanmedian(np.abs(own - middle)))
    near = np.abs(own - middle) < 120.0
    where = np.flatnonzero(near)
    if spread > _UNSTEADY_CENTS or len(where) < SHORTEST_NOTE_S / STEP_S:
        return None
    first, low, high = first + int(where[0]), int(where[0]), int(where[-1]) + 1
    own = np.where(near, own, np.nan)[low:high]
    return Segment(first, first + high - low, np.isfinite(own), own)
