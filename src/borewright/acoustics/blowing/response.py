"""What the resonator answers: input impedance and radiated sound of all fingerings on a grid.

The chain is climbed from the bottom as in the counting sweep; on the way every opening's flow
is carried to the listener as a small source in free air.
"""

from __future__ import annotations

from typing import NamedTuple

import jax.numpy as jnp
import numpy as np
from jax import Array, lax

from borewright.acoustics import kernels
from borewright.acoustics.compilation import compiled
from borewright.acoustics.complex_numbers import reciprocal
from borewright.acoustics.elements.hole_junction import matching_length
from borewright.acoustics.elements.hole_outside import pad_length, rim_length
from borewright.acoustics.holes import HoleNetwork
from borewright.acoustics.network import (
    Column,
    end_state,
    holes_at,
    reference_impedance,
    slice_ports,
    top_admittance,
)
from borewright.acoustics.options import Options
from borewright.acoustics.prepared import prepare
from borewright.acoustics.request import Request
from borewright.acoustics.structure import Numbers, Structure
from borewright.acoustics.sweep import sections
from borewright.acoustics.twoport import TwoPort, apply, running_products
from borewright.model import BottomEnd

_State = tuple[Array, Array, Array]  # pressure, flow, and what the listener hears so far


class Response(NamedTuple):
    """Answers of F fingerings at K frequencies; the reed is left out, the chamber is in.

    ``impedance`` is over the reference impedance (Pa s/m³); ``radiated`` is the pressure at
    the listener over the pressure at the reed, its travelling time taken off.
    """

    frequencies: np.ndarray  # [K] Hz
    impedance: np.ndarray  # [F, K] complex
    radiated: np.ndarray  # [F, K] complex
    reference: float  # Pa s/m³
    reed_delay: float  # s, the reed's equivalent volume over (section times speed of sound)


def without_reed(numbers: Numbers) -> Numbers:
    """The same instrument with a reed that does not yield: blowing moves the reed itself."""
    return numbers._replace(reed=numbers.reed._replace(equivalent_volume_mm3=np.array(0.0)))


def _answers(
    structure: Structure,
    options: Options,
    numbers: Numbers,
    fixed: Array,
    frequencies: Array,
    masks: Array,
    distance: Array,
) -> tuple[Array, Array, Array, Array]:
    """Normalised impedance and radiated share [F, K], reference impedance and c S at the top."""
    column = Column(structure, options, *prepare(structure, numbers, fixed, options))
    omega = 2 * jnp.pi * frequencies
    open_holes = masks.T  # [H, F]
    pressure, flow = end_state(column, omega)
    paths = _paths(column, omega, distance)  # [H + 1, K]
    radiates = structure.bottom_end in (BottomEnd.RADIATING, BottomEnd.FLANGED)
    ones = jnp.ones((1, masks.shape[0]))
    heard = paths[-1] * flow if radiates else 0 * flow
    state: _State = (pressure[:, None] * ones, flow[:, None] * ones, heard[:, None] * ones)
    if structure.holes:
        state = _climb_holes(column, omega, open_holes, paths, state)
    else:
        ports = running_products(slice_ports(column, omega))
        whole = TwoPort(*(entry[-1][:, None] for entry in ports))
        state = (*apply(whole, state[:2]), state[2])
    p, u, heard = state
    u = u + p * top_admittance(column, omega)[:, None]
    reference = reference_impedance(column)[0]
    air, radius = column.prepared.top_air, column.prepared.slices.radius_top[0]
    return (
        (p * reciprocal(u)).T,
        (heard * reciprocal(p)).T / reference,
        reference,
        (air.speed_of_sound * jnp.pi * radius**2)[0],
    )


