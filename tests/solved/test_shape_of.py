"""The model's holes as shapes: the body that is made and the air that is solved agree."""

from __future__ import annotations

from pathlib import Path

import pytest

import borewright.examples
from borewright.acoustics.solved import HoleCover, HoleShape, shape_of
from borewright.acoustics.solved.shape_checks import check_shape
from borewright.errors import AcousticsError
from borewright.model import BodyFeatures, Instrument, Pad, Part, ToneHole, Undercut
from borewright.model import read_instrument as read
from borewright.solids._plan import plan_hole

EXAMPLE = Path(next(iter(borewright.examples.__path__))) / "loan-clarinet" / "clarinet.toml"


@pytest.fixture(scope="module")
def clarinet() -> Instrument:
    return read(EXAMPLE)[0]


def one_hole(hole: ToneHole, **part) -> Instrument:
    sizes = {
        "name": "joint",
        "length_mm": 100.0,
        "bore": [(0.0, 15.0), (100.0, 15.0)],
        "outside": [(0.0, 30.0), (100.0, 30.0)],
    } | part
    return Instrument(parts=[Part(**sizes, holes=[hole])])


def test_every_hole_of_the_example_can_be_solved(clarinet):
    for name in clarinet.hole_names():
        for state in ("open", "closed"):
            check_shape(shape_of(clarinet, name), state)


def test_sizes_are_the_models(clarinet):
    part, hole, _ = next(p for p in clarinet.placed_holes() if p[1].name == "RV")
    shape = shape_of(clarinet, "RV")
    assert 2 * shape.radius_mm == hole.diameter_mm
    assert 2 * shape.bore_radius_mm == part.bore_diameter_at(hole.station_mm)
    assert shape.height_mm + shape.into_bore_mm == pytest.approx(part.tube_height_mm(hole))
    assert shape.crown_mm == pytest.approx(shape.body_radius_mm)
    assert shape.cover is HoleCover.PAD
    assert shape.lining_radius_mm == shape.radius_mm + clarinet.fit.chimney_wall_mm


def test_rims_are_those_of_the_body(clarinet):
    """Counterbore, land, floor and rim as the solids plan them."""
    sunk = 0
    for part, hole, _ in clarinet.placed_holes():
        shape = shape_of(clarinet, hole.name)
        plan = plan_hole(
            part,
            hole,
            wall_mm=clarinet.fit.chimney_wall_mm,
            far_mm=40.0,
            room_mm=20.0,
            features=clarinet.body,
        )
        assert shape.rim_mm == pytest.approx(plan.rim_mm)
        assert shape.inner_end_mm == pytest.approx(plan.inner_end_mm)
        assert shape.counterbore_radius_mm == pytest.approx(plan.seat_radius_mm)
        if plan.seat_radius_mm:
            sunk += 1
            assert shape.chimney_wall_mm == pytest.approx(plan.land_mm)
            assert shape.rim_mm - shape.seat_relief_mm == pytest.approx(plan.seat_floor_mm)
    assert sunk >= 10


def test_a_plain_finger_hole_is_drilled():
    shape = shape_of(one_hole(ToneHole(name="a", station_mm=50, diameter_mm=8)), "a")
    assert shape.is_drilled
    assert shape.cover is HoleCover.FINGER
    assert shape.counterbore_radius_mm == 0


def test_a_sunk_finger_hole_has_a_flat():
    hole = ToneHole(name="a", station_mm=50, diameter_mm=8, chimney_mm=-1)
    shape = shape_of(one_hole(hole), "a")
    assert shape.counterbore_radius_mm == 4 + 2.5
    assert shape.seat_relief_mm == 0


def test_plain_bodies_have_whole_counterbores():
    pad = Pad(diameter_mm=12, lift_mm=3, rest="open")
    hole = ToneHole(name="a", station_mm=50, diameter_mm=8, chimney_mm=-1, cover="pad", pad=pad)
    instrument = one_hole(hole).model_copy(update={"body": BodyFeatures.plain()})
    shape = shape_of(instrument, "a")
    assert shape.counterbore_radius_mm == 6 + 0.5
    assert shape.seat_relief_mm == 0
    assert shape.chimney_wall_mm == instrument.fit.chimney_wall_mm


def test_undercut_and_slope():
    hole = ToneHole(
        name="a", station_mm=50, diameter_mm=8, undercut=Undercut(diameter_mm=10, depth_mm=3)
    )
    shape = shape_of(one_hole(hole, bore=[(0.0, 14.0), (100.0, 18.0)]), "a")
    assert (shape.undercut_radius_mm, shape.undercut_depth_mm) == (5.0, 3.0)
    assert shape.bore_slope == pytest.approx(0.02)
    assert shape.bore_radius_mm == 8.0


def test_an_undercut_as_wide_as_the_hole_is_none():
    hole = ToneHole(
        name="a", station_mm=50, diameter_mm=8, undercut=Undercut(diameter_mm=8, depth_mm=3)
    )
    assert shape_of(one_hole(hole), "a").undercut_depth_mm == 0


def test_unknown_hole(clarinet):
    with pytest.raises(AcousticsError, match="no hole 'X'") as caught:
        shape_of(clarinet, "X")
    assert "RV" in str(caught.value.remedy)


def test_shapes_are_frozen_and_hashable():
    assert hash(HoleShape(7.5, 4.0, 8.0)) == hash(HoleShape(7.5, 4.0, 8.0))
