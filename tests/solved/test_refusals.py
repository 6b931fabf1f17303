"""Impossible shapes are refused with place, cause and remedy; a missing solver is named."""

from __future__ import annotations

import importlib.util
import math
import subprocess
import sys
from dataclasses import replace

import pytest

from borewright.acoustics.solved import (
    HoleCover,
    HoleShape,
    MeshDetail,
    cached_hole,
    solve_hole,
    solve_holes,
)
from borewright.errors import AcousticsError
from borewright.words import ENGLISH

PLAIN = HoleShape(7.5, 4.0, 8.0)
PADDED = replace(PLAIN, cover=HoleCover.PAD, pad_radius_mm=6.0, lift_mm=2.0)
LINED = replace(PLAIN, radius_mm=1.5, into_bore_mm=3.0, lining_radius_mm=2.5)

WRONG = {
    "pad smaller than its hole": (PADDED, {"pad_radius_mm": 3.0}, "pad_radius_mm"),
    "pad as large as its hole": (PADDED, {"pad_radius_mm": 4.0}, "pad_radius_mm"),
    "no lift": (PADDED, {"lift_mm": 0.0}, "lift_mm"),
    "undercut deeper than the tube": (
        PLAIN,
        {"undercut_radius_mm": 5.0, "undercut_depth_mm": 8.0},
        "undercut_depth_mm",
    ),
    "undercut narrower than the hole": (
        PLAIN,
        {"undercut_radius_mm": 3.0, "undercut_depth_mm": 2.0},
        "undercut_radius_mm",
    ),
    "undercut as wide as the bore": (
        PLAIN,
        {"undercut_radius_mm": 7.5, "undercut_depth_mm": 2.0},
        "undercut_radius_mm",
    ),
    "undercut straighter than deep": (
        PLAIN,
        {"undercut_radius_mm": 5.0, "undercut_depth_mm": 2.0, "undercut_straight_mm": 2.5},
        "undercut_straight_mm",
    ),
    "straight without an undercut": (PLAIN, {"undercut_straight_mm": 1.0}, "undercut_straight_mm"),
    "undercut without depth": (PLAIN, {"undercut_radius_mm": 5.0}, "undercut_radius_mm"),
    "hole wider than bore": (PLAIN, {"radius_mm": 8.0}, "radius_mm"),
    "hole as wide as the bore": (PLAIN, {"radius_mm": 7.5}, "radius_mm"),
    "negative bore": (PLAIN, {"bore_radius_mm": -7.5}, "bore_radius_mm"),
    "no height": (PLAIN, {"height_mm": 0.0}, "height_mm"),
    "negative depth": (PLAIN, {"undercut_depth_mm": -1.0}, "undercut_depth_mm"),
    "negative flesh": (PLAIN, {"flesh_mm": -0.5}, "flesh_mm"),
    "not a number": (PLAIN, {"height_mm": math.nan}, "height_mm"),
    "infinite": (PLAIN, {"radius_mm": math.inf}, "radius_mm"),
    "text": (PLAIN, {"radius_mm": "4"}, "radius_mm"),
    "truth": (PLAIN, {"chimney_mm": True}, "chimney_mm"),
    "metres for millimetres": (PLAIN, {"height_mm": 8000.0}, "height_mm"),
    "unknown cover": (PLAIN, {"cover": "lid"}, "cover"),
    "flare": (PLAIN, {"bore_slope": 0.5}, "bore_slope"),
    "chimney without wall": (PLAIN, {"chimney_mm": 1.0}, "chimney_wall_mm"),
    "chimney alone": (PLAIN, {"chimney_mm": 8.0, "chimney_wall_mm": 1.0}, "chimney_mm"),
    "sunk without counterbore": (PLAIN, {"chimney_mm": -1.0}, "counterbore_radius_mm"),
    "counterbore without sinking": (
        PLAIN,
        {"counterbore_radius_mm": 6.0},
        "counterbore_radius_mm",
    ),
    "pad wider than its counterbore": (
        PADDED,
        {"chimney_mm": -1.0, "counterbore_radius_mm": 6.0},
        "pad_radius_mm",
    ),
    "relief without a seat": (PLAIN, {"seat_relief_mm": 0.4}, "seat_relief_mm"),
    "body inside its bore": (PLAIN, {"body_radius_mm": 7.0}, "body_radius_mm"),
    "lining without length": (PLAIN, {"lining_radius_mm": 5.0}, "lining_radius_mm"),
    "lining without wall": (LINED, {"lining_radius_mm": 1.5}, "lining_radius_mm"),
    "lining past the axis": (LINED, {"into_bore_mm": 7.5}, "into_bore_mm"),
    "lining as wide as the bore": (LINED, {"lining_radius_mm": 7.5}, "lining_radius_mm"),
}


