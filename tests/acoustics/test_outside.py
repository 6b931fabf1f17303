"""What openings hear of each other outside, error bars against virtual builds, climates."""

import itertools

import numpy as np
import pytest
from scipy.integrate import quad
from scipy.special import jvp, yvp

from borewright.acoustics import (
    Air,
    climate_tables,
    error_bars,
    parameter_effects,
    resonances,
    sensitivity,
    tuning,
    virtual_builds,
    warm_up,
)
from borewright.acoustics.builds import frequencies_of_builds, solved_alone
from borewright.acoustics.climates import in_climate
from borewright.acoustics.error_bars import drawn_builds
from borewright.acoustics.interaction import directivity
from borewright.acoustics.parameters import read_parameters
from borewright.acoustics.request import request_of_table
from borewright.model import Climate, Doubts, Spread, ToneHole, dimensions
from borewright.words import ENGLISH


def both_ways(instrument, open_holes, air, cents):
    alone = instrument.model_copy(update={"outside_interaction": False})
    return cents(
        resonances(instrument, open_holes, air=air), resonances(alone, open_holes, air=air)
    )


def test_open_holes_lower_each_others_resonances_slightly(pipe, lossless, cents):
    """Lefebvre, Scavone and Kergomard (arXiv 1207.5490): the effect lowers, by a few cents."""
    holes = [ToneHole(name=str(n), station_mm=180 + 25 * n, diameter_mm=9.0) for n in range(4)]
    tube = pipe(holes=holes, outside_interaction=True)
    shift = both_ways(tube, ["0", "1", "2", "3"], lossless, cents)
    assert -10 < shift[0] < -0.5


def test_closed_holes_hear_nothing(pipe, lossless, cents):
    holes = [ToneHole(name=str(n), station_mm=100 + 25 * n, diameter_mm=6.0) for n in range(4)]
    tube = pipe(holes=holes, outside_interaction=True)
    # The bottom end alone has no other opening to hear.
    assert np.abs(both_ways(tube, [], lossless, cents)).max() < 1e-6


def test_distant_openings_hardly_matter(pipe, lossless, cents):
    near = [ToneHole(name=str(n), station_mm=200 + 20 * n, diameter_mm=8.0) for n in range(2)]
    far = [ToneHole(name=str(n), station_mm=100 + 150 * n, diameter_mm=8.0) for n in range(2)]
    effect = [
        abs(both_ways(pipe(holes=h, outside_interaction=True), ["0", "1"], lossless, cents)[0])
        for h in (near, far)
    ]
    assert effect[1] < effect[0] / 3


def test_two_rounds_settle_the_outside(clarinet, fingerings):
    """The full function's residual at the solution stays below 0.001 cent (slope over 3 rad)."""
    import jax.numpy as jnp

    from borewright.acoustics import kernels
    from borewright.acoustics.network import input_admittance, reflection

    hearing = clarinet.model_copy(update={"outside_interaction": True})
    request = request_of_table(hearing, fingerings)
    solved = kernels.resonances(*request)
    column = kernels.column_of(
        request.structure, request.options, request.numbers, jnp.asarray(request.fixed)
    )
    angle = jnp.angle(
        reflection(input_admittance(column, solved.frequency, jnp.asarray(request.masks.T)))
    )
    assert float(jnp.max(jnp.abs(angle / solved.slope))) * 1200 / np.log(2) < 1e-3


