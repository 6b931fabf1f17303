"""Spacings evaluated together are those evaluated one by one, whatever their kind."""

from __future__ import annotations

import numpy as np

from borewright.fit._post_walls import PostWall
from borewright.fit.spacing import spacings
from borewright.fit.spacing_class import Spacings
from borewright.model import read_values


def test_together_as_one_by_one(points_only):
    instrument, _, survey = points_only
    every = spacings(instrument, survey)
    assert any(isinstance(each, PostWall) for each in every)
    assert any(each.chord is not None for each in every)
    rng = np.random.default_rng(0)
    start = np.array(read_values(instrument))
    together = Spacings(every)
    for _ in range(3):
        values = start + rng.normal(0, 0.3, len(start))
        gaps, gradients = together.evaluate(values)
        for row, each in enumerate(every):
            gap, gradient = each.evaluate(values)
            np.testing.assert_allclose(gaps[row], gap, atol=1e-12)
            np.testing.assert_allclose(gradients[row], gradient, atol=1e-12)
