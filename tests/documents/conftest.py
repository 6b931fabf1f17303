"""Fixtures of this room's tests."""

from __future__ import annotations

import importlib.util
from pathlib import Path
from types import ModuleType

import pytest


@pytest.fixture(scope="session")
def invented() -> ModuleType:
    """The module of invented instruments and results beside this file."""
    place = Path(__file__).with_name("invented.py")
    spec = importlib.util.spec_from_file_location("documents_invented", place)
    assert spec is not None
    assert spec.loader is not None
    module = importlib.util.module_from_spec(spec)
    spec.loader.exec_module(module)
    return module
