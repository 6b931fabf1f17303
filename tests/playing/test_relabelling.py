"""A found note called otherwise: its pitch stays, its cents follow."""

from __future__ import annotations

import pytest

from borewright.errors import PlayingError
from borewright.model import PitchStandard
from borewright.model.results.playtest import FoundNote, NoteStatus
from borewright.playing.naming import target_hz
from borewright.playing.records import Record
from borewright.playing.relabelling import called, left_out, record_of

PITCH = PitchStandard(a4_hz=442.0, written_to_sounding_semitones=-2)


def test_the_pitch_stays_when_the_name_changes():
    record = Record(instrument="x", take="t#1", note="A4", cents=88.0, status="wrong register")
    renamed = called(record, "B4 (side key)", PITCH)
    # Two semitones up: 200 cents less, whatever the reference.
    assert renamed.cents == pytest.approx(-112.0)
    assert renamed.note == "B4 (side key)"
    assert renamed.status is NoteStatus.OK
    assert called(renamed, "A4", PITCH).cents == pytest.approx(88.0)
    with pytest.raises(PlayingError):
        called(record, "H9", PITCH)


def test_a_found_note_is_recognised_under_another_name():
    hz = target_hz("A4", PITCH) * 2 ** (7 / 1200)
    shape = {name: 0.0 for name in FoundNote.model_fields} | {"name": "A4", "take": 1, "tone": None}
    note = FoundNote.model_validate(shape | {"status": "ok", "hz": hz})
    other = Record(instrument="x", take="t#1", note="D5", cents=1.0)
    own = called(Record(instrument="x", take="t#1", note="A4", cents=7.0), "G4", PITCH)
    assert record_of(note, [other, own], PITCH) == 1
    assert record_of(note, [other, left_out(own)], PITCH) == 1
    assert record_of(note, [other], PITCH) is None
    assert record_of(note, [Record(instrument="x", take="t", note="?", cents=0.0)], PITCH) is None
