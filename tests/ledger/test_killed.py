"""A bench that dies while writing loses no record it was told is kept, and breaks no file."""

from __future__ import annotations

import json
import subprocess
import sys
from pathlib import Path

import pytest

SCRIPT = Path(__file__).with_name("killed_writer.py")


def killed(place: str, times: int) -> dict:
    command = [sys.executable, str(SCRIPT), place, str(times)]
    done = subprocess.run(command, capture_output=True, text=True, check=False)
    assert done.returncode == 0, done.stderr
    return json.loads(done.stdout)


def test_a_few_kills(place):
    found = killed(place, 4)
    assert found["lost"] == []
    assert found["wrong"] == []
    assert found["sure"] >= 4


@pytest.mark.slow
def test_two_hundred_kills(place):
    found = killed(place, 200)
    assert found["lost"] == []
    assert found["wrong"] == []
    assert found["sure"] >= 200
