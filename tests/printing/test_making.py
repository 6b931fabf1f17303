"""How sizes scatter as made: by a measured coupon, and by rule of thumb without one."""

from __future__ import annotations

import math

import numpy as np
import pytest

from borewright.model import Doubts
from borewright.printing import (
    FeatureKind,
    SimulatedPrinter,
    calibrate,
    making_of,
    printer_named,
    reamed,
    time_factor,
)
from borewright.words import say

PRINTER = printer_named("tall frame")


def test_a_coupon_tells_a_planted_printers_scatter(faults):
    """Means over 60 coupons, each a planted printer's, against its own scatters."""
    found = [
        making_of(PRINTER, calibrate(SimulatedPrinter(faults, seed).coupon())).scatter
        for seed in range(60)
    ]
    bore = np.sqrt(np.mean([one.bore_diameter.each**2 for one in found]))
    hole = np.sqrt(np.mean([one.diameter.each**2 for one in found]))
    assert bore == pytest.approx(faults[FeatureKind.BORE].scatter_mm, rel=0.1)
    assert hole == pytest.approx(math.hypot(0.03, 0.04) / 2, rel=0.1)
    # What stays common is how well a coupon knows the mean: less than one reading's scatter.
    assert all(one.bore_diameter.common < 0.02 for one in found)


def test_what_stays_common_is_the_scatter_of_what_coupons_say(faults):
    lines = [
        calibrate(SimulatedPrinter(faults, seed).coupon()).of(FeatureKind.BORE)
        for seed in range(200)
    ]
    really = np.std([line.error_mm(14.8) for line in lines], ddof=1)
    told = np.mean(
        [
            making_of(PRINTER, calibrate(SimulatedPrinter(faults, seed).coupon()))
            .scatter.bore_diameter.common
            for seed in range(50)
        ]
    )  # fmt: skip
    # 200 draws leave 5 % of a standard deviation open.
    assert told == pytest.approx(really, rel=0.2)


def test_without_a_coupon_the_rule_is_told_and_goes_with_nozzle_and_layer():
    making = making_of(PRINTER)
    assert making.scatter.diameter == Doubts().diameter  # 0.4 mm nozzle, 0.12 mm layers
    assert "rule of thumb" in str(making.notes[0])
    fine = PRINTER.model_copy(update={"nozzle_mm": 0.2, "layer_mm": 0.06})
    half = making_of(fine).scatter
    assert half.diameter.each == pytest.approx(making.scatter.diameter.each / 2)
    assert half.station.each == pytest.approx(making.scatter.station.each / 2)
    assert half.lift == making.scatter.lift


def test_a_coupon_without_bores_says_that_the_rule_stands_in(faults):
    readings = [
        one
        for one in SimulatedPrinter(faults, 3).coupon()
        if one.feature.kind is not FeatureKind.BORE
    ]
    making = making_of(PRINTER, calibrate(readings))
    assert making.scatter.bore_diameter == Doubts().bore_diameter
    assert any("does not tell" in str(note) for note in making.notes)


def test_a_reamer_makes_all_alike_but_for_its_own_scatter():
    making = reamed(making_of(PRINTER), "bore_diameter", 0.01, say("bores reamed"))
    assert (making.scatter.bore_diameter.common, making.scatter.bore_diameter.each) == (0.0, 0.01)
    assert "bores reamed" in str(making.notes[-1])


def test_half_the_nozzle_in_half_the_layers_lays_four_times_as_long():
    """A bead is as wide as the nozzle and as high as the layer: its section is a quarter."""
    fine = PRINTER.model_copy(update={"nozzle_mm": 0.2, "layer_mm": 0.06})
    assert time_factor(PRINTER, fine) == pytest.approx(4.0)
    assert time_factor(PRINTER, PRINTER) == 1.0
