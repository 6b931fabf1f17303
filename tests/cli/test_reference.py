"""``borewright reference``: one fingering held to its whole resonator in 3-D."""

from __future__ import annotations

import json
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
    done = type_in("reference", str(pipe), "--fingering", "C4", "--json")
    assert done.exit_code == 0
    found = json.loads(done.stdout)
    # Independent finite elements: acoustics notes, section 4.
    assert found["reference_hz"] == pytest.approx([283.303, 849.937, 1416.637], rel=1e-5)
    assert max(map(abs, found["cents"])) < 0.5
    # As a person types it: not a word of mesher or compiler on either stream.
    command = [sys.executable, "-m", "borewright", "reference", str(pipe), "--fingering", "C4"]
    text = subprocess.run(command, capture_output=True, text=True, check=True)
    assert text.stdout.startswith("test pipe, C4")
    assert "283.30" in text.stdout
    assert text.stderr == ""


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
