"""Resonators for blowing: textbook cylinders as modes, and small tables of fingerings."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from typing import NamedTuple

import numpy as np
import pytest

from borewright.acoustics.blowing.modes import Modes
from borewright.acoustics.blowing.reed import ReedModel
from borewright.model import Fingering, FingeringTable, Register


class Textbook(NamedTuple):
    """An ideal cylinder, closed at the reed and open below, with a trifle of damping."""

    modes: Modes
    first_hz: float


@pytest.fixture(scope="session")
def cylinder() -> Callable[[int], Textbook]:
    """Maker of cylinders of 0.6 m from their textbook modes, ``count`` of them.

    z = j tan(k L) has poles at odd multiples of c / (4 L), all with the residue c / L. The
    damping is weak, so that thresholds move by less than half a percent. Residues fall off
    towards the last mode as Lanczos's factors do, against the ripples of a cut series.
    """

    def make(count: int) -> Textbook:
        length, speed = 0.6, 345.0
        number = np.arange(1, count + 1)
        omega = 2 * np.pi * (2 * number - 1) * speed / (4 * length)
        poles = (-0.3 - 0.02 * number**2) + 1j * omega
        residues = speed / length * np.sinc((2 * number - 1) / (2 * count + 1)) + 0j
        nothing = np.zeros(1)
        return Textbook(
            Modes(poles[None], residues[None], nothing, nothing), float(omega[0] / 2 / np.pi)
        )

    return make


@pytest.fixture(scope="session")
def fast_reed() -> ReedModel:
    """A reed that follows at once, as theory's does: 20 kHz, critically damped."""
    return ReedModel(20_000.0, 2.0)


@pytest.fixture(scope="session")
def fingered() -> Callable[..., FingeringTable]:
    """Maker of a table of (written, open holes, register)."""

    def make(*rows: tuple[str, Sequence[str], Register]) -> FingeringTable:
        return FingeringTable(
            fingerings=[
                Fingering(written=written, register=register, open_holes=tuple(holes),
                          label=str(number))
                for number, (written, holes, register) in enumerate(rows)
            ]
        )  # fmt: skip

    return make
