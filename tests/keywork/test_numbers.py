"""A key's numbers: read from a survey, changed, begun from nothing, clicked in photographs."""

from __future__ import annotations

import math

import numpy as np
import pytest

from borewright.errors import KeyworkError
from borewright.keywork import LIMITS, Body, Mechanism, key_findings
from borewright.keywork.begun import HingeWay, NewKey, begun_key
from borewright.keywork.clicked import Clicks, Sight, Target, numbers_from_clicks
from borewright.keywork.gate.pads import pad_findings
from borewright.keywork.hinges import end_play_mm, head_off_line_mm
from borewright.keywork.numbers import Measured, Number, key_frame, numbers_of
from borewright.keywork.photographs import Photograph
from borewright.keywork.remeasured import with_numbers
from borewright.model import Rest, Severity


def of(keys, instrument, key):
    return {n: m.value for n, m in numbers_of(Mechanism(keys, instrument), key).items()}


def test_numbers_of_a_key_as_the_handbook_has_them(keys, instrument):
    # The workshop's handbook of keywork, section 4: head distance 33.0 = 28.97 + 0.03 + 4.0, TP's
    # m 17.25 and h -7.03; section 2: EB's h -23.0, FS's m 12.19 and h 0.85; section 5: S4's 79.5.
    tp, eb, fs = (of(keys, instrument, key) for key in ("TP", "EB", "FS"))
    assert tp[Number.LENGTH] == pytest.approx(28.97, abs=5e-3)
    assert (tp[Number.ARM], tp[Number.HEIGHT]) == pytest.approx((17.25, -7.03), abs=5e-3)
    assert eb[Number.HEIGHT] == pytest.approx(-23.0, abs=0.05)
    assert (fs[Number.ARM], fs[Number.HEIGHT]) == pytest.approx((12.19, 0.85), abs=5e-3)
    assert of(keys, instrument, "S4")[Number.ARM] == pytest.approx(79.5, abs=5e-3)


def test_what_is_not_changed_stays_to_the_last_digit(keys, instrument):
    mechanism = Mechanism(keys, instrument)
    for key in keys.keys:
        same = with_numbers(keys, instrument, key, numbers_of(mechanism, key))
        assert same.elements == keys.elements


@pytest.mark.parametrize("key", ["RV", "GS", "TP", "SV", "RP", "FC", "EB"])
def test_numbers_that_were_measured_stand_in_the_survey(keys, instrument, key):
    random = np.random.default_rng(len(key))
    before = of(keys, instrument, key)
    moved = {n for n in before if n not in (Number.SPRING, Number.SPRING_LENGTH)}
    given = {n: Measured(before[n] + float(random.uniform(0.05, 0.3)), 0.05) for n in moved}
    made = with_numbers(keys, instrument, key, given)
    after = of(made, instrument, key)
    for number in before:
        wanted = given[number].value if number in given else before[number]
        assert after[number] == pytest.approx(wanted, abs=2e-3), number
    # The pad stays on its hole: pads and rings are where the body has them.
    face = next(e for e in keys.of_key(key) if e.kind.value == "cup").first
    assert next(e for e in made.of_key(key) if e.kind.value == "cup").first == face
    hinge = made.hinge(key)
    assert hinge.uncertainty_mm == 0.05
    # Post heads stay in line with the tube, and nobody else's rows are touched.
    mechanism, posts = Mechanism(made, instrument), made.posts_of(hinge.hinge)
    assert all(head_off_line_mm(mechanism, hinge, post) < 0.01 for post in posts)
    assert end_play_mm(mechanism, [hinge], posts) == pytest.approx(0.03, abs=0.005)
    assert [e for e in made.elements if e.hinge != hinge.hinge] == [
        e for e in keys.elements if e.hinge != hinge.hinge
    ]


