"""Seating: one step, and nothing is left for typing."""

from __future__ import annotations

import random

import pytest

from borewright.fit import body_findings
from borewright.fit.seating import seat
from borewright.model import KeyworkSurvey, SurveyItem, drawn


def scattered(survey, seed, by_mm):
    """The survey with cups and rings moved by up to ``by_mm`` and turned by up to 5 degrees."""
    rng = random.Random(seed)
    rows = []
    for row in survey.rows:
        if row.item is not SurveyItem.POST:
            bearing = max(-180.0, min(180.0, round(row.bearing_deg + rng.uniform(-5, 5), 1)))
            station = round(row.station_mm + rng.uniform(-by_mm, by_mm), 1)
            row = row.model_copy(update={"station_mm": station, "bearing_deg": bearing})
        rows.append(row)
    return KeyworkSurvey(rows=rows)


def faults(findings):
    return [str(finding.what) for finding in findings if finding.severity == "fault"]


@pytest.mark.parametrize(("seed", "by_mm"), [(0, 3.0), (1, 4.0), (5, 4.0)])
def test_one_step_leaves_no_fault_for_typing(points_only, seed, by_mm):
    """Seed 1 brings two keys so near that holes of their drawn sizes would run together."""
    instrument, _, survey = points_only
    keys = scattered(survey, seed, by_mm)
    seated, result = seat(instrument, keys)
    assert result.faults_before > 30
    assert faults(body_findings(seated, keys)) == []
    assert result.faults_after == 0
    for _, hole, _ in seated.placed_holes():
        row = keys.for_hole(hole.name)
        if row is None:
            continue
        assert row.station_mm - row.up_mm <= hole.station_mm + 1e-9
        assert hole.station_mm <= row.station_mm + row.down_mm + 1e-9
        assert hole.bearing_deg == row.bearing_deg


def test_a_fitted_body_is_seated_and_keeps_what_sits_already(clarinet, clarinet_fit):
    _, _, survey = clarinet
    fitted, _ = clarinet_fit
    same, result = seat(fitted, survey)
    assert result.changes == []
    assert same == fitted


def test_what_was_seated_counts_as_drawn(points_only, clarinet_fit):
    _, _, survey = points_only
    fitted, _ = clarinet_fit
    keys = scattered(survey, 3, 4.0)
    seated, result = seat(fitted, keys)
    moved = {change.hole for change in result.changes if str(change.what) == "station"}
    assert moved
    home = drawn(seated)
    for _, hole, _ in seated.placed_holes():
        if hole.name in moved:
            part = next(p.name for p in home.parts if hole.name in [h.name for h in p.holes])
            assert home.part(part).hole(hole.name).station_mm == hole.station_mm


def test_a_smaller_pad_makes_a_smaller_hole(clarinet):
    instrument, _, survey = clarinet
    rows = [
        row.model_copy(update={"pad_diameter_mm": 12.5}) if row.hole == "EB" else row
        for row in survey.rows
    ]
    seated, _ = seat(instrument, KeyworkSurvey(rows=rows))
    hole = seated.part("lower joint").hole("EB")
    assert hole.pad.diameter_mm == 12.5
    assert hole.diameter_mm == pytest.approx(10.5)


def test_a_measured_seat_sets_the_rim(clarinet):
    instrument, _, survey = clarinet
    rows = [
        row.model_copy(update={"seat_from_axis_mm": 13.2}) if row.hole == "CG" else row
        for row in survey.rows
    ]
    seated, _ = seat(instrument, KeyworkSurvey(rows=rows))
    # 13.2 from the axis under an outside of 29.6: the rim stands 1.6 below it.
    assert seated.part("upper joint").hole("CG").chimney_mm == pytest.approx(-1.6)
