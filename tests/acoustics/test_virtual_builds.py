"""Error bars of the shipped clarinet, every note, against thousands of virtual builds."""

from __future__ import annotations

from pathlib import Path

import numpy as np
import pytest

import borewright.examples
from borewright.acoustics import error_bars, virtual_builds
from borewright.model import load, read_fingerings

EXAMPLE = Path(next(iter(borewright.examples.__path__))) / "loan-clarinet"


@pytest.mark.slow
def test_every_notes_error_bar_agrees_with_thousands_of_builds():
    """Standard deviations within 10 % on each of 55 notes.

    2,500 draws leave 1.4 % of a standard deviation open (1 / sqrt(2 n)), so that even the
    worst of all notes would show a bend that first order misses by 6 %.
    """
    instrument = load(EXAMPLE / "clarinet.toml")
    table = read_fingerings(EXAMPLE / instrument.fingerings)
    cents = virtual_builds(instrument, table, builds=2_500, seed=7)
    assert cents.shape == (2_500, len(table.fingerings))
    # No build lost a note.
    assert np.all(np.isfinite(cents))
    drawn = cents.std(axis=0)
    linear = [
        (bar.total_cents**2 - bar.model_cents**2) ** 0.5
        for bar in error_bars(instrument, table).bars
    ]
    assert linear == pytest.approx(drawn, rel=0.10)
    # The error bars belong to their notes: shuffled, they would not agree.
    assert np.max(drawn) > 1.5 * np.min(drawn)
