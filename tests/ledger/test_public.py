"""The room's public list, and that neither it nor the commands load a database at the door."""

from __future__ import annotations

import subprocess
import sys

import pytest

import borewright.ledger as ledger


def test_every_public_name_can_be_had():
    for name in ledger.__all__:
        assert not isinstance(getattr(ledger, name), type(sys)), f"{name} is a module"
    assert not hasattr(ledger, "nothing_of_the_kind")


@pytest.mark.parametrize("module", ["borewright.ledger", "borewright.doors.ledger"])
def test_looking_at_it_loads_nothing_heavy(module):
    heavy = ("sqlalchemy", "alembic", "psycopg", "ortools", "segno", "pandas")
    code = f"import sys, {module}; print([m for m in {heavy!r} if m in sys.modules])"
    command = [sys.executable, "-c", code]
    done = subprocess.run(command, capture_output=True, text=True, check=True)
    assert done.stdout.strip() == "[]"
