"""The loan-pool clarinet: it loads, says that it is invented, and can be made again."""

from __future__ import annotations

import csv
import importlib.util
import sys
from pathlib import Path

import pytest

import borewright
from borewright.model import (
    Cover,
    KeyworkSurvey,
    SurveyItem,
    Use,
    load,
    read_fingerings,
    read_survey,
)
from borewright.model.files.fingerings import find_duplicate_sets

FOLDER = Path(borewright.__file__).parent / "examples" / "loan-clarinet"
TOOLS = Path(__file__).parents[2] / "tools"


@pytest.fixture(scope="module")
def clarinet():
    return load(FOLDER / "clarinet.toml")


@pytest.fixture(scope="module")
def survey() -> KeyworkSurvey:
    return read_survey(FOLDER / "keywork.csv")


@pytest.fixture(scope="module")
def reference() -> dict[str, dict[str, str]]:
    text = (TOOLS / "reference-holes-17key.csv").read_text(encoding="utf-8")
    rows = csv.DictReader(line for line in text.splitlines() if not line.startswith("#"))
    return {row["name"]: row for row in rows}


@pytest.fixture(scope="module")
def keywork_script():
    path = TOOLS / "loan_clarinet_keywork.py"
    spec = importlib.util.spec_from_file_location("loan_clarinet_keywork", path)
    module = importlib.util.module_from_spec(spec)
    sys.modules[spec.name] = module  # dataclasses look their module up
    spec.loader.exec_module(module)
    yield module
    del sys.modules[spec.name]


def test_the_files_belong_together(clarinet, survey):
    fingerings = read_fingerings(FOLDER / clarinet.fingerings)
    fingerings.check_against(clarinet)
    survey.check_against(clarinet)
    assert (FOLDER / clarinet.keywork).name == "keywork.csv"
    assert {name for f in fingerings.fingerings for name in f.open_holes} == set(
        clarinet.hole_names()
    )
    assert find_duplicate_sets(fingerings) == []


def test_every_file_says_that_it_is_invented(clarinet):
    assert clarinet.invented
    for path in FOLDER.iterdir():
        assert "Invented example" in path.read_text(encoding="utf-8"), path.name


def test_it_has_17_pads_and_6_rings(clarinet, survey):
    covers = [hole.cover for _, hole, _ in clarinet.placed_holes()]
    assert [covers.count(cover) for cover in (Cover.PAD, Cover.RING, Cover.FINGER)] == [17, 6, 1]
    items = [row.item for row in survey.rows]
    kinds = (SurveyItem.CUP, SurveyItem.RING, SurveyItem.POST)
    assert [items.count(kind) for kind in kinds] == [17, 6, 14]
    assert survey.for_hole("L3") is None


def test_holes_start_under_their_cups_in_round_values(clarinet, survey):
    for part, hole, _ in clarinet.placed_holes():
        assert (hole.station_mm * 2).is_integer()
        assert (hole.diameter_mm * 2).is_integer()
        row = survey.for_hole(hole.name)
        if row is None:
            continue
        assert (row.part, row.bearing_deg) == (part.name, hole.bearing_deg)
        assert -row.up_mm <= hole.station_mm - row.station_mm <= row.down_mm
        if hole.pad:
            assert (row.pad_diameter_mm, row.lift_mm, row.rest) == (
                hole.pad.diameter_mm,
                hole.pad.lift_mm,
                hole.pad.rest,
            )


def test_the_answer_is_not_given_away(clarinet, survey, reference):
    """The set's stations are scattered, and most drawn diameters differ from the reference."""
    moved = [
        abs(row.station_mm - float(reference[row.hole]["station_mm"]))
        for row in survey.rows
        if row.hole
    ]
    assert max(moved) <= 3.0 + 1e-9
    assert sum(by > 0.5 for by in moved) >= 12
    same = [
        hole.name
        for _, hole, _ in clarinet.placed_holes()
        if hole.diameter_mm == float(reference[hole.name]["diameter_mm"])
    ]
    assert len(same) <= 6


def test_the_survey_is_what_its_script_writes(keywork_script, tmp_path):
    assert keywork_script.main([str(tmp_path / "keywork.csv")]) == 0
    assert (tmp_path / "keywork.csv").read_bytes() == (FOLDER / "keywork.csv").read_bytes()
    assert keywork_script.survey_text(seed=1) != keywork_script.survey_text()


def test_known_compromises_are_not_fitted(clarinet):
    fingerings = read_fingerings(FOLDER / clarinet.fingerings).fingerings
    uses = {fingering.name: fingering.use for fingering in fingerings}
    assert uses["Bb4"] is Use.APART
    assert uses["Bb4 (side)"] is Use.ALTERNATE
    assert all(f.use is Use.APART for f in fingerings if f.register_ == "altissimo")
    standard = [f.written for f in fingerings if f.use is Use.STANDARD]
    assert len(standard) == len(set(standard)) == 32  # E3 to C6 without B-flat 4
