"""How keys turn, drive each other, open and shut, against SciPy's rotations and the survey's own
stated lifts and travels."""

from __future__ import annotations

import math

import numpy as np
import pytest
from scipy.spatial.transform import Rotation

from borewright.errors import KeyworkError
from borewright.keywork.body import Body
from borewright.keywork.fingering import fingering_differences, press
from borewright.keywork.frame import placed, surveyed, turned
from borewright.keywork.mechanism import Mechanism
from borewright.keywork.pads import (
    lost_motion_mm,
    pad_motion,
    ring_over_rim_mm,
    ring_travel_mm,
    touch_ratio,
    touch_travel_mm,
)
from borewright.model.keys import Cup, Hinge, KeyPoint, Link, Ring, Touch


@pytest.fixture(scope="module")
def mechanism(keys, instrument):
    return Mechanism(keys, instrument)


@pytest.fixture(scope="module")
def body(instrument):
    return Body(instrument)


def test_turning_is_scipys_rotation():
    random = np.random.default_rng(1)
    for _ in range(50):
        points = random.normal(size=(7, 3)) * 40
        origin, axis = random.normal(size=3) * 20, random.normal(size=3)
        axis /= np.linalg.norm(axis)
        degrees = float(random.uniform(-180, 180))
        wanted = Rotation.from_rotvec(np.radians(degrees) * axis).apply(points - origin) + origin
        assert turned(points, origin, axis, degrees) == pytest.approx(wanted, abs=1e-10)


def test_every_key_turns_as_scipy_turns_it(mechanism):
    for key in mechanism.turning.values():
        names = [e.name for e in mechanism.keys.of_key(key.name)]
        points = np.concatenate([mechanism.points[name] for name in names])
        rotation = Rotation.from_rotvec(np.radians(key.open_deg) * key.axis)
        wanted = rotation.apply(points - key.origin) + key.origin
        assert key.moved(points, key.open_deg) == pytest.approx(wanted, abs=1e-9)


def test_points_go_to_the_frame_and_back():
    # y = r sin b, z = r cos b: the frame's definition.
    point = KeyPoint(station_mm=12.0, bearing_deg=90.0, height_mm=18.0)
    assert placed(point, 65.0) == pytest.approx([77.0, 18.0, 0.0])
    assert surveyed(placed(point, 65.0), 65.0) == pytest.approx(point)


def test_lifts_are_those_that_the_survey_states(mechanism, body, keys):
    for cup in keys.of(Cup):
        motion = pad_motion(mechanism, body, cup)
        assert motion.lift_mm == pytest.approx(cup.lift_mm, abs=0.005)
        assert motion.tilt_deg == pytest.approx(0.0, abs=1e-3)
        assert motion.near_mm < motion.lift_mm < motion.far_mm


def test_edges_and_slides_of_the_worst_pads(mechanism, body, keys):
    # Worked out by hand in the handbook: FS 1.33 and 6.27 at its edges; EB slides 1.28 per mm.
    by = {cup.hole: pad_motion(mechanism, body, cup) for cup in keys.of(Cup)}
    assert (by["FS"].near_mm, by["FS"].far_mm) == pytest.approx((1.33, 6.27), abs=0.005)
    assert (by["FS"].m_mm, by["FS"].h_mm) == pytest.approx((12.19, 0.85), abs=0.005)
    assert by["EB"].slide_per_lift == pytest.approx(1.284, abs=5e-4)


def test_effective_lift_of_a_pad_that_lifts_evenly_is_its_lift(mechanism, body, keys):
    # The longest arm, S4: its pad opens nearly parallel, so every height under it is the lift.
    cup = keys.over("S4")
    assert pad_motion(mechanism, body, cup).effective_mm == pytest.approx(2.3, abs=0.02)
    assert pad_motion(mechanism, body, cup, degrees=0.0).effective_mm == pytest.approx(0, abs=1e-9)


@pytest.mark.parametrize("key", ["EB", "TP", "LP", "FC", "RP"])
def test_effective_lift_is_lift_and_what_sliding_adds(mechanism, keys, instrument, key):
    # The handbook's section 2: lift m sin θ + h (1 − cos θ), slide h sin θ − m (1 − cos θ) in the
    # middle; the pad's plane leans by θ, so over the hole's middle it stands slide × tan θ higher.
    cup = next(each for each in keys.of_key(key) if isinstance(each, Cup))
    body = Body(instrument)
    motion = pad_motion(mechanism, body, cup)
    theta = math.radians(abs(mechanism.turning[key].open_deg))
    lift = motion.m_mm * math.sin(theta) + motion.h_mm * (1 - math.cos(theta))
    slide = motion.h_mm * math.sin(theta) - motion.m_mm * (1 - math.cos(theta))
    assert motion.lift_mm == pytest.approx(lift, abs=0.01)
    assert motion.slid_mm == pytest.approx(abs(slide), abs=0.01)
    assert motion.effective_mm == pytest.approx(lift - slide * math.tan(theta), abs=0.01)
    # From each place of the hole's edge to the round pad itself, in space.
    rim, turning = body.rims[cup.hole], mechanism.turning[key]
    face, top = mechanism.points[cup.name]
    middle, tip = turning.moved(np.stack([face, top]), turning.open_deg)
    normal = (tip - middle) / np.linalg.norm(tip - middle)
    side = np.cross(rim.out, [1.0, 0.0, 0.0])
    turn = np.linspace(0.0, 2 * np.pi, 360, endpoint=False)[:, None]
    round_ = np.cos(turn) * side + np.sin(turn) * np.cross(rim.out, side)
    off = rim.centre + rim.hole.diameter_mm / 2 * round_ - middle
    high = off @ normal
    beyond = np.linalg.norm(off - high[:, None] * normal, axis=1) - cup.pad_mm / 2
    gap = np.hypot(np.clip(beyond, 0.0, None), high).mean()
    assert motion.effective_mm == pytest.approx(gap, rel=0.05)
    if key == "EB":
        assert (motion.lift_mm, motion.effective_mm) == pytest.approx((4.20, 6.43), abs=0.02)
        assert (beyond > 0).mean() == pytest.approx(0.49, abs=0.03)


