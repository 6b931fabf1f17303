"""Key surveys: what is read, what is refused, and that nothing is lost on the way back."""

from __future__ import annotations

import csv
import importlib.util
from pathlib import Path

import pytest

from borewright.errors import ModelError
from borewright.model import KeySet, keys_text, read_keys, write_keys
from borewright.model.keys import Cup, Finger, Hinge, Link, Post, Ring, Spring, SpringShape, Touch
from borewright.model.kinds import Rest
from borewright.words import Reader

TOOLS = Path(__file__).parents[2] / "tools"


def changed(tmp_path, keys: KeySet, name: str, **cells: str) -> Path:
    """The survey as a file with some cells of one row changed."""
    rows = list(csv.DictReader(line for line in keys_text(keys).splitlines() if line[0] != "#"))
    for row in rows:
        if row["id"] == name:
            row |= cells
    file = tmp_path / "keys.csv"
    with open(file, "w", newline="", encoding="utf-8") as out:
        writer = csv.DictWriter(out, list(rows[0]))
        writer.writeheader()
        writer.writerows(rows)
    return file


def test_counts_are_the_handbooks(keys):
    # keywork.md, section 1: 21 turning bodies, 17 pads, 6 rings; section 10: 252 rows.
    assert (len(keys.elements), len(keys.of(Hinge)), len(keys.of(Cup))) == (252, 21, 17)
    assert (len(keys.of(Ring)), len(keys.of(Link)), len(keys.of(Post))) == (6, 8, 40)


def test_fields_come_from_their_columns(keys):
    hinge = keys.hinge("FS")
    assert (hinge.tube_mm, hinge.rod_mm, hinge.rest, hinge.open_deg) == (
        3.4,
        2.2,
        Rest.CLOSED,
        17.96,
    )
    needle, flat = (next(s for s in keys.of(Spring) if s.key == key) for key in ("TP", "RV"))
    assert (needle.shape, needle.thickness_mm, needle.width_mm) == (SpringShape.NEEDLE, 0.7, None)
    assert (flat.shape, flat.thickness_mm, flat.width_mm) == (SpringShape.FLAT, 0.45, 3.0)
    touch = next(t for t in keys.of(Touch) if t.key == "LE")
    assert touch.finger is Finger.LEFT_LITTLE
    assert keys.over("L1").key == "TP"
    assert keys.over("L3") is None


def test_written_and_read_again_is_the_same(keys, tmp_path):
    write_keys(tmp_path / "again.csv", keys)
    assert read_keys(tmp_path / "again.csv").elements == keys.elements


def test_decimal_comma_and_semicolons(keys, tmp_path):
    text = keys_text(keys)
    swapped = []
    for cells in csv.reader(text.splitlines()):
        if cells[0].startswith("#"):
            continue
        swapped.append(";".join(c.replace(";", " ").replace(".", ",") for c in cells))
    file = tmp_path / "komma.csv"
    file.write_text("\n".join(swapped), encoding="utf-8")
    read = read_keys(file)
    assert [e.first for e in read.elements] == [e.first for e in keys.elements]


@pytest.mark.parametrize(
    ("name", "cells", "place", "cause"),
    [
        ("C-A", {"size_mm": "nine"}, "column 'size_mm'", "'nine' is not a number"),
        ("C-A", {"size_mm": ""}, "column 'size_mm'", "needs it, but it is empty"),
        ("C-A", {"element": "cap"}, "column 'element'", "'cap' is no element of a key"),
        ("C-A", {"hole": "GS"}, "column 'hole'", "hole 'GS' already has 'C-A' over it"),
        ("C-A", {"rest": "open"}, "column 'rest'", "the pad rests open, but its key rests closed"),
        ("C-A", {"size2_mm": "9"}, "column 'size2_mm'", "9.00 mm outside and 9.50 mm inside"),
        ("C-A", {"r1_mm": "0.55"}, "column 'r1_mm'", "is no height of a key"),
        ("C-A", {"x1_mm": ""}, "column 'x1_mm'", "a coordinate of 'C-A' is empty"),
        ("C-A", {"id": "C-GS"}, "column 'id'", "the name 'C-GS' is given twice"),
        ("H-A", {"open_deg": "0"}, "column 'open_deg'", "does not turn"),
        ("H-A", {"open_deg": "78.6"}, "open_deg", "45"),
        ("P-A1", {"hinge": "H-GS"}, "column 'hinge'", "has fewer than two posts"),
        ("A-A1", {"hinge": "H-GS"}, "column 'hinge'", "its key 'A' turns on 'H-A'"),
        ("A-A1", {"key": "B"}, "column 'key'", "the key 'B' has no hinge"),
        ("N-A-GS", {"to": "G"}, "column 'to'", "it drives 'G', which is no other key"),
        ("S-A", {"material": "brass flat"}, "column 'material'", "'brass flat' is no spring"),
        (
            "A-A1",
            {"x2_mm": "56.5", "bearing2_deg": "0", "r2_mm": "18.6"},
            "x2_mm",
            "one and the same",
        ),
    ],
)
def test_refusals_name_file_line_column_cause_and_remedy(keys, tmp_path, name, cells, place, cause):
    file = changed(tmp_path, keys, name, **cells)
    with pytest.raises(ModelError) as refused:
        read_keys(file)
    told = str(refused.value)
    assert str(file) in told
    assert "line " in told
    assert place in told
    assert cause in told
    assert refused.value.remedy


def test_refusals_are_told_in_german(keys, tmp_path):
    with pytest.raises(ModelError) as refused:
        read_keys(changed(tmp_path, keys, "C-A", hole="GS"))
    assert "über dem Loch 'GS' liegt schon 'C-A'" in refused.value.told(Reader("de"))


def test_a_set_for_another_instrument_is_refused(keys, instrument):
    keys.check_against(instrument)
    other = instrument.model_copy(update={"parts": [instrument.parts[0]]})
    with pytest.raises(ModelError, match="which the instrument lacks"):
        keys.check_against(other)


def test_the_example_is_what_its_script_writes(keys, example):
    place = TOOLS / "loan_clarinet_keys.py"
    spec = importlib.util.spec_from_file_location("loan_clarinet_keys", place)
    script = importlib.util.module_from_spec(spec)
    spec.loader.exec_module(script)
    made = script.with_fingers(script.with_clear_springs(read_keys(script.DRAWN)))
    assert keys_text(made, script.NOTE) == (example / "keys.csv").read_text(encoding="utf-8")
    fingerings = (example / "fingerings.csv").read_text(encoding="utf-8")
    assert script.fingerings_text(fingerings) == fingerings
    assert all(touch.finger for touch in keys.of(Touch))
