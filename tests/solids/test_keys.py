"""Keys as solids: names, volumes by closed forms, and the gaps that the mechanism finds."""

from __future__ import annotations

import math
from pathlib import Path

import numpy as np
import pytest

import borewright
from borewright.keywork import Body, Mechanism, pad_motion
from borewright.keywork.distances import gap_mm
from borewright.model import load, read_keys
from borewright.model.keys import Arm, Cup, Hinge, Post, Ring, Touch
from borewright.solids import key_solids
from borewright.solids.axes import bearing_direction
from borewright.solids.keys import in_solids_frame

EXAMPLE = Path(borewright.__file__).parent / "examples" / "loan-clarinet"


@pytest.fixture(scope="module")
def mechanism():
    return Mechanism(read_keys(EXAMPLE / "keys.csv"), load(EXAMPLE / "clarinet.toml"))


@pytest.fixture(scope="module")
def compounds(mechanism):
    return {compound.label: compound for compound in key_solids(mechanism)}


def solid(compounds, key, label):
    return next(child for child in compounds[f"key {key}"].children if child.label == label)


def test_frames_agree(mechanism):
    # A point at bearing b and height r over station x stands where the bodies' axes put it.
    x, y = bearing_direction(40.0)
    point = mechanism.placed_at(mechanism.keys.over("GS"), 1)
    wanted = [14.0 * x, 14.0 * y, 65.0 + 67.3]
    assert in_solids_frame(point) == pytest.approx(wanted, abs=1e-9)


def test_every_element_of_every_key_has_its_name(mechanism, compounds):
    assert list(compounds) == [f"key {key}" for key in mechanism.keys.keys]
    labels = {child.label for compound in compounds.values() for child in compound.children}
    for element in mechanism.keys.elements:
        if isinstance(element, Arm | Cup | Hinge | Post | Ring | Touch):
            assert f"{element.kind.value} {element.name}" in labels
    assert len([label for label in labels if label.startswith("pad ")]) == 17
    assert len([label for label in labels if label.startswith("rod ")]) == 20
    assert all(c.is_valid for compound in compounds.values() for c in compound.children)


def test_volumes_are_the_closed_forms(compounds):
    tube = solid(compounds, "EB", "hinge H-EB")
    assert tube.volume == pytest.approx(math.pi * (1.7**2 - 1.1**2) * 113.97, rel=1e-6)
    ring = solid(compounds, "RP", "ring R-R2")
    assert ring.volume == pytest.approx(math.pi * (7.5**2 - 6.0**2) * 1.5, rel=1e-6)
    touch = solid(compounds, "RV", "touch T-RV")
    assert touch.volume == pytest.approx(9.0 * 8.0 * 1.6, rel=1e-6)


def test_a_pad_at_rest_stands_as_high_as_the_mechanism_lifts_it(mechanism, compounds):
    # Closed: its face on the seat, 14.0 from the axis. Open: the middle of its face is lifted.
    closed = solid(compounds, "A", "pad A").bounding_box()
    assert pytest.approx(-14.0, abs=1e-6) == closed.max.Y  # the front is -y
    lift = pad_motion(mechanism, Body(mechanism.instrument), mechanism.keys.over("RP")).lift_mm
    shut = key_solids(mechanism, {key: 0.0 for key in mechanism.keys.keys})
    both = [
        next(
            c
            for comp in some
            if comp.label == "key RP"
            for c in comp.children
            if c.label == "pad RP"
        )
        for some in (list(compounds.values()), shut)
    ]
    x, y = bearing_direction(-10.0)
    moved = both[0].center() - both[1].center()
    assert moved.X * x + moved.Y * y == pytest.approx(lift, abs=0.15)


def test_the_kernel_measures_the_same_air_between_arms(mechanism, compounds):
    pairs = [("A-S46", "S4", "A-S37", "S3"), ("A-LE-touch1", "LE", "A-LF-touch1", "LF")]
    by_name = {element.name: element for element in mechanism.keys.elements}
    for first, key, second, other in pairs:
        shapes = [
            mechanism.shape(by_name[name], mechanism.rest[of])
            for name, of in ((first, key), (second, other))
        ]
        kernel = solid(compounds, key, f"arm {first}").distance_to(
            solid(compounds, other, f"arm {second}")
        )
        # The round ends are drawn with flats: at most 0.02 mm inside the ball.
        assert kernel == pytest.approx(gap_mm(*shapes), abs=0.02)
    assert np.isfinite(kernel)


def test_the_assembly_step_names_every_key(mechanism, tmp_path):
    from build123d import export_step

    from borewright.solids import assembled

    instrument = mechanism.instrument.model_copy(update={"parts": []})
    export_step(assembled(instrument, {}, keys=mechanism), tmp_path / "keys.step")
    text = (tmp_path / "keys.step").read_text(encoding="utf-8", errors="replace")
    for key in mechanism.keys.keys:
        assert f"'key {key}'" in text
    for name in ("pad EB", "arm A-EB1", "ring R-R2", "post P-TP1", "rod H-S4S3", "touch T-LFS"):
        assert f"'{name}'" in text
