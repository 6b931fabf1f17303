"""The hole schedule: derived figures, limits, and its files."""

from __future__ import annotations

import csv
from pathlib import Path
from types import ModuleType

import pytest

from borewright.documents import hole_schedule, write_hole_schedule
from borewright.errors import DocumentsError


def test_rows_run_from_the_top_with_derived_figures(invented: ModuleType) -> None:
    rows = hole_schedule(invented.clarinet(), invented.fit_result())
    assert [row.hole for row in rows][:3] == ["RV", "S4", "S3"]
    assert len(rows) == 24
    left = next(row for row in rows if row.hole == "L3")
    assert left.from_top_mm == 65 + 160.5
    # Wall by hand: (29.6 - 14.65) / 2, and the chimney of 0.5 on top.
    assert left.tube_height_mm == pytest.approx((29.6 - 14.65) / 2 + 0.5)
    assert (left.cover, left.pad_mm, left.rest) == ("finger", None, None)
    vent = rows[0]
    assert str(vent.limit) == "station: cup window: the register key reaches 1.5 mm up"
    assert (vent.pad_mm, vent.lift_mm, vent.rest) == (9.0, 1.5, "closed")


def test_without_a_fit_no_limit_is_named(invented: ModuleType) -> None:
    assert {row.limit for row in hole_schedule(invented.clarinet())} == {None}


def test_csv_reads_back(invented: ModuleType, tmp_path: Path) -> None:
    path = write_hole_schedule(invented.clarinet(), tmp_path / "h.csv", invented.fit_result())
    with path.open(encoding="utf-8", newline="") as stream:
        rows = list(csv.DictReader(stream))
    assert len(rows) == 24
    assert float(rows[23]["from_top_mm"]) == 459.0
    assert rows[6]["pad_mm"] == ""


def test_a_name_cannot_become_a_spreadsheet_formula(invented: ModuleType, tmp_path: Path) -> None:
    pipe = invented.pipe()
    part = pipe.parts[0]
    hole = part.holes[0].model_copy(update={"name": "=1+1"})
    odd = pipe.model_copy(update={"parts": [part.model_copy(update={"holes": [hole]})]})
    text = write_hole_schedule(odd, tmp_path / "h.csv").read_text(encoding="utf-8")
    assert ",'=1+1," in text


@pytest.mark.parametrize("kind", ["clarinet", "pipe"])
def test_html_and_pdf(invented: ModuleType, tmp_path: Path, kind: str) -> None:
    instrument = getattr(invented, kind)()
    html = write_hole_schedule(instrument, tmp_path / "h.html").read_text(encoding="utf-8")
    for row in hole_schedule(instrument):
        assert f"{row.tube_height_mm:.2f}" in html
    assert write_hole_schedule(instrument, tmp_path / "h.pdf").read_bytes().startswith(b"%PDF")


def test_a_foreign_suffix_is_refused(invented: ModuleType, tmp_path: Path) -> None:
    with pytest.raises(DocumentsError, match=r"\.csv, \.html or \.pdf"):
        write_hole_schedule(invented.pipe(), tmp_path / "h.docx")
