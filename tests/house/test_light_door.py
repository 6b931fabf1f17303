"""The doors open quickly: nothing heavy is loaded before a command needs it."""

from __future__ import annotations

import subprocess
import sys

import pytest

HEAVY = (
    "OCP",
    "alembic",
    "build123d",
    "clarabel",
    "dask",
    "distributed",
    "jax",
    "lib3mf",
    "matplotlib",
    "netgen",
    "ngsolve",
    "nicegui",
    "ortools",
    "pyarrow",
    "scipy",
    "segno",
    "sqlalchemy",
    "trimesh",
    "typst",
)


@pytest.mark.parametrize("module", ["borewright", "borewright.model", "borewright.cli"])
def test_importing_a_door_loads_nothing_heavy(module):
    script = f"import sys, {module}; print(*sorted(set(sys.modules) & set({HEAVY!r})))"
    done = subprocess.run(
        [sys.executable, "-c", script], capture_output=True, text=True, check=False
    )
    assert done.returncode == 0, done.stderr
    assert done.stdout.split() == []
