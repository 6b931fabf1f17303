"""What enters is lost or radiated: three powers, each computed on its own."""

from __future__ import annotations

import jax.numpy as jnp
import numpy as np
import pytest

from borewright.acoustics import Air
from borewright.acoustics.air import air_state
from borewright.acoustics.character import character, spectra
from borewright.acoustics.character.hole_power import hole_power
from borewright.acoustics.network import Column, holes_at
from borewright.acoustics.options import Options
from borewright.acoustics.prepared import prepare
from borewright.acoustics.structure import numbers_of, structure_of
from borewright.errors import AcousticsError

#: The promise is 1 %; Gauss points and local radii leave much less.
CLOSED = 1e-3


def balance(curves) -> np.ndarray:
    return curves.radiated_holes + curves.radiated_end + curves.wall - 1


@pytest.mark.parametrize("interaction", [False, True])
def test_a_clarinet_with_everything(clarinet, fingerings, interaction):
    instrument = clarinet.model_copy(update={"outside_interaction": interaction})
    curves = spectra(instrument, fingerings)
    assert curves.frequencies[-1] > 3500
    assert np.max(np.abs(balance(curves))) < CLOSED
    assert np.min(curves.wall) > 0
    # Both parts count: neither is within the error of nothing.
    assert np.max(curves.wall) > 0.9
    assert np.max(curves.radiated_holes + curves.radiated_end) > 0.5
    # Power can flow into one opening from another, but not out of nowhere; where next to nothing
    # is radiated, what holes pass each other inside is not settled to the last digit.
    assert np.min(curves.radiated_holes + curves.radiated_end) > -CLOSED / 10


def test_rough_walls_lose_more_and_the_balance_stays_closed(clarinet, fingerings):
    smooth = spectra(clarinet, fingerings)
    rough = spectra(clarinet.model_copy(update={"wall_loss_factor": 2.0}), fingerings)
    assert np.max(np.abs(balance(rough))) < CLOSED
    low = smooth.frequencies < 800
    assert np.mean(rough.wall[:, low]) > np.mean(smooth.wall[:, low])


def test_without_losses_everything_radiates(clarinet, fingerings):
    air = Air(speed_of_sound=346.0, density=1.18, losses=False)
    curves = spectra(clarinet, fingerings, air)
    assert curves.wall == pytest.approx(0.0, abs=1e-12)
    # Below 100 Hz next to nothing enters: rounding errors of large numbers remain. What holes add
    # to each other is worked out in three rounds, which leaves 2e-6.
    heard = curves.frequencies > 100
    assert balance(curves)[:, heard] == pytest.approx(0.0, abs=1e-5)


def test_a_bare_pipe_against_the_textbook(pipe, textbook, tabled, still):
    """Shares of a lossy pipe with an unflanged end, from its matrix alone (0.1 %)."""
    instrument = pipe(length=500, top=14.6, outside=21.6, climate=still)
    curves = spectra(instrument, tabled(("F3", "chalumeau", ())))
    hz, air = curves.frequencies, air_state(25.0)
    load = textbook.open_end(textbook.Tube(0.5, 7.3e-3, 10.8e-3, [], air), hz)
    whole = textbook.cylinder(0.5, 7.3e-3, hz, air)
    pressure = whole[:, 0, 0] * load + whole[:, 0, 1]
    flow = whole[:, 1, 0] * load + whole[:, 1, 1]
    share = load.real / (pressure * np.conj(flow)).real
    assert curves.radiated_end[0] == pytest.approx(share, rel=1e-3, abs=1e-6)
    assert curves.wall[0] == pytest.approx(1 - share, rel=1e-3)
    assert np.all(curves.radiated_holes == 0)


@pytest.mark.parametrize("is_open", [True, False])
def test_holes_are_the_engines(clarinet, is_open):
    """Pad, undercut, sunk seat, lining: the admittance found on the way is the engine's."""
    structure, options = structure_of(clarinet), Options()
    numbers = numbers_of(clarinet)
    # As solved holes would have it: series branches, ends and stopped volumes of their own.
    plain = numbers.solved.holes
    scales = np.linspace(0.8, 1.2, plain.size).reshape(plain.shape)
    numbers = numbers._replace(solved=numbers.solved._replace(holes=scales))
    column = Column(structure, options, *prepare(structure, numbers, jnp.zeros(2), options))
    omega = 2 * jnp.pi * jnp.array([120.0, 700.0, 2900.0])
    count = len(structure.holes)
    engine = holes_at(column, omega, jnp.full((count, 1), is_open)).shunt
    ours = hole_power(column, omega, is_open=is_open)
    np.testing.assert_allclose(ours.admittance, engine, rtol=1e-10)
    # What enters a hole is its own real part: radiated or lost in its tube (integrated).
    np.testing.assert_allclose(ours.radiated + ours.wall, np.real(engine), rtol=1e-5)


def test_radiated_shares_by_band_are_means_of_the_curve(clarinet, fingerings):
    table, curves = character(clarinet, fingerings), spectra(clarinet, fingerings)
    radiated = curves.radiated_holes + curves.radiated_end
    note = table.notes[0]
    assert [band.centre_hz for band in note.bands] == [
        100, 125, 160, 200, 250, 315, 400, 500, 630, 800, 1000, 1250, 1600, 2000, 2500, 3150,
    ]  # fmt: skip
    inside = (curves.frequencies >= 891.25) & (curves.frequencies < 1122.02)
    [at_1000] = [band for band in note.bands if band.centre_hz == 1000]
    assert at_1000.radiated == pytest.approx(np.mean(radiated[0][inside]))
    assert table.balance_error == pytest.approx(np.max(np.abs(balance(curves))))
    # All holes closed: the bell does it all. Some open: hardly any of a low note reaches it.
    assert note.bell_share == pytest.approx(1.0)
    assert table.note("F#4").bell_share < 0.2


def test_a_tube_that_nothing_enters_is_refused(pipe, tabled):
    air = Air(speed_of_sound=346.0, density=1.18, losses=False)
    instrument = pipe(length=600, top=14.6, bottom_end="ideal")
    with pytest.raises(AcousticsError, match="no power enters"):
        character(instrument, tabled(("D3", "chalumeau", ())), air)
