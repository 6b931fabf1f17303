"""Keys of parts that are printed in pieces: they stay where they are, and posts off the joints."""

from __future__ import annotations

import numpy as np
import pytest
import trimesh

from borewright.keywork import Mechanism, key_findings
from borewright.keywork.gate import Check
from borewright.model import Severity
from borewright.model.keys import Post, points_of
from borewright.printing import (
    MATERIALS,
    PRINTERS,
    blank_solid,
    blanks_that_fit,
    hinges_over_joints,
    key_fit_blanks,
    split_keys,
    split_to_fit,
)
from borewright.printing.splitting import apply_splits

PLA, SMALL = MATERIALS["plain PLA"], PRINTERS["small cube"]


@pytest.fixture(scope="module")
def parted(instrument, keys):
    return split_to_fit(instrument, SMALL, PLA, points_of(keys))


def test_keys_of_split_parts_stay_where_they_are_and_pass_the_gate(instrument, keys, parted):
    pieces = split_keys(keys, parted.instrument, parted.splits)
    assert {each.part for each in pieces.elements} == {
        name for split in parted.splits for name in (split.upper, split.lower)
    }
    before, after = Mechanism(keys, instrument), Mechanism(pieces, parted.instrument)
    for name, points in before.points.items():
        np.testing.assert_allclose(after.points[name], points, atol=1e-5)
    found = key_findings(parted.instrument, pieces)
    assert [str(one.what) for one in found if one.severity is Severity.FAULT] == []
    # Every post stands on the piece that it is told of; keys over a joint are named.
    for post in pieces.of(Post):
        assert 0 < post.first.station_mm < parted.instrument.part(post.part).length_mm
    cuts = {split.station_mm for split in parted.splits if split.part == "lower joint"}
    over = [
        key
        for key in keys.keys
        for stations in [[p.first.station_mm for p in keys.posts_of(keys.hinge(key).hinge)]]
        if keys.hinge(key).part == "lower joint"
        and any(min(stations) < cut < max(stations) for cut in cuts)
    ]
    assert hinges_over_joints(pieces) == over != []


@pytest.mark.parametrize("beside", [-2.0, 0.0, 2.0])
def test_a_post_on_a_split_line_is_a_fault(instrument, keys, parted, beside):
    # P-FC1 stands at 130; the joint is put there, against all advice.
    split = parted.splits[-1].model_copy(
        update={"station_mm": 130.0 + beside, "upper": "lower joint A", "lower": "lower joint B"}
    )
    made, _ = apply_splits(instrument, None, [split])
    found = key_findings(made, split_keys(keys, made, [split]))
    told = {(one.check, one.elements[0]) for one in found if one.severity is Severity.FAULT}
    assert (Check.POST_ON_JOINT, "P-FC1") in told
    assert (Check.POST_ON_JOINT, "P-FC2") not in told
    # The lower piece's socket takes the wall from below it.
    if beside < 0:
        assert (Check.POST_WALL, "P-FC1") in told


def test_a_slice_too_tall_for_the_printer_goes_in_pieces_with_its_posts(instrument, keys):
    whole = key_fit_blanks(instrument, keys, ["FC"])
    made = blanks_that_fit(whole, SMALL, PLA)
    below = [blank for blank in made.blanks if blank.part == "lower joint"]
    assert [blank.name[-2:] for blank in below] == [" A", " B"]
    assert below[0].end_mm == pytest.approx(below[1].start_mm)
    starts = {blank.name: blank.start_mm for blank in [*whole.blanks, *made.blanks]}
    stations = {p.name: starts[p.part] + p.station_mm for p in whole.posts}
    assert {p.name: starts[p.part] + p.station_mm for p in made.posts} == pytest.approx(stations)
    upper = min(below, key=lambda blank: blank.end_mm - blank.start_mm)
    solid = blank_solid(made, upper)
    assert solid.is_valid
    assert SMALL.build_mm[2] > solid.bounding_box().size.Z > upper.end_mm - upper.start_mm
    # The bonded joint's wall is drawn full; the rest is a shell.
    part = made.instrument.part(upper.name)
    lowest = part.length_mm - 1.0
    radius = part.outside_diameter_at(lowest) / 2
    points, faces = solid.tessellate(0.05)
    mesh = trimesh.Trimesh([tuple(p) for p in points], faces)
    rays = mesh.section(plane_origin=[0, 0, lowest], plane_normal=[0, 0, 1])
    assert rays.bounds[1][0] == pytest.approx(radius, abs=0.1)
    inner = min(np.hypot(*np.array(line)[:, :2].T).min() for line in rays.discrete)
    assert inner == pytest.approx(part.bore[0][1] / 2, abs=0.1)
