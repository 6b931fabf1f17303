"""The engine against finite elements of Webster's equation: another method, lossless air."""

from __future__ import annotations

import math

import numpy as np
import pytest
from scipy.optimize import brentq

from borewright.acoustics import input_impedance, resonances
from borewright.model import BottomEnd, Instrument, Part, ToneHole

SPEED = 346.0
FINE_M = 4e-3


def branches(finite_elements, instrument: Instrument, open_holes: str) -> list:
    """Tone holes of a one-part cylinder, their lumped lengths from the literature.

    Series: Dubos and others (1999); inner and matching: Nederveen and others (1998); outside:
    Dalmont and others (2001), flush, or a chimney whose wall is 1.2 mm.
    """
    part = instrument.parts[0]
    a, outer = part.bore[0][1] / 2e3, part.outside[0][1] / 2e3
    found = []
    for hole in part.holes:
        b, up = hole.diameter_mm / 2e3, hole.chimney_mm / 1e3
        d, t, is_open = b / a, outer - a + up, hole.name in open_holes
        slope = 1.84 * t / b
        bracket = 1.78 * math.tanh(slope) if is_open else 1.78 / math.tanh(slope)
        ratio = b / (b + 1.2e-3)
        flush = 0.8217 - 0.47 * (b / outer) ** 0.8
        tall = 0.8217 - 0.2084 * ratio + 0.057 * ratio * (1 - ratio**5)
        outside = flush + (1 - math.exp(-max(up, 0) / b)) * (tall - flush)
        flanged = min(max((outside - 0.6133) / 0.2084, 0.0), 1.0)
        found.append(
            finite_elements.Branch(
                station=hole.station_mm / 1e3,
                radius=b,
                height=t + b * d / 8 * (1 + 0.207 * d**3),
                is_open=is_open,
                series=-b * d**2 / (bracket + 0.94 + 0.54 * d + 0.285 * d**2),
                inner=b * (0.82 - 0.193 * d - 1.09 * d**2 + 1.27 * d**3 - 0.71 * d**4),
                outside=outside * b,
                body=outer,
                resistance=(1 + flanged) / 4,
            )
        )
    return found


def test_the_reference_converges_to_the_exact_cone(finite_elements, cents):
    """tan(k L) = -k x1; quadratic elements: the error of a frequency falls 16-fold."""
    length, r_top, r_bottom = 0.3, 4e-3, 14e-3
    x1 = r_top / (r_bottom - r_top) * length

    def equation(k: float) -> float:
        return math.sin(k * length) + k * x1 * math.cos(k * length)

    exact = brentq(equation, math.pi / 2 / length, math.pi / length) * SPEED / (2 * math.pi)
    errors = []
    for element in (0.075, 0.0375, 0.01875):
        horn = finite_elements.Horn([(0, r_top), (length, r_bottom)], [], SPEED, element)
        errors.append(abs(float(cents(horn.resonance(exact), exact))))
    ratios = np.array(errors[:-1]) / np.array(errors[1:])
    assert ratios == pytest.approx(16, rel=0.1)
    assert errors[-1] < 0.01


def test_a_bent_horn(finite_elements, lossless, cents):
    """A cylinder, a gentle and a steep cone, closed at the top and ideally open below."""
    profile = [(0, 7.5e-3), (0.15, 7.3e-3), (0.25, 10e-3), (0.32, 24e-3)]
    bore = [(1e3 * station, 2e3 * radius) for station, radius in profile]
    part = Part(
        name="horn", length_mm=320, bore=bore, outside=[(s, diameter + 6) for s, diameter in bore]
    )
    horn = Instrument(
        name="horn",
        parts=[part],
        bottom_end=BottomEnd.IDEAL,
        side_holes="closed forms",  # plane sections, as in the reference
        invented=True,
    )
    found = resonances(horn, [], 3, lossless)
    reference = finite_elements.Horn(profile, [], SPEED, FINE_M)
    assert cents(found, [reference.resonance(f) for f in found]) == pytest.approx(0, abs=0.001)


@pytest.mark.parametrize("open_holes", [[], ["1"]])
def test_one_hole(finite_elements, pipe, lossless, cents, open_holes):
    """0.001 cent: elements of 4 mm leave 1e-5 at these frequencies."""
    hole = ToneHole(name="1", station_mm=210, diameter_mm=8.0)
    tube = pipe(outside=31, holes=[hole], bottom_end=BottomEnd.IDEAL)
    horn = finite_elements.Horn(
        [(0, 7.5e-3), (0.3, 7.5e-3)],
        branches(finite_elements, tube, "".join(open_holes)),
        SPEED,
        FINE_M,
    )
    found = resonances(tube, open_holes, 3, lossless)
    assert cents(found, [horn.resonance(f) for f in found]) == pytest.approx(0, abs=0.001)


@pytest.mark.parametrize("open_holes", ["", "5", "45", "345", "12345", "24", "135", "1"])
def test_five_holes(finite_elements, five_holes, lossless, cents, open_holes):
    """Plain fingerings, forks and a vent: two resonances, and the impedance in between."""
    tube = five_holes(bottom_end=BottomEnd.IDEAL)
    horn = finite_elements.Horn(
        [(0, 7.3e-3), (0.4, 7.3e-3)], branches(finite_elements, tube, open_holes), SPEED, FINE_M
    )
    found = resonances(tube, list(open_holes), 2, lossless)
    assert cents(found, [horn.resonance(f) for f in found]) == pytest.approx(0, abs=0.001)
    between = np.array([90.0, 700.0, 1900.0])
    characteristic = lossless.density * SPEED / (np.pi * 7.3e-3**2)
    expected = np.array([horn.impedance(hz) for hz in between]) * characteristic
    # At 1.9 kHz a wavelength has 45 elements, whose error of phase is 1e-5.
    assert input_impedance(tube, list(open_holes), between, lossless) == pytest.approx(
        expected, rel=1e-3
    )
