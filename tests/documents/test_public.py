"""The room's public list, and that looking at it loads nothing heavy."""

from __future__ import annotations

import subprocess
import sys

import borewright.documents as documents


def test_every_public_name_can_be_had() -> None:
    for name in documents.__all__:
        assert getattr(documents, name) is not None


def test_an_unknown_name_is_an_attribute_error() -> None:
    assert not hasattr(documents, "nothing_of_the_kind")


def test_importing_the_room_loads_no_drawing_library() -> None:
    code = (
        "import sys, borewright.documents as d; d.hole_schedule, d.CAUTIONS, d.fit_report;"
        "print([m for m in ('matplotlib', 'typst', 'numpy') if m in sys.modules])"
    )
    answer = subprocess.run(
        [sys.executable, "-c", code], capture_output=True, text=True, check=True
    )
    assert answer.stdout.strip() == "[]"
