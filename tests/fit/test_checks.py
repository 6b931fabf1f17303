"""Findings on a small body whose every distance is worked out by hand beside the test."""

from __future__ import annotations

import copy
import math

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from borewright.fit.checks import body_findings
from borewright.model import Instrument, KeyworkSurvey
from borewright.words import ENGLISH


def body() -> dict:
    """A sound joint: bore 15, outside 30, tenon above, socket below, three kinds of cover."""
    return {
        "name": "invented joint",
        "invented": True,
        "parts": [
            {
                "name": "joint",
                "length_mm": 200.0,
                "bore": [(0, 15), (200, 15)],
                "outside": [(0, 30), (200, 30)],
                "tenon_top": {
                    "length_mm": 16,
                    "diameter_mm": 22,
                    "cork_length_mm": 11,
                    "cork_depth_mm": 0.7,
                },
                "socket_bottom": {"depth_mm": 20.0, "diameter_mm": 23.0},
                "holes": [
                    {
                        "name": "P",
                        "station_mm": 40.0,
                        "diameter_mm": 6.0,
                        "chimney_mm": -1.0,
                        "cover": "pad",
                        "pad": {"diameter_mm": 10.0, "lift_mm": 2.5, "rest": "closed"},
                    },
                    {
                        "name": "G",
                        "station_mm": 70.0,
                        "diameter_mm": 7.0,
                        "chimney_mm": 0.8,
                        "cover": "ring",
                    },
                    {"name": "F", "station_mm": 100.0, "diameter_mm": 8.0, "chimney_mm": 0.8},
                ],
            },
        ],
    }


def keywork() -> dict:
    """What was bought for it; every row agrees with :func:`body`."""
    return {
        "rows": [
            {
                "item": "cup",
                "name": "P key",
                "part": "joint",
                "station_mm": 40.2,
                "bearing_deg": 0,
                "hole": "P",
                "up_mm": 0.5,
                "down_mm": 0.4,
                "pad_diameter_mm": 10.0,
                "rest": "closed",
                "lift_mm": 2.5,
            },
            {
                "item": "ring",
                "name": "G ring",
                "part": "joint",
                "station_mm": 70.0,
                "bearing_deg": 0,
                "hole": "G",
                "up_mm": 0.5,
                "down_mm": 0.5,
                "ring_inside_mm": 10.5,
            },
            {
                "item": "post",
                "name": "F",
                "part": "joint",
                "station_mm": 120.0,
                "bearing_deg": 30,
                "thread_mm": 3.0,
            },
        ]
    }


HOLES = {"P": 0, "G": 1, "F": 2}


def findings(change_body=lambda part: None, change_rows=lambda rows: None, **features):
    drawn, bought = body() | {"body": features}, keywork()
    change_body(drawn["parts"][0])
    change_rows(bought["rows"])
    return body_findings(Instrument.model_validate(drawn), KeyworkSurvey.model_validate(bought))


def holes(**changes):
    """A change to the holes named by their letter."""

    def change(part):
        for name, values in changes.items():
            part["holes"][HOLES[name]].update(copy.deepcopy(values))

    return change


def added(**hole):
    return lambda part: part["holes"].append({"name": "X", **hole})


def rows(index, **values):
    return lambda found: found[index].update(values)


def the_one(found, severity="fault"):
    assert [f.severity for f in found] == [severity], found
    assert str(found[0].remedy).endswith(".")
    return found[0]


def test_a_sound_body_has_no_findings():
    assert findings() == []
    assert body_findings(Instrument.model_validate(body())) == []


def test_a_hole_outside_its_cup_s_window():
    # 41.0 is 0.8 below the cup at 40.2, which may go 0.4 down.
    found = the_one(findings(holes(P={"station_mm": 41.0})))
    assert ENGLISH.place(found.place) == "joint, hole P"
    assert found.severity == "fault"
    assert "0.80 mm down from the cup 'P key' at 40.2 mm" in str(found.what)
    assert "0.4 mm that way" in str(found.what)
    assert "39.7 and 40.6 mm" in str(found.remedy)
    assert findings(holes(P={"station_mm": 40.6})) == []
    assert "up from the ring 'G ring'" in str(the_one(findings(holes(G={"station_mm": 69.4}))).what)