def test_touches_and_rings_travel_as_stated(mechanism, body, keys):
    for touch in keys.of(Touch):
        assert touch_travel_mm(mechanism, touch) == pytest.approx(touch.travel_mm, abs=0.006)
    for ring in keys.of(Ring):
        assert ring_travel_mm(mechanism, ring) == pytest.approx(ring.travel_mm, abs=0.006)
        over, aside = ring_over_rim_mm(mechanism, body, ring)
        assert over == pytest.approx(0.1, abs=1e-6)
        assert aside < 0.15
    touch = next(t for t in keys.of(Touch) if t.key == "A")
    assert touch_ratio(mechanism, body, touch) == pytest.approx(2.60 / 2.30, abs=0.005)
    assert touch_ratio(mechanism, body, next(t for t in keys.of(Touch) if t.key == "LE")) is None


def test_links_pass_on_what_the_survey_states(mechanism, keys):
    for link in keys.of(Link):
        drive = mechanism.drives[link.name]
        assert abs(drive.driven_way_mm) == pytest.approx(link.travel_mm, abs=0.01)
        assert abs(drive.mismatch_mm) < 0.02
        assert not drive.works_against
        assert mechanism.slack_mm(link) == 0.0


def test_pressing_one_key_moves_those_it_drives(mechanism):
    rest = mechanism.rest
    movers = {
        "A": {"A", "GS"},
        "T": {"T", "TP"},
        "RP": {"RP", "LP"},
        "LE": {"LE", "EB", "FC"},
        "LFS": {"LFS", "FS", "FC"},
        "S3": {"S3"},
    }
    for key, moves in movers.items():
        state = mechanism.pressed([key])
        assert {name for name in state if abs(state[name] - rest[name]) > 0.5} == moves
        for name in moves:
            assert state[name] == pytest.approx(mechanism.turning[name].pressed_deg, abs=0.15)


def test_halfway_a_driven_key_is_halfway(mechanism):
    state = mechanism.pressed(["EB"], share=0.5)
    # Two arms at different angles: not quite half, but within a twelfth of it.
    assert state["FC"] == pytest.approx(mechanism.turning["FC"].open_deg / 2, rel=1 / 12)


def test_the_derived_fingerings_are_the_shipped_ones(mechanism, body, table):
    assert len(table.fingerings) == 55
    assert sum(bool(f.pressed) for f in table.fingerings) == 54  # one note presses nothing
    assert fingering_differences(mechanism, body, table) == []


@pytest.mark.parametrize("how", ["gap", "bent foot"])
def test_a_bent_link_changes_the_fingerings_it_serves(bending, keys, instrument, body, table, how):
    if how == "gap":
        bent = bending.with_element(keys, "N-FS-FC", gap_mm=1.0)
    else:
        foot = next(e for e in keys.elements if e.name == "F-FS-crow2")
        bent = bending.with_element(keys, "F-FS-crow2", second=bending.moved(foot.second, out=1.5))
    found = fingering_differences(Mechanism(bent, instrument), body, table)
    assert {d.fingering for d in found} == {"F#3", "C#5"}
    assert all(d.stays_open == ("FC",) and d.stays_shut == () for d in found)


def test_a_lost_adjusting_screw_leaves_the_other_pad_shut(bending, keys, instrument, body, table):
    bent = bending.with_element(keys, "N-A-GS", gap_mm=5.0)
    found = fingering_differences(Mechanism(bent, instrument), body, table)
    assert {d.stays_shut for d in found} == {("GS",)}
    assert "A4" in {d.fingering for d in found}


def test_lost_motion_adds_up_along_a_chain(bending, keys, instrument):
    loose = bending.with_element(
        bending.with_element(keys, "N-LE-EB", gap_mm=0.1), "N-EB-FC", gap_mm=0.2
    )
    mechanism = Mechanism(loose, instrument)
    touch = next(t for t in keys.of(Touch) if t.key == "LE")
    travel = touch_travel_mm(mechanism, touch)
    first, second = mechanism.drives["N-LE-EB"], mechanism.drives["N-EB-FC"]
    # Each gap over the ratio between it and the touch; ratios multiply along the chain.
    one = first.gap_mm / (abs(first.driver_way_mm) / travel)
    two = second.gap_mm / (
        abs(second.driver_way_mm) / abs(first.driven_way_mm) * abs(first.driver_way_mm) / travel
    )
    assert lost_motion_mm(mechanism, touch) == pytest.approx(one + two, rel=1e-3)


def test_what_is_no_key_is_refused(mechanism, body):
    with pytest.raises(KeyworkError, match="'X' is neither a finger hole nor a key"):
        press(mechanism, body, ["X"])


def test_a_shared_rod_turns_its_tubes_apart(mechanism, keys):
    shared = [h.key for h in keys.of(Hinge) if h.hinge == "H-S4S3"]
    assert shared == ["S4", "S3"]
    assert mechanism.pressed(["S4"])["S3"] == 0.0
