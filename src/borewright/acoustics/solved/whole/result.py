"""What the reference says about one fingering of one instrument."""

from __future__ import annotations

from dataclasses import asdict, dataclass, field
from typing import Any

import numpy as np


@dataclass(frozen=True)
class WholeResonator:
    """Resonances of a whole resonator in 3-D, lossless, outer air included.

    Attributes
    ----------
    frequencies_hz
        First impedance maxima, rising; there the imaginary part of the input admittance
        vanishes.
    frequency_grid_hz, impedance
        Input impedance (complex, Pa s/m³) along a grid of frequencies, for pictures; chamber
        and reed included.
    closed_forms_hz
        Where the engine's closed forms put the same resonances in the same air.
    reduction_cents
        What the last of the solutions that the impedance is put together from still moved.
    unknowns
        Of the system that was factored.
    seconds
        Wall-clock time.
    """

    instrument: str
    open_holes: tuple[str, ...]
    frequencies_hz: tuple[float, ...]
    closed_forms_hz: tuple[float, ...]
    reduction_cents: float
    unknowns: int
    seconds: float
    frequency_grid_hz: np.ndarray = field(repr=False)
    impedance: np.ndarray = field(repr=False)

    def as_dict(self) -> dict[str, Any]:
        """For JSON, without the impedance curve."""
        found = asdict(self)
        del found["frequency_grid_hz"], found["impedance"]
        return found

    def __str__(self) -> str:
        frequencies = ", ".join(f"{frequency:.2f}" for frequency in self.frequencies_hz)
        return (
            f"{self.instrument}, open: {' '.join(self.open_holes) or 'none'}: {frequencies} Hz "
            f"({self.unknowns} unknowns, {self.seconds:.1f} s)"
        )