def cylinder_pressure(along: float, bearing: float) -> float:
    """Pressure of a point source on a long rigid cylinder, over that in free air (Laplace).

    G = sum over m of (2 - [m = 0]) cos(m bearing) / (2 pi^2) times the integral over y > 0 of
    exp(-y along) 2 / (pi y^2 |H_m'(y)|^2), radius 1: separation of variables, the path of
    integration turned into the imaginary axis, where the Wronskian makes it real and positive.
    """

    def part(order: int) -> float:
        def integrand(y: float) -> float:
            size = jvp(order, y) ** 2 + yvp(order, y) ** 2
            return np.exp(-y * along) * 2 / (np.pi * y**2 * size) if np.isfinite(size) else 0.0

        reach = max(order, 1)
        ends = [1e-9, 0.2 * reach, 0.6 * reach, reach, 1.5 * reach + 3, reach + 40 / along]
        ends = sorted(ends)
        return sum(quad(integrand, *pair, limit=200)[0] for pair in itertools.pairwise(ends))

    orders = np.arange(int(15 / along) + 3)
    with np.errstate(over="ignore", invalid="ignore"):
        parts = np.array([part(int(order)) for order in orders])
    weights = np.where(orders == 0, 1.0, 2.0) * np.cos(orders * bearing)
    distance = np.hypot(along, 2 * np.sin(bearing / 2))
    return float(4 * np.pi * distance * np.sum(weights * parts) / (2 * np.pi**2))


@pytest.mark.parametrize("along", [1.0, 2.0, 4.0, 10.0])
@pytest.mark.parametrize("bearing_deg", [0, 60, 180])
def test_what_the_body_makes_of_a_neighbour(along, bearing_deg):
    """The fitted factor within 0.05 of the exact solution on a rigid cylinder."""
    bearing = np.radians(bearing_deg)
    exact = cylinder_pressure(along, bearing)
    ours = float(directivity(np.array(along), np.array(np.cos(bearing))))
    assert ours == pytest.approx(exact, abs=0.05)


def test_a_neighbour_on_the_same_side_is_heard_more_than_one_behind(pipe, lossless, cents):
    shifts = []
    for bearing in (0, 180):
        holes = [
            ToneHole(name="1", station_mm=180, diameter_mm=9.0),
            ToneHole(name="2", station_mm=205, diameter_mm=9.0, bearing_deg=bearing),
        ]
        tube = pipe(holes=holes, outside_interaction=True)
        shifts.append(both_ways(tube, ["1", "2"], lossless, cents)[0])
    assert shifts[0] < 1.5 * shifts[1] < 0


def test_builds_are_as_good_as_solved_one_by_one(clarinet, fingerings):
    """Two steps with the nominal slope, in single precision, against the counting sweep."""
    request = request_of_table(clarinet, fingerings)
    values, parameters = drawn_builds(clarinet, request, Doubts(), 20, np.random.default_rng(5))
    found, astray = frequencies_of_builds(request, values, parameters)
    alone = np.array(
        [solved_alone(request, *build) for build in zip(values, parameters, strict=True)]
    )
    assert astray == 0
    assert np.abs(1200 * np.log2(found / alone)).max() < 0.1


@pytest.mark.parametrize(("longer_mm", "by_itself"), [(60.0, 0), (200.0, 1)])
def test_a_build_that_went_astray_is_found_all_the_same(
    clarinet, fingerings, longer_mm, by_itself, monkeypatch
):
    """Beyond what derivatives foretell: more steps find it, or the sweep does."""
    monkeypatch.setattr("borewright.acoustics.builds.FEW", 0)
    request = request_of_table(clarinet, fingerings)
    longer = np.array(request.numbers.values)
    labels = [dimension.label for dimension in dimensions(clarinet)]
    longer[labels.index("barrel length")] += longer_mm
    parameters = np.asarray(read_parameters(request.numbers))
    values = np.stack([np.asarray(request.numbers.values), longer])
    found, astray = frequencies_of_builds(request, values, np.stack([parameters] * 2))
    assert astray == by_itself
    alone = solved_alone(request, longer, parameters)
    # Single precision leaves a hundredth of a cent.
    np.testing.assert_allclose(found[1], alone, rtol=1e-12 if by_itself else 1e-5)


