"""Bores by their features: names, and the map from features to points.

The map is linear, so a difference quotient of any step gives its factors exactly; that a
cylinder stays straight, a step keeps its sense and a taper its law is checked on bores drawn at
random.
"""

from __future__ import annotations

import itertools

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from borewright.fit.bore_limits import bore_limits
from borewright.model import Dimension, Instrument, Part, dimensions, read_values, with_values
from borewright.model.bores.makers_features import RunKind, makers_features, runs_of

STEPPED = [
    (0, 15.0), (30, 14.9), (30, 14.85), (90, 14.85), (90, 14.7), (140, 14.7),
    (160, 15.6), (180, 18.0), (200, 21.0),
]  # fmt: skip


def tube(bore):
    part = Part(
        name="joint", length_mm=bore[-1][0], bore=bore, outside=[(0, 34), (bore[-1][0], 34)]
    )
    return Instrument(parts=[part])


def names_of(instrument, part):
    return [str(feature.full_words) for feature in makers_features(instrument, part)]


def test_a_stepped_bore_is_told_in_the_makers_words():
    instrument = tube(STEPPED)
    assert names_of(instrument, instrument.parts[0]) == [
        "joint, length",
        "joint, upper end",
        "joint, upper step, upper side",
        "joint, upper cylinder",
        "joint, lower cylinder",
        "joint, lower end",
        "joint, upper step",
        "joint, lower step",
        "joint, flare start",
        "joint, fullness of the flare",
    ]


def test_the_shipped_clarinet_is_told_in_the_makers_words(clarinet):
    instrument, _, _ = clarinet
    found = [name for part in instrument.parts for name in names_of(instrument, part)]
    assert found == [
        "barrel, length",
        "barrel, upper end",
        "barrel, lower end",
        "upper joint, length",
        "upper joint, upper end",
        "upper joint, cylinder",
        "upper joint, end of the throat",
        "lower joint, length",
        "lower joint, cylinder",
        "lower joint, lower end",
        "lower joint, flare start",
        "lower joint, fullness of the flare",
        "bell, length",
        "bell, throat",
        "bell, rim",
        "bell, fullness of the flare",
    ]


def test_a_bore_measured_point_by_point_is_throat_middle_and_flare():
    rng = np.random.default_rng(5)
    stations = np.arange(0.0, 241.0, 2.0)
    drawn = np.interp(stations, [0, 40, 150, 240], [14.9, 14.65, 14.65, 21.0])
    middle = (stations > 42) & (stations < 148)
    diameters = drawn + np.where(middle, rng.normal(0, 0.01, len(stations)), 0.0)
    part = tube(list(zip(stations, diameters, strict=True))).parts[0]
    assert [run.kind for run in runs_of(part)] == [
        RunKind.NARROWING,
        RunKind.CYLINDER,
        RunKind.WIDENING,
    ]


@pytest.mark.parametrize("which", ["stepped", "clarinet"])
def test_the_maps_factors_are_difference_quotients(which, clarinet):
    """Moving one feature moves its points by its factors and no other feature's value."""
    instrument = tube(STEPPED) if which == "stepped" else clarinet[0]
    index = {dimension: column for column, dimension in enumerate(dimensions(instrument))}
    features = [f for part in instrument.parts for f in makers_features(instrument, part)]
    start = np.array(read_values(instrument))

    def value(feature, values):
        return sum(factor * values[index[d]] for d, factor in feature.reads)

    step = 0.25
    for feature in features:
        moved = start.copy()
        for dimension, factor in feature.moves:
            moved[index[dimension]] += factor * step
        for other in features:
            quotient = (value(other, moved) - value(other, start)) / step
            assert quotient == pytest.approx(1.0 if other is feature else 0.0, abs=1e-9), (
                str(feature.full_words),
                str(other.full_words),
            )
        assert value(feature, start) == pytest.approx(
            0.0 if feature.measure == "flare_law" else start[index[feature.main]]
        )


