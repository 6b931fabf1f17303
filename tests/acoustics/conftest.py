"""Few instruments for many tests: every new structure costs seconds of compilation."""

from __future__ import annotations

import importlib.util
from collections.abc import Callable, Iterator
from pathlib import Path
from types import ModuleType
from typing import Any

import jax
import numpy as np
import pytest

from borewright.acoustics import Air
from borewright.model import (
    Fingering,
    FingeringTable,
    Instrument,
    Mouthpiece,
    Pad,
    Part,
    PitchStandard,
    Reed,
    Socket,
    Tenon,
    ToneHole,
    Undercut,
)

ROOT = Path(__file__).parents[2]


def _load(path: Path) -> ModuleType:
    spec = importlib.util.spec_from_file_location(f"beside_{path.stem}", path)
    assert spec is not None
    assert spec.loader is not None
    module = importlib.util.module_from_spec(spec)
    spec.loader.exec_module(module)
    return module


@pytest.fixture(scope="module", autouse=True)
def kernels_forgotten() -> Iterator[None]:
    """Compiled kernels of one file are not kept for the next: together they are gigabytes."""
    yield
    jax.clear_caches()


@pytest.fixture(scope="session")
def finite_elements() -> ModuleType:
    """Webster's equation by finite elements, written without the engine."""
    return _load(Path(__file__).with_name("finite_elements.py"))


@pytest.fixture(scope="session")
def textbook() -> ModuleType:
    """Transmission-line formulas from the literature in plain NumPy and SciPy."""
    return _load(Path(__file__).with_name("textbook.py"))


@pytest.fixture(scope="session")
def cents() -> Callable[[Any, Any], Any]:
    """Interval (cents) from the second frequency up to the first."""
    return lambda found, expected: 1200 * np.log2(np.asarray(found) / np.asarray(expected))


@pytest.fixture(scope="session")
def lossless() -> Air:
    """The air of the 3-D reference solutions."""
    return Air(speed_of_sound=346.0, density=1.18, losses=False)


@pytest.fixture(scope="session")
def pipe() -> Callable[..., Instrument]:
    """Maker of one-part tubes: length, top and bottom bore, outside (mm)."""

    def make(
        length: float = 300.0,
        top: float = 15.0,
        bottom: float | None = None,
        outside: float | None = None,
        holes: list[ToneHole] | None = None,
        **more: Any,
    ) -> Instrument:
        # The references beside these tests are chains of closed forms, whose openings do not
        # hear each other.
        more.setdefault("outside_interaction", False)
        more.setdefault("side_holes", "closed forms")
        bottom = top if bottom is None else bottom
        outside = max(top, bottom) + 7.0 if outside is None else outside
        part = Part(
            name="pipe",
            length_mm=length,
            bore=[(0, top), (length, bottom)],
            outside=[(0, outside), (length, outside)],
            holes=holes or [],
        )
        return Instrument(name="pipe", parts=[part], invented=True, **more)

    return make


@pytest.fixture(scope="session")
def flared() -> Instrument:
    """The flared pipe of the 3-D reference: radius 7.5 to x = 180, cone to 15 at 300, wall 2."""
    part = Part(
        name="pipe",
        length_mm=300,
        bore=[(0, 15), (180, 15), (300, 30)],
        outside=[(0, 19), (180, 19), (300, 34)],
    )
    return Instrument(name="flared pipe", parts=[part], invented=True, side_holes="closed forms")


#: Station, diameter and chimney (mm) of the five holes: wide, narrow, raised, sunk.
FIVE = [(150, 5.0, 0.0), (190, 7.5, 1.5), (235, 6.0, -1.0), (282, 9.0, 0.5), (330, 10.5, 0.0)]


@pytest.fixture(scope="session")
def five_holes(pipe: Callable[..., Instrument]) -> Callable[..., Instrument]:
    """Maker of a cylinder, 400 long, 14.6 wide, with five holes named 1 to 5."""

    def make(**more: Any) -> Instrument:
        holes = [
            ToneHole(name=str(number), station_mm=station, diameter_mm=wide, chimney_mm=chimney)
            for number, (station, wide, chimney) in enumerate(FIVE, start=1)
        ]
        return pipe(length=400, top=14.6, outside=30, holes=holes, **more)

    return make


@pytest.fixture(scope="session")
def clarinet() -> Instrument:
    """An invented little clarinet with every kind of dimension: barrel, joint, bell."""
    barrel = Part(
        name="barrel",
        length_mm=64,
        bore=[(0, 15.0), (64, 14.8)],
        outside=[(0, 31), (64, 31)],
        socket_bottom=Socket(depth_mm=12.4, diameter_mm=22.4),
    )
    holes = [
        ToneHole(
            name="V",
            station_mm=15.0,
            bearing_deg=180,
            diameter_mm=3.0,
            into_bore_mm=3.0,
            chimney_mm=1.0,
            cover="pad",
            pad=Pad(diameter_mm=8, lift_mm=1.5, rest="closed"),
        ),
        ToneHole(name="T", station_mm=95.0, bearing_deg=180, diameter_mm=7.0, chimney_mm=0.5),
        ToneHole(
            name="F",
            station_mm=131.0,
            diameter_mm=6.5,
            chimney_mm=0.3,
            undercut=Undercut(diameter_mm=7.6, depth_mm=2.0),
        ),
        ToneHole(
            name="P",
            station_mm=179.5,
            diameter_mm=8.5,
            chimney_mm=-0.5,
            cover="pad",
            pad=Pad(diameter_mm=12, lift_mm=3.0, rest="open"),
        ),
    ]
    joint = Part(
        name="joint",
        length_mm=260,
        bore=[(0, 14.9), (30, 14.7), (200, 14.6), (260, 16.0)],
        outside=[(0, 29.6), (260, 30.5)],
        tenon_top=Tenon(length_mm=12, diameter_mm=22),
        tenon_bottom=Tenon(length_mm=12, diameter_mm=24),
        holes=holes,
    )
    bell = Part(
        name="bell",
        length_mm=90,
        bore=[(0, 17.0), (40, 22.0), (90, 50.0)],
        outside=[(0, 34), (40, 34), (90, 56)],
        socket_top=Socket(depth_mm=12.5, diameter_mm=24.4),
    )
    return Instrument(
        name="little clarinet",
        parts=[barrel, joint, bell],
        mouthpiece=Mouthpiece(),
        reed=Reed(),
        pitch=PitchStandard(written_to_sounding_semitones=-2),
        # What these tests hold to is the engine itself; levels ask for theirs.
        side_holes="closed forms",
        invented=True,
    )


@pytest.fixture(scope="session")
def fingerings() -> FingeringTable:
    """Low notes, their twelfths with the vent V, and a fork, for the little clarinet."""
    rows = [
        ("A3", "chalumeau", ()),
        ("C#4", "chalumeau", ("P",)),
        ("E4", "chalumeau", ("F", "P")),
        ("Eb4", "chalumeau", ("F",)),
        ("F#4", "throat", ("T", "F", "P")),
        ("E5", "clarion", ("V",)),
        ("G#5", "clarion", ("V", "P")),
        ("B5", "clarion", ("V", "F", "P")),
        ("F#5", "clarion", ("V", "F")),
    ]
    return FingeringTable(
        fingerings=[
            Fingering(written=note, register=register, open_holes=holes)
            for note, register, holes in rows
        ]
    )