@pytest.mark.slow
def test_error_bars_agree_with_virtual_builds(clarinet, fingerings):
    """First order against 10,000 builds solved anew: standard deviations within 10 %.

    A standard deviation from 10,000 draws is itself uncertain by 0.7 %.
    """
    bars = error_bars(clarinet, fingerings)
    cents = virtual_builds(clarinet, fingerings, seed=3)
    assert cents.shape == (10_000, len(fingerings.fingerings))
    drawn = cents.std(axis=0)
    linear = np.array([(b.total_cents**2 - b.model_cents**2) ** 0.5 for b in bars.bars])
    np.testing.assert_allclose(linear, drawn, rtol=0.10)


def test_a_common_cause_adds_up_before_squaring(clarinet, fingerings):
    nothing = {name: 0.0 for name in Doubts().parameters}
    kinds = {
        name: Spread() for name, field in Doubts.model_fields.items() if field.annotation is Spread
    }
    common = Doubts(**{**kinds, "diameter": Spread(common=0.1)}, parameters=nothing, model_cents=0)
    found = sensitivity(clarinet, fingerings)
    columns = [d.endswith(" diameter") and "bore" not in d for d in found.columns]
    undercuts = [d.endswith("undercut diameter") for d in found.columns]
    chosen = np.array(columns) & ~np.array(undercuts)
    expected = np.abs(np.array(found.cents_per_tenth_mm)[:, chosen].sum(axis=1))
    bars = error_bars(clarinet, fingerings, common)
    np.testing.assert_allclose([b.total_cents for b in bars.bars], expected, rtol=1e-9, atol=1e-9)


def test_parameter_effects_are_derivatives(clarinet, fingerings):
    """Room temperature and reed volume by central differences of whole tuning tables."""
    found = parameter_effects(clarinet, fingerings)
    effects = {ENGLISH.tell(effect.parameter): effect for effect in found}
    low, high = (
        tuning(in_climate(clarinet, room_c=clarinet.climate.room_c + step), fingerings)
        for step in (-0.05, 0.05)
    )
    by_register = {}
    for one, other in zip(low.notes, high.notes, strict=True):
        by_register.setdefault(one.register_.value, []).append((other.cents - one.cents) / 0.1)
    for register, slopes in by_register.items():
        mean = effects["room temperature"].cents_per_unit[register]
        assert mean == pytest.approx(np.mean(slopes), abs=1e-3)
    assert all(value < 0 for value in effects["reed equivalent volume"].cents_per_unit.values())
    assert all(value < 0 for value in effects["carbon dioxide"].cents_per_unit.values())


def test_a_warmer_room_is_sharper_and_the_warm_up_rises(clarinet, fingerings):
    tables = climate_tables(clarinet, fingerings)
    first = [tables[name].notes[0].cents for name in ("cold start", "warm", "hot room")]
    assert first == sorted(first)
    points = warm_up(clarinet, fingerings, minutes=(0, 2, 6, 30))
    for register in points[0].mean_cents:
        rising = [point.mean_cents[register] for point in points]
        assert rising == sorted(rising)
    assert points[-1].reed_end_c == pytest.approx(clarinet.climate.reed_end_c, abs=0.01)


def test_uniform_temperature_follows_the_root_law(clarinet, fingerings):
    """Dry air at one temperature throughout: 1200 log2 sqrt(T ratio), within 1.2 cents.

    Losses grow with temperature and take back about 1 cent of 44; air is dry here so that
    humidity does not enter.
    """
    tables = []
    for celsius in (15.0, 30.0):
        climate = Climate(
            room_c=celsius, reed_end_c=celsius, relative_humidity=0, carbon_dioxide=0.0004
        )
        tables.append(tuning(clarinet.model_copy(update={"climate": climate}), fingerings))
    expected = 600 * np.log2((30.0 + 273.15) / (15.0 + 273.15))
    shift = [b.cents - a.cents for a, b in zip(tables[0].notes, tables[1].notes, strict=True)]
    assert np.median(shift) == pytest.approx(expected, abs=1.2)
    assert Air(340.0, 1.2).losses
