"""Resonances and impedances of plain tubes against their exact solutions.

Lossless tubes with an ideal end: 0.01 cent is far above rounding and far below hearing.
A resonance is an impedance maximum at the top, as for a tube closed by a reed.
"""

from __future__ import annotations

import math

import numpy as np
import pytest
from scipy.optimize import brentq

from borewright.acoustics import Air, input_impedance, resonances
from borewright.acoustics.air import air_state
from borewright.errors import AcousticsError
from borewright.model import BottomEnd, Climate

SPEED = 346.0


def roots(equation, count: int, length: float) -> np.ndarray:
    """First positive roots k of an equation without poles, from a scan of k L by 1/50."""
    scan = np.arange(0.02, (count + 2) * np.pi, 0.02) / length
    values = np.array([equation(k) for k in scan])
    changes = np.flatnonzero(np.sign(values[:-1]) != np.sign(values[1:]))[:count]
    return np.array([brentq(equation, scan[i], scan[i + 1], xtol=1e-14) for i in changes])


def test_cylinder_open_at_the_bottom(pipe, lossless, cents):
    """f = (2 n - 1) c / 4 L."""
    found = resonances(pipe(bottom_end=BottomEnd.IDEAL), [], 5, lossless)
    expected = (2 * np.arange(1, 6) - 1) * SPEED / (4 * 0.3)
    assert cents(found, expected) == pytest.approx(0, abs=0.01)


def test_cylinder_closed_at_both_ends(pipe, lossless, cents):
    """f = n c / 2 L."""
    found = resonances(pipe(bottom_end=BottomEnd.CLOSED), [], 5, lossless)
    assert cents(found, np.arange(1, 6) * SPEED / (2 * 0.3)) == pytest.approx(0, abs=0.01)


@pytest.mark.parametrize(("top", "bottom"), [(5.0, 25.0), (12.0, 16.0), (25.0, 5.0)])
def test_cone_open_at_the_bottom(pipe, lossless, cents, top, bottom):
    """Closed at x1, zero pressure at x2: tan(k L) = -k x1, with x from the apex.

    p = sin(k (x2 - x)) / x has no slope at x1. In a cone that narrows downwards x is negative.
    """
    length = 0.3
    x1 = top / (bottom - top) * length
    expected = roots(lambda k: math.sin(k * length) + k * x1 * math.cos(k * length), 4, length)
    cone = pipe(top=top, bottom=bottom, bottom_end=BottomEnd.IDEAL)
    found = resonances(cone, [], 4, lossless)
    assert cents(found, expected * SPEED / (2 * np.pi)) == pytest.approx(0, abs=0.01)


@pytest.mark.parametrize(("top", "bottom"), [(5.0, 25.0), (25.0, 5.0)])
def test_cone_closed_at_both_ends(pipe, lossless, cents, top, bottom):
    """(1 + k² x1 x2) tan(k L) = k L, the same both ways round."""
    length = 0.3
    x1 = top / (bottom - top) * length
    x2 = x1 + length

    def equation(k: float) -> float:
        return (1 + k * k * x1 * x2) * math.sin(k * length) - k * length * math.cos(k * length)

    expected = roots(equation, 4, length)
    cone = pipe(top=top, bottom=bottom, bottom_end=BottomEnd.CLOSED)
    found = resonances(cone, [], 4, lossless)
    assert cents(found, expected * SPEED / (2 * np.pi)) == pytest.approx(0, abs=0.01)


def test_impedance_of_a_lossless_cylinder(pipe, lossless):
    """j Zc tan(k L), Zc = rho c / S."""
    frequencies = np.array([50.0, 120.0, 333.0, 610.0, 1234.0, 2222.0])
    found = input_impedance(pipe(bottom_end=BottomEnd.IDEAL), [], frequencies, lossless)
    characteristic = 1.18 * SPEED / (np.pi * 7.5e-3**2)
    phase = 2 * np.pi * frequencies / SPEED * 0.3
    assert found == pytest.approx(1j * characteristic * np.tan(phase), rel=1e-9)


def test_impedance_of_a_lossy_cylinder(pipe, textbook):
    """Zc tanh(G L) with Zwikker and Kosten's line: at the resonances, and off them."""
    still = Climate(
        room_c=25, reed_end_c=25, relative_humidity=0, carbon_dioxide=0.0004, pressure_hpa=1013.25
    )
    tube = pipe(bottom_end=BottomEnd.IDEAL, climate=still)
    frequencies = np.concatenate([np.linspace(60, 2500, 40), resonances(tube, [], 3)])
    propagation, characteristic = textbook.lossy_line(7.5e-3, frequencies, air_state(25.0))
    expected = characteristic * np.tanh(propagation * 0.3)
    found = input_impedance(tube, [], frequencies)
    assert found == pytest.approx(expected, rel=1e-6)
    # Seen from the air: a peak of some 50 times the characteristic impedance, and real.
    assert found[-3].real > 30 * 1.18 * SPEED / (np.pi * 7.5e-3**2)
    assert abs(found[-3].imag) < 0.01 * found[-3].real


def test_a_helmholtz_resonator(pipe, lossless):
    """A chamber on a short neck: Z is largest where neck inertance and chamber resonate.

    f = c / 2 pi sqrt(S / (V L)), exact while the neck is short against the wavelength; its
    own air counts for a third of its volume. Here that is 1 % of the chamber, the rest 1e-4.
    """
    from borewright.model import Mouthpiece

    neck = pipe(
        length=20,
        bottom_end=BottomEnd.IDEAL,
        mouthpiece=Mouthpiece(bore_diameter_mm=15, bore_length_mm=1e-6, chamber_mm3=200e3),
    )
    section, volume = np.pi * 7.5e-3**2, 200e-6
    volume += section * 0.02 / 3
    expected = SPEED / (2 * np.pi) * np.sqrt(section / (volume * 0.02))
    assert resonances(neck, [], 1, lossless)[0] == pytest.approx(expected, rel=2e-4)


def test_wrong_requests_are_refused(pipe):
    tube = pipe(bottom_end=BottomEnd.IDEAL)
    with pytest.raises(AcousticsError, match="no hole 'L3'"):
        resonances(tube, ["L3"], 1)
    with pytest.raises(AcousticsError, match="count is 0"):
        resonances(tube, [], 0)
    for frequencies in ([0.0], [-5.0], [math.nan], [math.inf], [[100.0]]):
        with pytest.raises(AcousticsError, match="frequenc"):
            input_impedance(tube, [], frequencies)
    for air, name in ((Air(1.2, 346.0), "speed_of_sound"), (Air(346.0, 1180.0), "density")):
        with pytest.raises(AcousticsError, match=name):
            resonances(tube, [], 1, air)


def test_no_frequencies_give_no_impedances(pipe):
    assert input_impedance(pipe(bottom_end=BottomEnd.IDEAL), [], []).shape == (0,)