def test_a_bearing_beside_the_key_the_short_way_round():
    found = the_one(findings(holes(P={"bearing_deg": 3.0})))
    assert "points 3.0° beside the cup" in str(found.what)
    turned = findings(holes(P={"bearing_deg": 179.9}), rows(0, bearing_deg=-179.9))
    assert turned == []


@pytest.mark.parametrize(
    ("values", "words"),
    [
        ({"pad_diameter_mm": 11.0}, "the drawn pad is 10 mm, that of the cup 'P key' 11 mm"),
        ({"lift_mm": 3.0}, "the drawn pad lifts 2.5 mm, that of the cup 'P key' 3 mm"),
        ({"rest": "open"}, "drawn resting closed, but the cup 'P key' rests open"),
    ],
)
def test_a_pad_that_is_not_the_surveyed_one(values, words):
    assert words in str(the_one(findings(change_rows=rows(0, **values))).what)


def test_a_smaller_surveyed_pad_must_seal_too():
    # Over a 6 mm hole a 7.5 mm pad reaches (7.5 - 6) / 2 beyond the edge.
    found = findings(change_rows=rows(0, pad_diameter_mm=7.5))
    assert any("reaches 0.75 mm beyond the hole's edge" in str(f.what) for f in found)
    assert len(found) == 2


def test_a_pad_that_does_not_overlap_enough():
    # (10 - 8.4) / 2 = 0.8 < 1.0; the largest hole is 10 - 2.
    found = findings(holes(P={"diameter_mm": 8.4}))
    fault = the_one([f for f in found if f.severity == "fault"])
    assert "reaches 0.80 mm beyond" in str(fault.what)
    assert "1 mm all round" in str(fault.what)
    assert "at most 8.00 mm" in str(fault.remedy)
    assert not [f for f in findings(holes(P={"diameter_mm": 7.4})) if f.severity == "fault"]


def test_a_low_lift_is_only_a_notice():
    # A third of 7.8 is 2.6; the pad lifts 2.5.
    found = the_one(findings(holes(P={"diameter_mm": 7.8})), "notice")
    assert "lifts 2.5 mm" in str(found.what)
    assert "2.60 mm" in str(found.what)
    assert findings(holes(P={"diameter_mm": 7.5})) == []


def test_a_chimney_too_wide_for_its_ring():
    # 8.2 + 2·1.2 = 10.6 > 10.5; 8.0 leaves 0.1 of play.
    found = the_one(findings(holes(G={"diameter_mm": 8.2})))
    assert "10.60 mm across" in str(found.what)
    assert "10.5 mm" in str(found.what)
    assert "at most 8.10 mm" in str(found.remedy)
    tight = the_one(findings(holes(G={"diameter_mm": 8.0})), "notice")
    assert "leaves 0.10 mm of play" in str(tight.what)
    assert findings(holes(G={"diameter_mm": 7.8})) == []


def test_covers_that_contradict_the_survey():
    found = the_one(findings(holes(G={"cover": "finger"})))
    assert "covered by a finger, but the survey has the ring 'G ring'" in str(found.what)


def test_a_key_that_was_not_surveyed_is_a_notice():
    found = the_one(findings(change_rows=lambda found: found.pop(1)), "notice")
    assert "no row" in str(found.what)


def test_sizes_of_the_process():
    found = the_one(findings(holes(F={"diameter_mm": 2.4})))
    assert "2.40 mm wide; the smallest that can be made is 2.5 mm" in str(found.what)
    found = the_one(findings(holes(F={"diameter_mm": 9.7})))
    assert "9.70 mm wide; a finger covers 9.6 mm at most" in str(found.what)
    vent = {"diameter_mm": 3.5, "into_bore_mm": 3.0}
    assert "a lined vent may have 3.4 mm" in str(the_one(findings(holes(P=vent))).what)
    for chimney in (-2.6, 3.1):
        assert f"{chimney:+.2f} mm" in str(the_one(findings(holes(F={"chimney_mm": chimney}))).what)
    for chimney in (-2.5, 3.0):
        assert findings(holes(F={"chimney_mm": chimney})) == []


