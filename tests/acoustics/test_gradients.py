"""Exact derivatives against central differences, for every kind of dimension.

Tolerance: the differences are of fourth order with steps of 0.02 mm, so their own error is
about 1e-9 of a derivative, and the rounding of a frequency (some 1e-15) over the step leaves
1e-13 per mm. 1e-6 of the derivative plus 1e-11 per mm (2e-9 cent per 0.1 mm) covers both.
"""

from __future__ import annotations

import numpy as np
import pytest

from borewright.acoustics import kernels, sensitivity, tuning
from borewright.acoustics.request import request_of_table
from borewright.model import dimensions, read_values, with_values
from borewright.model.bores.dimension_words import dimension_words
from borewright.model.dimensions import Dimension

STEP_MM = 0.02
CENTS_PER_LOG = 1200 / np.log(2)


@pytest.fixture(scope="module")
def both(clarinet, fingerings) -> tuple[np.ndarray, np.ndarray]:
    """D ln f / d dimension (1/mm), [F, D]: by differentiation, and by differences."""
    request = request_of_table(clarinet, fingerings)
    exact = np.asarray(kernels.jacobian(*request[:5], kernels.resonances(*request)))

    def log_f(index: int, shift: float) -> np.ndarray:
        values = request.numbers.values.copy()
        values[index] += shift
        moved = request._replace(numbers=request.numbers._replace(values=values))
        return np.log(np.asarray(kernels.resonances(*moved).frequency))

    columns = []
    for index in range(exact.shape[1]):
        near = log_f(index, STEP_MM) - log_f(index, -STEP_MM)
        far = log_f(index, 2 * STEP_MM) - log_f(index, -2 * STEP_MM)
        columns.append((8 * near - far) / (12 * STEP_MM))
    return exact, np.stack(columns, axis=1)


MEASURES = [
    "length",
    "bore_station",
    "bore_diameter",
    "station",
    "diameter",
    "chimney",
    "into_bore",
    "lift",
    "undercut_diameter",
    "undercut_depth",
    "bore_length",
]


def one_sided(clarinet) -> set[tuple[str, str, int]]:
    """Bore points at which a difference would leave the bore's list of stations: ends."""
    return {
        (part.name, "bore_station", index)
        for part in clarinet.parts
        for index in (0, len(part.bore) - 1)
    }


@pytest.mark.parametrize("measure", MEASURES)
def test_derivatives_agree_with_differences(clarinet, both, measure):
    exact, differences = both
    ends = one_sided(clarinet)
    chosen = [
        index
        for index, dimension in enumerate(dimensions(clarinet))
        if dimension.measure == measure and (dimension.part, measure, dimension.index) not in ends
    ]
    assert chosen
    assert exact[:, chosen] == pytest.approx(differences[:, chosen], rel=1e-6, abs=1e-11)
    assert np.max(np.abs(exact[:, chosen])) > 1e-8


def test_every_kind_of_dimension_is_covered(clarinet):
    assert {dimension.measure for dimension in dimensions(clarinet)} == set(MEASURES)


def test_the_map_is_what_a_changed_instrument_does(clarinet, fingerings):
    """Through the front door: 0.05 mm more and less of a hole, a barrel, a bore, a lift.

    0.001 cent of some 2: the third derivative over so small a step.
    """
    map_ = sensitivity(clarinet, fingerings)

    def pitches(column: int, shift: float) -> np.ndarray:
        values = read_values(clarinet)
        values[column] += shift
        changed = tuning(with_values(clarinet, values), fingerings)
        return np.array([note.sounding_hz for note in changed.notes])

    bore = dimensions(clarinet).index(Dimension("joint", "bore_diameter", index=2))
    named = [map_.columns[label] for label in ("F diameter", "barrel length", "P lift")]
    for column in (*named, bore):
        moved = 1200 * np.log2(pitches(column, 0.05) / pitches(column, -0.05))
        expected = np.array([row[column] for row in map_.cents_per_tenth_mm])
        assert moved == pytest.approx(expected, abs=0.001)
        assert np.max(np.abs(moved)) > 0.02


def test_the_map_says_what_it_is(clarinet, fingerings):
    map_ = sensitivity(clarinet, fingerings)
    assert map_.fingerings == [fingering.name for fingering in fingerings.fingerings]
    assert map_.dimensions == dimension_words(clarinet)
    assert np.shape(map_.cents_per_tenth_mm) == (len(map_.fingerings), len(map_.dimensions))
    assert "21 °C" in str(map_.climate)
