"""Solved holes inside the engine: what the network becomes, which level is named, refusals."""

from __future__ import annotations

import importlib.util
import math

import jax.numpy as jnp
import numpy as np
import pytest

from borewright.acoustics import (
    error_bars,
    input_impedance,
    kernels,
    resonances,
    sensitivity,
    tuning,
)
from borewright.acoustics.network import holes_at, reference_impedance
from borewright.acoustics.options import Air
from borewright.acoustics.request import request_of_table
from borewright.acoustics.side_holes import hole_level
from borewright.acoustics.solved import HoleStates, MeshDetail, shape_of, solve_holes
from borewright.errors import AcousticsError

COARSE = MeshDetail(order=2)
STILL = Air(speed_of_sound=346.0, density=1.18, losses=False)


@pytest.fixture(autouse=True)
def _coarse(tmp_path, monkeypatch):
    """Quick solutions in a cache of their own: what is tested is what becomes of them."""
    monkeypatch.setenv("BOREWRIGHT_CACHE", str(tmp_path))

    def coarse(shapes, progress=None):
        return solve_holes(shapes, progress, mesh=COARSE, processes=1)

    monkeypatch.setattr("borewright.acoustics.solved.solve_holes", coarse)


def at_low_frequency(instrument, fingerings, scales, opened):
    """Series and shunt impedances (Pa s/m³) of all holes at 0.01 Hz, lossless."""
    request = request_of_table(instrument, fingerings, STILL, scales)
    column = kernels.column_of(*request[:3], jnp.asarray(request.fixed))
    omega = jnp.array([2 * np.pi * 0.01])
    count = len(instrument.hole_names())
    network = holes_at(column, omega, jnp.full((count, 1), opened))
    reference = complex(reference_impedance(column)[0])
    series = np.asarray(network.series)[:, 0] * reference
    return series, reference / np.asarray(network.shunt)[:, 0], float(omega[0])


def test_at_low_frequency_the_network_is_the_solved_hole(clarinet, fingerings):
    """A lined vent under a pad, a plain hole, an undercut one and a sunk pad, to a millionth.

    The definitions are those of docs/solved-holes.md: series and shunt lengths, the closed
    volume, and beside the shunt what a lining displaces.
    """
    level = hole_level(clarinet, "each solved in 3-D")
    assert str(level.words) == "side holes in 3-D, every hole by itself"
    mm, stiffness = 1e-3, STILL.density * STILL.speed_of_sound**2
    solved = solve_holes(
        [shape_of(clarinet, name) for name in clarinet.hole_names()], mesh=COARSE, processes=1
    )
    for state in ("open", "closed"):
        series, shunt, omega = at_low_frequency(clarinet, fingerings, level.terms, state == "open")
        impulse = 1j * omega * STILL.density
        for row, hole in enumerate(solved):
            own = getattr(hole, state)
            bore = np.pi * (hole.shape.bore_radius_mm * mm) ** 2
            section = np.pi * (hole.shape.radius_mm * mm) ** 2
            assert series[row] == pytest.approx(
                impulse * own.series_length_mm * mm / bore, rel=1e-9
            )
            inertance = impulse * own.shunt_length_mm * mm / section
            admittance = 1 / inertance
            if state == "closed":
                spring = stiffness / (1j * omega * own.volume_mm3 * mm**3)
                admittance = 1 / (spring + inertance)
            admittance -= 1j * omega * own.displaced_mm3 * mm**3 / stiffness
            # The spring hides the inertance at this frequency: look at its remainder alone.
            assert 1 / shunt[row] == pytest.approx(admittance, rel=1e-6)
            if state == "closed" and own.displaced_mm3 == 0:
                remainder = shunt[row] - spring
                assert remainder.imag == pytest.approx(inertance.imag, rel=2e-3)


def test_the_answer_names_its_level(clarinet, fingerings):
    plain = tuning(clarinet, fingerings)
    solved = tuning(clarinet, fingerings, side_holes="solved in 3-D")
    assert str(plain.model_level) == "closed forms"
    assert str(solved.model_level) == "side holes in 3-D"
    shifts = [b.cents - a.cents for a, b in zip(plain.notes, solved.notes, strict=True)]
    # They differ, by the few cents that closed forms are off.
    assert 0.5 < max(abs(shift) for shift in shifts) < 30
    bars = error_bars(clarinet, fingerings, side_holes="solved in 3-D")
    assert str(bars.model_level) == "side holes in 3-D"
    # What closed forms are known to be off by is taken off their bars, not told as chance.
    by_forms = error_bars(clarinet, fingerings)
    assert str(by_forms.model_level) == "closed forms, set right by side holes in 3-D"
    assert [bar.departure_cents for bar in by_forms.bars] == pytest.approx([-s for s in shifts])
    assert by_forms.bars[0].model_cents == bars.bars[0].model_cents == 1.0
    assert bars.bars[0].departure_cents == 0.0


def test_resonances_and_impedance_take_solved_holes(clarinet):
    found = resonances(clarinet, ["P"], 1, side_holes="solved in 3-D")
    assert found[0] != pytest.approx(resonances(clarinet, ["P"], 1)[0], rel=1e-5)
    near = np.array([0.99, 1.0, 1.01]) * found[0]
    size = np.abs(input_impedance(clarinet, ["P"], near, side_holes="solved in 3-D"))
    assert size.argmax() == 1


