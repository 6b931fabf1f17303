"""Surveys and bores that the example was not drawn for: seated in one step, fitted, still a body.

Cups scattered by 3 and 4 mm, bearings by 5 degrees, upper joints stepped between 14.6 and 15.0,
flares early, middle and late, 440 and 442 Hz; twenty of them are in docs/fit.md.
"""

from __future__ import annotations

import importlib.util
import random
from pathlib import Path

import pytest

from borewright.fit import body_findings, fit
from borewright.fit.seating import seat
from borewright.model import Use, read_values

pytestmark = pytest.mark.slow


@pytest.fixture(scope="module")
def surveys():
    path = Path(__file__).parents[2] / "docs" / "fit_surveys.py"
    spec = importlib.util.spec_from_file_location("fit_surveys", path)
    module = importlib.util.module_from_spec(spec)
    spec.loader.exec_module(module)
    return module


@pytest.mark.parametrize(
    ("seed", "by_mm", "flare", "a4_hz"),
    [(1006, 3.0, "early", 440.0), (1001, 4.0, "middle", 440.0), (1008, 3.0, "late", 442.0)],
)
def test_it_is_seated_and_fitted_within_a_maker_s_limits(
    points_only, surveys, seed, by_mm, flare, a4_hz
):
    instrument, fingerings, survey = points_only
    rng = random.Random(seed)
    keys = surveys.scattered(survey, rng, by_mm)
    drawing = surveys.rebored(instrument, rng, flare)
    assert drawing.pitch.a4_hz == a4_hz
    seated, placed = seat(drawing, keys)
    assert placed.faults_before > 30
    assert [f for f in body_findings(seated, keys) if f.severity == "fault"] == []
    fitted, result = fit(seated, fingerings, keys)
    assert [f for f in result.findings if f.severity == "fault"] == []
    standard = [note.cents for note in result.after.notes if note.use is Use.STANDARD]
    assert result.after.summary.rms_cents <= 3.0
    assert max(map(abs, standard)) <= 7.5
    # The body keeps to its drawing: sizes, cylinders, steps with their sense, joints, barrel.
    for part, home in zip(fitted.parts, seated.parts, strict=True):
        for hole, before in zip(part.holes, home.holes, strict=True):
            if f"{hole.name}.diameter" not in instrument.fit.ranges:
                # A hundredth is what the seated size was rounded by.
                assert (
                    abs(hole.diameter_mm - before.diameter_mm) <= 0.15 * before.diameter_mm + 0.01
                )
    upper, drawn = fitted.part("upper joint").bore, seated.part("upper joint").bore
    for number in range(0, len(upper), 2):
        assert upper[number][1] == upper[number + 1][1]
    for number in range(1, len(upper) - 1, 2):
        step, before = (bore[number][1] - bore[number + 1][1] for bore in (upper, drawn))
        assert 0 <= step <= before + 0.03 + 0.011
    assert abs(fitted.part("barrel").length_mm - 65.0) <= 1.0
    again, _ = fit(fitted, fingerings, keys)
    assert (
        max(abs(a - b) for a, b in zip(read_values(again), read_values(fitted), strict=True))
        <= 0.01
    )
