"""Peaks of a lossy cylinder, closed above and ideally open below, against transmission lines.

Z = Zc tanh(Γ L), Γ = α + jβ (Zwikker and Kosten 1949, as in textbook.py). Near a maximum the
half-power width is 2 α over dβ/dω, so Q = ω β' / (2 α), which is k / (2 α) where the phase
speed is constant; the height is coth(α L).
"""

from __future__ import annotations

import numpy as np
import pytest

from borewright.acoustics.air import air_state
from borewright.acoustics.character import character
from borewright.acoustics.character.peaks import peaks_of

LENGTH_MM, BORE_MM = 600.0, 14.6


@pytest.fixture(scope="module")
def peaks(pipe, tabled, still):
    instrument = pipe(length=LENGTH_MM, top=BORE_MM, bottom_end="ideal", climate=still)
    return character(instrument, tabled(("D3", "chalumeau", ()))).notes[0].peaks


def line(textbook, hz):
    """α (1/m), β (1/m) and characteristic impedance over its lossless value."""
    air = air_state(25.0)
    propagation, impedance = textbook.lossy_line(BORE_MM / 2e3, hz, air)
    section = np.pi * (BORE_MM / 2e3) ** 2
    lossless = float(air.density) * float(air.speed_of_sound) / section
    return propagation.real, propagation.imag, impedance / lossless


def test_peaks_against_the_formula(textbook, peaks):
    """Q, width and height: 0.5 %, as α and Zc change a little across the width.

    With s = sinh α L, |tanh|² falls to half of coth² where sin² δ = s² (1 + s²) / (1 + 3 s²), δ
    the phase from the maximum; for small losses δ = α L and Q = ω β' / (2 α).
    """
    assert len(peaks) >= 8
    length = LENGTH_MM / 1e3
    for peak in peaks:
        hz = np.array([peak.frequency_hz])
        alpha, beta, impedance = line(textbook, hz)
        slope = (line(textbook, hz + 1)[1] - line(textbook, hz - 1)[1]) / (4 * np.pi)
        s = np.sinh(alpha * length)
        phase = np.arcsin(np.sqrt(s**2 * (1 + s**2) / (1 + 3 * s**2)))
        assert peak.quality == pytest.approx((np.pi * hz * slope * length / phase)[0], rel=5e-3)
        # The rule of thumb k / (2 α): 5 %, for it takes the phase speed as constant.
        assert peak.quality == pytest.approx((beta / (2 * alpha))[0], rel=0.05)
        height = abs(impedance[0]) / np.tanh(alpha[0] * length)
        assert peak.height == pytest.approx(height, rel=5e-3)
        assert peak.height_db == pytest.approx(20 * np.log10(peak.height))


def test_peaks_against_a_dense_scan_of_theory(textbook, peaks):
    """0.02 Hz and 0.1 %: the scan's own step is 0.01 Hz."""
    for peak in peaks[:3]:
        scan = np.arange(peak.frequency_hz - 40, peak.frequency_hz + 40, 0.01)
        alpha, beta, impedance = line(textbook, scan)
        size = np.abs(impedance * np.tanh((alpha + 1j * beta) * LENGTH_MM / 1e3))
        top = int(np.argmax(size))
        above = scan[size >= size[top] / np.sqrt(2)]
        assert peak.frequency_hz == pytest.approx(scan[top], abs=0.02)
        assert peak.height == pytest.approx(size[top], rel=1e-3)
        assert peak.width_hz == pytest.approx(above[-1] - above[0], abs=0.03)
        assert peak.quality == pytest.approx(peak.frequency_hz / peak.width_hz)


def modes(frequencies: np.ndarray, *rows: tuple[float, float, float]) -> np.ndarray:
    """Admittance of a sum of resonances (Hz, quality, height)."""
    impedance = 0j
    for hz, quality, height in rows:
        impedance = impedance + height / (1 + 1j * quality * (frequencies / hz - hz / frequencies))
    return 1 / impedance


def test_one_resonance_comes_back_whole():
    frequencies = np.arange(4.0, 1000.0, 4.0)
    [[peak]] = peaks_of(frequencies, modes(frequencies, (301.7, 25.0, 40.0))[None])
    assert peak.frequency_hz == pytest.approx(301.7, abs=0.01)
    assert peak.height == pytest.approx(40.0, rel=1e-3)
    assert peak.quality == pytest.approx(25.0, rel=2e-3)


def test_a_peak_on_the_flank_of_another_has_no_width():
    frequencies = np.arange(4.0, 1000.0, 4.0)
    # Opposite signs: between the two both push the same way, and no deep trough parts them.
    close = modes(frequencies, (300.0, 12.0, 20.0), (360.0, 12.0, -18.0))
    [[first, second]] = peaks_of(frequencies, close[None])
    assert first.frequency_hz < second.frequency_hz
    assert second.width_hz is None
    assert second.quality is None


def test_ripples_below_a_decibel_are_no_peaks():
    frequencies = np.arange(4.0, 1000.0, 4.0)
    ripple = modes(frequencies, (300.0, 3.0, 20.0)) * (1 + 0.02 * np.sin(frequencies / 12))
    [peaks] = peaks_of(frequencies, ripple[None])
    assert len(peaks) == 1
