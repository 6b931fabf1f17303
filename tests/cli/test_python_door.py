"""``import borewright``: light, complete, and its functions know an instrument's own tables."""

from __future__ import annotations

import gc
import subprocess
import sys
import types
import weakref

import numpy as np
import pytest

import borewright
from borewright.acoustics import tuning as tuning_in_room
from borewright.doors.python import file_of
from borewright.errors import ModelError
from borewright.model import KeyworkSurvey, read_fingerings


def test_everything_listed_is_there_and_nothing_else_is_promised():
    for name in borewright.__all__:
        assert getattr(borewright, name) is not None
    assert set(borewright.__all__) <= set(dir(borewright))
    assert len(borewright.__all__) == len(set(borewright.__all__))
    with pytest.raises(AttributeError, match="chisel"):
        borewright.chisel  # noqa: B018


def test_importing_it_loads_hardly_anything():
    script = (
        "import sys; before = set(sys.modules); import borewright; "
        "print(*sorted(name for name in set(sys.modules) - before if '.' not in name))"
    )
    done = subprocess.run(
        [sys.executable, "-c", script], capture_output=True, text=True, check=True
    )
    standard = set(sys.stdlib_module_names)
    assert set(done.stdout.split()) - standard == {"borewright"}


def test_a_star_import_brings_what_is_offered_and_no_more():
    script = (
        "from borewright import *; print(*sorted(set(dir()) - {n for n in dir() if n[0] == '_'}))"
    )
    done = subprocess.run(
        [sys.executable, "-W", "error", "-c", script], capture_output=True, text=True, check=True
    )
    assert done.stdout.split() == sorted(borewright.__all__)


def test_fit_is_a_room_and_nothing_else():
    import borewright.fit

    assert type(borewright.fit) is types.ModuleType
    assert "fit" not in borewright.__all__


def test_an_instrument_knows_its_table(chalumeau):
    table = read_fingerings(chalumeau.with_name("fingerings.csv"))
    expected = tuning_in_room(borewright.load(chalumeau), table)
    instrument = borewright.load(chalumeau)
    assert borewright.tuning(instrument) == expected
    assert borewright.tuning(chalumeau) == expected
    assert borewright.tuning(str(chalumeau)) == expected
    assert borewright.tuning(instrument, table) == expected
    assert borewright.tuning(instrument, table.source) == expected
    assert borewright.sensitivity(instrument) == borewright.sensitivity(chalumeau, table)


def test_it_still_does_from_another_folder(chalumeau, tmp_path, monkeypatch):
    monkeypatch.chdir(chalumeau.parent)
    instrument = borewright.load("chalumeau.toml")
    monkeypatch.chdir(tmp_path)
    assert borewright.tuning(instrument).notes


def test_one_made_in_python_says_what_it_lacks(chalumeau):
    loaded = borewright.load(chalumeau)
    made = loaded.model_copy()
    assert made == loaded
    with pytest.raises(ModelError, match="fingerings"):
        borewright.tuning(made)


def test_remembering_a_file_keeps_no_instrument_alive(chalumeau):
    instrument = borewright.load(chalumeau)
    assert file_of(instrument) == chalumeau
    gone = weakref.ref(instrument)
    del instrument
    gc.collect()
    assert gone() is None


def test_a_fitted_instrument_belongs_to_the_same_file(chalumeau):
    instrument = borewright.load(chalumeau)
    fitted, result = borewright.fit_instrument(instrument)
    assert result.finished
    assert file_of(fitted) == chalumeau
    after = borewright.tuning(fitted)
    assert after.summary.rms_cents == pytest.approx(result.after.summary.rms_cents, abs=1e-6)
    again, _ = borewright.fit_instrument(chalumeau, survey=KeyworkSurvey(rows=[]))
    assert again == fitted  # this one has no keywork, so an empty survey changes nothing


def test_rounds_can_be_limited_and_watched(chalumeau):
    seen: list[int] = []
    _, result = borewright.fit_instrument(
        chalumeau, progress=lambda number, rms, worst: seen.append(number), most_rounds=2
    )
    assert seen == [1, 2]
    assert result.rounds == 2


def test_the_survey_that_a_file_names_is_read(clarinet):
    clarinet.with_name("keywork.csv").unlink()
    with pytest.raises(ModelError, match=r"\[instrument\] keywork"):
        borewright.fit_instrument(clarinet)


def test_impedance_and_resonances_agree(chalumeau):
    instrument = borewright.load(chalumeau)
    found = borewright.resonances(instrument, [], count=1)
    around = found[0] * np.array([0.999, 1.0, 1.001])
    impedance = borewright.input_impedance(instrument, [], around)
    assert np.argmax(np.abs(impedance)) == 1
    # At a resonance the imaginary part of the admittance passes through zero.
    assert abs((1 / impedance[1]).imag) < 1e-3 * abs(1 / impedance[1])
