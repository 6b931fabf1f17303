"""Geometry of parts and holes, against what a ruler and a compass give."""

from __future__ import annotations

import math

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st
from pydantic import ValidationError

from borewright.model import Part


def tube(*holes: dict, bore: float = 15.0, length: float = 200.0) -> Part:
    return Part.model_validate(
        {
            "name": "tube",
            "length_mm": length,
            "bore": [(0, bore), (length, bore)],
            "outside": [(0, 30), (length, 30)],
            "holes": [{"name": f"h{i}", **hole} for i, hole in enumerate(holes)],
        }
    )


def test_a_step_has_two_diameters():
    part = Part(
        name="stepped",
        length_mm=100,
        bore=[(0, 15), (50, 15), (50, 14), (100, 13)],
        outside=[(0, 30), (100, 30)],
    )
    assert part.bore_diameter_at(50, -1) == 15
    assert part.bore_diameter_at(50, 1) == 14
    assert part.bore_diameter_at(75) == 13.5
    assert part.bore_diameter_at(-5) == 15
    assert part.bore_diameter_at(500) == 13


def test_tube_height_is_wall_plus_chimney_plus_lining():
    part = tube({"station_mm": 50, "diameter_mm": 5, "chimney_mm": 1.0, "into_bore_mm": 2.0})
    assert part.tube_height_mm(part.holes[0]) == pytest.approx(7.5 + 1 + 2)


def test_a_seat_sunk_through_the_wall_is_refused():
    with pytest.raises(ValidationError, match="tube of"):
        tube({"station_mm": 50, "diameter_mm": 5, "chimney_mm": -7.4})


@given(
    station=st.floats(60, 140),
    bearing=st.floats(-180, 180),
    first=st.floats(2, 12),
    second=st.floats(2, 12),
)
def test_holes_overlap_where_their_edges_meet_on_the_bore(station, bearing, first, second):
    # The bore's surface rolled out flat: distance along it and round it (Pythagoras).
    round_it = math.radians(abs(bearing)) * 7.5
    apart = math.hypot(station - 100, round_it) - (first + second) / 2
    assume(abs(apart) > 1e-6)
    holes = (
        {"station_mm": 100.0, "diameter_mm": first},
        {"station_mm": station, "diameter_mm": second, "bearing_deg": bearing},
    )
    if apart < 0:
        with pytest.raises(ValidationError, match="overlap"):
            tube(*holes)
    else:
        assert len(tube(*holes).holes) == 2


def test_bearings_are_measured_the_short_way_round():
    with pytest.raises(ValidationError, match="overlap"):
        tube(
            {"station_mm": 100, "diameter_mm": 6, "bearing_deg": 179},
            {"station_mm": 100, "diameter_mm": 6, "bearing_deg": -179},
        )


def test_undercuts_that_meet_in_the_bore_overlap():
    plain = [{"station_mm": s, "diameter_mm": 6.0} for s in (100, 107)]
    assert len(tube(*plain).holes) == 2
    wide = {"diameter_mm": 7.2, "depth_mm": 2.0}
    with pytest.raises(ValidationError, match="overlap"):
        tube(*({**hole, "undercut": wide} for hole in plain))


def test_a_thin_wall_is_left_to_later_checks():
    assert tube({"station_mm": 100, "diameter_mm": 6}, {"station_mm": 106.1, "diameter_mm": 6})
