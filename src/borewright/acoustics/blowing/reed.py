"""The reed: a damped oscillator that the lay stops, over its opening and closing pressure."""

from __future__ import annotations

import math
from typing import NamedTuple

import numpy as np


class ReedModel(NamedTuple):
    """Resonance (Hz), damping (1/quality) and contact with the lay.

    In contact the stiffness grows by ``contact_stiffness`` reeds, with ``contact_damping`` of
    that oscillator's critical damping: a reed does not bounce (from memory).
    """

    resonance_hz: float
    damping: float
    contact_stiffness: float = 100.0
    contact_damping: float = 1.0

    def answer(self, frequencies: np.ndarray) -> np.ndarray:
        """Way of the free reed for a unit force at frequencies (Hz), complex, same shape."""
        ratio = frequencies / self.resonance_hz
        found: np.ndarray = 1.0 / (1 - ratio**2 + 1j * self.damping * ratio)
        return found

    def step_matrix(self, step: float, *, touching: bool) -> np.ndarray:
        """Exact step of (place, speed), [2, 5], from place, speed, force before and after, 1.

        The force, in closing pressures, is a straight line between its two values.
        """
        from scipy.linalg import expm

        w = 2 * math.pi * self.resonance_hz
        stiffness, damping, offset = 1.0, self.damping * w, 0.0
        if touching:
            stiffness += self.contact_stiffness
            damping += 2 * self.contact_damping * w * math.sqrt(self.contact_stiffness)
            offset = -self.contact_stiffness  # the lay's force vanishes at place -1
        # State: place, speed, force, its change over the step, 1; time in steps.
        motion = np.zeros((5, 5))
        motion[0, 1] = step
        motion[1] = [
            -(w**2) * stiffness * step,
            -damping * step,
            w**2 * step,
            0,
            w**2 * offset * step,
        ]
        motion[2, 3] = 1.0
        whole = expm(motion)[:2]
        before, change = whole[:, 2], whole[:, 3]
        return np.stack([whole[:, 0], whole[:, 1], before - change, change, whole[:, 4]], axis=1)
