"""The quadratic programme against an independent solver (scipy's SLSQP) and by hand."""

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.optimize import minimize

from borewright.fit.programme import best_step


def test_a_bound_stops_the_step_and_names_its_price():
    # min x²/2 - 3x with x <= 1: x = 1, and the price of the limit is 3 - 1 = 2.
    step = best_step(
        np.eye(1),
        np.array([-3.0]),
        np.array([-5.0]),
        np.array([1.0]),
        np.zeros(0),
        np.zeros((0, 1)),
    )
    assert step.move[0] == pytest.approx(1.0, abs=1e-6)
    assert step.high_price[0] == pytest.approx(2.0, abs=1e-4)
    assert step.low_price[0] == pytest.approx(0.0, abs=1e-4)


def test_a_spacing_stops_the_step():
    # min (x² + y²)/2 - x - y with 1 - x - y >= 0: x = y = 1/2, price 1/2.
    step = best_step(
        np.eye(2),
        -np.ones(2),
        np.full(2, -9.0),
        np.full(2, 9.0),
        np.array([1.0]),
        np.array([[-1.0, -1.0]]),
    )
    np.testing.assert_allclose(step.move, [0.5, 0.5], atol=1e-6)
    assert step.spacing_price[0] == pytest.approx(0.5, abs=1e-4)


def test_a_broken_spacing_is_mended_as_far_as_the_limits_allow():
    step = best_step(
        np.eye(1),
        np.zeros(1),
        np.array([-0.3]),
        np.array([0.3]),
        np.array([-1.0]),
        np.array([[1.0]]),
    )
    assert step.move[0] == pytest.approx(0.3, abs=1e-6)


@settings(max_examples=15, deadline=None)
@given(st.integers(0, 10_000))
def test_agrees_with_slsqp(seed):
    generator = np.random.default_rng(seed)
    n, m = 4, 2
    root = generator.normal(size=(6, n))
    hessian, gradient = root.T @ root + 0.1 * np.eye(n), generator.normal(size=n)
    low, high = -generator.uniform(0.1, 1, n), generator.uniform(0.1, 1, n)
    gaps, slopes = generator.uniform(0, 0.5, m), generator.normal(size=(m, n))
    step = best_step(hessian, gradient, low, high, gaps, slopes)
    other = minimize(
        lambda x: x @ hessian @ x / 2 + gradient @ x,
        np.zeros(n),
        jac=lambda x: hessian @ x + gradient,
        bounds=list(zip(low, high, strict=True)),
        constraints={"type": "ineq", "fun": lambda x: gaps + slopes @ x, "jac": lambda x: slopes},
        method="SLSQP",
        options={"ftol": 1e-12, "maxiter": 300},
    )
    ours = step.move @ hessian @ step.move / 2 + gradient @ step.move
    assert ours <= other.fun + 1e-6
    assert np.all(gaps + slopes @ step.move >= -1e-6)