drawn_bores = st.builds(
    lambda top, steps, spans, grown: (top, steps, spans, grown),
    st.floats(14.5, 15.2),
    st.lists(st.floats(-0.15, 0.15).filter(lambda d: abs(d) > 0.02), min_size=1, max_size=3),
    st.lists(st.floats(20, 60), min_size=4, max_size=4),
    st.floats(2.0, 6.0),
)


def drawn(parts):
    """Cylinders with steps between them, then a flare of two straight pieces."""
    top, steps, spans, grown = parts
    bore, station, diameter = [(0.0, top)], 0.0, top
    for step, span in zip(steps, spans, strict=False):
        station += span
        bore += [(station, diameter), (station, diameter + step)]
        diameter += step
    station += spans[-1]
    bore += [(station, diameter), (station + 40, diameter + 0.3 * grown)]
    bore.append((station + 80, diameter + grown))
    return tube([(round(s, 3), round(d, 3)) for s, d in bore])


@settings(max_examples=60, deadline=None)
@given(drawn_bores, st.lists(st.floats(-0.04, 0.04), min_size=20, max_size=20))
def test_cylinders_stay_straight_and_steps_keep_their_sense(parts, shares):
    instrument = drawn(parts)
    part = instrument.parts[0]
    index = {dimension: column for column, dimension in enumerate(dimensions(instrument))}
    values = np.array(read_values(instrument))
    for feature, share in zip(makers_features(instrument, part), itertools.cycle(shares)):
        for dimension, factor in feature.moves:
            values[index[dimension]] += factor * share
    moved = with_values(instrument, values.tolist()).parts[0]
    for run in runs_of(part):
        if run.kind is RunKind.CYLINDER:
            first, last = (moved.bore[edge][1] for edge in (run.first, run.last))
            before = part.bore[run.last][1] - part.bore[run.first][1]
            assert last - first == pytest.approx(before, abs=1e-9)
    kept = all(limit.evaluate(values)[0] >= 0 for limit in bore_limits(instrument))
    for (s0, d0), (s1, d1) in itertools.pairwise(part.bore):
        if s1 == s0 and kept:  # limits kept: every step has its sense and at least half its size
            number = part.bore.index((s0, d0))
            new = moved.bore[number + 1][1] - moved.bore[number][1]
            assert new * (d1 - d0) > 0
            assert 0.5 * abs(d1 - d0) - 1e-9 <= abs(new) <= abs(d1 - d0) + 0.03 + 1e-9


def test_limits_have_the_gradients_of_their_differences(clarinet):
    instrument, _, _ = clarinet
    values = np.array(read_values(instrument)) + 0.003
    for limit in bore_limits(instrument):
        gap, gradient = limit.evaluate(values)
        for column in np.flatnonzero(gradient):
            up = values.copy()
            up[column] += 1e-4
            assert (limit.evaluate(up)[0] - gap) / 1e-4 == pytest.approx(gradient[column], abs=1e-6)


def test_a_drawn_bore_keeps_all_its_limits(clarinet):
    instrument, _, _ = clarinet
    values = np.array(read_values(instrument))
    assert [str(x.words) for x in bore_limits(instrument) if x.evaluate(values)[0] < 0] == []


def test_a_bore_keeps_the_wall_of_its_tenon_and_of_its_body(clarinet):
    instrument, _, _ = clarinet
    index = {dimension: column for column, dimension in enumerate(dimensions(instrument))}
    # The lower joint's tenon is 26.8 mm under its cork: 2.5 mm of wall leave a bore of 21.8. The
    # bell's rim is 64 mm outside.
    for part, number, widest in (("lower joint", 4, 21.8), ("bell", 4, 59.0)):
        column = index[Dimension(part, "bore_diameter", index=number)]
        broken = []
        for diameter in (widest - 0.05, widest + 0.05):
            values = np.array(read_values(instrument))
            values[column] = diameter
            walls = [x for x in bore_limits(instrument) if str(x.words).startswith("wall of")]
            broken.append([str(x.words) for x in walls if x.evaluate(values)[0] < 0])
        assert broken[0] == []
        assert len(broken[1]) == 1
        assert part in broken[1][0]
