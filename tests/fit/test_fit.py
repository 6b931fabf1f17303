"""The fit as a whole, on the shipped examples.

Cents alone are no measure: the body has to be one that a maker would build. So the shipped
clarinet's cents are asserted together with its side conditions: cylinders straight, joints as
drawn or within 0.05 mm, holes within 15 % of their drawing, barrel within 1 mm, chimneys inside
their windows; every limit honoured, checked here by code other than the solver's.
"""

import itertools
import math

import pytest

from borewright.acoustics import tuning
from borewright.errors import FitError
from borewright.fit import body_findings, fit
from borewright.model import Cover, FingeringTable, KeyworkSurvey, SurveyItem, Use, note_number
from borewright.model.fit_wishes import StatedRange


def test_standard_notes_are_in_tune_from_e3_to_c6(clarinet_fit):
    _, result = clarinet_fit
    standard = [note for note in result.after.notes if note.use is Use.STANDARD]
    numbers = {note_number(note.written) for note in standard}
    # Throat B-flat is reported apart.
    assert numbers == set(range(note_number("E3"), note_number("C6") + 1)) - {note_number("Bb4")}
    assert all(note.status == "ok" for note in standard)
    assert max(abs(note.cents) for note in standard) <= 7
    rms = math.sqrt(sum(note.cents**2 for note in standard) / len(standard))
    assert rms <= 2.5
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
    moved = {(move.part, move.hole, move.measure) for move in result.moved}
    assert ("upper joint", "", "length") not in moved
    for name in ("upper joint", "lower joint"):
        assert fitted.part(name).length_mm == instrument.part(name).length_mm
        assert fitted.part(name).outside == instrument.part(name).outside
    assert fitted.part("upper joint").hole("RV").into_bore_mm == 3.0
    assert fitted.mouthpiece == instrument.mouthpiece


def test_the_fitted_clarinet_is_a_body_that_a_maker_would_build(clarinet, clarinet_fit):
    instrument, _, _ = clarinet
    fitted, _ = clarinet_fit
    for part, drawn in zip(fitted.parts, instrument.parts, strict=True):
        for hole, before in zip(part.holes, drawn.holes, strict=True):
            stated = instrument.fit.ranges.get(f"{hole.name}.diameter")
            if stated:
                assert stated.because
                assert stated.from_mm <= hole.diameter_mm <= stated.to_mm
            else:
                assert abs(hole.diameter_mm / before.diameter_mm - 1) <= 0.15 + 1e-9
            # A pad lies on its key, a rim under its ring; only the third finger has neither.
            if hole.cover is Cover.PAD:
                assert hole.chimney_mm == before.chimney_mm
            elif hole.cover is Cover.RING:
                assert -0.2 - 1e-9 <= hole.chimney_mm - before.chimney_mm <= 0.1 + 1e-9
    upper, lower = fitted.part("upper joint"), fitted.part("lower joint")
    # Cylinders: the same diameter at both of their ends.
    assert upper.bore[1][1] == upper.bore[2][1]
    assert lower.bore[0][1] == lower.bore[1][1]
    drawn = instrument.part("upper joint")
    for (_, diameter), (_, before) in zip(upper.bore, drawn.bore, strict=True):
        assert abs(diameter - before) <= 0.3 + 1e-9
    assert abs(fitted.part("barrel").length_mm - 65.0) <= 1.0
    for above, below in itertools.pairwise(fitted.parts):
        step = below.bore_diameter_at(0.0) - above.bore_diameter_at(above.length_mm, -1)
        old_above, old_below = instrument.part(above.name), instrument.part(below.name)
        old = old_below.bore_diameter_at(0.0) - old_above.bore_diameter_at(old_above.length_mm, -1)
        # As drawn is as drawn to a hundredth: both ends are rounded to one.
        assert min(old - 0.01, -0.05) - 1e-9 <= step <= max(old + 0.01, 0.05) + 1e-9
    # The flare widens all the way, steeper and steeper as it was drawn, and so does the bell.
    for name in ("lower joint", "bell"):
        for (s0, d0), (s1, d1) in itertools.pairwise(fitted.part(name).bore):
            assert d1 >= d0
            assert s1 > s0


