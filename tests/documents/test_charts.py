"""Charts: figures in them, odd results survived, the same bytes every time."""

from __future__ import annotations

import xml.etree.ElementTree as ElementTree
from pathlib import Path
from types import ModuleType

import pytest

from borewright.documents import sensitivity_chart, tuning_chart, twelfths_chart
from borewright.documents.sensitivity import hole_columns
from borewright.model import SensitivityMap, TuningSummary, TuningTable, Use
from borewright.model.results.tuning import ResonanceStatus

EMPTY = TuningTable(
    instrument="nothing",
    notes=[],
    twelfths=[],
    summary=TuningSummary(rms_cents=0, worst_cents=0, worst_note=""),
    model_level="closed forms",
    climate="",
)


def _text(path: Path) -> str:
    ElementTree.parse(path)
    return path.read_text(encoding="utf-8")


def test_tuning_chart_names_notes_registers_and_far_figures(
    invented: ModuleType, tmp_path: Path
) -> None:
    text = _text(tuning_chart(invented.table(0), invented.table(1), tmp_path / "t.svg"))
    for words in ("E3", "G6", "Bb4", "chalumeau", "altissimo", "+18", "−12", "apart (not fitted)"):
        assert f"<!-- {words} -->" in text
    assert "before the fit (hollow)" in text


def test_tuning_chart_of_one_state_does_not_speak_of_before(
    invented: ModuleType, tmp_path: Path
) -> None:
    text = _text(tuning_chart(None, invented.table(1), tmp_path / "t.svg"))
    assert "before" not in text


def test_notes_without_a_resonance_and_far_ones_are_shown(
    invented: ModuleType, tmp_path: Path
) -> None:
    notes = [
        invented.note("E3", "chalumeau", None, status=ResonanceStatus.NOT_FOUND),
        invented.note("F3", "chalumeau", 250.0),
        invented.note("G3", "chalumeau", 2.0, status=ResonanceStatus.AMBIGUOUS),
        invented.note("A3", "chalumeau", -180.0, "odd", Use.ALTERNATE),
    ]
    table = EMPTY.model_copy(update={"notes": notes, "summary": TuningSummary.of(notes)})
    text = _text(tuning_chart(table, table, tmp_path / "t.svg"))
    for words in ("+250", "−180", "?"):
        assert f"<!-- {words} -->" in text


@pytest.mark.parametrize("suffix", [".svg", ".png"])
def test_empty_results_give_a_picture_that_says_so(tmp_path: Path, suffix: str) -> None:
    empty_map = SensitivityMap(
        instrument="nothing", fingerings=[], dimensions=[], cents_per_tenth_mm=[],
        model_level="closed forms", climate="",
    )  # fmt: skip
    made = [
        tuning_chart(None, EMPTY, tmp_path / f"a{suffix}"),
        twelfths_chart(EMPTY, tmp_path / f"b{suffix}"),
        sensitivity_chart(empty_map, tmp_path / f"c{suffix}"),
    ]
    if suffix == ".svg":
        assert "No fingerings to show" in _text(made[0])
        assert "No twelfths to show" in _text(made[1])
        assert "No hole dimensions" in _text(made[2])
    else:
        assert all(path.stat().st_size > 1000 for path in made)


def test_twelfths_chart_shows_every_stretch(invented: ModuleType, tmp_path: Path) -> None:
    table = invented.table(1)
    text = _text(twelfths_chart(table, tmp_path / "t.svg"))
    assert len(table.twelfths) == 14
    for twelfth in table.twelfths:
        sign = "+" if twelfth.stretch_cents > 0 else "−"
        assert f"<!-- {sign}{abs(twelfth.stretch_cents):.1f} -->" in text


def test_sensitivity_chart_takes_holes_apart_from_other_dimensions() -> None:
    dimensions = [
        "L3 station", "L3 diameter", "L3 undercut diameter", "bell bore diameter 3",
        "bell bore station 3", "barrel length", "mouthpiece bore diameter", "the odd one diameter",
    ]  # fmt: skip
    values = SensitivityMap(
        instrument="x", fingerings=["E3"], dimensions=dimensions,
        cents_per_tenth_mm=[[1.0] * len(dimensions)], model_level="", climate="",
    )  # fmt: skip
    assert hole_columns(values, "diameter") == [("L3", 1), ("the odd one", 7)]
    assert hole_columns(values, "station") == [("L3", 0)]


def test_sensitivity_chart_names_all_rows_and_columns(invented: ModuleType, tmp_path: Path) -> None:
    values = invented.sensitivities()
    text = _text(sensitivity_chart(values, tmp_path / "s.svg"))
    for fingering in values.fingerings:
        assert f"<!-- {fingering} -->" in text
    assert text.count("<!-- EB -->") == 2  # one panel for diameters, one for stations


def test_charts_are_the_same_every_time(invented: ModuleType, tmp_path: Path) -> None:
    for number in (1, 2):
        tuning_chart(invented.table(0), invented.table(1), tmp_path / f"t{number}.svg")
        sensitivity_chart(invented.sensitivities(), tmp_path / f"s{number}.svg")
        twelfths_chart(invented.table(1), tmp_path / f"w{number}.svg")
    for letter in "tsw":
        first, second = (tmp_path / f"{letter}{number}.svg" for number in (1, 2))
        assert first.read_bytes() == second.read_bytes()


def test_pictures_leave_the_owners_settings_alone(invented: ModuleType, tmp_path: Path) -> None:
    import matplotlib

    matplotlib.rcParams["font.size"] = 13.5
    try:
        twelfths_chart(invented.table(1), tmp_path / "w.svg")
        assert matplotlib.rcParams["font.size"] == 13.5
        assert matplotlib.rcParams["svg.hashsalt"] is None
    finally:
        matplotlib.rcdefaults()


def test_a_name_in_dollar_signs_is_not_read_as_a_formula(tmp_path: Path) -> None:
    name = r"$\qq$"  # as a formula this would be refused
    values = SensitivityMap(
        instrument=name, fingerings=[name], dimensions=[f"{name} diameter"],
        cents_per_tenth_mm=[[1.0]], model_level="", climate="",
    )  # fmt: skip
    assert _text(sensitivity_chart(values, tmp_path / "s.svg")).count(f"<!-- {name} -->") == 2
