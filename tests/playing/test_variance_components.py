"""Variance components against statsmodels where that serves, and at the edge where one is none."""

from __future__ import annotations

import warnings

import numpy as np
import pytest

from borewright.playing import separate
from borewright.playing.records import Record
from borewright.playing.variance_components import components


def test_as_a_reference_library_fits_it():
    """statsmodels' MixedLM on 12 takes by four players: deviations, effects, their errors."""
    import pandas
    from statsmodels.regression.mixed_linear_model import MixedLM

    rng = np.random.default_rng(2)
    player, take = np.repeat(np.arange(4), 60), np.repeat(np.arange(12), 20)
    fixed = np.column_stack([np.ones(240), np.tile(np.arange(20) % 2, 12)]).astype(float)
    values = fixed @ [3.0, -2.0] + rng.normal(0, 6, 4)[player] + rng.normal(0, 3, 12)[take]
    values += rng.normal(0, 2, 240)
    frame = pandas.DataFrame({"v": values, "take": take, "player": player})
    found = components(values, fixed, {"player": player, "take": take})
    with warnings.catch_warnings():
        warnings.simplefilter("ignore")
        fitted = MixedLM(
            values, fixed, groups=player, exog_re=np.ones((240, 1)),
            exog_vc=MixedLM.from_formula(
                "v ~ 1", frame, groups="player",
                vc_formula={"take": "0 + C(take)"},
            ).exog_vc,
        ).fit(reml=True)  # fmt: skip
    assert found.fixed == pytest.approx(np.asarray(fitted.fe_params), abs=1e-3)
    assert found.rest == pytest.approx(np.sqrt(fitted.scale), rel=1e-3)
    assert found.deviations["take"] == pytest.approx(np.sqrt(fitted.vcomp[0]), rel=0.01)
    reference = np.sqrt(float(np.asarray(fitted.cov_re)[0, 0]))
    assert found.deviations["player"] == pytest.approx(reference, rel=0.01)
    errors = np.sqrt(np.diag(np.asarray(fitted.cov_params()))[:2])
    assert np.sqrt(np.diag(found.covariance)) == pytest.approx(errors, rel=0.01)


@pytest.mark.parametrize("seed", range(6))
def test_three_takes_that_agree_scatter_little(seed):
    """Means of -3.5, -4.0 and -3.3 cents over thirty notes: their scatter is far below a cent."""
    rng = np.random.default_rng(seed)
    profile, records = rng.normal(0, 6, 30), []
    for take, mean in enumerate((-3.5, -4.0, -3.3)):
        rest = rng.normal(0, 2.5, 30)
        records += [
            Record(
                instrument="x", take=str(take), note=f"n{note}", cents=mean + profile[note] + own
            )
            for note, own in enumerate(rest - rest.mean())
        ]
    found = separate(records)
    assert found.scatter.take < 0.5
    assert found.scatter.note == pytest.approx(2.5, abs=0.6)
    interval = found.offsets[0].mean_cents
    assert interval.high - interval.low < 4.0


def test_a_barrel_blown_louder_is_compared_at_one_loudness():
    """4 dB louder at -0.6 cents a dB is 2.4 cents that are none of the barrel's."""
    left = []
    for seed in range(12):
        rng = np.random.default_rng(seed)
        profile, records = rng.normal(0, 5, 12), []
        for take in range(16):
            second = take % 2
            own, breath = rng.normal(0, 1.0), rng.normal(0, 1) + 4.0 * second
            for note in range(12):
                level = breath + rng.normal(0, 1.5)
                cents = profile[note] + own - 0.6 * level + rng.normal(0, 2)
                records.append(
                    Record(instrument="AB"[second], take=str(take), note=f"n{note}",
                           cents=cents, level_db=level - 20)
                )  # fmt: skip
        left.append(separate(records).offsets[1].difference_cents.value)
    assert np.mean(left) == pytest.approx(0.0, abs=0.6)
