"""Ranges and spacings: what the keywork and the body allow."""

import numpy as np
import pytest

from borewright.errors import FitError
from borewright.fit import fit
from borewright.fit.freedom import freedoms
from borewright.fit.spacing import spacings
from borewright.model import KeyworkSurvey, dimensions, read_values
from borewright.model.fit_wishes import StatedRange


def by_label(found):
    return {freedom.dimension.label: freedom for freedom in found}


def test_a_cup_window_is_the_survey_row(clarinet):
    instrument, _, survey = clarinet
    row = survey.for_hole("CG")
    freedom = by_label(freedoms(instrument, survey))["CG station"]
    assert freedom.low.value == pytest.approx(row.station_mm - row.up_mm)
    assert freedom.high.value == pytest.approx(row.station_mm + row.down_mm)
    assert str(freedom.low.words) == "cup window CG (up)"


def with_wide_holes(instrument):
    """The instrument with holes that may leave their drawn size far behind."""
    wishes = instrument.fit.model_copy(update={"hole_size_window": 0.9})
    return instrument.model_copy(update={"fit": wishes})


def test_a_hole_stays_within_its_share_of_the_drawing(clarinet):
    instrument, _, survey = clarinet
    freedom = by_label(freedoms(instrument, survey))["L2 diameter"]
    drawn = instrument.part("upper joint").hole("L2").diameter_mm
    assert freedom.low.value == pytest.approx(0.85 * drawn)
    assert freedom.high.value == pytest.approx(1.15 * drawn)
    assert str(freedom.low.words) == "15% of the drawn 6.5 mm"


def test_a_stated_range_goes_before_the_share_and_gives_its_reason(clarinet):
    instrument, _, survey = clarinet
    stated = StatedRange(from_mm=5.0, to_mm=8.0, because="the player has small hands")
    wishes = instrument.fit.model_copy(update={"ranges": {"L2.diameter": stated}})
    freedom = by_label(freedoms(instrument.model_copy(update={"fit": wishes}), survey))
    assert freedom["L2 diameter"].low.value == 5.0
    assert str(freedom["L2 diameter"].low.words) == "the player has small hands"
    # The ring goes before what the maker states.
    row = survey.for_hole("L2")
    inside = row.ring_inside_mm - 2 * instrument.fit.chimney_wall_mm
    assert freedom["L2 diameter"].high.value == pytest.approx(min(inside, 8.0))


def test_a_hole_can_be_left_out_by_name(points_only):
    instrument, _, survey = points_only
    wishes = instrument.fit.model_copy(update={"free": ["hole.chimney except CG, GS"]})
    found = by_label(freedoms(instrument.model_copy(update={"fit": wishes}), survey))
    assert "S1 chimney" in found
    assert "CG chimney" not in found
    assert "GS chimney" not in found


def test_a_pad_stays_on_its_key_and_a_rim_under_its_ring(clarinet):
    instrument, _, survey = clarinet
    found = by_label(freedoms(instrument, survey))
    assert "S1 chimney" not in found
    # The ring's top is 0.1 mm over the drawn rim; flush to 0.3 is right.
    rim = found["R2 chimney"]
    assert (rim.low.value, rim.high.value) == pytest.approx((0.6, 0.9))
    assert "'right second finger'" in str(rim.low.words)
    assert found["L3 chimney"].low.value == pytest.approx(0.2)


def test_chimneys_named_alike_move_as_one(points_only):
    instrument, _, survey = points_only
    side = ["S1", "S2", "S3", "S4"]
    wishes = instrument.fit.model_copy(
        update={"free": ["hole.chimney"], "alike": {"side seats": side}}
    )
    found = freedoms(instrument.model_copy(update={"fit": wishes}), survey)
    together = [each for each in found if len(each.moves) > 1]
    assert [str(each.words) for each in together] == ["side seats, chimneys"]
    names = dimensions(instrument)
    assert sorted(names[column].hole for column, _ in together[0].moves) == side
    assert len(found) == len(instrument.hole_names()) - len(side) + 1


def test_a_pad_limits_its_hole_by_seat_and_by_lift(clarinet):
    instrument, _, survey = clarinet
    instrument = with_wide_holes(instrument)
    row = survey.for_hole("CG")
    freedom = by_label(freedoms(instrument, survey))["CG diameter"]
    by_seat = row.pad_diameter_mm - 2 * instrument.fit.pad_overlap_mm
    assert freedom.high.value == pytest.approx(min(by_seat, 3 * row.lift_mm))


def test_a_ring_limits_its_hole_by_the_chimney_inside_it(clarinet):
    instrument, _, survey = clarinet
    instrument = with_wide_holes(instrument)
    row = survey.for_hole("T")
    freedom = by_label(freedoms(instrument, survey))["T diameter"]
    inside = row.ring_inside_mm - 2 * instrument.fit.chimney_wall_mm
    assert freedom.high.value == pytest.approx(min(inside, instrument.fit.largest_finger_hole_mm))


def test_a_finger_hole_without_ring_has_the_owners_window(clarinet):
    instrument, _, survey = clarinet
    freedom = by_label(freedoms(instrument, survey))["L3 station"]
    window = instrument.fit.finger_hole_window_mm
    assert freedom.high.value - freedom.low.value == pytest.approx(2 * window)


def test_spacing_gradients_match_central_differences(clarinet):
    instrument, _, survey = clarinet
    values = np.array(read_values(instrument))
    for spacing in spacings(instrument, survey)[::7]:
        _, gradient = spacing.evaluate(values)
        for column in np.flatnonzero(gradient):
            up, down = values.copy(), values.copy()
            up[column] += 1e-5
            down[column] -= 1e-5
            difference = (spacing.evaluate(up)[0] - spacing.evaluate(down)[0]) / 2e-5
            assert gradient[column] == pytest.approx(difference, abs=1e-7)


def test_a_wish_that_frees_nothing_is_refused(clarinet):
    instrument, fingerings, survey = clarinet
    wishes = instrument.fit.model_copy(update={"free": ["nosuch.diameter"]})
    odd = instrument.model_copy(update={"fit": wishes})
    with pytest.raises(FitError, match=r"fit\.free: 'nosuch\.diameter' matches nothing"):
        fit(odd, fingerings, survey)


def test_limits_that_exclude_each_other_are_named(clarinet):
    instrument, fingerings, survey = clarinet
    rows = [
        row.model_copy(update={"pad_diameter_mm": 4.2}) if row.hole == "EB" else row
        for row in survey.rows
    ]
    wishes = instrument.fit.model_copy(update={"smallest_hole_mm": 2.6})
    narrow = instrument.model_copy(update={"fit": wishes})
    with pytest.raises(FitError, match=r"smallest hole.*pad 4\.2 mm"):
        fit(narrow, fingerings, KeyworkSurvey(rows=rows))
