"""The resonator as a sum of modes: poles and residues of the input impedance.

    z(s) = sum over modes of r / (s - p) + conj(r) / (s - conj(p))

Poles by relocation (vector fitting: Gustavsen and Semlyen, IEEE Trans. Power Delivery 14 (1999)
1052, with the relaxed constraint of Gustavsen, ibid. 21 (2006) 1587; both from memory), every
pole kept on the decaying side. The sum is then made passive: where its real part falls below
zero anywhere, it is mixed with a second fit each of whose modes is passive by itself.
"""

from __future__ import annotations

from typing import NamedTuple

import numpy as np

from borewright.errors import AcousticsError
from borewright.words import Message, say

MODES = 26
HIGHEST_HZ = 6000.0
_ROUNDS = 8
#: Frequencies are divided by this (rad/s) while fitting, so that columns have one size.
_SCALE = 2 * np.pi * 1000.0
#: Densest up to here: the narrow low peaks carry the note.
_DENSE_HZ, _SPARSER = 1500.0, 3
#: Below this frequency the fit is only looked at, not judged: no player reaches it.
_LOWEST_JUDGED_HZ = 60.0
#: A fit that is worse (root mean square, relative) is refused.
_WORST = 0.05


class Modes(NamedTuple):
    """M modes of each of N resonators, over the reference impedance."""

    poles: np.ndarray  # [N, M] complex, rad/s, real part negative, imaginary part positive
    residues: np.ndarray  # [N, M] complex, rad/s
    error: np.ndarray  # [N] root mean square of the relative error, 60 Hz to the highest
    peak_error: np.ndarray  # [N] largest relative error at the three highest maxima

    def impedance(self, frequencies: np.ndarray) -> np.ndarray:
        """The sum itself, [N, K], at frequencies (Hz) [K]."""
        s = 2j * np.pi * frequencies[:, None]
        return np.stack(
            [
                np.sum(r / (s - p) + r.conj() / (s - p.conj()), axis=1)
                for p, r in zip(self.poles, self.residues, strict=True)
            ]
        )


def fit_modes(
    frequencies: np.ndarray,
    impedance: np.ndarray,
    *,
    count: int = MODES,
    highest_hz: float = HIGHEST_HZ,
) -> Modes:
    """Fit modes to impedances.

    Parameters
    ----------
    frequencies
        Hz, [K], evenly spaced from near 0, at most 3 Hz apart.
    impedance
        Complex, [N, K], over the reference impedance.
    count, highest_hz
        How many modes, and up to which frequency they are held to the impedance.

    Raises
    ------
    AcousticsError
        Where the impedance cannot be described so, a lossless tube for instance.
    """
    number = np.arange(len(frequencies))
    kept = (frequencies <= _DENSE_HZ) | (number % _SPARSER == 0)
    kept &= frequencies <= highest_hz
    rows = [_one(frequencies[kept], row[kept], count) for row in impedance]
    poles, residues, errors, peaks = (np.array(each) for each in zip(*rows, strict=True))
    return Modes(poles, residues, errors, peaks)


def _one(
    frequencies: np.ndarray, impedance: np.ndarray, count: int
) -> tuple[np.ndarray, np.ndarray, float, float]:
    from scipy.signal import find_peaks

    s = 2j * np.pi * frequencies / _SCALE
    if not np.all(np.isfinite(impedance)):
        raise _unfit(say("is not finite everywhere"))
    weight = 1 / np.sqrt(np.abs(impedance))
    poles = _relocated(s, impedance, weight, count)
    basis = _basis(s, poles)
    values = _least_squares(basis * weight[:, None], impedance * weight)
    residues = values[:count] + 1j * values[count:]
    residues = _made_passive(s, impedance, weight, poles, residues)
    found = _basis(s, poles) @ np.concatenate([residues.real, residues.imag])
    wrong = np.abs(found - impedance) / np.abs(impedance)
    judged = frequencies >= _LOWEST_JUDGED_HZ
    size = np.abs(impedance)
    tops, _ = find_peaks(size)
    highest = tops[np.argsort(-size[tops])][:3]
    peak = float(np.max(np.abs(np.abs(found[highest]) / size[highest] - 1), initial=0.0))
    error = float(np.sqrt(np.mean(wrong[judged] ** 2)))
    if not error < _WORST:
        raise _unfit(
            say("is met by {modes} modes to no better than {error:.0%}", modes=count, error=error)
        )
    return poles * _SCALE, residues * _SCALE, error, peak


def _unfit(what: Message) -> AcousticsError:
    return AcousticsError(
        say("the input impedance {what}", what=what),
        place="blowing",
        remedy=say("Leave the losses on: without them resonances are infinitely high."),
    )


def _basis(s: np.ndarray, poles: np.ndarray) -> np.ndarray:
    """Columns [K, 2 M] that real and imaginary parts of the residues multiply."""
    upper, lower = 1 / (s[:, None] - poles), 1 / (s[:, None] - poles.conj())
    return np.concatenate([upper + lower, 1j * (upper - lower)], axis=1)


