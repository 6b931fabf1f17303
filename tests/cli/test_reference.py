"""``borewright reference``: one fingering held to its whole resonator in 3-D."""

from __future__ import annotations

import json
import math
import subprocess
import sys
import threading

import pytest

from borewright.errors import Stopped
from borewright.tasks.reference import reference_of

TUBE = """
format = 1
[instrument]
name = "test pipe"
invented = true
fingerings = "fingerings.csv"
[[part]]
name = "tube"
length_mm = 300.0
bore = [[0, 15], [300, 15]]
outside = [[0, 22], [300, 22]]
"""


@pytest.fixture
def pipe(tmp_path):
    file = tmp_path / "pipe.toml"
    file.write_text(TUBE, encoding="utf-8")
    (tmp_path / "fingerings.csv").write_text(
        "# format = 1\nwritten,register,open_holes\nC4,chalumeau,\n", encoding="utf-8"
    )
    return file


def test_answer_in_json_and_text(type_in, pipe):
    done = type_in("reference", str(pipe), "--fingering", "C4", "--count", "3", "--json")
    assert done.exit_code == 0
    found = json.loads(done.stdout)
    # Independent finite elements: acoustics notes, section 4.
    (held,) = found["fingerings"]
    hertz = [each["reference_hz"] for each in held["resonances"]]
    assert hertz == pytest.approx([283.303, 849.937, 1416.637], rel=1e-5)
    for each in held["resonances"]:
        assert abs(each["closed_forms_cents"]) < 0.5
        assert abs(each["solved_cents"]) < 0.1
        assert each["own_error_below_cents"] < 0.1
    # As a person types it: not a word of mesher or compiler on either stream.
    command = [sys.executable, "-m", "borewright", "reference", str(pipe), "--fingering", "C4"]
    text = subprocess.run(command, capture_output=True, text=True, check=True)
    assert text.stdout.startswith("test pipe, C4")
    assert "283.30" in text.stdout
    assert text.stderr == ""


def test_the_bars_of_this_body_count_with_it(type_in, pipe, monkeypatch, tmp_path):
    monkeypatch.setenv("BOREWRIGHT_CACHE", str(tmp_path / "cache"))

    def bars():
        answer = json.loads(type_in("tune", str(pipe), "--error-bars", "--json").stdout)
        return answer["error_bars"]

    before = bars()
    assert before["bars"][0]["model_cents"] == 1.0
    done = type_in("reference", str(pipe), "--json")
    (held,) = json.loads(done.stdout)["fingerings"]
    (first,) = held["resonances"]
    after = bars()
    # The usual error is 1 cent, half of its variance the register's own. A reading of that half,
    # uncertain by the note's half and by the reference: the textbook's precisions add.
    noise = 0.5 + first["own_error_below_cents"] ** 2
    left = 0.5 * noise / (0.5 + noise)
    taken_off = 0.5 / (0.5 + noise) * first["solved_cents"]
    assert after["bars"][0]["model_cents"] == pytest.approx(math.sqrt(0.5 + left))
    assert after["bars"][0]["departure_cents"] == pytest.approx(taken_off)
    assert after["model_level"].endswith(", held to whole resonators in chalumeau")
    # Another body was never held to anything.
    pipe.write_text(TUBE.replace("300", "310"), encoding="utf-8")
    assert bars()["model_level"] == before["model_level"]


def test_it_ends_where_somebody_asks(pipe):
    cancel, said = threading.Event(), []

    def progress(share, step):
        said.append(str(step))
        cancel.set()

    with pytest.raises(Stopped):
        reference_of(pipe, None, "C4", 1, progress=progress, cancel=cancel)
    assert said == ["mesh"]


def test_unknown_fingering(type_in, pipe):
    done = type_in("reference", str(pipe), "--fingering", "H9", "--json")
    assert done.exit_code == 2
    assert "no note 'H9'" in json.loads(done.stdout)["error"]["cause"]