def test_a_hole_that_cannot_be_meshed_is_named(clarinet, monkeypatch):
    def all_but_one(shapes, progress=None):
        problem = AcousticsError("no mesh")
        found = solve_holes(shapes[1:], progress, mesh=COARSE, processes=1)
        return [HoleStates(shapes[0], None, None, problem), *found]

    monkeypatch.setattr("borewright.acoustics.solved.solve_holes", all_but_one)
    level = hole_level(clarinet, "each solved in 3-D")
    assert str(level.words) == (
        "side holes in 3-D, every hole by itself, but closed forms for V, which could not be meshed"
    )
    assert level.terms.holes[0].tolist() == [1, 1, 1, 1, 1, 0, 0]
    assert not np.allclose(level.terms.holes[1], level.terms.holes[0])


def test_an_unknown_way_is_refused(clarinet, fingerings):
    with pytest.raises(AcousticsError, match="no way to compute side holes") as caught:
        tuning(clarinet, fingerings, side_holes="by ear")
    assert "'solved in 3-D'" in str(caught.value.remedy)


def test_without_the_solver_the_bell_falls_back_and_is_named(
    clarinet, fingerings, monkeypatch, tmp_path
):
    monkeypatch.setenv("BOREWRIGHT_CACHE", str(tmp_path))
    find_spec = importlib.util.find_spec
    absent = ("ngsolve", "netgen")
    monkeypatch.setattr(
        importlib.util,
        "find_spec",
        lambda name, *a: None if name in absent else find_spec(name, *a),
    )
    table = tuning(clarinet, fingerings, side_holes="solved in 3-D")
    assert str(table.model_level) == (
        "side holes in 3-D, but the closed form of the bottom end, since NGSolve is not installed"
    )
    bars = error_bars(clarinet, fingerings, side_holes="solved in 3-D")
    assert bars.bars[0].model_cents == pytest.approx(math.hypot(1.0, 5.0))
    with pytest.raises(AcousticsError) as caught:
        tuning(clarinet, fingerings, side_holes="each solved in 3-D")
    assert "borewright[solve3d]" in str(caught.value.remedy)
    assert str(tuning(clarinet, fingerings).model_level) == "closed forms"


def test_the_level_of_a_file_goes_before_the_usual_one(clarinet, fingerings):
    """None tells the usual level: solved. What a file records, or what is asked for, rules."""
    usual = clarinet.model_copy(update={"side_holes": None})
    solved = tuning(usual, fingerings)
    assert str(solved.model_level) == "side holes in 3-D"
    assert solved == tuning(clarinet, fingerings, side_holes="solved in 3-D")
    asked = tuning(usual, fingerings, side_holes="closed forms")
    assert asked == tuning(clarinet, fingerings)
    assert sensitivity(usual, fingerings).model_level == solved.model_level
    assert error_bars(usual, fingerings).model_level == solved.model_level


def test_a_bell_that_cannot_be_solved_is_named(clarinet, monkeypatch):
    def refuse(_instrument):
        raise AcousticsError("no mesh", place="bell")

    monkeypatch.setattr("borewright.acoustics.solved.bell.solve_bell", refuse)
    level = hole_level(clarinet, "each solved in 3-D")
    assert str(level.words) == (
        "side holes in 3-D, every hole by itself, but the closed form of the bottom end, since the "
        "bell could not be solved"
    )
    assert not np.any(level.terms.end.length)
    assert level.terms.holes[1, 6] != 0


def test_what_is_only_tried_out_waits_for_no_solution(clarinet, monkeypatch):
    """In a drag bell and holes that were never solved so are those from before the move."""
    from borewright.model import dimensions, read_values, with_values

    values = list(read_values(clarinet))
    names = [(d.part, d.hole, d.measure) for d in dimensions(clarinet)]
    values[names.index(("bell", "", "length"))] += 0.5
    moved = with_values(clarinet, values)
    before = hole_level(clarinet, "solved in 3-D")

    def never(*_arguments, **_options):
        raise AssertionError

    monkeypatch.setattr("borewright.acoustics.solved.solve_holes", never)
    tried = hole_level(moved, "solved in 3-D", like=clarinet)
    assert str(tried.words) == "side holes in 3-D, the bell as before the move"
    assert np.array_equal(tried.terms.end.length, before.terms.end.length)
    solved = hole_level(moved, "solved in 3-D")
    assert str(solved.words) == "side holes in 3-D"
    assert not np.array_equal(solved.terms.end.length, before.terms.end.length)


@pytest.mark.parametrize(("diameter", "chimney"), [(0.6, 0.0), (1.0, -2.0), (2.0, -2.0)])
def test_a_pinhole_keeps_its_closed_form_which_is_its_solution(pipe, diameter, chimney):
    """A leak: nothing is solved for it, and a 3-D solution would say the same."""
    from borewright.acoustics.closed_lengths import closed_lengths
    from borewright.acoustics.solved import MeshDetail, shape_of, solve_hole
    from borewright.acoustics.structure import numbers_of, structure_of
    from borewright.model import ToneHole

    hole = ToneHole(name="leak", station_mm=150.0, diameter_mm=diameter, chimney_mm=chimney)
    leaky = pipe(holes=[hole], outside=19.0 - 2 * chimney)
    level = hole_level(leaky, "solved in 3-D")
    assert str(level.words) == "side holes in 3-D"
    plain = hole_level(leaky, "closed forms")
    assert np.array_equal(level.terms.holes, plain.terms.holes)
    forms = closed_lengths(structure_of(leaky), numbers_of(leaky))
    solved = solve_hole(shape_of(leaky, "leak"), mesh=MeshDetail(order=3, edge_layers=1))
    closed = float(forms.tube_open[0] + forms.ends_open[0])
    assert closed == pytest.approx(solved.shunt_length_mm, rel=0.035)