def _climb_holes(
    column: Column, omega: Array, open_holes: Array, paths: Array, state: _State
) -> _State:
    """From the bottom end to the top of the bore, gathering what each open hole radiates."""
    bore = sections(column, omega)
    count = open_holes.shape[0]
    opened = holes_at(column, omega, jnp.ones((count, 1), bool))
    closed = holes_at(column, omega, jnp.zeros((count, 1), bool))
    order = jnp.argsort(column.prepared.holes.position[:, 0], stable=True)
    last = TwoPort(*(entry[-1][:, None] for entry in bore))
    state = (*apply(last, state[:2]), state[2])

    def up(
        state: _State,
        row: tuple[TwoPort, HoleNetwork, HoleNetwork, Array, Array],
    ) -> tuple[_State, None]:
        upper, when_open, when_closed, is_open, path = row
        series, shunt = (
            jnp.where(is_open[None, :], one[:, None], other[:, None])
            for one, other in zip(when_open, when_closed, strict=True)
        )
        p, u, heard = state
        p = p + series / 2 * u
        out = shunt * p
        heard = heard + jnp.where(is_open[None, :], out * path[:, None], 0.0)
        u = u + out
        p = p + series / 2 * u
        return (*apply(TwoPort(*(entry[:, None] for entry in upper)), (p, u)), heard), None

    rows = (
        bore.take(slice(0, count)),
        HoleNetwork(*(entry[order] for entry in opened)),
        HoleNetwork(*(entry[order] for entry in closed)),
        open_holes[order],
        paths[:-1][order],
    )
    state, _ = lax.scan(up, state, rows, reverse=True)
    return state


def _paths(column: Column, omega: Array, distance: Array) -> Array:
    """Pressure at the listener for a unit flow into each hole, and out of the end, [H + 1, K].

    A small source: j w rho exp(-jkD) / (4 pi D) U, its delay counted from the mean distance.
    A hole's tube passes on 1 / (cos kh - k o sin kh) of the flow that enters it, h its height
    and o its outside length: a lossless tube on an inertance.
    """
    prepared = column.prepared
    air, holes = prepared.end_air, prepared.holes
    wavenumber = omega / air.speed_of_sound
    bottom = jnp.stack([0 * prepared.ends.length, 0 * prepared.ends.length, prepared.ends.length])
    place = jnp.concatenate([holes.place, bottom[None]])[..., 0]  # [H + 1, 3]
    listener = jnp.array([distance, 0.0, prepared.ends.length[0] / 2])
    apart = jnp.sqrt(jnp.sum((place - listener) ** 2, axis=1))[:, None]
    turn = jnp.exp(-1j * wavenumber * (apart - distance))
    path = 1j * omega * air.density / (4 * jnp.pi * apart) * turn
    outside = rim_length(holes.radius, holes.body_radius, holes.chimney, prepared.chimney_wall)
    if column.structure.any_pad:
        covered = holes.pad_radius > 0
        safe = jnp.where(covered, holes.pad_radius, 2 * holes.radius)
        extra = pad_length(holes.radius, safe, holes.lift)
        outside = outside + jnp.where(covered, extra, 0.0)
    height = holes.height + matching_length(holes.bore_radius, holes.undercut_radius)
    tube = jnp.cos(wavenumber * height) - wavenumber * outside * jnp.sin(wavenumber * height)
    # Beyond the resonance of the tallest tube this simple picture ends: hold the gain there.
    gain = 1 / jnp.maximum(tube, 0.25)
    return path * jnp.concatenate([gain, jnp.ones((1, gain.shape[1]))])


_compiled_answers = compiled(_answers)


def response(request: Request, frequencies: np.ndarray, distance: float) -> Response:
    """Impedance and radiated sound of a batch of fingerings, [F, K].

    The listener is ``distance`` (m) in front of the middle of the body, in free air: no room,
    no player's head, and the body casts no shadow.

    With outside interaction on, the impedance contains it; the radiated share does not.
    """
    numbers = without_reed(request.numbers)
    impedance, radiated, reference, speed_area = (
        np.asarray(each)
        for each in _compiled_answers(
            request.structure,
            request.options,
            numbers,
            request.fixed,
            frequencies,
            request.masks,
            np.array(float(distance)),
        )
    )
    if request.structure.couples:
        rows = [
            kernels.impedance(
                request.structure, request.options, numbers, request.fixed, frequencies, mask
            )
            for mask in request.masks
        ]
        impedance = np.stack([np.asarray(row) for row in rows]) / float(reference)
    volume = float(request.numbers.reed.equivalent_volume_mm3) * 1e-9
    return Response(frequencies, impedance, radiated, float(reference), volume / float(speed_area))
