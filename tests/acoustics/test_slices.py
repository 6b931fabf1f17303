"""Slicing: what halving the slices does, and how fast the error falls."""

from __future__ import annotations

import itertools

import numpy as np
import pytest

from borewright.acoustics import kernels, resonances
from borewright.acoustics.request import request_for
from borewright.acoustics.structure import SLICE_MM, structure_of
from borewright.model import Climate, Instrument


def sliced_resonances(instrument: Instrument, open_holes, count: int, slice_mm: float):
    """First resonances (Hz), lossy, in the instrument's own climate."""
    request = request_for(instrument, [open_holes] * count, range(1, count + 1), 2000.0)
    request = request._replace(structure=structure_of(instrument, slice_mm))
    return np.asarray(kernels.resonances(*request).frequency)


@pytest.mark.parametrize("open_holes", [[], ["F", "P"]])
def test_halving_moves_nothing_on_a_flared_instrument(clarinet, cents, open_holes):
    """0.05 cent on the first three resonances, losses and temperature included."""
    usual = sliced_resonances(clarinet, open_holes, 3, SLICE_MM)
    half = sliced_resonances(clarinet, open_holes, 3, SLICE_MM / 2)
    assert cents(usual, half) == pytest.approx(0, abs=0.05)


def test_the_error_falls_with_the_square_of_the_slice(flared, cents):
    """A lossy cone of 120 mm in 2, 4, 8 and 16 slices: each halving moves a quarter as far."""
    still = flared.model_copy(update={"climate": Climate(room_c=25, reed_end_c=25)})
    found = [sliced_resonances(still, [], 3, slice_mm) for slice_mm in (60, 30, 15, 7.5)]
    moves = np.array([cents(coarse, fine) for coarse, fine in itertools.pairwise(found)])
    orders = np.log2(np.abs(moves[:-1] / moves[1:]))
    assert orders[-1] == pytest.approx(2, abs=0.05)


def test_a_lossless_cone_needs_no_slices(flared, lossless, cents):
    """Cutting a cone changes nothing but rounding: each slice is exact."""
    request = request_for(flared, [[]] * 3, [1, 2, 3], 2000.0, lossless)
    coarse = kernels.resonances(*request._replace(structure=structure_of(flared, 120)))
    assert cents(coarse.frequency, resonances(flared, [], 3, lossless)) == pytest.approx(
        0, abs=1e-7
    )


def test_a_long_cylinder_follows_the_temperature(pipe, cents):
    """The same tube with its bore listed every 5 mm must sound the same: 0.05 cent."""
    whole = pipe()
    listed = [(float(station), 15.0) for station in range(0, 301, 5)]
    part = whole.parts[0].model_copy(update={"bore": listed})
    fine = whole.model_copy(update={"parts": [part]})
    assert cents(resonances(whole, [], 3), resonances(fine, [], 3)) == pytest.approx(0, abs=0.05)
