"""The fit as a whole, on the shipped examples.

The figures asked for: every standard fingering E3 to C6 within 10 cents, root mean square at
most 4, alternates within 20, every limit honoured, checked here by code other than the
solver's.
"""

import math

import pytest

from borewright.acoustics import tuning
from borewright.errors import FitError
from borewright.fit import body_findings, fit
from borewright.model import FingeringTable, KeyworkSurvey, SurveyItem, Use, note_number


def test_standard_notes_are_in_tune_from_e3_to_c6(clarinet_fit):
    _, result = clarinet_fit
    standard = [note for note in result.after.notes if note.use is Use.STANDARD]
    numbers = {note_number(note.written) for note in standard}
    # Throat B-flat is reported apart.
    assert numbers == set(range(note_number("E3"), note_number("C6") + 1)) - {note_number("Bb4")}
    assert all(note.status == "ok" for note in standard)
    assert max(abs(note.cents) for note in standard) <= 10
    rms = math.sqrt(sum(note.cents**2 for note in standard) / len(standard))
    assert rms <= 4
    assert result.after.summary.rms_cents == pytest.approx(rms)
    assert result.before.summary.rms_cents > 2 * rms  # it did not start from the answer


def test_alternates_are_within_twenty_cents(clarinet_fit):
    _, result = clarinet_fit
    alternates = [note for note in result.after.notes if note.use is Use.ALTERNATE]
    assert len(alternates) >= 8
    assert max(abs(note.cents) for note in alternates) <= 20
    assert result.out_of_reach == []


def test_every_keywork_limit_is_honoured(clarinet, clarinet_fit):
    _, _, survey = clarinet
    fitted, _ = clarinet_fit
    for part, hole, _ in fitted.placed_holes():
        row = survey.for_hole(hole.name)
        if row is None:
            continue
        assert row.part == part.name
        assert row.station_mm - row.up_mm - 1e-9 <= hole.station_mm
        assert hole.station_mm <= row.station_mm + row.down_mm + 1e-9
        if row.item is SurveyItem.CUP:
            assert (row.pad_diameter_mm - hole.diameter_mm) / 2 >= fitted.fit.pad_overlap_mm - 1e-9
            assert row.lift_mm >= hole.diameter_mm / 3 - 1e-9
        else:
            chimney = hole.diameter_mm + 2 * fitted.fit.chimney_wall_mm
            assert chimney <= row.ring_inside_mm + 1e-9


def test_the_independent_checks_find_no_fault(clarinet, clarinet_fit):
    _, _, survey = clarinet
    fitted, result = clarinet_fit
    faults = [f for f in body_findings(fitted, survey) if f.severity == "fault"]
    assert faults == []
    assert [f for f in result.findings if f.severity == "fault"] == []


def test_the_table_after_is_that_of_the_rounded_instrument(clarinet, clarinet_fit):
    _, fingerings, _ = clarinet
    fitted, result = clarinet_fit
    assert tuning(fitted, fingerings) == result.after
    for part in fitted.parts:
        for hole in part.holes:
            assert hole.diameter_mm == pytest.approx(round(hole.diameter_mm, 2), abs=1e-12)


def test_the_same_fit_twice_is_the_same_instrument(clarinet, clarinet_fit):
    instrument, fingerings, survey = clarinet
    again, _ = fit(instrument, fingerings, survey)
    assert again == clarinet_fit[0]


def test_what_is_not_freed_does_not_move(clarinet, clarinet_fit):
    instrument, _, _ = clarinet
    fitted, result = clarinet_fit
    moved = {(move.part, move.hole, move.dimension) for move in result.moved}
    assert ("bell", "", "length") not in moved
    assert fitted.part("bell") == instrument.part("bell")
    assert fitted.mouthpiece == instrument.mouthpiece


def test_progress_is_reported_and_ctrl_c_keeps_the_best_so_far(clarinet):
    instrument, fingerings, survey = clarinet
    seen = []

    def progress(rounds, rms, worst):
        seen.append((rounds, rms, worst))
        if rounds == 3:
            raise KeyboardInterrupt

    fitted, result = fit(instrument, fingerings, survey, progress=progress)
    assert not result.finished
    assert [rounds for rounds, _, _ in seen] == [1, 2, 3]
    assert result.after.summary.rms_cents < result.before.summary.rms_cents
    assert fitted != instrument


def test_a_note_out_of_reach_names_the_cup_that_stops_it(clarinet):
    """A cup 16 mm too far down makes its notes flat beyond any hole that the pad allows."""
    instrument, fingerings, survey = clarinet
    rows = [
        row.model_copy(update={"station_mm": row.station_mm + 16.0}) if row.hole == "FS" else row
        for row in survey.rows
    ]
    wishes = instrument.fit.model_copy(update={"free": ["hole.station", "hole.diameter"]})
    stuck = instrument.model_copy(update={"fit": wishes})
    kept = [f for f in fingerings.fingerings if f.written in ("F3", "F#3", "G3", "C5", "C#5", "D5")]
    _, result = fit(stuck, FingeringTable(fingerings=kept), KeyworkSurvey(rows=rows))
    late = {entry.fingering: entry for entry in result.out_of_reach}
    assert "F#3" in late
    entry = late["F#3"]
    assert entry.cents < -10
    best = entry.relaxations[0]
    assert "FS" in best.limit
    assert abs(best.cents_after) < abs(entry.cents)
    assert best.limit in entry.advice


def test_a_table_without_weight_is_refused(clarinet):
    instrument, fingerings, survey = clarinet
    apart = [f.model_copy(update={"use": Use.APART}) for f in fingerings.fingerings]
    with pytest.raises(FitError, match="no fingering has any weight"):
        fit(instrument, FingeringTable(fingerings=apart), survey)


def test_the_keyless_chalumeau_fits_too(chalumeau):
    instrument, fingerings = chalumeau
    fitted, result = fit(instrument, fingerings)
    standard = [n for n in result.after.notes if n.use is Use.STANDARD]
    assert max(abs(note.cents) for note in standard) <= 10
    assert [f for f in body_findings(fitted) if f.severity == "fault"] == []
