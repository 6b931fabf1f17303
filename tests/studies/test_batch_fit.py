"""The design whose batch is best, against a scan of all designs there are."""

from __future__ import annotations

from importlib.resources import files
from pathlib import Path

import numpy as np
import pytest
from little_tube import scattered

from borewright.fit import fit
from borewright.model import (
    Drawing,
    SideHoles,
    Spread,
    dimensions,
    load,
    read_fingerings,
    read_values,
    with_values,
)
from borewright.studies import Rule, fit_for_batch, study_of
from borewright.studies.judging import Judge

EXAMPLE = Path(str(files("borewright"))) / "examples" / "class-chalumeau"
MAKING = scattered(bore_diameter=Spread(common=0.03, each=0.02), diameter=Spread(each=0.05))
RULE = Rule(within_cents=12.0, beyond_cents=40)


def foretold(instrument, table, seed):
    study = study_of(instrument, table, MAKING, builds=4096, seed=seed, side_holes="closed forms")
    judge = Judge(study, RULE)
    values, _ = study.values(0, 4096)
    cents = judge.nominal_cents + (values - read_values(instrument)) @ judge.slopes.T
    return judge.good(cents).mean()


def test_a_batch_is_best_where_a_scan_of_all_lengths_finds_it():
    """A planted hole is too wide, the length alone is free.

    Least squares of all notes leave the two that it makes sharp at the edge; a batch is best with
    all of it longer, so that they come within while the others stay.
    """
    table = read_fingerings(EXAMPLE / "fingerings.csv")
    drawn, _ = fit(load(EXAMPLE / "chalumeau.toml"), table, side_holes="closed forms")
    names = [one.label for one in dimensions(drawn)]
    values = read_values(drawn)
    values[names.index("L2 diameter")] += 0.45
    wishes = drawn.fit.model_copy(
        update={"free": ["head.length"], "length_window_mm": 4.0, "keep_close": 0.0,
                "least_gain": 0.0, "ranges": {}, "also": []}
    )  # fmt: skip
    planted = with_values(drawn, values).model_copy(
        update={"fit": wishes, "side_holes": SideHoles.CLOSED_FORMS, "drawing": Drawing()}
    )
    made, result = fit_for_batch(
        planted, table, None, MAKING, RULE, builds=1024, side_holes="closed forms"
    )
    column = names.index("head length")
    scan = {}
    for step in np.arange(0.0, 1.3, 0.125):
        values[column] = read_values(drawn)[column] + step
        scan[step] = foretold(with_values(planted, values), table, seed=77)
    best = max(scan.values())
    assert best > 0.3
    assert result.better
    assert result.gained > result.sure
    assert foretold(made, table, seed=77) > best - 0.05
    assert result.batch.rms_cents >= result.nominal.rms_cents
    assert result.batch.share.value == pytest.approx(best, abs=0.08)
    # The file keeps what it was fitted with, so that a second fit of it finds the same.
    assert made.fit.note_weights
