"""Planted mouthpiece, reed and climate are found within intervals, or refused by name."""

from __future__ import annotations

import numpy as np
import pytest

from borewright.acoustics import tuning
from borewright.errors import PlayingError
from borewright.model import FingeringTable, Use
from borewright.playing import MeasuredNote, calibrate

ERROR = 1.0


@pytest.fixture(scope="module")
def standard(clarinet):
    instrument, table = clarinet
    rows = [each for each in table.fingerings if each.use is Use.STANDARD]
    return instrument, FingeringTable(fingerings=rows)


def played(instrument, table, rng, error=ERROR):
    return {
        note.fingering: MeasuredNote(note.cents + rng.normal(0, error), error)
        for note in tuning(instrument, table).notes
    }


def changed(instrument, part, **values):
    return instrument.model_copy(update={part: getattr(instrument, part).model_copy(update=values)})


def test_a_chamber_and_a_reed_are_found(standard):
    instrument, table = standard
    truth = changed(instrument, "mouthpiece", chamber_mm3=3300.0)
    truth = changed(truth, "reed", resonance_hz=2000.0)
    names = ["mouthpiece.chamber_mm3", "reed.resonance_hz"]
    inside = 0
    for seed in range(10):
        notes = played(truth, table, np.random.default_rng(seed))
        fitted, estimates, left = calibrate(instrument, table, notes, names)
        for estimate, value in zip(estimates, (3300.0, 2000.0), strict=True):
            inside += estimate.value.low <= value <= estimate.value.high
        assert left < 2.0
        assert fitted.mouthpiece.chamber_mm3 == estimates[0].value.value
    # Twenty intervals of 95 %: fewer than 17 have a chance of 1.6 %.
    assert inside >= 17


def test_two_volumes_at_one_place_cannot_be_told_apart(standard):
    """A chamber and a slow reed's volume are both compliances at the top: one column twice."""
    instrument, table = standard
    notes = played(instrument, table, np.random.default_rng(0))
    with pytest.raises(PlayingError) as error:
        calibrate(
            changed(instrument, "reed", resonance_hz=5000.0), table, notes,
            ["mouthpiece.chamber_mm3", "reed.equivalent_volume_mm3"],
        )  # fmt: skip
    assert "cannot tell mouthpiece.chamber_mm3 from reed.equivalent_volume_mm3" in str(error.value)


@pytest.mark.parametrize(
    ("wanted", "cause"),
    [
        (["reed.colour"], "cannot be fitted"),
        ([], "no parameter"),
        (["climate.room_c"] * 2, "one twice"),
    ],
)
def test_what_cannot_be_asked(standard, wanted, cause):
    instrument, table = standard
    notes = {each.name: MeasuredNote(0.0, 1.0) for each in table.fingerings}
    with pytest.raises(PlayingError, match=cause):
        calibrate(instrument, table, notes, wanted)


def test_too_few_notes(standard):
    instrument, table = standard
    with pytest.raises(PlayingError, match="2 notes cannot tell 1 parameters"):
        calibrate(
            instrument, table, {"E3": MeasuredNote(0.0, 1.0), "F3": MeasuredNote(0.0, 1.0)},
            ["climate.room_c"],
        )  # fmt: skip
