"""The figures that papers take from the mechanism, and the keys' picture and report."""

from __future__ import annotations

import math
from pathlib import Path

import numpy as np
import pytest

from borewright.documents import keys_drawing
from borewright.keywork import Body, Mechanism, key_figures
from borewright.tasks.keys_picture import shown_keys


@pytest.fixture(scope="module")
def figures(keys, instrument):
    return {each.key: each for each in key_figures(Mechanism(keys, instrument), Body(instrument))}


def test_figures_are_those_of_the_handbook(figures):
    assert len(figures) == 21
    # lift = m sin θ + h (1 − cos θ), travel = arm sin θ, by the figures of the survey itself.
    fs = figures["FS"]
    theta = math.radians(17.96)
    assert fs.lift_mm == pytest.approx(
        12.19 * math.sin(theta) + 0.85 * (1 - math.cos(theta)), abs=0.02
    )
    assert (fs.near_mm, fs.far_mm) == (pytest.approx(1.33, abs=0.02), pytest.approx(6.27, abs=0.02))
    assert figures["A"].travel_mm == pytest.approx(2.60, abs=0.02)
    assert all(each.play_mm == pytest.approx(0.03, abs=2e-3) for each in figures.values())
    assert figures["LE"].hole is None
    assert figures["RP"].travel_mm is not None
    assert figures["A"].ratio == pytest.approx(figures["A"].travel_mm / figures["A"].lift_mm)
    assert 8.0 <= figures["RV"].height_mm <= 10.5


def test_a_page_may_show_the_pictures_that_it_holds():
    import borewright

    template = Path(borewright.__file__).parent / "documents" / "templates" / "page.html"
    assert "img-src data:" in template.read_text(encoding="utf-8")


def test_the_picture_names_every_key_where_it_is_seen(keys, instrument, tmp_path):
    shown = shown_keys(instrument, keys)
    assert [each.name for each in shown.names] == keys.keys
    path = keys_drawing(shown, tmp_path / "keys.png", width_mm=120.0)
    from matplotlib.image import imread

    picture = imread(path)
    # Bright metal before a brown body, on all four sides.
    for band in np.array_split(picture[..., :3], 4):
        grey = (
            (np.ptp(band, axis=2) < 0.06) & (band.mean(axis=2) > 0.45) & (band.mean(axis=2) < 0.9)
        )
        brown = (band[..., 0] - band[..., 2]) > 0.15
        assert grey.mean() > 0.01
        assert brown.mean() > 0.1