def test_with_all_bores_held_the_fit_names_what_holds_b4(points_only):
    """The figures asked for: B4 15 to 17 flat, and the true cause: the bores, the bell first.

    An rms of about 4, and lower end and bell alone as the remedy, were estimated from closed
    forms. With holes and bell solved it is 5, and only bores that move together make it good.
    """
    instrument, fingerings, survey = points_only
    free = ["hole.station", "hole.diameter", "hole.chimney", "barrel.length"]
    held = instrument.model_copy(update={"fit": instrument.fit.model_copy(update={"free": free})})
    _, result = fit(held, fingerings, survey)
    assert result.after.summary.rms_cents <= 5.2
    late = {note.fingering: note for note in result.out_of_reach}
    assert -17.0 <= late["B4"].cents <= -12.0
    tried = {str(each.limit): each for each in late["B4"].relaxations}
    assert set(tried) == {"all bores together", "bell", "the lower end and the bell"}
    best = late["B4"].relaxations[0]
    assert str(best.limit) == "all bores together"
    assert abs(best.cents_after) < 7.0
    assert str(best.change) in str(late["B4"].advice)
    assert abs(tried["bell"].cents_after) < abs(late["B4"].cents) - 3.0
    assert result.held_back[0].what == best.change
    assert result.held_back[0].rms_after < 2.5


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


def test_a_note_out_of_reach_names_the_cup_that_stops_it(points_only):
    """A cup 16 mm too far down makes its notes flat beyond any hole that the pad allows."""
    instrument, fingerings, survey = points_only
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
    assert abs(best.cents_after) < abs(entry.cents)
    assert str(best.change) in str(entry.advice)
    cup = next(each for each in entry.relaxations if "cup window FS" in str(each.limit))
    assert cup.cents_after > entry.cents + 5.0


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


def test_every_limit_that_is_reached_tells_what_it_costs(clarinet_fit):
    """Sizes at an end of their range are named with a step and what it would buy."""
    _, result = clarinet_fit
    told = {str(each.what): each for each in result.at_limits}
    gains = [each.gain_cents for each in result.at_limits]
    assert gains == sorted(gains, reverse=True)
    assert min(gains) >= 0
    held = {
        f"{move.hole} {move.dimension}: {move.limit}"
        for move in result.moved
        if move.measure == "diameter" and "% of the drawn" in str(move.limit)
    }
    assert held
    assert held <= set(told)
    # What a maker would ask: is a hole at its 15 % a loss? None of them is worth a tenth.
    assert all(told[words].gain_cents < 0.1 for words in held)


def test_what_a_limit_costs_is_what_a_fit_without_it_wins(chalumeau):
    instrument, fingerings = chalumeau
    tight = instrument.fit.model_copy(update={"hole_size_window": 0.06, "keep_close": 0.5})
    _, result = fit(instrument.model_copy(update={"fit": tight}), fingerings)
    dearest = next(each for each in result.at_limits if "diameter" in str(each.what))
    hole = str(dearest.what).split()[0]
    drawn = instrument.part("body").hole(hole).diameter_mm
    (move,) = (m for m in result.moved if m.hole == hole and m.measure == "diameter")
    low, high = drawn * 0.94, drawn * 1.06
    if move.to < drawn:
        low -= dearest.by_mm
    else:
        high += dearest.by_mm
    wider = StatedRange(from_mm=low, to_mm=high)
    freed = tight.model_copy(update={"ranges": {f"{hole}.diameter": wider}})
    _, after = fit(instrument.model_copy(update={"fit": freed}), fingerings)
    won = result.after.summary.rms_cents - after.after.summary.rms_cents
    assert won > 0.05
    # The prediction is of second order, the fits are rounded to hundredths.
    assert dearest.gain_cents == pytest.approx(won, rel=0.35, abs=0.05)
