from importlib.resources import files
from pathlib import Path

import pytest

from borewright.model import BodyFeatures, Instrument, Part, load, read_survey
from borewright.printing import Fault, FeatureKind

EXAMPLE = Path(str(files("borewright") / "examples" / "loan-clarinet"))


@pytest.fixture(scope="session")
def clarinet():
    return load(EXAMPLE / "clarinet.toml")


@pytest.fixture(scope="session")
def keywork():
    return read_survey(EXAMPLE / "keywork.csv")


@pytest.fixture
def one_part():
    """Makes an instrument of one straight part, 100 long, 30 outside, 15 bore unless told."""

    def make(*holes, **changes):
        part = {
            "name": "joint",
            "length_mm": 100,
            "bore": [(0, 15), (100, 15)],
            "outside": [(0, 30), (100, 30)],
            "holes": [hole.model_dump() for hole in holes],
        }
        return Instrument(
            parts=[Part.model_validate(part | changes)], body=BodyFeatures.plain(), invented=True
        )

    return make


@pytest.fixture(scope="session")
def faults():
    """A printer that makes hollows small, worse at the crown, and outsides large."""
    return {
        FeatureKind.BORE: Fault(-0.12, -0.002, 0.02),
        FeatureKind.HOLE_ACROSS: Fault(-0.10, 0.004, 0.03),
        FeatureKind.HOLE_UPRIGHT: Fault(-0.22, -0.003, 0.04),
        FeatureKind.PILOT: Fault(-0.15, 0.0, 0.03),
        FeatureKind.OUTSIDE: Fault(0.06, 0.001, 0.02),
        FeatureKind.LENGTH: Fault(-0.05, -0.003, 0.02),
        FeatureKind.CROWN: Fault(0.10, 0.005, 0.03),
    }
