"""The class chalumeau: it loads, says that it is invented, and suits small hands."""

from __future__ import annotations

import itertools
from pathlib import Path

import pytest

import borewright
from borewright.model import Cover, load, read_fingerings
from borewright.model.files.fingerings import find_duplicate_sets

FOLDER = Path(borewright.__file__).parent / "examples" / "class-chalumeau"


@pytest.fixture(scope="module")
def chalumeau():
    return load(FOLDER / "chalumeau.toml")


def test_the_files_belong_together(chalumeau):
    fingerings = read_fingerings(FOLDER / chalumeau.fingerings)
    fingerings.check_against(chalumeau)
    assert {name for f in fingerings.fingerings for name in f.open_holes} == set(
        chalumeau.hole_names()
    )
    assert find_duplicate_sets(fingerings) == []
    assert {f.register_ for f in fingerings.fingerings} == {"chalumeau"}
    assert (fingerings.fingerings[0].name, fingerings.fingerings[-1].name) == ("F4", "G5")


def test_every_file_says_that_it_is_invented(chalumeau):
    assert chalumeau.invented
    for path in FOLDER.iterdir():
        assert "Invented example" in path.read_text(encoding="utf-8"), path.name


def test_no_keys_and_a_thumb(chalumeau):
    holes = chalumeau.part("body").holes
    assert chalumeau.keywork == ""
    assert all(hole.cover is Cover.FINGER for hole in holes)
    assert [hole.name for hole in holes if hole.bearing_deg == 180] == ["T"]


def test_fingers_are_spaced_for_children(chalumeau):
    """15 to 24 mm from hole to hole: narrower than an adult's 20 mm and more (from memory)."""
    front = [hole.station_mm for hole in chalumeau.part("body").holes if hole.name != "T"]
    assert len(front) == 7
    assert all(15 <= low - high <= 24 for high, low in itertools.pairwise(front))
