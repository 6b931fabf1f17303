"""Yields against closed forms, brute force and other libraries."""

from __future__ import annotations

import numpy as np
import pytest
from little_tube import scattered, tube
from scipy.optimize import minimize
from scipy.stats import binom, norm
from statsmodels.stats.proportion import proportion_confint

from borewright.acoustics import error_bars
from borewright.acoustics.builds import solved_alone
from borewright.acoustics.cents import CENTS_PER_LOG
from borewright.model import Spread, dimensions
from borewright.studies import Rule, run_study, share_of, study_of, way_yield, yield_of
from borewright.studies.allotting import left_of_scatters
from borewright.studies.judging import Judge
from borewright.studies.outlook import good_in_batches
from borewright.studies.ways import Way


def test_intervals_are_those_of_another_library():
    for count, of in ((0, 30), (7, 30), (2040, 2048), (30, 30)):
        ours = share_of(count, of)
        theirs = proportion_confint(count, of, method="wilson")
        assert (ours.low, ours.high) == pytest.approx(theirs, abs=1e-12)


@pytest.mark.parametrize("within", [3.0, 6.0, 12.0])
def test_one_scattered_length_follows_the_normal_distribution(table, tmp_path, within):
    """Linear Gaussian limit: the lossless tube's 1731 cents times dL / L.

    The note A4 comes from the hole and hardly knows the length; so the yield is the share of a
    normal distribution between the bounds of D4 alone, its mean and slope by two solved tubes.
    """
    making = scattered(length=Spread(each=1.0))
    study = study_of(tube(), table, making, builds=2048, seed=3, side_holes="closed forms")
    result, _ = yield_of(
        study, run_study(study, tmp_path), Rule(within_cents=within, against_design=True)
    )
    # Not the study's own derivative: two designs, 2 mm apart, each solved by itself.
    low, high = (
        study_of(tube(300 + step), table, making, builds=100, side_holes="closed forms")
        for step in (-1.0, 1.0)
    )
    slope = (high.nominal_cents[0] - low.nominal_cents[0]) / 2
    # 300 mm and an end correction; the closed hole's air and warmth towards the top are the rest.
    assert slope == pytest.approx(-CENTS_PER_LOG / 304.6, rel=0.02)
    foretold = norm.cdf(within / abs(slope)) - norm.cdf(-within / abs(slope))
    four_errors = 4 * (foretold * (1 - foretold) / 2048) ** 0.5
    assert result.good.value == pytest.approx(foretold, abs=four_errors)
    assert result.first_order_rms_cents < 0.1


def test_yield_is_that_of_builds_solved_one_by_one(solved):
    study, folder = solved
    judge = Judge(study, Rule(within_cents=8.0, against_design=True))
    values, parameters = study.values(0, 150)
    found = [solved_alone(study.request, *both) for both in zip(values, parameters, strict=True)]
    cents = CENTS_PER_LOG * np.log(np.array(found) / study.target_hz)
    one_by_one = np.all(np.abs(cents - study.nominal_cents) <= 8.0, axis=1)
    result, sample = yield_of(study, folder, judge.rule)
    assert 0.1 < one_by_one.mean() < 0.9
    assert np.array_equal(sample.was_good[:150], one_by_one)
    assert result.precision_cents < 0.05
    assert result.good.of == 3000


def test_without_a_culprit_is_what_a_study_without_it_finds(solved, tmp_path):
    study, folder = solved
    rule = Rule(within_cents=8.0, against_design=True)
    result, _ = yield_of(study, folder, rule, checked=2)
    worst = result.kinds[0]
    assert sum(one.variance_share for one in result.kinds) == pytest.approx(1.0)
    spread = study.making.of(worst.measure)
    left = Spread(common=spread.common) if not worst.together else Spread(each=spread.each)
    other = study.with_making(study.making.model_copy(update={worst.measure: left}), 3000)
    anew, _ = yield_of(other, run_study(other, tmp_path), rule, checked=2)
    # The same draws: only builds within a whisker of the bounds may turn.
    assert worst.perfect.share.count == pytest.approx(anew.good.count, abs=15)
    assert worst.perfect.gained > 0.02
    assert worst.perfect.gained == pytest.approx(
        (worst.perfect.share.count - result.good.count) / 3000, abs=1e-12
    )


def test_a_planted_culprit_comes_first(table, tmp_path):
    making = scattered(
        diameter=Spread(each=0.4), length=Spread(each=0.05), bore_diameter=Spread(common=0.01)
    )
    study = study_of(tube(), table, making, builds=1024, side_holes="closed forms")
    result, _ = yield_of(study, run_study(study, tmp_path), Rule(against_design=True), checked=1)
    assert result.singles[0].dimension == "H diameter"
    assert result.kinds[0].measure == "diameter"
    assert result.telling == ["A4"]
    assert result.kinds[0].perfect.share.value == 1.0


