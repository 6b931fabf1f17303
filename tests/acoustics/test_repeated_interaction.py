"""One pass of interaction, outside and inside, against many: the exact coupled solution."""

from __future__ import annotations

import jax.numpy as jnp
import numpy as np
import pytest

from borewright.acoustics import Air, kernels, network, resonances
from borewright.acoustics.complex_numbers import reciprocal
from borewright.acoustics.interaction import outside_impedances
from borewright.acoustics.request import request_for
from borewright.acoustics.twoport import climb
from borewright.model import Instrument, Part, ToneHole

STILL = Air(346.0, 1.18, losses=False)


def row_of_five():
    sizes = [(290, 7), (315, 8), (340, 8), (365, 9), (395, 10)]
    part = Part(
        name="tube",
        length_mm=450,
        bore=[(0, 15), (450, 15)],
        outside=[(0, 29), (450, 29)],
        holes=[
            ToneHole(name=f"h{i}", station_mm=x, diameter_mm=d)
            for i, (x, d) in enumerate(sizes, start=1)
        ],
    )
    return Instrument(name="invented row", invented=True, parts=[part], side_holes="closed forms")


def exact_ratio(column, frequency, is_open, rounds=20):
    """What the openings add to each other, from flows and pressures that already know of it.

    Of the package's own only the impedances between openings are used.
    """
    omega = 2 * jnp.pi * frequency
    parts = network.parts_of(column, omega, is_open)
    ends, air = column.prepared.ends, column.prepared.end_air
    count = len(column.structure.holes)
    at = jnp.argsort(column.where, stable=True)[:count]
    bottom = jnp.stack([0 * ends.length, 0 * ends.length, ends.length])
    place = jnp.concatenate([column.prepared.holes.place, bottom[None]])
    outside = outside_impedances(place, omega / air.speed_of_sound, air.density, omega)
    inside = 1j * omega * air.density * jnp.pad(column.prepared.inside, ((0, 1), (0, 1), (0, 0)))
    own = parts.networks.shunt
    ratio = jnp.zeros((count + 1, frequency.shape[0]), complex)
    opened = jnp.concatenate([is_open, jnp.ones((1, is_open.shape[1]), bool)])
    for _ in range(rounds):
        shunt = own * reciprocal(1 + ratio[:-1])
        heard = (parts.end[0], parts.end[1] * reciprocal(1 + ratio[-1]))
        branches = network.HoleNetwork(parts.networks.series, shunt)
        _, pressure = climb(parts.ports, *network.placed(column, branches), heard)
        flow = jnp.concatenate([shunt * pressure[at], heard[1][None]])
        # Each opening's own part of the pressure: flow over its own admittance.
        alone = jnp.concatenate([flow[:-1] / own, heard[1][None] / parts.end[1] * parts.end[0]])
        added = jnp.sum(inside * flow[None], axis=1)
        loud = jnp.where(opened, flow, 0.0)
        added += jnp.where(opened, jnp.sum(outside * loud[None], axis=1), 0.0)
        ratio = added / network.reference_impedance(column) / alone
    return ratio


@pytest.mark.parametrize("opened", [("h3",), ("h1", "h2", "h3", "h4", "h5"), ("h2", "h5")])
def test_one_pass_is_enough(opened):
    instrument = row_of_five()
    found = jnp.asarray(resonances(instrument, opened, 4, air=STILL))
    request = request_for(instrument, [opened], [1], 2500.0, STILL)
    column = kernels.column_of(*request[:3], jnp.asarray(request.fixed))
    is_open = jnp.asarray(request.masks[0])[:, None]

    def angle(frequency, ratio):
        admittance = network.input_admittance(column, frequency, is_open, ratio)
        return np.angle(np.asarray(network.reflection(admittance)))

    exact = exact_ratio(column, found, is_open)
    turned = angle(found, exact) - angle(found, None)
    slope = (angle(found * 1.0001, exact) - angle(found, exact)) / np.log(1.0001)
    cents = turned / slope * 1200 / np.log(2)
    # The fourth lies beyond the cut-off of the open holes.
    assert np.abs(cents[:3]).max() < 0.05
    assert np.abs(cents).max() < 0.1
