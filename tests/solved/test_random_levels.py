"""Random resonators whose holes meet, held to their whole solutions in 3-D (docs/levels.md)."""

from __future__ import annotations

import json
import sys
from pathlib import Path

import numpy as np
import pytest

DOCS = Path(__file__).parents[2] / "docs"


@pytest.fixture(scope="module")
def cases():
    sys.path.insert(0, str(DOCS))
    try:
        import level_random
    finally:
        sys.path.remove(str(DOCS))
    return level_random


@pytest.fixture(scope="module")
def rows(cases):
    return json.loads(cases.RESULTS.read_text(encoding="utf-8"))


def test_what_the_page_says(rows):
    """Half a cent in the mean, 2.5 at worst, up to 2 kHz: more than thirty, drawn once."""
    off = [
        abs(cents)
        for row in rows
        for cents, hz in zip(row["solved in 3-D"], row["whole_hz"], strict=True)
        if hz < 2000
    ]
    assert len(rows) == 48
    assert np.mean(off) < 0.5
    assert max(off) < 2.5


# An opposite pair, a throat cluster, a close pair at an angle, a closed neighbour.
@pytest.mark.parametrize("number", [37, 2, 4, 23])
def test_what_is_computed_today(cases, rows, number):
    """The engine still is where the table has it; without the inner term 37 is 14 cents off."""
    instrument, opened = cases.draw(number)
    row = rows[number]
    found = cases.cents_off(instrument, opened, "closed forms", row["whole_hz"])
    assert found == pytest.approx(row["closed forms"], abs=0.1)


@pytest.mark.parametrize("number", [37, 16])
def test_what_is_solved_today(cases, rows, number):
    pytest.importorskip("ngsolve")
    instrument, opened = cases.draw(number)
    row = rows[number]
    found = cases.cents_off(instrument, opened, "solved in 3-D", row["whole_hz"])
    assert found == pytest.approx(row["solved in 3-D"], abs=0.1)
