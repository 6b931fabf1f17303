"""The engine against the plain loop of the benchmarks, on the examples: 0.001 cent.

The loop assembles bores, joints and holes on its own, uses Bessel functions where the engine
uses series, and finds roots by Brent's method.
"""

from __future__ import annotations

import math
import sys
from pathlib import Path
from types import SimpleNamespace

import numpy as np
import pytest

import borewright
from borewright.acoustics import sensitivity, tuning
from borewright.model import SideHoles, load, read_fingerings

ROOT = Path(__file__).parents[2]
EXAMPLES = Path(borewright.__file__).parent / "examples"


@pytest.fixture(scope="module")
def loop() -> SimpleNamespace:
    """The benchmarks' modules, which are scripts beside each other."""
    place = str(ROOT / "benchmarks")
    sys.path.insert(0, place)
    try:
        import plain_loop
        from plain.column import column_of
    finally:
        sys.path.remove(place)
    return SimpleNamespace(run=plain_loop, column_of=column_of)


def example(name: str):
    """An example at the level of the plain loop."""
    instrument = load(EXAMPLES / name).model_copy(update={"side_holes": SideHoles.CLOSED_FORMS})
    return instrument, read_fingerings((EXAMPLES / name).parent / instrument.fingerings)


@pytest.mark.parametrize(
    ("name", "chosen"),
    [
        ("class-chalumeau/chalumeau.toml", slice(None)),
        # Chalumeau, throat, clarion, altissimo and forks: every ninth row.
        ("loan-clarinet/clarinet.toml", slice(0, None, 9)),
    ],
)
def test_pitches_agree(loop, name, chosen):
    instrument, table = example(name)
    column = loop.column_of(instrument)
    notes = tuning(instrument, table).notes
    pairs = list(zip(table.fingerings, notes, strict=True))[chosen]
    assert len(pairs) >= 5
    for fingering, note in pairs:
        found = loop.run.sounding_hz(column, fingering, note.target_hz)
        assert 1200 * math.log2(found / note.sounding_hz) == pytest.approx(0, abs=1e-3)


@pytest.mark.slow
def test_all_pitches_and_some_slopes_agree_on_the_clarinet(loop):
    """All 55 fingerings, and two columns of the sensitivity map to 1e-4 cent per 0.1 mm."""
    instrument, table = example("loan-clarinet/clarinet.toml")
    column, notes = loop.column_of(instrument), tuning(instrument, table).notes
    found = [
        loop.run.sounding_hz(column, fingering, note.target_hz)
        for fingering, note in zip(table.fingerings, notes, strict=True)
    ]
    assert found == pytest.approx([note.sounding_hz for note in notes], rel=1e-3 / 1731)
    map_ = sensitivity(instrument, table)
    for label in ("L3 diameter", "barrel length"):
        index = map_.columns[label]
        differences = loop.run.cents_per_tenth_mm(instrument, table, found, index)
        assert np.array(map_.cents_per_tenth_mm)[:, index] == pytest.approx(differences, abs=1e-4)
