"""Distances found by search, against closed forms of solid geometry and against symmetry."""

from __future__ import annotations

import math

import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from borewright.fit.clearance import (
    EXACT_MM,
    distance_mm,
    hole_surface,
    inside_surface,
    pad_surface,
    post_surface,
)
from borewright.model import Part, SurveyRow

BORE, OUTSIDE = 15.0, 30.0


def tube(*holes: dict, **more) -> Part:
    return Part.model_validate(
        {
            "name": "tube",
            "length_mm": 200.0,
            "bore": [(0, BORE), (200, BORE)],
            "outside": [(0, OUTSIDE), (200, OUTSIDE)],
            "holes": [{"name": f"h{i}", **hole} for i, hole in enumerate(holes)],
            **more,
        }
    )


def hole(station=100.0, diameter=6.0, bearing=0.0, **more) -> dict:
    return {
        "station_mm": station,
        "diameter_mm": diameter,
        "bearing_deg": (bearing + 180) % 360 - 180,
        **more,
    }


def padded(station=100.0, bearing=0.0, pad=10.0, chimney=-1.0, lift=2.5) -> dict:
    cover = {"diameter_mm": pad, "lift_mm": lift, "rest": "closed"}
    return hole(station, 5.0, bearing, chimney_mm=chimney, cover="pad", pad=cover)


def between(part: Part, surface=hole_surface) -> float:
    return distance_mm(surface(part, part.holes[0]), surface(part, part.holes[1]))


@pytest.mark.parametrize("bearing", [0.0, 40.0, -170.0])
def test_holes_in_line_leave_their_distance_less_both_radii(bearing):
    part = tube(hole(100, 6, bearing), hole(110, 8, bearing))
    assert between(part) == pytest.approx(10 - 3 - 4, abs=EXACT_MM)


@pytest.mark.parametrize("turn", [50.0, 70.0, 120.0, 180.0])
def test_holes_side_by_side_are_closest_at_the_bore_s_surface(turn):
    """Edges lie at asin(r/R) from each axis; the wall is the chord of what is left."""
    part = tube(hole(diameter=6), hole(diameter=6, bearing=turn))
    left = math.radians(turn) - 2 * math.asin(3 / 7.5)
    chord = 2 * 7.5 * math.sin(left / 2)
    assert between(part) == pytest.approx(chord, abs=EXACT_MM)


def test_opposite_holes_of_a_wide_bore_are_a_chord_apart():
    part = tube(hole(diameter=4), hole(diameter=4, bearing=180))
    assert between(part) == pytest.approx(2 * math.sqrt(7.5**2 - 2**2), abs=EXACT_MM)


def test_holes_in_a_flare_meet_the_bore_where_it_is():
    """Side by side in a wide and in a narrow part of one bore: the same angle, other chords."""
    profile = [(0, 14), (100, 14), (100.001, 20), (200, 20)]
    narrow = tube(hole(50), hole(50, bearing=80), bore=profile)
    wide = tube(hole(150), hole(150, bearing=80), bore=profile)
    for part, radius in ((narrow, 7.0), (wide, 10.0)):
        left = math.radians(80) - 2 * math.asin(3 / radius)
        assert between(part) == pytest.approx(2 * radius * math.sin(left / 2), abs=EXACT_MM)


def test_an_undercut_counts_at_the_bore():
    undercut = {"diameter_mm": 8.0, "depth_mm": 2.0}
    part = tube(hole(100, 6, undercut=undercut), hole(110, 6))
    # In line the mouth's edge faces the other hole's wall at the bore.
    assert between(part) == pytest.approx(10 - 4 - 3, abs=EXACT_MM)


@settings(max_examples=25)
@given(
    along=st.floats(0, 12),
    turn=st.floats(0, 180),
    first=st.floats(2, 9),
    second=st.floats(2, 9),
    start=st.floats(-180, 179),
)
def test_distance_is_symmetric_and_knows_no_front(along, turn, first, second, start):
    apart = math.hypot(along, 2 * 7.5 * math.sin(math.radians(turn) / 2))
    assume(apart > 1.3 * (first + second) / 2 + 1)
    drawn = tube(hole(100, first), hole(100 + along, second, turn))
    swapped = tube(hole(100, second), hole(100 + along, first, -turn))
    turned = tube(hole(100, first, start), hole(100 + along, second, turn + start))
    mirrored = tube(hole(100 + along, first), hole(100, second, turn))
    wall = between(drawn)
    for other in (swapped, turned, mirrored):
        assert between(other) == pytest.approx(wall, abs=2 * EXACT_MM)


