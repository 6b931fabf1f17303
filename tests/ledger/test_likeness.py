"""How sure a survey is: intervals by the tables, promises kept by simulation, sources told."""

from __future__ import annotations

import math

import numpy as np
import pytest

from borewright.ledger import Criterion, feature_statistics, standings
from borewright.ledger.likeness import (
    chance_alike,
    deviations_mm,
    mean_interval,
    scatter_interval,
    sets_to_tell,
)


def test_intervals_are_those_of_the_tables():
    # t with 2 degrees of freedom at 0.975 is 4.303; χ² with 9: 2.700 and 19.023.
    low, high = mean_interval([9.9, 10.0, 10.1])
    assert (high - low) / 2 == pytest.approx(4.303 * 0.1 / math.sqrt(3), rel=1e-3)
    low, high = scatter_interval(1.0, 10)
    assert (low, high) == (
        pytest.approx(math.sqrt(9 / 19.023), rel=1e-3),
        pytest.approx(math.sqrt(9 / 2.700), rel=1e-3),
    )
    assert mean_interval([10.0]) is None
    assert scatter_interval(0.1, 1) is None
    found = feature_statistics("FC", "station", {"1": [9.9], "2": [10.0], "3": [10.1]}, None)
    assert found.interval_mm == mean_interval([9.9, 10.0, 10.1])


def source(random, sets, scatter, features=20, common=0.0):
    """Readings of a source; ``common`` shifts all features of a set together."""
    shifts = random.normal(0, common, sets)
    return {
        f"f{i}": {f"s{k}": random.normal(0, scatter) + shifts[k] for k in range(sets)}
        for i in range(features)
    }


def test_a_deviation_is_the_scatter_whatever_the_number_of_sets():
    random = np.random.default_rng(3)
    for sets in (2, 3, 8):
        found = [np.mean(np.square(deviations_mm(source(random, sets, 0.1)))) for _ in range(200)]
        assert math.sqrt(np.mean(found)) == pytest.approx(0.1, rel=0.03)


@pytest.mark.parametrize("common", [0.0, 0.1])
def test_equal_sources_are_told_apart_no_more_often_than_promised(common):
    # Features of one set may move together: the promise holds all the same.
    random = np.random.default_rng(5)
    told = [
        chance_alike(
            deviations_mm(source(random, 5, 0.1, common=common)),
            deviations_mm(source(random, 5, 0.1, common=common)),
        )
        < 0.05
        for _ in range(300)
    ]
    assert np.mean(told) < 0.12


def test_a_source_three_times_as_scattered_is_told():
    random = np.random.default_rng(7)
    told = [
        chance_alike(deviations_mm(source(random, 5, 0.1)), deviations_mm(source(random, 5, 0.3)))
        < 0.05
        for _ in range(60)
    ]
    assert np.mean(told) > 0.95


def test_a_scatter_that_is_not_told_costs_no_points():
    criteria = [Criterion("scatter", 1, True)]
    values = {"A": {"scatter": 0.10}, "B": {"scatter": 0.13}}
    near = {"A": [0.08, 0.12, 0.10], "B": [0.10, 0.17, 0.12]}
    found = {s.source: s for s in standings(criteria, values, near)}
    assert found["B"].total == 10.0
    words = str(found["B"].weighed[0].arithmetic)
    assert "3 and 3 sets do not tell it from the best" in words
    assert "of each would" in words
    far = {"A": [0.08, 0.12, 0.10, 0.11], "B": [0.29, 0.33, 0.31, 0.30]}
    apart = standings(criteria, {"A": {"scatter": 0.1}, "B": {"scatter": 0.31}}, far)
    assert apart[1].total == pytest.approx(10 * 0.1 / 0.31)
    one = standings(criteria, values, {"A": [0.1], "B": [0.13]})
    assert "too few sets" in str(one[1].weighed[0].arithmetic)
    # A scatter that the owner entered has no sets to its name and is taken at its word.
    assert standings(criteria, values)[1].total == pytest.approx(10 * 0.1 / 0.13)
    assert sets_to_tell([0.1, 0.1], [0.1, 0.1]) is None


def test_sets_needed_grow_as_the_difference_shrinks():
    wide = sets_to_tell([0.08, 0.12, 0.1], [0.25, 0.35, 0.3])
    narrow = sets_to_tell([0.08, 0.12, 0.1], [0.1, 0.15, 0.125])
    assert 2 <= wide < narrow
