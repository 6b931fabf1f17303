"""Shrinkage that is not known is told of, and so are oval tenons and another lot."""

from __future__ import annotations

import math

import numpy as np
import pytest

from borewright.printing import (
    Fault,
    FeatureKind,
    MeasuredFeature,
    SimulatedPrinter,
    calibrate,
    coupon_features,
    length_findings,
)


def test_uncompensated_lengths_name_the_hole_that_suffers_most(clarinet, keywork):
    (found,) = length_findings(clarinet, keywork, None)
    assert [str(each) for each in found.place] == ["part 'lower joint'", "hole 'EB'"]
    # 0.3 % of 213 mm.
    assert "0.64 mm too high" in str(found.what)
    assert "its cup allows" in str(found.what)


def test_a_surely_measured_shrinkage_says_nothing_more(clarinet, keywork, faults):
    sure = {**faults, FeatureKind.LENGTH: Fault(-0.05, -0.003, 0.01)}
    assert length_findings(clarinet, keywork, calibrate(SimulatedPrinter(sure, 4).coupon())) == []
    unsure = {**faults, FeatureKind.LENGTH: Fault(-0.05, -0.003, 0.1)}
    (found,) = length_findings(clarinet, keywork, calibrate(SimulatedPrinter(unsure, 4).coupon()))
    assert "is known to ±" in str(found.what)
    assert "first body" in str(found.remedy)


def test_another_lot_is_told_of(clarinet, keywork, faults):
    made = calibrate(SimulatedPrinter(faults, 4).coupon(), lot="lot 7")
    assert not any("lot 8" in str(one.what) for one in length_findings(clarinet, keywork, made))
    found = length_findings(clarinet, keywork, made, "lot 8")
    assert "'lot 8' is printed by what was measured of lot 'lot 7'" in str(found[-1].what)


@pytest.mark.parametrize(("stretch", "turn"), [(0.006, 30.0), (0.006, 120.0), (0.0, 0.0)])
def test_an_ellipse_is_found_with_its_way_and_interval(clarinet, keywork, stretch, turn):
    """Diameters of an ellipse of small ovality go as 1 + e/2 · cos 2(θ - turn)."""
    random = np.random.default_rng(6)
    readings = []
    for one in coupon_features():
        wave = math.cos(2 * math.radians(one.turn_deg - turn)) if one.girth else 0.0
        size = one.nominal_mm * (1 + stretch / 2 * wave) + random.normal(0.0, 0.02)
        readings.append(MeasuredFeature(one, size))
    made = calibrate(readings)
    assert made.ovality.girths == 4
    assert made.ovality.share == pytest.approx(stretch, abs=made.ovality.sure)
    found = [str(one.what) for one in length_findings(clarinet, keywork, made)]
    if stretch:
        assert made.ovality.widest_deg == pytest.approx(turn, abs=5)
        # 0.6 % of the lower joint's tenon of 28 mm.
        assert made.ovality.mm(28.0) == pytest.approx(0.168, abs=0.03)
        assert any("comes out oval" in each for each in found)
    else:
        assert not found
