"""Smoothing of measured bores: what was planted comes back, within its own intervals.

The planted bores are this file's own formulas, not the smoother's: a flare here is a parabola
or an exponential, and stations are drawn at random.
"""

import numpy as np
import pytest

from borewright.errors import FitError
from borewright.fit.bores import smooth_bore
from borewright.model.bores import (
    BoreReading,
    BreakKind,
    MeasuredPart,
    ReachedFrom,
    SegmentKind,
)

GAUGE_MM = 0.02


def lower_joint(s):
    """Cylinder, then from 151.3 mm a flare that bends away at once and widens ever more."""
    beyond = np.maximum(s - 151.3, 0)
    return 14.65 + 0.018 * beyond + 4.2e-4 * beyond**2


def upper_joint(s):
    """Throat taper down to 41.7 mm, then a cylinder."""
    return np.where(s < 41.7, 14.95 - 0.33 * s / 41.7, 14.62)


def whole_bore(s):
    """Throat taper to 52.6 mm, cylinder, exponential flare from 180.4 mm."""
    beyond = np.maximum(s - 180.4, 0)
    throat = np.where(s < 52.6, 15.0 - 0.38 * s / 52.6, 14.62)
    return throat + 1.08 * (np.exp(beyond / 55) - 1)


def stepped(s):
    return np.where(s < 83.3, 14.8, 14.6)


def measured(shape, seed, *, length=260.0, count=48, scatter=GAUGE_MM, given=GAUGE_MM, ends=False):
    generator = np.random.default_rng(seed)
    stations = np.sort(generator.uniform(0, length, count))
    stations[[0, -1]] = 0, length
    diameters = shape(stations) + generator.normal(0, scatter, count)
    return MeasuredPart(
        name="planted",
        length_mm=length,
        readings=[
            BoreReading(
                station_mm=float(length - s if ends and s > 0.6 * length else s),
                reached_from=ReachedFrom.BOTTOM if ends and s > 0.6 * length else ReachedFrom.TOP,
                diameter_mm=float(d),
                uncertainty_mm=given,
            )
            for s, d in zip(stations, diameters, strict=True)
        ],
        stations_mm=[float(s) for s in stations],
    )


def holds(interval, value):
    return interval.low <= value <= interval.high


def test_a_lower_joint_is_a_cylinder_and_a_flare():
    found = smooth_bore(measured(lower_joint, 3))
    assert [each.kind for each in found.segments] == [SegmentKind.CYLINDER, SegmentKind.FLARE]
    assert found.flare_start is not None
    assert holds(found.flare_start.station_mm, 151.3)
    # Some 30 readings of a cylinder, each off by 0.02: their mean is good to about 0.004.
    assert found.segments[0].top_diameter_mm.value == pytest.approx(14.65, abs=0.012)
    assert found.scatter_mm == pytest.approx(GAUGE_MM, rel=0.4)
    for station, diameter, low, high in found.profile:
        assert low <= diameter <= high
        assert diameter == pytest.approx(float(lower_joint(np.array(station))), abs=0.05)


def test_tapers_and_diameters_have_their_intervals():
    """Over 40 seeds 95 % intervals of a taper and of two diameters hold the truth."""
    held = {"taper": 0, "top": 0, "cylinder": 0}
    for seed in range(40):
        found = smooth_bore(measured(upper_joint, seed, length=180.0, count=40))
        first, last = found.segments[0], found.segments[-1]
        held["taper"] += first.taper is not None and holds(first.taper, -0.33 / 41.7)
        held["top"] += holds(first.top_diameter_mm, 14.95)
        held["cylinder"] += holds(last.bottom_diameter_mm, 14.62)
    # At 95 % fewer than 34 of 40 would have a chance of 1 in 300.
    assert all(count >= 34 for count in held.values()), held


def test_a_step_is_found_between_its_readings():
    found = smooth_bore(measured(stepped, 1, length=180.0, count=40))
    assert [each.kind for each in found.breaks] == [BreakKind.STEP]
    assert holds(found.breaks[0].station_mm, 83.3)
    assert found.breaks[0].step_mm is not None
    assert holds(found.breaks[0].step_mm, -0.2)


def test_pure_scatter_makes_no_breaks():
    """A plain cylinder has none in 40 drawings. (A cone in some: 1 in 15 by the criterion.)"""
    found = [smooth_bore(measured(lambda s: 14.6 + 0 * s, seed, count=30)) for seed in range(40)]
    assert [each.breaks for each in found] == [[]] * 40
    plain = [each for each in found if each.segments[0].kind is SegmentKind.CYLINDER]
    assert len(plain) >= 32


