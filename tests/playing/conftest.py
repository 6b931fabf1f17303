"""Synthetic tones and scales written to files, shared by the tests of this room."""

from __future__ import annotations

import importlib.util
from collections.abc import Callable
from importlib.resources import files
from pathlib import Path
from types import ModuleType

import numpy as np
import pytest
import soundfile

from borewright.model import PitchStandard, dimensions, load, read_fingerings
from borewright.model.dimensions import read_values, with_values

CLARINET = files("borewright") / "examples" / "loan-clarinet"
CHALUMEAU = files("borewright") / "examples" / "class-chalumeau"
#: What a fit makes of the chalumeau's drawing (mm): 0.7 cents rms, its forks aside.
IN_TUNE = {
    "body length": 159.44, "body bore station 2": 159.44, "L1 diameter": 4.98,
    "T diameter": 4.95, "L2 station": 32.0, "L2 diameter": 6.13, "L3 diameter": 6.1,
    "R1 station": 62.0, "R1 diameter": 5.43, "R2 diameter": 5.04, "R3 station": 96.42,
    "R4 diameter": 6.4,
}  # fmt: skip


def _beside(name: str) -> ModuleType:
    spec = importlib.util.spec_from_file_location(name, Path(__file__).with_name(f"{name}.py"))
    assert spec is not None
    assert spec.loader is not None
    module = importlib.util.module_from_spec(spec)
    spec.loader.exec_module(module)
    return module


@pytest.fixture(scope="session")
def synthesis() -> ModuleType:
    """Makers of tones, room noise and breaths."""
    return _beside("synthesis")


@pytest.fixture(scope="session")
def b_flat() -> PitchStandard:
    return PitchStandard(written_to_sounding_semitones=-2)


@pytest.fixture(scope="session")
def clarinet():
    """The invented clarinet and its fingerings."""
    return load(CLARINET / "clarinet.toml"), read_fingerings(CLARINET / "fingerings.csv")


@pytest.fixture(scope="session")
def chalumeau():
    """The invented chalumeau, in tune, and its fingerings."""
    drawn = load(CHALUMEAU / "chalumeau.toml")
    values = [
        IN_TUNE.get(each.label, value)
        for each, value in zip(dimensions(drawn), read_values(drawn), strict=True)
    ]
    return with_values(drawn, values), read_fingerings(CHALUMEAU / "fingerings.csv")


@pytest.fixture(scope="session")
def takes_of():
    """Maker of measured notes: what the engine says of an instrument, scattered."""
    from borewright.acoustics import tuning
    from borewright.playing import MeasuredNote

    def make(instrument, table, seed=None, *, error=1.0, player=0.0):
        rng = np.random.default_rng(seed)
        scatter = 0.0 if seed is None else error
        return {
            note.fingering: MeasuredNote(note.cents + player + rng.normal(0, scatter), error)
            for note in tuning(instrument, table).notes
        }

    return make


@pytest.fixture(scope="session")
def changed():
    """Maker of an instrument with some dimensions off by so much (mm), by their labels."""

    def make(instrument, **off):
        named = {label.replace("_", " "): by for label, by in off.items()}
        assert set(named) <= {each.label for each in dimensions(instrument)}
        values = [
            value + named.get(each.label, 0.0)
            for each, value in zip(dimensions(instrument), read_values(instrument), strict=True)
        ]
        return with_values(instrument, values)

    return make


@pytest.fixture
def recorded(tmp_path: Path) -> Callable[..., Path]:
    """Write samples as a sound file."""

    def write(samples: np.ndarray, name: str = "take.wav", rate: int = 44_100, **more: str) -> Path:
        path = tmp_path / name
        soundfile.write(path, samples, rate, **more)
        return path

    return write


@pytest.fixture(scope="session")
def scale(synthesis: ModuleType, b_flat: PitchStandard) -> Callable[..., np.ndarray]:
    """Maker of a whole take: written notes with planted cents, apart by quiet or by a breath."""

    def make(
        notes: list[tuple[str, float]],
        rng: np.random.Generator,
        *,
        seconds: float = 0.8,
        gap: float = 0.15,
        noise: float = 0.0003,
        breaths: bool = False,
        **shape: float,
    ) -> np.ndarray:
        pieces = [synthesis.room(0.3, rng, noise)]
        for number, (name, cents) in enumerate(notes):
            hz = b_flat.target_hz(name) * 2 ** (cents / 1200)
            pieces.append(synthesis.tone(hz, seconds, rng, **shape))
            if gap:
                pieces.append(synthesis.room(gap, rng, noise))
            if breaths and number % 6 == 5:
                pieces.append(synthesis.breath(0.5, rng, 0.03))
        return np.concatenate([*pieces, synthesis.room(0.3, rng, noise)])

    return make
