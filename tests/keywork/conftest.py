from __future__ import annotations

import importlib.util
from pathlib import Path
from types import ModuleType

import pytest

import borewright
from borewright.model import FingeringTable, Instrument, KeySet, load, read_fingerings, read_keys

EXAMPLE = Path(borewright.__file__).parent / "examples" / "loan-clarinet"


def _beside(name: str) -> ModuleType:
    place = Path(__file__).with_name(f"{name}.py")
    spec = importlib.util.spec_from_file_location(f"keywork_{name}", place)
    assert spec is not None
    assert spec.loader is not None
    module = importlib.util.module_from_spec(spec)
    spec.loader.exec_module(module)
    return module


@pytest.fixture(scope="session")
def bending() -> ModuleType:
    """The module beside this file that changes key sets."""
    return _beside("bending")


@pytest.fixture(scope="session")
def planted() -> ModuleType:
    """The module beside this file with one fault each."""
    return _beside("planted")


@pytest.fixture(scope="session")
def example() -> Path:
    return EXAMPLE


@pytest.fixture(scope="session")
def table() -> FingeringTable:
    return read_fingerings(EXAMPLE / "fingerings.csv")


@pytest.fixture(scope="session")
def keys() -> KeySet:
    return read_keys(EXAMPLE / "keys.csv")


@pytest.fixture(scope="session")
def instrument() -> Instrument:
    return load(EXAMPLE / "clarinet.toml")
