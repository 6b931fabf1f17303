"""Whole resonators without holes: published solutions, the outer boundary, refusals."""

from __future__ import annotations

import math

import numpy as np
import pytest
from scipy.special import spherical_jn, spherical_yn

from borewright.acoustics import Air, resonances
from borewright.acoustics.solved.whole import REFERENCE_AIR, WholeDetail, whole_resonances
from borewright.acoustics.solved.whole._reduced import maxima
from borewright.acoustics.solved.whole._waves import outgoing
from borewright.acoustics.solved.whole.body import body_of
from borewright.errors import AcousticsError
from borewright.model import BottomEnd, Instrument, Part, ToneHole

# Independent finite elements, lossless, c = 346.0, outer air included (acoustics notes, 4).
PIPE_HZ = (283.303, 849.937, 1416.637)
FLARE_HZ = (350.877, 911.655, 1395.445)


def tube(bore, outside, holes=(), **circumstances):
    part = Part(name="tube", length_mm=bore[-1][0], bore=bore, outside=outside, holes=list(holes))
    return Instrument(name="tube", parts=[part], **circumstances)


def pipe(**more):
    return tube([(0, 15), (300, 15)], [(0, 22), (300, 22)], **more)


def cents(found, reference):
    return 1200 * np.log2(np.asarray(found) / np.asarray(reference))


def test_pipe_and_flare_against_independent_solutions():
    flare = tube([(0, 15), (180, 15), (300, 30)], [(0, 19), (180, 19), (300, 34)])
    for instrument, reference in ((pipe(), PIPE_HZ), (flare, FLARE_HZ)):
        found = whole_resonances(instrument, [])
        # 0.01 cent of the reference, 0.01 of ours: its outer boundary is nearer.
        assert np.max(np.abs(cents(found.frequencies_hz, reference))) < 0.02
        assert found.reduction_cents < 0.01


def test_a_finer_mesh_and_farther_air_change_nothing():
    default = whole_resonances(pipe(), [])
    finer = whole_resonances(pipe(), [], detail=WholeDetail().finer())
    assert np.max(np.abs(cents(default.frequencies_hz, finer.frequencies_hz))) < 0.01


def test_impedance_is_that_of_the_engine_between_resonances():
    from borewright.acoustics import input_impedance

    found = whole_resonances(pipe(), [])
    at = np.searchsorted(found.frequency_grid_hz, [450.0, 1000.0])
    engine = input_impedance(pipe(), [], found.frequency_grid_hz[at], air=REFERENCE_AIR)
    # End corrections differ by a thousandth of the length.
    assert np.abs(found.impedance[at] / engine - 1) == pytest.approx([0, 0], abs=0.01)


@pytest.mark.parametrize("order", [0, 1])
def test_outer_boundary_lets_monopoles_and_dipoles_through(order):
    k, radius = 0.004, 230.0

    def hankel(r):  # of the second kind: outgoing with exp(+j w t)
        return spherical_jn(order, k * r) - 1j * spherical_yn(order, k * r)

    slope = (hankel(radius * (1 + 1e-6)) - hankel(radius * (1 - 1e-6))) / (2e-6 * radius)
    first, second = outgoing(k, radius)
    condition = first + second * order * (order + 1) / radius**2
    # What central differences leave.
    assert -slope / hankel(radius) == pytest.approx(condition, rel=1e-7)


def test_maxima_are_numbered_as_the_engine_does():
    # A lossless tube that is open below: y = 1/(j tan x), maxima at odd quarter waves.
    found = maxima(lambda x: 1 / (1j * np.tan(x) + 1e-9), np.linspace(0.05, 9.0, 400), 3)
    assert found == pytest.approx(np.array([0.5, 1.5, 2.5]) * math.pi, rel=1e-6)


def test_body_has_the_bore_of_the_engine_and_its_sharp_corners():
    body = body_of(pipe(), [])
    assert body.bore == pytest.approx(np.array([(0.0, 7.5), (300.0, 7.5)]))
    assert body.is_round
    # The rim inside and outside, and the lid's edge.
    assert len(body.sharp_corners()) == 3


def test_chamber_and_reed_lower_all_resonances_as_in_the_engine():
    from borewright.model import Mouthpiece, Reed

    played = pipe(mouthpiece=Mouthpiece(), reed=Reed())
    found = whole_resonances(played, [], 2)
    engine = resonances(played, [], 2, air=REFERENCE_AIR)
    # Same chamber and reed; what differs is the bottom end of a thick pipe.
    assert np.max(np.abs(cents(found.frequencies_hz, engine))) < 0.5


@pytest.mark.parametrize(
    ("instrument", "open_holes", "options", "words"),
    [
        (pipe(), [], {"air": Air(346.0, 1.18)}, "lossless"),
        (pipe(), ["L9"], {}, "no hole 'L9'"),
        (pipe(bottom_end=BottomEnd.IDEAL), [], {}, "no real instrument"),
        (pipe(bottom_end=BottomEnd.CLOSED), [], {}, "no way out"),
        (pipe(), [], {"count": 0}, "count is 0"),
        (pipe(), [], {"detail": WholeDetail(order=1)}, "order is 1"),
        (
            pipe(bottom_end=BottomEnd.CLOSED).model_copy(
                update={
                    "parts": [
                        Part(
                            name="tube",
                            length_mm=300,
                            bore=[(0, 15), (300, 15)],
                            outside=[(0, 22), (300, 22)],
                            holes=[ToneHole(name="h", station_mm=150, diameter_mm=8)],
                        )
                    ]
                }
            ),
            [],
            {},
            "no way out",
        ),
    ],
)
def test_refusals(instrument, open_holes, options, words):
    with pytest.raises(AcousticsError, match=words) as refused:
        whole_resonances(instrument, open_holes, **options)
    assert refused.value.place
    assert refused.value.remedy
