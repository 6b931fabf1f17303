import math

import numpy as np
import pytest

from borewright.errors import PrintingError
from borewright.printing import facets_for, pin_through_mm
from borewright.solids import export_solids, read_mesh


def test_a_square_and_a_hexagon_have_their_known_inner_circles():
    assert pin_through_mm(10, 4) == pytest.approx(10 / math.sqrt(2))
    assert pin_through_mm(10, 6) == pytest.approx(10 * math.sqrt(3) / 2)


def test_the_fewest_facets_are_just_enough():
    for shrink in (0.2, 0.02, 0.001):
        count = facets_for(15.0, shrink)
        assert 15.0 - pin_through_mm(15.0, count) <= shrink + 1e-12
        assert 15.0 - pin_through_mm(15.0, count - 1) > shrink


def test_exported_bores_shrink_by_the_closed_form(one_part, tmp_path):
    """The pin through the exported triangles is that of a regular polygon of as many facets."""
    report = export_solids(one_part(), tmp_path)
    mesh = read_mesh(report.parts[0].stl)
    section = mesh.section(plane_origin=[0, 0, 50.3], plane_normal=[0, 0, 1])
    loop = min(section.discrete, key=lambda points: np.ptp(points[:, 0]))[:-1, :2]
    edges = np.roll(loop, -1, axis=0) - loop
    before = np.roll(edges, 1, axis=0)
    corners = np.abs(edges[:, 0] * before[:, 1] - edges[:, 1] * before[:, 0]) > 1e-6
    count = int(corners.sum())
    middles = (loop[corners] + np.roll(loop[corners], -1, axis=0)) / 2
    pin = 2 * np.linalg.norm(middles, axis=1).min()
    assert pin == pytest.approx(pin_through_mm(15.0, count), abs=2e-4)
    # What the export promises: chords of 0.004 mm, twice that on the diameter.
    assert 15.0 - pin <= 0.008 + 2e-4


def test_what_cannot_be_asked():
    with pytest.raises(PrintingError):
        pin_through_mm(10, 2)
    with pytest.raises(PrintingError):
        facets_for(10, 0)