@settings(max_examples=25)
@given(
    along=st.floats(0, 15),
    further=st.floats(0.05, 10),
    turn=st.floats(70, 180),
    diameter=st.floats(2, 7),
    less=st.floats(0.05, 1),
)
def test_further_along_or_smaller_never_leaves_less_wall(along, further, turn, diameter, less):
    wall = between(tube(hole(100, diameter), hole(100 + along, 6, turn)))
    moved = between(tube(hole(100, diameter), hole(100 + along + further, 6, turn)))
    smaller = between(tube(hole(100, diameter - less), hole(100 + along, 6, turn)))
    assert moved >= wall - EXACT_MM
    assert smaller >= wall - EXACT_MM
    # A hole cannot gain more than it was moved.
    assert moved <= wall + further + EXACT_MM


def test_pads_in_line_and_side_by_side():
    assert between(tube(padded(100), padded(113)), pad_surface) == pytest.approx(3.0, abs=EXACT_MM)
    # Flat discs on seats 14 mm from the axis, turned by 90°: rims 2·(14 sin 45° - 5 cos 45°).
    part = tube(padded(100), padded(100, bearing=90))
    expected = 2 * (14 * math.sin(math.pi / 4) - 5 * math.cos(math.pi / 4))
    assert between(part, pad_surface) == pytest.approx(expected, abs=EXACT_MM)


def test_pads_over_each_other_touch_whatever_their_seats():
    part = tube(padded(100), padded(107, chimney=0.5))
    assert between(part, pad_surface) == pytest.approx(0.0, abs=EXACT_MM)


def post(station=100.0, bearing=0.0, thread=3.0) -> SurveyRow:
    return SurveyRow(
        item="post",
        name="post",
        part="tube",
        station_mm=station,
        bearing_deg=bearing,
        thread_mm=thread,
    )


@pytest.mark.parametrize(("depth", "wall"), [(4.0, 3.5), (5.0, 2.5), (7.0, 0.5)])
def test_wall_under_a_post(depth, wall):
    part = tube()
    found = distance_mm(post_surface(part, post(), 1.5, depth), inside_surface(part, post()))
    assert found == pytest.approx(wall, abs=EXACT_MM)


def test_a_socket_counts_as_inside():
    part = tube(socket_top={"depth_mm": 20.0, "diameter_mm": 23.0})
    found = distance_mm(post_surface(part, post(10), 1.5, 2.0), inside_surface(part, post(10)))
    assert found == pytest.approx(15 - 2 - 11.5, abs=EXACT_MM)


def test_a_post_in_line_with_a_hole():
    part = tube(hole(100, 6))
    found = distance_mm(post_surface(part, post(107), 1.5, 5.0), hole_surface(part, part.holes[0]))
    assert found == pytest.approx(7 - 1.5 - 3, abs=EXACT_MM)


def test_a_post_beside_a_hole_is_closest_at_its_floor():
    """The floor's edge, seen from the hole's axis: 10 sin 60° - 1.5 cos 60°, less the radius."""
    part = tube(hole(100, 6))
    found = distance_mm(
        post_surface(part, post(100, 60), 1.5, 5.0), hole_surface(part, part.holes[0])
    )
    sideways = 10 * math.sin(math.radians(60)) - 1.5 * math.cos(math.radians(60)) - 3
    # The hole's wall begins at the bore, 6.87 mm up; the floor's edge is level with 6.30.
    foot_up = 10 * math.cos(math.radians(60)) + 1.5 * math.sin(math.radians(60))
    edge_up = math.sqrt(7.5**2 - 3**2)
    expected = math.hypot(sideways, max(edge_up - foot_up, 0.0))
    assert found == pytest.approx(expected, abs=EXACT_MM)


def test_an_early_stop_is_never_below_what_is_enough():
    part = tube(hole(100, 6), hole(130, 6))
    one, other = (hole_surface(part, each) for each in part.holes)
    assert distance_mm(one, other, enough_mm=1.5) > 1.5
    assert distance_mm(one, other) == pytest.approx(24, abs=EXACT_MM)


@settings(max_examples=20)
@given(along=st.floats(0, 6), turn=st.floats(75, 120), more=st.floats(0.001, 0.02))
def test_an_early_stop_never_hides_a_wall_below_what_is_enough(along, turn, more):
    part = tube(hole(100, 7), hole(100 + along, 8, turn))
    one, other = (hole_surface(part, each) for each in part.holes)
    wall = distance_mm(one, other)
    assert distance_mm(one, other, enough_mm=wall + more) == pytest.approx(wall, abs=EXACT_MM)
