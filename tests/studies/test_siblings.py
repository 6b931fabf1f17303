"""Bodies of other pitches: lengths by the wavelength, keys held or stretched, what must change."""

from __future__ import annotations

from importlib.resources import files
from pathlib import Path

import pytest
from little_tube import tube, two_notes

from borewright.model import load, read_fingerings
from borewright.studies import Sibling, siblings_of
from borewright.studies.siblings import key_changes, top_length_mm

EXAMPLE = Path(str(files("borewright"))) / "examples" / "class-chalumeau"


def test_a_tube_a_tone_lower_is_longer_by_the_ratio_of_a_tone():
    """Two semitones are 2^(2/12) = 1.1225, of 300 mm 336.7."""
    wishes = tube().fit.model_copy(update={"free": ["hole.station", "barrel.length"]})
    first = tube().model_copy(update={"fit": wishes})
    tone = Sibling("tone", 440.0, -2)
    made, result = siblings_of(first, two_notes(), None, wanted=[tone], side_holes="closed forms")
    held, stretched = result.bodies
    assert stretched.factor == pytest.approx(2 ** (2 / 12), rel=1e-12)
    assert stretched.body_mm == pytest.approx(300 * 2 ** (2 / 12), abs=2)
    # Held, the hole stays and only the length can follow.
    assert made[0].parts[0].holes[0].station_mm == 210.0
    assert made[1].parts[0].holes[0].station_mm == pytest.approx(210 * 2 ** (2 / 12), abs=4)
    assert held.factor == stretched.factor


def test_mouthpiece_and_reed_count_as_a_cylinder_of_their_volume():
    instrument = load(EXAMPLE / "chalumeau.toml")
    top = instrument.mouthpiece
    area = 3.14159265 / 4 * top.bore_diameter_mm**2
    volume = top.chamber_mm3 + instrument.reed.equivalent_volume_mm3 + area * top.bore_length_mm
    assert top_length_mm(instrument) == pytest.approx(volume / area, rel=1e-6)


def test_what_a_hinge_asks_for_is_told_by_its_holes():
    old = load(EXAMPLE / "chalumeau.toml")
    part = max(old.parts, key=lambda each: len(each.holes))
    holes = [
        hole.model_copy(update={"station_mm": hole.station_mm + 2.0 * (number == 0)})
        for number, hole in enumerate(part.holes)
    ]
    moved = part.model_copy(update={"holes": holes})
    parts = [moved if each is part else each for each in old.parts]
    new = old.model_copy(update={"parts": parts})
    changes = {one.hinge: one for one in key_changes(old, new, None)}
    first, second = part.holes[0].name, part.holes[1].name
    assert changes[first].along_mm == pytest.approx(2.0)
    assert changes[first].stretch_mm == 0.0  # one pad alone only goes along
    assert not changes[first].anew
    assert changes[second].along_mm == 0.0


def test_a_semitone_lower_needs_a_body_of_its_own():
    instrument = load(EXAMPLE / "chalumeau.toml")
    table = read_fingerings(EXAMPLE / "fingerings.csv")
    lower = Sibling("lower", 440.0, instrument.pitch.written_to_sounding_semitones - 1)
    steps = []
    made, result = siblings_of(
        instrument, table, None, wanted=[lower], side_holes="closed forms",
        told=lambda said, done, total: steps.append((done, total)),
    )  # fmt: skip
    held, stretched = result.bodies
    assert stretched.rms_cents < 3.0
    assert stretched.rms_cents < held.rms_cents
    assert made[1].length_mm > 1.05 * instrument.length_mm
    assert steps == [(0, 2), (1, 2)]
    assert {hole.name: hole.station_mm for _, hole, _ in made[0].placed_holes()} == {
        hole.name: hole.station_mm for _, hole, _ in instrument.placed_holes()
    }
