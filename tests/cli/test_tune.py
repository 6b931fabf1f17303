"""``borewright tune`` and ``borewright sensitivity``: what is printed is what the room returned."""

from __future__ import annotations

import json
import math
import os
import subprocess
import sys

import pytest

import borewright
from borewright.model import read_fingerings


def figures(result) -> dict:
    assert result.exit_code == 0, result.output
    assert result.stderr == ""
    return json.loads(result.stdout)


def test_json_has_the_promised_shape(type_in, chalumeau):
    data = figures(type_in("tune", chalumeau, "--json"))
    assert {"notes", "summary", "twelfths", "model_level", "climate"} <= set(data)
    assert {"rms_cents", "worst_cents", "worst_note"} == set(data["summary"])
    written = [
        each.written for each in read_fingerings(chalumeau.with_name("fingerings.csv")).fingerings
    ]
    assert [note["written"] for note in data["notes"]] == written
    for note in data["notes"]:
        assert {"register", "fingering", "target_hz", "sounding_hz", "cents"} <= set(note)
        # Both frequencies and their distance in cents are in the answer: they must agree.
        distance = 1200 * math.log2(note["sounding_hz"] / note["target_hz"])
        assert note["cents"] == pytest.approx(distance, abs=1e-9)


def test_a_terminal_hears_nothing_of_compilers(chalumeau):
    """The real standard error of a process of its own, where compiled libraries write too."""
    own = {key: value for key, value in os.environ.items() if not key.startswith("TF_CPP")}
    done = subprocess.run(
        [sys.executable, "-m", "borewright", "tune", str(chalumeau), "--json"],
        env={**own, "TERM": "xterm"}, capture_output=True, encoding="utf-8", check=False,
    )  # fmt: skip
    assert done.returncode == 0
    assert done.stderr == ""
    assert json.loads(done.stdout)["notes"]
    # A slow compilation is told at the compiler's level 2, an error; 3 is only what is fatal.
    script = "import os, borewright.acoustics; print(os.environ['TF_CPP_MIN_LOG_LEVEL'])"
    told = subprocess.run([sys.executable, "-c", script], env=own, capture_output=True, text=True,
                          check=True)  # fmt: skip
    assert told.stdout.strip() == "3"


def test_json_is_what_the_python_door_returns(type_in, chalumeau):
    table = borewright.tuning(chalumeau)
    expected = table.model_dump(mode="json", by_alias=True)
    assert figures(type_in("tune", chalumeau, "--json")) == json.loads(json.dumps(expected))


def test_text_shows_every_note_by_register(type_in, clarinet):
    result = type_in("tune", clarinet)
    assert result.exit_code == 0
    lines = [line.strip() for line in result.stdout.splitlines()]
    registers = [lines.index(name) for name in ("chalumeau", "throat", "clarion", "altissimo")]
    assert registers == sorted(registers)
    table = borewright.tuning(clarinet)
    for note in table.notes:
        [line] = [line for line in lines if line.startswith(f"{note.fingering}  ")][:1]
        assert f"{note.target_hz:.2f}" in line
        assert f"{note.sounding_hz:.2f}" in line
    assert f"rms {table.summary.rms_cents:.1f} cents" in result.stdout
    assert str(table.climate) in result.stdout
    assert str(table.model_level) in result.stdout
    assert "twelfths" in result.stdout


def test_another_table_goes_before_the_files_own(type_in, chalumeau, tmp_path):
    other = tmp_path / "other.csv"
    other.write_text("written,register,open_holes\nF4,chalumeau,\n", encoding="utf-8")
    data = figures(type_in("tune", chalumeau, "--fingerings", other, "--json"))
    assert [note["fingering"] for note in data["notes"]] == ["F4"]


def test_a_note_without_a_resonance_is_null_and_a_dash(type_in, chalumeau, tmp_path):
    # The ninth resonance lies far above the highest pitch searched.
    other = tmp_path / "other.csv"
    other.write_text(
        "written,register,open_holes,resonance\nF4,chalumeau,,9\nG4,chalumeau,,1\n",
        encoding="utf-8",
    )
    note = figures(type_in("tune", chalumeau, "--fingerings", other, "--json"))["notes"][0]
    assert note["sounding_hz"] is None
    assert note["cents"] is None
    assert note["status"] != "ok"
    text = type_in("tune", chalumeau, "--fingerings", other).stdout
    [line] = [line.split() for line in text.splitlines() if line.startswith("  F4 ")]
    assert line == ["F4", f"{note['target_hz']:.2f}", "-", "-", *note["status"].split()]
    assert "no pitch was found for: F4" in text


def test_sensitivity_json_is_the_whole_map(type_in, chalumeau):
    data = figures(type_in("sensitivity", chalumeau, "--json"))
    expected = borewright.sensitivity(chalumeau)
    assert data == json.loads(expected.model_dump_json())
    assert len(data["cents_per_tenth_mm"]) == len(data["fingerings"])
    assert {len(row) for row in data["cents_per_tenth_mm"]} == {len(data["dimensions"])}


def test_sensitivity_of_one_note(type_in, chalumeau):
    whole = borewright.sensitivity(chalumeau)
    data = figures(type_in("sensitivity", chalumeau, "--note", "G4", "--json"))
    assert data["fingerings"] == ["G4"]
    assert data["cents_per_tenth_mm"] == [whole.cents_per_tenth_mm[whole.fingerings.index("G4")]]


def test_sensitivity_text_names_the_strongest_first(type_in, chalumeau):
    whole = borewright.sensitivity(chalumeau)
    row = whole.cents_per_tenth_mm[whole.fingerings.index("G4")]
    strongest = max(range(len(row)), key=lambda column: abs(row[column]))
    text = type_in("sensitivity", chalumeau).stdout
    assert f"  G4    {whole.dimensions[strongest]} {row[strongest]:+.2f}; " in text
    assert [line.split()[0] for line in text.splitlines()[3:-2]] == whole.fingerings
    lines = type_in("sensitivity", chalumeau, "--note", "G4").stdout.splitlines()
    assert lines[2].split() == ["G4", "cents"]
    assert lines[3].split() == [*str(whole.dimensions[strongest]).split(), f"{row[strongest]:+.2f}"]
    shown = [abs(float(line.split()[-1])) for line in lines[3:-2]]
    assert shown == sorted(shown, reverse=True)
    assert len(shown) == sum(abs(cents) >= 0.005 for cents in row)