@pytest.mark.parametrize("name", WRONG)
def test_impossible_shapes(name):
    shape, changes, field = WRONG[name]
    with pytest.raises(AcousticsError) as caught:
        solve_hole(replace(shape, **changes))
    assert ENGLISH.place(caught.value.place) == f"hole shape, {field}"
    assert caught.value.cause
    assert str(caught.value.remedy).endswith(".")


def test_a_finger_deeper_than_the_hole():
    shape = replace(PLAIN, cover=HoleCover.FINGER, flesh_mm=4.0)
    with pytest.raises(AcousticsError, match="bulge"):
        solve_hole(shape, "closed")


def test_what_does_not_matter_in_a_state_is_not_refused():
    closed = solve_hole(replace(PADDED, lift_mm=0.0), "closed", check=False)
    assert closed.volume_mm3 > 400


def test_a_bore_that_comes_through_its_body():
    shape = HoleShape(7.5, 4.0, 3.0, bore_slope=0.25, body_radius_mm=10.5)
    with pytest.raises(AcousticsError, match="comes through") as caught:
        solve_hole(shape)
    assert "bore_slope" in ENGLISH.place(caught.value.place)


def test_unknown_state():
    with pytest.raises(AcousticsError, match="'ajar'"):
        solve_hole(PLAIN, "ajar")


@pytest.mark.parametrize(
    "changes", [{"order": 1}, {"order": 2.5}, {"edge_size": 0.0}, {"growth": math.nan}]
)
def test_impossible_meshes(changes):
    with pytest.raises(AcousticsError, match=next(iter(changes))):
        solve_hole(PLAIN, mesh=replace(MeshDetail(), **changes))


def test_the_faulty_hole_of_a_batch_is_named(tmp_path, monkeypatch):
    monkeypatch.setenv("BOREWRIGHT_CACHE", str(tmp_path))
    with pytest.raises(AcousticsError, match="hole 2 of 2, radius_mm"):
        solve_holes([PLAIN, replace(PLAIN, radius_mm=9.0)])
    assert list(tmp_path.rglob("*.json")) == []


@pytest.mark.parametrize("ask", [solve_hole, cached_hole, lambda shape: solve_holes([shape])])
def test_a_missing_solver_is_named(ask, tmp_path, monkeypatch):
    monkeypatch.setenv("BOREWRIGHT_CACHE", str(tmp_path))
    monkeypatch.setattr(importlib.util, "find_spec", lambda name: None)
    with pytest.raises(AcousticsError) as caught:
        ask(PLAIN)
    assert 'pip install "borewright[solve3d]"' in str(caught.value.remedy)


def test_the_solver_is_loaded_only_when_a_hole_is_solved():
    script = (
        "import sys, borewright.acoustics.solved; print({'ngsolve', 'netgen'} & {*sys.modules})"
    )
    done = subprocess.run(
        [sys.executable, "-c", script], capture_output=True, text=True, check=True
    )
    assert done.stdout.strip() == "set()"