def test_the_least_cost_at_a_variance_is_what_an_optimiser_finds():
    """Least sum of 1/r at a given sum of v r², against SciPy's SLSQP."""
    shares = np.array([0.5, 0.3, 0.15, 0.04, 0.01])
    left = left_of_scatters(shares, 0.5)
    budget = float(shares @ left**2)
    found = minimize(
        lambda r: np.sum(1 / r), np.full(5, 0.5), method="SLSQP", bounds=[(0.05, 1.0)] * 5,
        constraints={"type": "ineq", "fun": lambda r: budget - shares @ r**2},
        options={"ftol": 1e-12, "maxiter": 500},
    )  # fmt: skip
    assert found.success
    assert left == pytest.approx(found.x, abs=2e-3)


def test_an_allotment_gives_its_yield_when_built(solved, tmp_path):
    study, folder = solved
    rule = Rule(within_cents=8.0, against_design=True)
    result, sample = yield_of(study, folder, rule, wanted=0.9, checked=1)
    allotted = result.allotment
    assert allotted.reached
    assert all(one.each_mm <= one.now_each_mm for one in allotted.kinds)
    scatter = {
        one.measure: Spread(common=one.common_mm, each=one.each_mm) for one in allotted.kinds
    }
    making = scattered(**scatter)
    other = study.with_making(making, 3000)
    anew, _ = yield_of(other, run_study(other, tmp_path), rule, checked=1)
    assert anew.good.value == pytest.approx(0.9, abs=0.01)
    made = way_yield(sample, [Way("all of it", scatter)], checked=True)
    assert made.what_if.share.value == pytest.approx(anew.good.value, abs=0.005)
    assert made.checked_cents < 0.5


def test_a_design_that_is_out_cannot_be_saved_by_tolerances(solved):
    study, folder = solved
    result, _ = yield_of(study, folder, Rule(within_cents=1.0, beyond_cents=5), wanted=0.9)
    assert result.design_off
    assert not result.allotment.reached
    assert result.good.value < 0.05


def test_batches_of_independent_instruments_are_binomial(table):
    """Without anything in common the count of a batch is binomial (SciPy's distribution)."""
    making = scattered(length=Spread(each=1.0))
    study = study_of(tube(), table, making, builds=100, side_holes="closed forms")
    judge = Judge(study, Rule(within_cents=6.0, against_design=True))
    counts = good_in_batches(study, judge, 12)
    share = counts.mean() / 12
    assert counts.var() == pytest.approx(binom.var(12, share), rel=0.15)


def test_instruments_of_one_lot_stand_or_fall_together(table):
    making = scattered(bore_diameter=Spread(common=0.5))
    study = study_of(tube(), table, making, builds=100, side_holes="closed forms")
    slope = np.abs(study.slopes @ study.members[study.kinds.index("bore_diameter")]).max()
    judge = Judge(study, Rule(within_cents=0.4 * slope, beyond_cents=100, against_design=True))
    assert set(good_in_batches(study, judge, 12)) == {0, 12}


def test_a_chosen_barrel_takes_what_is_common_away(table, tmp_path):
    making = scattered(length=Spread(each=1.0))
    study = study_of(tube(), table, making, builds=1024, side_holes="closed forms")
    folder = run_study(study, tmp_path)
    names = [one.label for one in dimensions(study.instrument)]
    assert "barrel length" in names
    as_it_comes, _ = yield_of(study, folder, Rule(within_cents=3, against_design=True), checked=1)
    chosen, _ = yield_of(
        study, folder, Rule(within_cents=3, against_design=True, barrel_mm=5), checked=1
    )
    assert as_it_comes.good.value < 0.5
    assert chosen.good.value == 1.0


def test_first_order_error_bars_agree_where_scatters_are_small_and_not_where_they_are_large(
    table, tmp_path
):
    """Against the error bars of the room of acoustics, which know nothing of studies."""
    small = {"length": Spread(each=0.3), "diameter": Spread(common=0.05, each=0.05)}
    bars = error_bars(tube(), table, scattered(**small), side_holes="closed forms").bars
    study = study_of(tube(), table, scattered(**small), builds=2048, side_holes="closed forms")
    rule = Rule(within_cents=8.0, against_design=True)
    result, _ = yield_of(study, run_study(study, tmp_path / "small"), rule, checked=1)
    drawn = [note.scatter_cents for note in result.notes]
    # 2,048 draws leave 1.6 % of a standard deviation open.
    assert drawn == pytest.approx([bar.dimensions_cents for bar in bars], rel=0.05)
    assert result.first_order_rms_cents < 0.1
    large = {"diameter": Spread(each=2.0)}
    study = study_of(tube(), table, scattered(**large), builds=1024, side_holes="closed forms")
    result, _ = yield_of(study, run_study(study, tmp_path / "large"), rule, checked=1)
    # A hole of 8 mm that is 2 mm off bends the law of diameter and pitch by many cents.
    assert result.first_order_rms_cents > 5.0
    assert result.precision_cents < 0.05
