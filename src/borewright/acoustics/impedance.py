"""Input impedance and resonances of one fingering."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

from borewright.acoustics import kernels
from borewright.acoustics.options import Air
from borewright.acoustics.request import request_for
from borewright.acoustics.side_holes import hole_level
from borewright.acoustics.status import statuses
from borewright.errors import AcousticsError
from borewright.model import Instrument, SideHoles
from borewright.model.results.tuning import ResonanceStatus
from borewright.words import say

#: Stokes number from which the series of wide tubes is right to 2e-6; see losses.line.
_SERIES_FROM = 10.0
#: Kinematic viscosity of air (m²/s) on the safe side.
_VISCOSITY = 1.7e-5


def input_impedance(
    instrument: Instrument,
    open_holes: Sequence[str],
    frequencies_hz: np.ndarray | Sequence[float],
    air: Air | None = None,
    *,
    side_holes: SideHoles | str | None = None,
) -> np.ndarray:
    """Input impedance at the reed, or at the top end of a bare tube.

    Parameters
    ----------
    instrument
        With mouthpiece and reed their admittances are included, as the reed sees them.
    open_holes
        Names of the open holes; all others are closed.
    frequencies_hz
        Any number of positive frequencies, shape [K].
    air
        Explicit constants instead of the instrument's climate.
    side_holes
        ``"closed forms"`` or ``"solved in 3-D"``.

    Returns
    -------
    numpy.ndarray
        Complex, Pa s/m³, shape [K]; time factor exp(+j w t).

    Raises
    ------
    AcousticsError
        For an unknown hole or a frequency that is not positive and finite.
    """
    frequencies = np.atleast_1d(np.asarray(frequencies_hz, dtype=float))
    if frequencies.ndim != 1 or not np.all(np.isfinite(frequencies) & (frequencies > 0)):
        raise AcousticsError(
            say("a frequency is not a positive finite number"),
            place="frequencies_hz",
            remedy=say("Give a list of frequencies in Hz, all above 0."),
        )
    terms = hole_level(instrument, side_holes).terms
    request = request_for(instrument, [open_holes], [1], 1000.0, air, terms)
    # Frequencies are padded to a power of two, so that few kernels serve all lengths.
    width = 1 << (len(frequencies) - 1).bit_length() if len(frequencies) else 1
    padded = np.resize(frequencies, width) if len(frequencies) else np.ones(1)
    options = request.options
    if len(frequencies) and _is_narrow_at(instrument, frequencies.min()):
        options = options._replace(any_width=not options.lossless)
    found = kernels.impedance(
        request.structure, options, request.numbers, request.fixed, padded, request.masks[0]
    )
    return np.asarray(found)[: len(frequencies)]


def _is_narrow_at(instrument: Instrument, hz: float) -> bool:
    """Whether the loss series of wide tubes will not do in the narrowest bore."""
    radius = min(diameter for part in instrument.parts for _, diameter in part.bore) / 2000
    return bool(radius * np.sqrt(2 * np.pi * hz / _VISCOSITY) < _SERIES_FROM)


def resonances(
    instrument: Instrument,
    open_holes: Sequence[str],
    count: int = 3,
    air: Air | None = None,
    *,
    side_holes: SideHoles | str | None = None,
) -> np.ndarray:
    """First impedance maxima of a fingering (Hz), where the imaginary part vanishes.

    Parameters
    ----------
    instrument, open_holes, air, side_holes
        As for :func:`input_impedance`.
    count
        How many, from the lowest.

    Returns
    -------
    numpy.ndarray
        Frequencies (Hz), shape [count], rising.

    Raises
    ------
    AcousticsError
        If one of them cannot be told apart: then radiation swallows it.
    """
    if count < 1:
        raise AcousticsError(
            say("count is {count}", count=count), place="count", remedy=say("Ask for at least 1.")
        )
    # A tube closed above has its n-th resonance below n half wavelengths of its length.
    speed = air.checked().speed_of_sound if air is not None else 355.0
    length = instrument.length_mm + (
        instrument.mouthpiece.bore_length_mm if instrument.mouthpiece else 0.0
    )
    highest = (count + 1) * speed / (2 * length / 1000)
    terms = hole_level(instrument, side_holes).terms
    orders = list(range(1, count + 1))
    request = request_for(instrument, [open_holes] * count, orders, highest, air, terms)
    solved = kernels.resonances(*request)
    for number, status in enumerate(statuses(solved), start=1):
        if status is not ResonanceStatus.OK:
            raise AcousticsError(
                say("resonance {number}: {status}", number=number, status=status),
                place=(
                    say("'{instrument}'", instrument=instrument.name),
                    say("open holes: {open_holes}", open_holes=" ".join(open_holes) or say("none")),
                ),
                remedy=say("Ask for fewer resonances, or look at input_impedance there."),
            )
    return np.asarray(solved.frequency)