def test_readings_worse_than_their_gauge_widen_the_intervals_and_are_told():
    fair = smooth_bore(measured(lower_joint, 5))
    rough = smooth_bore(measured(lower_joint, 5, scatter=0.06))
    assert rough.inflation == pytest.approx(3, rel=0.35)
    assert 2 < rough.notices[0].value("times") < 4
    spans = [
        each.segments[0].top_diameter_mm.high - each.segments[0].top_diameter_mm.low
        for each in (fair, rough)
    ]
    assert spans[1] > 2 * spans[0]


def test_without_a_gauge_uncertainty_the_scatter_stands_in_for_it():
    found = smooth_bore(measured(lower_joint, 7, given=None))
    assert not found.uncertainty_given
    assert found.inflation == 1
    assert found.readings[0].uncertainty_mm == pytest.approx(GAUGE_MM, rel=0.4)
    assert found.flare_start is not None
    assert holds(found.flare_start.station_mm, 151.3)


def test_an_uncertain_station_counts_where_the_bore_tapers():
    sharp = measured(lower_joint, 11)
    vague = sharp.model_copy(
        update={
            "readings": [
                each.model_copy(update={"station_uncertainty_mm": 0.5}) for each in sharp.readings
            ]
        }
    )
    one, other = smooth_bore(sharp), smooth_bore(vague)
    assert other.readings[0].uncertainty_mm == pytest.approx(one.readings[0].uncertainty_mm)
    # At the bottom the bore widens by 0.11 mm a millimetre: 0.5 mm of station is 0.055.
    assert other.readings[-1].uncertainty_mm == pytest.approx(0.057, abs=0.01)


def test_ends_that_disagree_are_told():
    part = measured(upper_joint, 2, length=180.0, count=40, ends=True)
    assert smooth_bore(part).notices == []
    wider = [
        each.model_copy(update={"diameter_mm": each.diameter_mm + 0.06})
        if each.reached_from is ReachedFrom.BOTTOM
        else each
        for each in part.readings
    ]
    # Readings from both ends overlap: every third of the first half is taken from below, too.
    also = [
        each.model_copy(
            update={
                "diameter_mm": each.diameter_mm + 0.06,
                "reached_from": ReachedFrom.BOTTOM,
                "station_mm": 180.0 - station,
            }
        )
        for each, station in zip(part.readings, part.stations_mm, strict=True)
    ]
    both = part.model_copy(
        update={
            "readings": [r for pair in zip(wider, also, strict=True) for r in pair],
            "stations_mm": [s for s in part.stations_mm for _ in (0, 1)],
        }
    )
    assert any("Readings from the bottom lie" in str(each) for each in smooth_bore(both).notices)


def test_a_slip_of_the_pen_is_told():
    part = measured(upper_joint, 4, length=180.0, count=40)
    readings = list(part.readings)
    readings[20] = readings[20].model_copy(update={"diameter_mm": 14.82})
    found = smooth_bore(part.model_copy(update={"readings": readings}))
    assert any(f"The reading at {part.stations_mm[20]:g} mm" in str(each) for each in found.notices)


def test_half_given_uncertainties_are_refused():
    part = measured(upper_joint, 4, length=180.0, count=40)
    readings = [part.readings[0].model_copy(update={"uncertainty_mm": None}), *part.readings[1:]]
    with pytest.raises(FitError, match="1 of 40 readings have no uncertainty"):
        smooth_bore(part.model_copy(update={"readings": readings}))


@pytest.mark.slow
@pytest.mark.parametrize(
    ("shape", "length", "count", "bends", "flare"),
    [
        (lower_joint, 260.0, 48, [], 151.3),
        (upper_joint, 180.0, 40, [41.7], None),
        (whole_bore, 260.0, 60, [52.6], 180.4),
    ],
    ids=["lower joint", "upper joint", "whole bore"],
)
def test_planted_stations_are_within_their_intervals_in_93_of_100(
    shape, length, count, bends, flare
):
    held = {place: 0 for place in [*bends, flare] if place is not None}
    for seed in range(100):
        found = smooth_bore(measured(shape, seed, length=length, count=count))
        for place in bends:
            held[place] += any(holds(each.station_mm, place) for each in found.breaks)
        if flare is not None and found.flare_start is not None:
            held[flare] += holds(found.flare_start.station_mm, flare)
    assert all(count >= 93 for count in held.values()), held
