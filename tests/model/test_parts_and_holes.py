"""Geometry of parts and holes, against what a ruler and a compass give."""

from __future__ import annotations

import math

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st
from pydantic import ValidationError

from borewright.model import Part
from borewright.model.part_checks import wall_between_mm


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


def edge_beyond_other_mm(station, turn, first, second, bore_radius=7.5):
    """Least distance (mm) of the first hole's edge from the second hole's wall; below 0: inside.

    Points of the edge, on the bore's surface in space, seen from the second hole's axis.
    """
    least = math.inf
    for step in range(720):
        angle = math.tau * step / 720
        aside, along = first / 2 * math.sin(angle), first / 2 * math.cos(angle)
        round_it = math.asin(aside / bore_radius) - turn
        if math.cos(round_it) > 0:  # on the second hole's own side of the bore
            apart = math.hypot(bore_radius * math.sin(round_it), along - station)
            least = min(least, apart - second / 2)
    return least


@given(
    station=st.floats(60, 140),
    bearing=st.floats(-180, 180),
    first=st.floats(2, 12),
    second=st.floats(2, 12),
)
def test_holes_overlap_where_their_edges_meet_on_the_bore(station, bearing, first, second):
    turn = math.radians(abs(bearing))
    apart = min(
        edge_beyond_other_mm(station - 100, turn, first, second),
        edge_beyond_other_mm(station - 100, turn, second, first),
    )
    # Half a degree between the points leaves 12 mm × (0.25°)² / 2 undecided; with room to spare.
    assume(abs(apart) > 1e-3)
    holes = (
        {"station_mm": 100.0, "diameter_mm": first},
        {"station_mm": station, "diameter_mm": second, "bearing_deg": bearing},
    )
    if apart < 0:
        with pytest.raises(ValidationError, match="overlap"):
            tube(*holes)
    else:
        assert len(tube(*holes).holes) == 2


def test_holes_beside_each_other_meet_at_the_sum_of_their_angles():
    """A 6 mm hole takes asin(3/7.5) = 23.58° to either side of a 15 mm bore, not 22.92°."""
    meet = 2 * math.degrees(math.asin(3 / 7.5))
    assert meet == pytest.approx(47.16, abs=0.01)
    holes = [{"station_mm": 100, "diameter_mm": 6, "bearing_deg": b} for b in (0, 46.5)]
    with pytest.raises(ValidationError, match="overlap"):
        tube(*holes)
    part = tube(holes[0], holes[1] | {"bearing_deg": meet + 10})
    # What is left of the angle, as an arc on the bore.
    assert wall_between_mm(part, *part.holes) == pytest.approx(math.radians(10) * 7.5, abs=1e-9)


def test_the_wall_along_the_bore_is_what_the_diameters_leave():
    part = tube({"station_mm": 100, "diameter_mm": 6}, {"station_mm": 110, "diameter_mm": 8})
    assert wall_between_mm(part, *part.holes) == pytest.approx(3.0, abs=1e-9)


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