def _least_squares(matrix: np.ndarray, values: np.ndarray) -> np.ndarray:
    """Real unknowns of a complex overdetermined system, its columns brought to one size."""
    whole = np.concatenate([matrix.real, matrix.imag])
    size = np.linalg.norm(whole, axis=0)
    right = np.concatenate([values.real, values.imag])
    # The triangular factor alone carries the problem: much smaller, and as exact.
    small = np.asarray(np.linalg.qr(np.column_stack([whole / size, right]), mode="r"))
    found: np.ndarray = np.linalg.lstsq(small[:, :-1], small[:, -1], rcond=None)[0] / size
    return found


def _relocated(s: np.ndarray, values: np.ndarray, weight: np.ndarray, count: int) -> np.ndarray:
    """Poles after some rounds of relocation, from an even spread of lightly damped ones."""
    poles = (-0.03 + 1j) * np.linspace(s[0].imag + 0.05, s[-1].imag, count)
    size = np.linalg.norm(weight * values)
    for _ in range(_ROUNDS):
        basis = _basis(s, poles)
        system = np.concatenate([basis, -values[:, None] * basis, -values[:, None]], axis=1)
        system = system * weight[:, None]
        # The relaxed constraint: the weighting function has mean 1 over the band.
        relaxed = np.concatenate(
            [np.zeros(2 * count), basis.real.sum(axis=0), [len(s)]], dtype=complex
        )
        system = np.concatenate([system, relaxed[None] * size / len(s)])
        right = np.concatenate([np.zeros(len(s)), [size]]).astype(complex)
        found = _least_squares(system, right)
        poles = _zeros(poles, found[2 * count : 4 * count], float(found[-1]))
    return poles


def _zeros(poles: np.ndarray, weights: np.ndarray, constant: float) -> np.ndarray:
    """Zeros of constant + sum of weights over (s - poles): the poles of the next round."""
    count = len(poles)
    state = np.zeros((2 * count, 2 * count))
    even = 2 * np.arange(count)
    state[even, even] = state[even + 1, even + 1] = poles.real
    state[even, even + 1], state[even + 1, even] = poles.imag, -poles.imag
    enters, leaves = np.zeros(2 * count), np.zeros(2 * count)
    enters[even] = 2.0
    leaves[even], leaves[even + 1] = weights[:count], weights[count:]
    roots = np.linalg.eigvals(state - np.outer(enters, leaves) / constant)
    roots = np.where(roots.real > 0, -roots.conj(), roots)
    turning = np.abs(roots.imag) > 1e-6 * np.abs(roots)
    upper = roots[turning & (roots.imag > 0)]
    # Two roots that do not turn become one strongly damped pair of the same mean.
    still = np.sort(-roots[~turning].real).reshape(-1, 2).mean(axis=1)
    upper = np.concatenate([upper, still * (-1 + 0.2j)])
    return upper[np.argsort(upper.imag)]


def _made_passive(
    s: np.ndarray,
    values: np.ndarray,
    weight: np.ndarray,
    poles: np.ndarray,
    residues: np.ndarray,
) -> np.ndarray:
    """Residues mixed with those of modes passive one by one, as much as passivity asks for.

    A mode (F s + G) / (s² + b s + w²) is passive by itself for 0 <= G <= F b, a cone spanned by
    s and s + b: non-negative least squares stays inside it.
    """
    from scipy.optimize import nnls

    watched = _watched(s, poles)
    basis = _basis(watched, poles)
    real = (basis @ np.concatenate([residues.real, residues.imag])).real
    if np.all(real >= 0):
        return residues
    damping, square = -2 * poles.real, np.abs(poles) ** 2
    below = s[:, None] ** 2 + damping * s[:, None] + square
    columns = np.concatenate([s[:, None] / below, (s[:, None] + damping) / below], axis=1)
    columns = columns * weight[:, None]
    whole = np.concatenate([columns.real, columns.imag])
    size = np.linalg.norm(whole, axis=0)
    right = values * weight
    amounts, _ = nnls(whole / size, np.concatenate([right.real, right.imag]))
    first, second = np.split(amounts / size, 2)
    total, constant = first + second, second * damping
    safe = (total * poles + constant) / (poles - poles.conj())
    safe_real = (basis @ np.concatenate([safe.real, safe.imag])).real
    bad = real < 0
    # A trifle more than needed: the frequencies watched are not all there are.
    share = min(1.0, 1.02 * float(np.max(-real[bad] / (safe_real[bad] - real[bad]))))
    mixed: np.ndarray = (1 - share) * residues + share * safe
    return mixed


def _watched(s: np.ndarray, poles: np.ndarray) -> np.ndarray:
    """Frequencies at which passivity is asked for: the band, every pole, and far beyond."""
    near = poles.imag[:, None] - poles.real[:, None] * np.linspace(-3, 3, 25)
    beyond = np.geomspace(s[-1].imag, 1e3 * s[-1].imag, 200)
    inside = np.linspace(1e-3, s[-1].imag, 3000)
    every = np.concatenate([inside, beyond, near[near > 0].ravel()])
    watched: np.ndarray = 1j * np.sort(every)
    return watched
