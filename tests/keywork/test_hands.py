"""What hands meet, against distances read off the survey and the body by hand."""

from __future__ import annotations

import pytest

from borewright.keywork import Body, Mechanism, hand_measures, touch_forces
from borewright.keywork.hands import LARGE, MIDDLE, SMALL
from borewright.model import ThumbRest


@pytest.fixture(scope="module")
def measures(keys, instrument):
    found = hand_measures(Mechanism(keys, instrument), Body(instrument))
    return {str(measure.what): measure for measure in found}


def test_pitches_and_the_thumb_are_those_of_the_tables(measures):
    # Stations of the holes: 139 - 109.5, 92 - 66; the touch ends at 82, the thumb hole at 88.
    assert measures["from 'L1' to 'L2' along the body"].value_mm == pytest.approx(29.5)
    assert measures["from 'R2' to 'R3' along the body"].value_mm == pytest.approx(26.0)
    assert measures["touch of 'RV' over the body"].value_mm == pytest.approx(24.0 - 14.8)
    assert measures["from the touch of 'RV' to the edge of hole 'T'"].value_mm == pytest.approx(6.0)


def test_the_left_levers_of_this_set_lie_too_far(measures):
    reach = measures["left little finger: from hole 'L3' to its furthest touch"]
    assert not reach.comfortable
    assert reach.value_mm > 60
    assert measures["right little finger: from hole 'R3' to its furthest touch"].comfortable


def test_touch_weights_are_those_that_the_survey_states(keys, instrument):
    stated = {e.key: e.touch_force_g for e in keys.elements if e.kind.value == "spring"}
    forces = {force.key: force for force in touch_forces(Mechanism(keys, instrument))}
    for key, grams in stated.items():
        assert forces[key].rest_g == pytest.approx(grams, abs=1.5)
        assert forces[key].end_g >= forces[key].rest_g
    # A lifts GS too: at the end more than its own spring's rise.
    assert forces["A"].end_g > forces["A"].rest_g * forces["A"].rise * 1.5


def test_hands_of_other_sizes_reach_and_cover_otherwise(keys, instrument):
    mechanism, body = Mechanism(keys, instrument), Body(instrument)
    by_hand = [
        {str(one.what): one for one in hand_measures(mechanism, body, hand)}
        for hand in (SMALL, MIDDLE, LARGE)
    ]
    reach = [told["left little finger: from hole 'L3' to its furthest touch"] for told in by_hand]
    assert len({one.value_mm for one in reach}) == 1
    # 55 mm of reach are stated for a hand of 180: 48.6 for one of 159, 61.4 for one of 201.
    assert [one.high_mm for one in reach] == pytest.approx([48.58, 55.0, 61.42], abs=0.01)
    covered = [told["hole 'R3' under a fingertip"].high_mm for told in by_hand]
    assert covered == [11.0, 14.0, 18.0]


def test_a_thumb_rest_belongs_opposite_the_first_two_fingers(keys, instrument):
    def measure(station):
        parts = [
            part.model_copy(update={"thumb_rest": ThumbRest(station_mm=station)})
            if part.name == "lower joint"
            else part
            for part in instrument.parts
        ]
        made = instrument.model_copy(update={"parts": parts})
        found = hand_measures(Mechanism(keys, made), Body(made))
        return next(one for one in found if str(one.what).startswith("thumb rest"))

    # R1 of the example is at 45.5, R2 at 66 of the lower joint.
    assert measure(50.0).value_mm == pytest.approx(4.5)
    assert measure(50.0).comfortable
    assert not measure(90.0).comfortable
    assert not measure(30.0).comfortable
