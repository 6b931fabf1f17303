"""Distances between capsules: straight lines with a thickness, whole arrays at once.

Closest points of two segments after Ericson, Real-Time Collision Detection (2005), section
5.1.9, in array form; where lines run side by side any closest pair serves.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np


@dataclass(frozen=True)
class Capsules:
    """Round bars with round ends: ends (n, 3) and (n, 3), radii (n,), all in mm."""

    starts: np.ndarray
    ends: np.ndarray
    radii: np.ndarray

    def moved(self, starts: np.ndarray, ends: np.ndarray) -> Capsules:
        """The same bars elsewhere."""
        return Capsules(starts, ends, self.radii)

    def only(self, which: np.ndarray) -> Capsules:
        """Some of the bars."""
        return Capsules(self.starts[which], self.ends[which], self.radii[which])

    @property
    def ball(self) -> tuple[np.ndarray, float]:
        """Centre and radius of a ball round them all."""
        points = np.concatenate([self.starts, self.ends])
        centre = (points.min(axis=0) + points.max(axis=0)) / 2
        reach = np.linalg.norm(points - centre, axis=1) + np.tile(self.radii, 2)
        return centre, float(reach.max())


def gap_mm(first: Capsules, second: Capsules) -> float:
    """Least air between two sets of capsules; negative where they cross."""
    return float(gaps_mm(first, second).min())


def gaps_mm(first: Capsules, second: Capsules) -> np.ndarray:
    """Air between every pair, shape (n, m)."""
    d1 = (first.ends - first.starts)[:, None]
    d2 = (second.ends - second.starts)[None]
    r = first.starts[:, None] - second.starts[None]
    a, e = np.sum(d1 * d1, axis=-1), np.sum(d2 * d2, axis=-1)
    b, c, f = np.sum(d1 * d2, axis=-1), np.sum(d1 * r, axis=-1), np.sum(d2 * r, axis=-1)
    safe_a, safe_e = np.maximum(a, 1e-18), np.maximum(e, 1e-18)
    across = a * e - b * b
    slanted = across > 1e-9 * safe_a * safe_e
    s = np.where(slanted, (b * f - c * e) / np.where(slanted, across, 1.0), 0.0)
    s = np.clip(s, 0.0, 1.0)
    t = np.clip((b * s + f) / safe_e, 0.0, 1.0)
    s = np.clip((b * t - c) / safe_a, 0.0, 1.0)
    t = np.clip((b * s + f) / safe_e, 0.0, 1.0)
    apart = np.linalg.norm(r + d1 * s[..., None] - d2 * t[..., None], axis=-1)
    return np.asarray(apart - first.radii[:, None] - second.radii[None])


def to_point_mm(capsules: Capsules, point: np.ndarray) -> float:
    """Least air between capsules and a point (3,)."""
    one = Capsules(point[None], point[None], np.zeros(1))
    return gap_mm(capsules, one)
