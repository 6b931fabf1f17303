"""The holes' surrogate: against whole holes solved in 3-D, its slopes, and where it ends."""

from __future__ import annotations

import sys
from dataclasses import replace
from pathlib import Path

import numpy as np
import pytest

from borewright.acoustics import sensitivity, tuning
from borewright.acoustics.side_holes import hole_level
from borewright.acoustics.solved import HoleCover, HoleShape, shape_of
from borewright.acoustics.surrogate.level import factors_of, lengths_of
from borewright.acoustics.surrogate.ranges import parts_of
from borewright.model import dimensions, read_values, with_values

TOOLS = Path(__file__).parents[2] / "tools"
SOLVED = "solved in 3-D"
#: mm, or this share of the length where that is more.
NEAR_MM, NEAR_SHARE = 0.01, 0.002


@pytest.fixture(scope="module", params=["fresh", "held", "unseen"])
def whole(request):
    """Whole holes solved in 3-D, none of which the surrogate was fitted to, and their figures."""
    sys.path.insert(0, str(TOOLS))
    try:
        import hole_surrogate
    finally:
        sys.path.remove(str(TOOLS))
    rows = hole_surrogate.load()[request.param]
    shapes = hole_surrogate.shapes(rows)
    kept = [place for place, shape in enumerate(shapes) if parts_of(shape)]
    assert len(kept) > 0.7 * len(shapes)
    return [shapes[place] for place in kept], {name: rows[name][kept] for name in rows}


def test_whole_holes_are_met(whole):
    shapes, rows = whole
    found = lengths_of(shapes, [parts_of(shape) for shape in shapes])
    for figure, column in (
        (found.series_open, "open series_length_mm"),
        (found.series_closed, "closed series_length_mm"),
        (found.shunt_open, "open shunt_length_mm"),
        (found.shunt_closed, "closed shunt_length_mm"),
    ):
        share = np.abs(figure - rows[column]) / np.maximum(
            NEAR_MM, NEAR_SHARE * np.abs(rows[column])
        )
        assert np.mean(share <= 1) >= 0.99, column
        assert np.max(share) < 1.8, column
    # Volumes by quadrature, to the thousandth that the mesh is right to.
    np.testing.assert_allclose(found.volume, rows["closed volume_mm3"], rtol=1e-3)
    np.testing.assert_allclose(found.displaced, rows["displaced"], rtol=1e-3, atol=1e-3)
    # What rises with frequency: of the shunt at 1 kHz.
    at_1_khz = (found.rise - rows["open rise_mm3"]) * 0.018**2
    assert np.max(np.abs(at_1_khz) / rows["open shunt_length_mm"]) < 0.004


def test_factors_follow_the_measures(clarinet):
    """Slopes are those of the factors themselves, by differences."""
    names = clarinet.hole_names()
    shapes = {name: shape_of(clarinet, name) for name in names}
    covered = [name for name in names if parts_of(shapes[name])]
    assert len(covered) >= 2
    values = read_values(clarinet)
    found = factors_of([shapes[n] for n in covered], [parts_of(shapes[n]) for n in covered])
    for column, dimension in enumerate(dimensions(clarinet)):
        if dimension.hole not in covered or dimension.measure == "station":
            continue
        row, step = covered.index(dimension.hole), 0.002
        moved = []
        for sign in (-1, 1):
            changed = list(values)
            changed[column] += sign * step
            shape = shape_of(with_values(clarinet, changed), dimension.hole)
            moved.append(factors_of([shape], [parts_of(shape)]))
        wanted = (moved[1].scales - moved[0].scales)[0] / (2 * step)
        change = (moved[1].at - moved[0].at)[0] / (2 * step)
        np.testing.assert_allclose(found.slopes[row] @ change, wanted, rtol=1e-3, atol=1e-3)


def test_sensitivities_count_what_the_factors_do(clarinet, fingerings):
    """A hole's diameter, by differences of whole predictions at this level."""
    found = sensitivity(clarinet, fingerings, side_holes=SOLVED)
    names = clarinet.hole_names()
    covered = [name for name in names if parts_of(shape_of(clarinet, name))]
    column = next(
        number
        for number, dimension in enumerate(dimensions(clarinet))
        if dimension.hole == covered[-1] and dimension.measure == "diameter"
    )
    cents = []
    for step in (-0.02, 0.02):
        values = list(read_values(clarinet))
        values[column] += step
        table = tuning(with_values(clarinet, values), fingerings, side_holes=SOLVED)
        cents.append([note.cents for note in table.notes])
    slope = (np.array(cents[1]) - np.array(cents[0])) / 0.4
    assert np.max(np.abs(slope)) > 0.1
    own = np.array(found.cents_per_tenth_mm)[:, column]
    np.testing.assert_allclose(own, slope, atol=0.003)


def test_what_it_does_not_cover_is_solved_by_itself(clarinet, monkeypatch):
    from borewright.acoustics.solved import HoleStates
    from borewright.errors import AcousticsError

    asked = []

    def refuse(shapes, progress=None):
        asked.extend(shapes)
        return [HoleStates(shape, None, None, AcousticsError("no mesh")) for shape in shapes]

    monkeypatch.setattr("borewright.acoustics.solved.solve_holes", refuse)
    monkeypatch.setattr("borewright.acoustics.surrogate.ranges.parts_of", lambda _: None)
    names = clarinet.hole_names()
    level = hole_level(clarinet, SOLVED)
    assert asked == [shape_of(clarinet, name) for name in names]
    assert f"closed forms for {' '.join(names)}" in str(level.words)
    assert not np.any(level.terms.slopes)


@pytest.mark.parametrize(
    "change",
    [
        {"radius_mm": 7.2},
        {"height_mm": 80.0, "body_radius_mm": 87.5},
        {"body_radius_mm": None},
        {"body_radius_mm": 30.0},
        {"cover": HoleCover.PAD, "pad_radius_mm": 5.0, "lift_mm": 0.2, "chimney_wall_mm": 0.9},
        {"undercut_radius_mm": 6.8, "undercut_depth_mm": 2.0},
        {"undercut_radius_mm": 4.5, "undercut_depth_mm": 2.0, "undercut_straight_mm": 1.0},
    ],
)
def test_where_it_ends(change):
    inside = HoleShape(7.5, 4.0, 7.5, body_radius_mm=15.0, cover=HoleCover.FINGER)
    assert parts_of(inside)
    assert parts_of(replace(inside, **change)) is None
