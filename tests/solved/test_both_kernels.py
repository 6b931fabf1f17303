"""The solids' kernel and NGSolve's in one process, NGSolve's first, as on a long-lived bench."""

from __future__ import annotations

import subprocess
import sys

SCRIPT = """
from borewright.acoustics.solved.solving import require_ngsolve
require_ngsolve()
from netgen import occ
print(round(occ.Cylinder(occ.Pnt(0, 0, 0), occ.Z, r=1, h=1).mass, 6))
from borewright.model import Instrument, Part
from borewright.solids import body_volume_mm3, part_body
tube = Part(name="tube", length_mm=10, bore=[(0, 15), (10, 15)], outside=[(0, 30), (10, 30)])
whole = Instrument(parts=[tube], invented=True, body={"orientation_text": False})
print(round(body_volume_mm3(part_body(whole, "tube")), 1) > 0)
"""


def test_solids_are_made_after_holes_were_solved():
    done = subprocess.run(
        [sys.executable, "-c", SCRIPT], capture_output=True, text=True, check=False
    )
    assert done.returncode == 0, done.stderr
    assert done.stdout.split() == ["3.141593", "True"]
