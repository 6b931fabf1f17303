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

from borewright.model import PitchStandard, load, read_fingerings

CLARINET = files("borewright") / "examples" / "loan-clarinet"


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
