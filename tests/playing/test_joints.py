"""A take made with a joint drawn apart is compared with the prediction of that state."""

from __future__ import annotations

import json

import numpy as np
import pytest
from typer.testing import CliRunner

from borewright.acoustics import tuning
from borewright.cli import app
from borewright.errors import PlayingError
from borewright.model import load, read_fingerings, save_as
from borewright.playing import as_in_takes, at_joints_of, read_records, write_records
from borewright.playing.records import Record
from borewright.tasks.examples import Example, copy_example
from borewright.tasks.playing.measured import measured_takes

APART = {"head": 2.0}


def heard(instrument, table, pulled, take, gaps, sharp=0.0):
    """Records of a take as the engine tells them with joints drawn apart by ``gaps``."""
    there = instrument.model_copy(update={"pulled": gaps})
    return [
        Record(instrument="own", take=take, note=note.fingering, cents=note.cents + sharp,
               pulled=pulled, temperature_c=instrument.climate.room_c)
        for note in tuning(there, table).notes
    ]  # fmt: skip


@pytest.fixture
def folder(tmp_path, chalumeau):
    """The chalumeau in tune, in a folder of its own."""
    copy_example(Example.CHALUMEAU, tmp_path)
    save_as(chalumeau[0], tmp_path / "chalumeau.toml")
    return tmp_path


def answer(*words):
    result = CliRunner().invoke(app, [*map(str, words), "--json"], catch_exceptions=False)
    return result.exit_code, json.loads(result.stdout or result.stderr)


def test_notes_come_home_from_every_state(chalumeau):
    instrument, table = chalumeau
    own = {note.fingering: note.cents for note in tuning(instrument, table).notes}
    apart = heard(instrument, table, "head=2", "b", APART)
    assert max(abs(each.cents - own[each.note]) for each in apart) > 5.0
    takes = [*heard(instrument, table, "", "a", {}), *apart,
             *heard(instrument, table, "head=0", "c", {})]  # fmt: skip
    for record in at_joints_of(instrument, table, takes):
        assert record.cents == pytest.approx(own[record.note], abs=1e-6)
    # An instrument whose file has the joint drawn: takes that say so stay as they are.
    drawn = as_in_takes(instrument, apart)
    assert drawn.pulled == APART
    assert at_joints_of(drawn, table, apart) == apart
    assert as_in_takes(instrument, takes) is instrument  # several states: none is theirs


def test_a_table_keeps_the_state_and_refuses_a_slip(tmp_path, chalumeau):
    instrument, table = chalumeau
    path = tmp_path / "notes.csv"
    write_records(heard(instrument, table, "head=2", "a", APART), path)
    assert {record.pulled for record in read_records(path)} == {"head=2"}
    path.write_text("instrument,take,note,cents,pulled\nx,a,C4,1.0,head 2\n", encoding="utf-8")
    with pytest.raises(PlayingError, match="line 2, pulled: 'head 2' does not say which joint"):
        read_records(path)
    records = heard(instrument, table, "bell=2", "a", {})
    with pytest.raises(PlayingError, match="'bell' is pulled, but there is no such part"):
        as_in_takes(instrument, records)


def test_what_is_asked_for_serves_takes_that_tell_nothing(folder):
    instrument = load(folder / "chalumeau.toml")
    table = read_fingerings(folder / "fingerings.csv")
    path = folder / "notes.csv"
    told = heard(instrument, table, "head=2", "a", APART)
    silent = heard(instrument, table, "", "b", APART)
    for records, asked in ((told, ()), (silent, ["head=2"]), ([*told, *silent], ["head=2"])):
        write_records(records, path)
        played = measured_takes(path, "", instrument, table, asked)
        assert played.design.pulled == APART
        predicted = {n.fingering: n.cents for n in tuning(played.design, table).notes}
        for name, note in played.notes.items():
            assert note.cents == pytest.approx(predicted[name], abs=1e-3)  # the table's digits


def test_a_sound_instrument_played_pulled_needs_no_correction(folder):
    """Without the state 2 mm of joint read as a flat instrument, and steps are advised."""
    instrument = load(folder / "chalumeau.toml")
    table = read_fingerings(folder / "fingerings.csv")
    notes, file = folder / "notes.csv", folder / "chalumeau.toml"
    first = {}
    for pulled in ("", "head=2"):
        write_records(heard(instrument, table, pulled, "a", APART), notes)
        _, plan = answer("correct", file, notes)
        first[pulled] = plan
    as_measured = {
        pulled: max(map(abs, np.subtract(plan["measured_cents"], plan["predicted_cents"])))
        for pulled, plan in first.items()
    }
    assert as_measured["head=2"] < 0.01 < 5.0 < as_measured[""]


def test_a_mouthpiece_is_fitted_from_pulled_takes(folder):
    """A chamber that is as designed comes out so; the file saved is not pulled."""
    file, notes = folder / "chalumeau.toml", folder / "notes.csv"
    instrument, table = load(file), read_fingerings(folder / "fingerings.csv")
    chamber = instrument.mouthpiece.chamber_mm3
    found = {}
    for pulled in ("", "head=2"):
        write_records(heard(instrument, table, pulled, "a", APART), notes)
        code, done = answer(
            "as-built", file, "--notes", notes, "--fit", "mouthpiece.chamber_mm3",
            "--output", folder / f"built{len(pulled)}.toml",
        )  # fmt: skip
        assert code == 0
        found[pulled] = done["parameters"][0]["value"]["value"]
    assert found["head=2"] == pytest.approx(chamber, rel=0.005)
    assert abs(found[""] / chamber - 1) > 0.03
    assert done["pulled"] == {"head": 2.0}
    assert load(folder / "built6.toml").pulled == {}


def test_takes_refuses_what_cannot_be_pulled(folder):
    code, told = answer("takes", folder / "none.wav", "--instrument", folder / "chalumeau.toml",
                        "--temperature", 21, "--pulled", "head=12")  # fmt: skip
    assert code == 2
    assert "holds only up to" in json.dumps(told)
