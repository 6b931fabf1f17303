"""A cheap stand-in for what costs a fit: a Gaussian process over a few features.

C. E. Rasmussen and C. K. I. Williams, Gaussian Processes for Machine Learning (2006), equations
2.25 and 2.26, and 5.12 for the error of leaving one out (numbers from memory).
"""

from __future__ import annotations

import numpy as np

#: Length scales that are tried, in spans of a feature, and the noise's share of the variance.
_SCALES, _NOISE = (0.3, 0.5, 0.8, 1.2, 2.0, 3.0), 1e-4


class Emulator:
    """Mean and standard deviation of one aim [.] at features [., K], each from 0 to 1."""

    def __init__(self, at: np.ndarray, values: np.ndarray) -> None:
        self._at = at
        self._middle, self._spread = float(values.mean()), float(values.std()) or 1.0
        scaled = (values - self._middle) / self._spread
        found = [(self._left_out(scale, scaled), scale) for scale in _SCALES]
        error, self._scale = min(found)
        self._inverse = np.linalg.inv(self._covariance(at, self._scale))
        self._weights = self._inverse @ scaled
        #: Root mean square error of leaving each point out, in the aim's own unit.
        self.error = error * self._spread

    def _kernel(self, one: np.ndarray, other: np.ndarray, scale: float) -> np.ndarray:
        apart = ((one[:, None, :] - other[None, :, :]) ** 2).sum(axis=2)
        kernel: np.ndarray = np.exp(-apart / (2 * scale**2))
        return kernel

    def _covariance(self, at: np.ndarray, scale: float) -> np.ndarray:
        return self._kernel(at, at, scale) + _NOISE * np.eye(len(at))

    def _left_out(self, scale: float, scaled: np.ndarray) -> float:
        inverse = np.linalg.inv(self._covariance(self._at, scale))
        return float(np.sqrt(np.mean((inverse @ scaled / np.diag(inverse)) ** 2)))

    def __call__(self, at: np.ndarray) -> tuple[np.ndarray, np.ndarray]:
        """Mean and standard deviation at points [B, K]."""
        across = self._kernel(at, self._at, self._scale)
        mean = self._middle + self._spread * (across @ self._weights)
        left = 1 - np.einsum("bi,ij,bj->b", across, self._inverse, across)
        return mean, self._spread * np.sqrt(np.maximum(left, 0.0))