def test_the_hinge_goes_where_the_handbooks_formula_puts_it(keys, instrument):
    # R = √((s + h)² + m²), Δ = atan2(m, s + h); TP: s 14.0.
    given = {Number.ARM: Measured(16.2), Number.HEIGHT: Measured(-6.1)}
    made = with_numbers(keys, instrument, "TP", given)
    tube, cup = made.hinge("TP").first, next(e for e in made.of_key("TP") if e.kind.value == "cup")
    assert tube.height_mm == pytest.approx(math.hypot(14.0 - 6.1, 16.2), abs=2e-3)
    turn = math.degrees(math.atan2(16.2, 14.0 - 6.1))
    assert abs(tube.bearing_deg - cup.first.bearing_deg) == pytest.approx(turn, abs=0.01)
    # lift = m sin θ + h (1 − cos θ): the swing follows so that the stated lift stays.
    angle = math.radians(abs(made.hinge("TP").open_deg))
    assert 16.2 * math.sin(angle) - 6.1 * (1 - math.cos(angle)) == pytest.approx(2.2, abs=2e-3)


def test_keys_on_one_rod_keep_their_hinge(keys, instrument):
    arm = of(keys, instrument, "S4")[Number.ARM]
    made = with_numbers(keys, instrument, "S4", {Number.ARM: Measured(arm + 1.0)})
    assert made.hinge("S4").first == keys.hinge("S4").first
    findings = pad_findings(Mechanism(made, instrument), Body(instrument), LIMITS)
    assert ("cup off its hole", "C-S4") in {(f.check.value, f.elements[0]) for f in findings}


@pytest.mark.parametrize(
    ("number", "value", "said"),
    [
        (Number.LENGTH, -3.0, "not more than 0"),
        (Number.ARM, 400.0, "no size of a key"),
        (Number.LIFT, 60.0, "no swing"),
        (Number.INSIDE, 9.0, "has none"),
    ],
)
def test_numbers_that_cannot_be_are_refused(keys, instrument, number, value, said):
    with pytest.raises(KeyworkError, match=said):
        with_numbers(keys, instrument, "AE", {number: Measured(value)})


@pytest.mark.parametrize(
    ("key", "way"),
    [("AE", "left"), ("FC", "right"), ("SB", "below"), ("CG", "left"), ("RV", "below")],
)
def test_a_key_is_begun_from_its_numbers_alone(keys, instrument, key, way):
    numbers = numbers_of(Mechanism(keys, instrument), key)
    hinge = keys.hinge(key)
    cup = next(e for e in keys.of_key(key) if e.kind.value == "cup")
    wish = NewKey("new", cup.hole, HingeWay(way), hinge.rest)
    made = begun_key(instrument, None, wish, numbers)
    begun = made.hinge("new")
    # Only by its numbers its hinge comes to stand where the whole survey has it.
    for one, other in ((begun.first, hinge.first), (begun.second, hinge.second)):
        assert one.height_mm == pytest.approx(other.height_mm, abs=0.01)
        assert abs((one.bearing_deg - other.bearing_deg + 180) % 360 - 180) < 0.01
        assert one.station_mm == pytest.approx(other.station_mm, abs=0.3)  # cups stand off a bit
    assert begun.open_deg == pytest.approx(hinge.open_deg, abs=0.06)
    assert not [f for f in key_findings(instrument, made) if f.severity is Severity.FAULT]


def test_a_key_lacking_a_number_or_a_hole_is_refused(keys, instrument):
    numbers = numbers_of(Mechanism(keys, instrument), "AE")
    few = {n: m for n, m in numbers.items() if n is not Number.ARM}
    wish = NewKey("new", "AE", HingeWay.LEFT, Rest.CLOSED)
    with pytest.raises(KeyworkError, match="hinge to pad's middle is missing"):
        begun_key(instrument, None, wish, few)
    with pytest.raises(KeyworkError, match="no hole 'XX'"):
        begun_key(instrument, None, NewKey("new", "XX", HingeWay.LEFT, Rest.CLOSED), numbers)
    with pytest.raises(KeyworkError, match="name of its own"):
        begun_key(instrument, keys, NewKey("AE", "AE", HingeWay.LEFT, Rest.CLOSED), numbers)


# Photographs: a pinhole of our own over what the survey says of a key.


def pinhole(point, distance, focal_px=5200.0, middle=(2000.0, 1500.0)):
    x, y, z = point
    return middle[0] + focal_px * x / (distance - z), middle[1] - focal_px * y / (distance - z)