def test_the_wall_between_neighbours():
    # In line at 109: 9 - 4 - 3.5 is exactly 1.5; at 108.9 it is 1.4.
    assert findings(added(station_mm=109.0, diameter_mm=7.0)) == []
    found = the_one(findings(added(station_mm=108.9, diameter_mm=7.0)))
    assert ENGLISH.place(found.place) == "joint, holes F and X"
    assert "1.40 mm at its thinnest; 1.5 mm is needed" in str(found.what)


@pytest.mark.parametrize(("over", "fault"), [(-0.5, True), (0.5, False)])
def test_the_wall_round_the_bore_is_a_chord_between_edges(over, fault):
    # Edges at asin(4/7.5) and asin(3/7.5); a chord of 1.5 on a radius of 7.5 spans 11.48°.
    left = math.degrees(2 * math.asin(1.5 / 15))
    meet = math.degrees(math.asin(4 / 7.5) + math.asin(3 / 7.5))
    assert left == pytest.approx(11.48, abs=0.01)
    beside = added(station_mm=100.0, diameter_mm=6.0, bearing_deg=-(meet + left + over))
    assert bool(findings(beside)) is fault


def padded(**place):
    pad = {"diameter_mm": 10.0, "lift_mm": 2.5, "rest": "open"}
    return added(diameter_mm=6.0, chimney_mm=-1.0, cover="pad", pad=pad, **place)


def unsurveyed(found):
    return [f for f in found if "no row" not in str(f.what)]


def test_pads_that_touch_or_nearly():
    # Pads of 10 in line: 50.2 leaves 0.2 of air beside P at 40, 49.8 none.
    tight = the_one(unsurveyed(findings(padded(station_mm=50.2))), "notice")
    assert "pass each other at 0.20 mm" in str(tight.what)
    touching = the_one(unsurveyed(findings(padded(station_mm=49.8))))
    assert "pads (10 and 10 mm) touch" in str(touching.what)
    assert unsurveyed(findings(padded(station_mm=50.6))) == []


def test_pads_side_by_side_touch_at_their_seats():
    # Seats 14 mm from the axis, pads of 14: rims meet where 14 sin(t/2) = 7 cos(t/2), t = 53.13°.
    meet = 2 * math.degrees(math.atan(7 / 14))
    pad = {"diameter_mm": 14.0, "lift_mm": 2.5, "rest": "closed"}
    for over, severities in ((-1.0, ["fault"]), (1.0, ["notice"]), (4.0, [])):
        drawn = body()
        first = drawn["parts"][0]["holes"][HOLES["P"]]
        first["pad"] = pad
        second = first | {"name": "X", "diameter_mm": 4.0, "bearing_deg": -(meet + over)}
        drawn["parts"][0]["holes"].append(second)
        found = body_findings(Instrument.model_validate(drawn))
        assert [f.severity for f in found] == severities
        assert all("pads" in str(f.what) for f in found)


def test_shoulders_and_socket_floors():
    # The tenon's shoulder is at 0, the socket's floor at 200 - 20; 1.5 mm of wall to either.
    assert findings(added(station_mm=4.5, diameter_mm=6.0)) == []
    found = the_one(findings(added(station_mm=4.0, diameter_mm=6.0)))
    assert "1.00 mm from the tenon's shoulder at the top" in str(found.what)
    assert "down by 0.50 mm" in str(found.remedy)
    found = the_one(findings(added(station_mm=176.0, diameter_mm=6.0)))
    assert ENGLISH.place(found.place) == "joint, hole X and bottom floor"
    assert "1.00 mm from the socket's floor" in str(found.what)
    found = the_one(findings(added(station_mm=179.0, diameter_mm=6.0)))
    assert "reaches 2.00 mm beyond the socket's floor" in str(found.what)


