"""Readings before a step, earlier takes over a step, and which stage a step belongs to."""

from __future__ import annotations

import numpy as np
import pytest

from borewright.acoustics import tuning
from borewright.errors import PlayingError
from borewright.model import Register
from borewright.model.results.advice import CorrectionStep
from borewright.playing import MeasuredNote, corrections
from borewright.playing.carrying import EarlierTakes, readings_after, with_earlier
from borewright.playing.readings import reading


def step(kind, by, part="body", hole=""):
    return CorrectionStep(
        words=kind, stage=1, kind=kind, part=part, hole=hole, by_mm=by, uncertainty_mm=0.0,
        limit_low_mm=-1, limit_high_mm=1, rms_before_cents=2, rms_after_cents=1, effects_cents=[],
    )  # fmt: skip


def test_earlier_takes_say_what_new_ones_would(chalumeau, takes_of, changed):
    """Takes before a hole was reamed, carried over it, against takes of the reamed instrument."""
    now, table = chalumeau
    then = changed(now, L3_diameter=-0.3)
    error = 2.0
    newest = takes_of(now, table, 1, error=error)
    earlier = [EarlierTakes(then, takes_of(then, table, seed, error=error), 1.0) for seed in (2, 3)]
    notes, shared = with_earlier(now, table, newest, 1.0, earlier)
    true = {note.fingering: note.cents for note in tuning(now, table).notes}
    assert set(notes) == set(newest)
    assert shared == pytest.approx(1 / np.sqrt(3), abs=0.01)
    # Errors lessen as the square root of three, but for notes that the step moved.
    assert min(note.error for note in notes.values()) == pytest.approx(error / np.sqrt(3), abs=0.01)
    assert max(note.error for note in notes.values()) > 1.05 * error / np.sqrt(3)
    away = [(note.cents - true[name]) / note.error for name, note in notes.items()]
    assert np.sqrt(np.mean(np.square(away))) < 1.6
    alone, own = with_earlier(now, table, newest, 1.0, [])
    assert own == 1.0
    assert [n.cents for n in alone.values()] == pytest.approx([n.cents for n in newest.values()])


def test_readings_follow_the_steps_that_were_done():
    before = [
        reading("diameter", 7.0, hole="L3"), reading("diameter", 6.0, hole="R1"),
        reading("length", 65.0, part="body"), reading("lift", 3.0, hole="L3"),
    ]  # fmt: skip
    steps = [step("diameter", 0.2, hole="L3"), step("barrel", -0.5), step("every hole", 0.1, "")]
    after = readings_after(before, steps, ["L3"])
    assert [each.value for each in after] == pytest.approx([7.3, 6.0, 64.5, 3.0])


def test_a_known_instrument_is_asked_for_where_the_player_is_in_doubt(chalumeau, takes_of):
    """All notes 7 cents flat: the player, or the head? One reading of each register decides."""
    instrument, table = chalumeau
    flat = takes_of(instrument, table, 5, player=-7.0)
    plan = corrections(instrument, table, flat, common_error_cents=4.0)
    asked = plan.open_questions[0]
    assert asked.item == "player"
    assert asked.open_after_cents < 0.7 * asked.open_now_cents
    registers = {each.register_ for each in table.fingerings}
    read = [reading("player", -7.0, part=register.value) for register in registers]
    told = corrections(instrument, table, flat, common_error_cents=4.0, readings=read)
    # What is known is asked for no more, and the instrument is let alone.
    assert all(each.item != "player" for each in told.open_questions)
    assert told.steps == []
    # The same takes by a player of that pitch elsewhere are the instrument's fault.
    zero = [reading("player", 0.0, part=register.value) for register in registers]
    cured = corrections(instrument, table, flat, common_error_cents=4.0, readings=zero)
    assert cured.steps
    assert cured.steps[0].kind == "barrel"
    assert cured.steps[0].by_mm < 0


def test_a_register_that_there_is_not_is_refused():
    with pytest.raises(PlayingError, match="is no register"):
        reading("player", 1.0, part="treble")
    assert reading("player", -1.0, part="clarion").part == Register.CLARION


def test_what_can_be_undone_but_brings_little_waits_for_the_cuts(chalumeau, takes_of, changed):
    """A hole 0.5 mm too small: no round of takes for what the head might do about it."""
    instrument, table = chalumeau
    true = changed(instrument, R1_diameter=-0.5, head_length=0.1)
    plan = corrections(instrument, table, takes_of(true, table, 8, error=0.3))
    assert {step.stage for step in plan.steps} == {2}
    assert plan.rms_after_cents < 0.5 * plan.rms_before_cents


def test_earlier_takes_are_named_as_file_and_notes(tmp_path):
    from borewright.tasks.playing.correcting import _earlier

    with pytest.raises(PlayingError, match="names no earlier takes"):
        _earlier("monday.csv", "", None)


def test_notes_that_were_not_played_again_are_not_carried(chalumeau, takes_of):
    instrument, table = chalumeau
    newest = {"G4": MeasuredNote(0.0, 1.0), "A4": MeasuredNote(0.0, 1.0)}
    earlier = [EarlierTakes(instrument, takes_of(instrument, table, 1), 0.5)]
    notes, _ = with_earlier(instrument, table, newest, 0.5, earlier)
    assert set(notes) == {"G4", "A4"}