def photographed(keys, instrument, key, sight, random, distance=1500.0):
    """Clicks on a photograph of a key, lying a bit askew, its parts over the scale's plane."""
    mechanism = Mechanism(keys, instrument)
    frame = key_frame(mechanism, key)
    cup = next(e for e in keys.of_key(key) if e.kind.value == "cup")
    touch = next(e for e in keys.of_key(key) if e.kind.value == "touch")
    tube = frame.of(mechanism.points[f"H-{key}"][1])[0]
    face, top = (frame.of(p) for p in mechanism.points[cup.name])
    hand = frame.of(mechanism.points[touch.name].mean(axis=0))
    turns = np.radians([10, 130, 250, 320])
    rim = [
        top + cup.outside_mm / 2 * np.array([np.cos(t), np.sin(t), 0.0]) for t in turns
    ]  # about along and aside
    axes = [0, 1, 2] if sight is Sight.PAD else [1, 2, 0]
    lie = np.radians(7.0)

    def click(point, near):
        x, y = (point - face)[axes[:2]] @ np.array(
            [[np.cos(lie), np.sin(lie)], [-np.sin(lie), np.cos(lie)]]
        )
        exact = pinhole((x, y, near), distance)
        return tuple(np.add(exact, random.normal(0, 0.7, 2)))

    def near(point):
        return float((point - face)[axes[2]])

    points = {Target.TOUCH: [hand]}
    if sight is Sight.PAD:
        points |= {Target.TUBE: [np.zeros(3), np.array([tube, 0, 0])], Target.RIM: rim}
    else:
        across = np.array([0.0, cup.pad_mm / 2, 0.0])
        ring = keys.hinge(key).tube_mm / 2
        points |= {
            Target.TUBE: [ring * np.array([0, np.cos(t), np.sin(t)]) for t in turns],
            Target.FACE: [face - across, face + across],
            Target.TOP: [top],
        }
    scale = [pinhole((-50, -30, 0), distance), pinhole((50, -30, 0), distance)]
    photograph = Photograph(tuple(scale), 100.0, (2000.0, 1500.0), distance)
    return Clicks(
        sight,
        photograph,
        {target: [click(p, near(p)) for p in some] for target, some in points.items()},
        {target: near(some[0]) for target, some in points.items()},
    )


@pytest.mark.parametrize("sight", list(Sight))
@pytest.mark.parametrize("key", ["EB", "AE", "FS", "GS"])
def test_photographs_give_back_the_key(keys, instrument, key, sight):
    truth = of(keys, instrument, key)
    shares = []
    for seed in range(12):
        clicks = photographed(keys, instrument, key, sight, np.random.default_rng(seed))
        for number, measured in numbers_from_clicks(clicks).items():
            assert measured.uncertainty < 1.2
            shares.append(abs(measured.value - truth[number]) / measured.uncertainty)
    # What is told is true within what is told of it: some 19 of 20 within twice the uncertainty.
    assert np.mean(np.array(shares) < 2) > 0.93
    assert max(shares) < 4


def test_parallax_not_taken_back_would_show(keys, instrument):
    clicks = photographed(keys, instrument, "EB", Sight.PAD, np.random.default_rng(3), 500.0)
    truth = of(keys, instrument, "EB")[Number.LENGTH]
    flat = Clicks(clicks.sight, clicks.photograph, clicks.points)
    right = numbers_from_clicks(clicks)[Number.LENGTH].value
    wrong = numbers_from_clicks(flat)[Number.LENGTH].value
    assert abs(right - truth) < 0.5
    assert abs(wrong - truth) > 3.0


def test_half_clicked_photographs_are_refused(keys, instrument):
    clicks = photographed(keys, instrument, "AE", Sight.PAD, np.random.default_rng(0))
    for sight, points, said in (
        (Sight.PAD, {Target.TUBE: [(1.0, 1.0)]}, "two clicks"),
        (Sight.PAD, {**clicks.points, Target.RIM: [(1, 1), (2, 2), (3, 3)]}, "three points"),
        (Sight.END, {Target.TUBE: [(1.0, 1.0), (5.0, 9.0)]}, "three clicks round it"),
    ):
        with pytest.raises(KeyworkError, match=said):
            numbers_from_clicks(Clicks(sight, clicks.photograph, points))