def test_an_undercut_counts_towards_the_shoulder():
    undercut = {"diameter_mm": 8.0, "depth_mm": 2.0}
    found = the_one(findings(added(station_mm=5.0, diameter_mm=6.0, undercut=undercut)))
    assert "1.00 mm from" in str(found.what)


def test_posts_and_holes():
    # In line: 120 - 100 less 4 and 1.5; at 106.9 the wall is 1.4.
    assert findings(change_rows=rows(2, station_mm=107.0, bearing_deg=0)) == []
    found = the_one(findings(change_rows=rows(2, station_mm=106.9, bearing_deg=0)))
    assert ENGLISH.place(found.place) == "joint, hole F and post 'F'"
    assert "is 1.40 mm; 1.5 mm is needed" in str(found.what)


def test_posts_over_the_bore_and_the_socket():
    # 7.5 of wall: a shank 5 deep leaves 2.5, 6 deep 1.5; over the socket 3.5 of wall remains.
    assert findings(post_depth_mm=5.5) == []
    found = the_one(findings(post_depth_mm=6.0))
    assert ENGLISH.place(found.place) == "joint, post 'F' and bore"
    assert "6 mm deep leaves 1.50 mm" in str(found.what)
    assert "2 mm is needed" in str(found.what)
    assert "leaves 0.00 mm" in str(the_one(findings(change_rows=rows(2, station_mm=190))).what)


def test_an_insert_needs_a_wider_hole_and_no_hole_none():
    # An insert of 4 instead of a thread of 3 takes half a millimetre from the wall beside it.
    near = rows(2, station_mm=107.0, bearing_deg=0)
    found = the_one(findings(change_rows=near, post_hole="insert"))
    assert "the post's insert (4 mm, 5 mm deep) is 1.00 mm" in str(found.what)
    # ISO 273: 3.4 for a bonded shank of 3.
    found = the_one(findings(change_rows=near, post_hole="bonded"))
    assert "the post's bonded hole (3.4 mm, 5 mm deep) is 1.30 mm" in str(found.what)
    over_socket = rows(2, station_mm=190)
    assert findings(change_rows=over_socket, post_hole="none") == []


def test_thin_joints_are_notices():
    # Under its cork the tenon keeps (20.6 - 1.4 - 15) / 2 = 2.1; the socket (30 - 25.4) / 2.
    def thin_tenon(part):
        part["tenon_top"]["diameter_mm"] = 20.6

    def thin_socket(part):
        part["socket_bottom"]["diameter_mm"] = 25.4

    assert "tenon under its cork is 2.10 mm" in str(the_one(findings(thin_tenon), "notice").what)
    assert "socket is 2.30 mm" in str(the_one(findings(thin_socket), "notice").what)


def test_faults_come_before_notices():
    found = findings(holes(P={"diameter_mm": 7.8}, F={"diameter_mm": 9.7}))
    assert [f.severity for f in found] == ["fault", "notice"]


@settings(max_examples=20)
@given(station=st.floats(108.0, 112.0), bearing=st.floats(-20, 20))
def test_neighbours_are_faulty_the_same_from_either_side(station, bearing):
    there = findings(added(station_mm=station, diameter_mm=7.0, bearing_deg=bearing))
    back = findings(added(station_mm=station, diameter_mm=7.0, bearing_deg=-bearing))
    assert [str(f.what) for f in there] == [str(f.what) for f in back]


@settings(max_examples=20)
@given(station=st.floats(107.6, 111), further=st.floats(0, 3))
def test_moving_away_never_makes_a_fault(station, further):
    near = findings(added(station_mm=station, diameter_mm=7.0))
    far = findings(added(station_mm=station + further, diameter_mm=7.0))
    assert len(far) <= len(near)


def test_the_shipped_examples_have_no_faults(clarinet, chalumeau):
    for instrument, survey in ((clarinet[0], clarinet[2]), (chalumeau[0], None)):
        assert [f for f in body_findings(instrument, survey) if f.severity == "fault"] == []
