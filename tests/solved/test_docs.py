"""docs/solved-holes.md runs as it stands."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

from borewright.model import Instrument, Part, ToneHole

PAGE = Path(__file__).parents[2] / "docs" / "solved-holes.md"


def test_the_examples(tmp_path, monkeypatch, capsys):
    monkeypatch.setenv("BOREWRIGHT_CACHE", str(tmp_path))
    hole = ToneHole(name="G", station_mm=50, diameter_mm=8)
    part = Part(
        name="joint",
        length_mm=100,
        bore=[(0, 15), (100, 15)],
        outside=[(0, 30), (100, 30)],
        holes=[hole],
    )
    names: dict = {"instrument": Instrument(parts=[part])}
    blocks = re.findall(r"```python\n(.*?)```", PAGE.read_text(encoding="utf-8"), flags=re.DOTALL)
    assert len(blocks) == 3
    for number, block in enumerate(blocks, start=1):
        exec(compile(block, f"{PAGE.name}, block {number}", "exec"), names)
    # The page's own table, as closely as another release's mesh may be expected to come.
    assert names["opened"].inner_length_mm == pytest.approx(10.4223, abs=5e-4)
    assert names["opened"].shunt_length_mm == pytest.approx(13.708, abs=2e-3)
    assert names["closed"].series_length_mm == pytest.approx(-0.3349, abs=2e-4)
    assert names["under_pad"].shunt_length_mm == pytest.approx(16.229, abs=6e-3)
    # The cone and the ledge of the table below.
    for what, series, shunt in (("cone", -0.5943, 12.509), ("ledge", -0.6319, 12.172)):
        cut = names["solve_hole"](names[what], check=False)
        assert cut.series_length_mm == pytest.approx(series, abs=2e-4)
        assert cut.shunt_length_mm == pytest.approx(shunt, abs=2e-3)
    said = capsys.readouterr().out
    assert "2 of 2" in said
    assert "G open: series length" in said


def test_every_public_name_is_on_the_page():
    import borewright.acoustics.solved as solved

    text = PAGE.read_text(encoding="utf-8")
    functions = [name for name in solved.__all__ if name[0].islower()]
    assert [name for name in functions if f"`{name}(" not in text] == []
