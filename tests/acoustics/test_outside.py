"""What openings hear of each other outside, error bars against virtual builds, climates."""

import numpy as np
import pytest

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
from borewright.acoustics.climates import in_climate
from borewright.model import Climate, Doubts, Spread, ToneHole


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
    from borewright.acoustics.request import request_of_table

    hearing = clarinet.model_copy(update={"outside_interaction": True})
    request = request_of_table(hearing, fingerings)
    solved = kernels.resonances(*request)
    column = kernels._column(
        request.structure, request.options, request.numbers, jnp.asarray(request.fixed)
    )
    angle = jnp.angle(
        reflection(input_admittance(column, solved.frequency, jnp.asarray(request.masks.T)))
    )
    assert float(jnp.max(jnp.abs(angle / solved.slope))) * 1200 / np.log(2) < 1e-3


def test_error_bars_agree_with_virtual_builds(clarinet, fingerings):
    """First order against 2,000 builds solved anew: standard deviations within 10 %.

    A standard deviation from 2,000 draws is itself uncertain by 1.6 %.
    """
    bars = error_bars(clarinet, fingerings)
    cents = virtual_builds(clarinet, fingerings, builds=2000, seed=3)
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
    columns = [d.endswith(" diameter") and "bore" not in d for d in found.dimensions]
    undercuts = [d.endswith("undercut diameter") for d in found.dimensions]
    chosen = np.array(columns) & ~np.array(undercuts)
    expected = np.abs(np.array(found.cents_per_tenth_mm)[:, chosen].sum(axis=1))
    bars = error_bars(clarinet, fingerings, common)
    np.testing.assert_allclose([b.total_cents for b in bars.bars], expected, rtol=1e-9, atol=1e-9)


def test_parameter_effects_are_derivatives(clarinet, fingerings):
    """Room temperature and reed volume by central differences of whole tuning tables."""
    effects = {effect.parameter: effect for effect in parameter_effects(clarinet, fingerings)}
    low, high = (
        tuning(in_climate(clarinet, room_c=clarinet.climate.room_c + step), fingerings)
        for step in (-0.05, 0.05)
    )
    by_register = {}
    for one, other in zip(low.notes, high.notes, strict=True):
        by_register.setdefault(one.register_.value, []).append((other.cents - one.cents) / 0.1)
    for register, slopes in by_register.items():
        found = effects["room temperature"].cents_per_unit[register]
        assert found == pytest.approx(np.mean(slopes), abs=1e-3)
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
