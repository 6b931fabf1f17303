"""Bodies of a fitted instrument: odd numbers instead of round ones, measured back all the same."""

from __future__ import annotations

from importlib.resources import files
from pathlib import Path

import numpy as np
import pytest

from borewright import fit_instrument
from borewright.model import read_survey
from borewright.solids import bore_diameter_mm, export_solids, hole_measure, plan_posts, read_mesh

EXAMPLE = Path(str(files("borewright") / "examples" / "loan-clarinet"))


@pytest.mark.slow
def test_a_fitted_clarinet_comes_back_from_its_meshes(tmp_path):
    # A few rounds leave round numbers as well as all of them would.
    fitted, _ = fit_instrument(EXAMPLE / "clarinet.toml", most_rounds=4)
    posts = plan_posts(fitted, read_survey(EXAMPLE / "keywork.csv"))
    report = export_solids(fitted, tmp_path, posts=posts)
    for part, made in zip(fitted.parts, report.parts, strict=True):
        assert made.watertight
        assert made.valid
        mesh = read_mesh(made.stl)
        top = part.socket_top.depth_mm if part.socket_top else 0.0
        bottom = part.length_mm - (part.socket_bottom.depth_mm if part.socket_bottom else 0.0)
        for station in np.linspace(top + 0.3, bottom - 0.3, 50):
            found = bore_diameter_mm(mesh, station)
            assert found == pytest.approx(part.bore_diameter_at(station), abs=0.03)
        for hole in part.holes:
            found = hole_measure(mesh, part, hole)
            turn = (found.bearing_deg - hole.bearing_deg + 180) % 360 - 180
            assert turn == pytest.approx(0, abs=0.2)
            assert found.station_mm == pytest.approx(hole.station_mm, abs=0.03)
            assert found.diameter_mm == pytest.approx(hole.diameter_mm, abs=0.03)
            assert found.tube_height_mm == pytest.approx(part.tube_height_mm(hole), abs=0.03)
