"""A small study, solved once for all tests of this room."""

from __future__ import annotations

import sys
from pathlib import Path

import pytest

from borewright.model import FingeringTable, Spread
from borewright.studies import run_study, study_of

sys.path.insert(0, str(Path(__file__).parent))
from little_tube import scattered, tube, two_notes


@pytest.fixture(scope="session")
def table() -> FingeringTable:
    return two_notes()


@pytest.fixture(scope="session")
def solved(table, tmp_path_factory):
    """A study of the tube, all kinds scattering, with its folder."""
    making = scattered(
        length=Spread(each=0.6), bore_diameter=Spread(common=0.1, each=0.05),
        diameter=Spread(common=0.1, each=0.15), station=Spread(each=0.3),
    )  # fmt: skip
    study = study_of(tube(), table, making, builds=3000, seed=5, side_holes="closed forms")
    return study, run_study(study, Path(tmp_path_factory.mktemp("study")))
