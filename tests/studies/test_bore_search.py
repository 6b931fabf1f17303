"""Bores searched within ranges: a planted best one is found, and figures are the engine's own."""

from __future__ import annotations

from importlib.resources import files
from pathlib import Path

import numpy as np
import pytest
from scipy.stats import qmc

from borewright.acoustics import tuning
from borewright.errors import ModelError
from borewright.fit import fit
from borewright.model import Drawing, SideHoles, load, read_fingerings
from borewright.model.results.bore_search import BoreFeature
from borewright.studies import search_bores
from borewright.studies.bore_search import changed_bore
from borewright.studies.emulator import Emulator

EXAMPLE = Path(str(files("borewright"))) / "examples" / "class-chalumeau"


def feature(part: str, measure: str, low: float, high: float) -> BoreFeature:
    return BoreFeature(part=part, measure=measure, from_mm=low, to_mm=high)


@pytest.mark.slow
def test_a_planted_best_bore_is_found():
    """The tuned example, its bore made 0.5 mm narrower and its head 3 mm longer.

    Holes may hardly move, so only the way back tunes it: bore +0.5 mm, head -3 mm.
    """
    table = read_fingerings(EXAMPLE / "fingerings.csv")
    tuned, _ = fit(load(EXAMPLE / "chalumeau.toml"), table, side_holes="closed forms")
    names = [part.name for part in tuned.parts]
    body = max(tuned.parts, key=lambda part: len(part.holes)).name
    wishes = tuned.fit.model_copy(
        update={"free": ["hole.diameter"], "hole_size_window": 0.004, "ranges": {}, "also": [],
                "keep_close": 0.0, "least_gain": 0.0}
    )  # fmt: skip
    features = [feature(body, "bore", -0.2, 1.0), feature(names[0], "length", -6.0, 2.0)]
    off = changed_bore(tuned, features, [-0.5, 3.0])
    planted = off.model_copy(
        update={"fit": wishes, "drawing": Drawing(), "side_holes": SideHoles.CLOSED_FORMS}
    )
    told = []
    made, result = search_bores(
        planted, table, None, features, tries=32, side_holes="closed forms",
        told=lambda done, total, best: told.append((done, total)),
    )  # fmt: skip
    best = min(result.designs, key=lambda one: one.rms_cents)
    assert result.designs[0].rms_cents > 5 * best.rms_cents
    assert best.changes_mm[0] == pytest.approx(0.5, abs=0.12)
    assert best.changes_mm[1] == pytest.approx(-3.0, abs=0.5)
    assert best.number > 10  # chance alone had not come so near
    assert best.best or best.faults
    # Every figure shown is that of the design itself, computed anew.
    anew = tuning(made[best.number], table, side_holes="closed forms").summary
    assert anew.rms_cents == pytest.approx(best.rms_cents, abs=1e-6)
    assert told[-1] == (32, 32)
    # No design that is marked best is beaten by another without faults.
    sound = [one for one in result.designs if not one.faults]
    for one in (each for each in result.designs if each.best):
        beats = [np.all(np.array(other.aims) <= one.aims) and other.aims != one.aims
                 for other in sound]  # fmt: skip
        assert not any(beats)


def test_an_emulators_stated_error_is_that_of_points_it_never_saw():
    """A smooth function of two features: the error of leaving out against fresh points."""

    def truth(at: np.ndarray) -> np.ndarray:
        return np.sin(3 * at[:, 0]) + (at[:, 1] - 0.3) ** 2

    at = qmc.Sobol(2, seed=1).random_base2(5)
    emulator = Emulator(at, truth(at))
    fresh = qmc.Sobol(2, seed=2).random_base2(8)
    mean, _sure = emulator(fresh)
    real = np.sqrt(np.mean((mean - truth(fresh)) ** 2))
    assert emulator.error < 0.05
    assert 0.2 < real / emulator.error < 2.0
    left = [
        abs(Emulator(np.delete(at, n, 0), np.delete(truth(at), n))(at[n : n + 1])[0][0] - v)
        for n, v in enumerate(truth(at))
    ]
    # Really left out, the scale and the mean are chosen anew as well, which the formula does not.
    assert np.sqrt(np.mean(np.square(left))) == pytest.approx(emulator.error, rel=0.5)


@pytest.mark.parametrize(
    ("features", "tries", "words"),
    [
        ([], 20, "0 features"),
        ([feature("head", "colour", -1, 1)], 20, "no feature 'head.colour'"),
        ([feature("head", "bore", 1, -1)], 20, "does not rise"),
        ([feature("head", "bore", -1, 1)] * 2, 20, "named twice"),
        ([feature("head", "bore", -1, 1)], 3, "3 designs"),
    ],
)
def test_searches_that_cannot_be_are_refused(features, tries, words):
    instrument = load(EXAMPLE / "chalumeau.toml")
    table = read_fingerings(EXAMPLE / "fingerings.csv")
    with pytest.raises(ModelError, match=words):
        search_bores(instrument, table, None, features, tries=tries, side_holes="closed forms")
