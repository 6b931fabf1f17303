from __future__ import annotations

from pathlib import Path

import pytest

import borewright
from borewright.model import Instrument, KeySet, load, read_keys

EXAMPLE = Path(borewright.__file__).parent / "examples" / "loan-clarinet"


@pytest.fixture(scope="session")
def keys() -> KeySet:
    return read_keys(EXAMPLE / "keys.csv")


@pytest.fixture(scope="session")
def instrument() -> Instrument:
    return load(EXAMPLE / "clarinet.toml")
