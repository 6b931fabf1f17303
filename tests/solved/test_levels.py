"""Solved holes and bell against whole resonators in 3-D: two cents at every resonance.

The references of docs/levels.json were solved by Helmholtz's equation in all air inside and
outside (NGSolve), an independent method; docs/level_figures.py makes them.
"""

from __future__ import annotations

import importlib.util
import json
import sys
from pathlib import Path

import numpy as np
import pytest

from borewright.acoustics import Air, resonances

DOCS = Path(__file__).parents[2] / "docs"
KEPT = json.loads((DOCS / "levels.json").read_text(encoding="utf-8"))


def _cases():
    specification = importlib.util.spec_from_file_location("level_cases", DOCS / "level_cases.py")
    module = importlib.util.module_from_spec(specification)
    sys.modules["level_cases"] = module
    specification.loader.exec_module(module)
    return module.cases()


CASES = _cases()


def test_every_case_has_its_reference():
    assert {case.name for case in CASES} == set(KEPT)


@pytest.mark.slow
@pytest.mark.parametrize("case", CASES, ids=lambda case: case.name)
def test_solved_holes_hold_two_cents(case):
    wanted = np.array(KEPT[case.name]["frequencies_hz"])
    air = Air(346.0, 1.18, losses=False)
    found = resonances(case.instrument, case.open_holes, 3, air=air, side_holes="solved in 3-D")
    assert 1200 * np.abs(np.log2(found / wanted)).max() < 2.0
