"""Side holes as T networks: half the series impedance, the shunt admittance, half again."""

from __future__ import annotations

from typing import NamedTuple

import jax.numpy as jnp
import numpy as np
from jax import Array

from borewright.acoustics.air import AirState
from borewright.acoustics.complex_numbers import reciprocal, tanh
from borewright.acoustics.elements.hole_junction import (
    inner_length,
    matching_length,
    series_length,
)
from borewright.acoustics.elements.hole_outside import (
    pad_length,
    radiation_resistance,
    rim_length,
    wave_share,
)
from borewright.acoustics.geometry import Holes
from borewright.acoustics.losses import Line, LossSeries, line

_MM3 = 1e-9


class HoleNetwork(NamedTuple):
    """Acoustic impedance (Pa s/m³) of the whole series branch, and shunt admittance; [H]."""

    series: Array
    shunt: Array


def hole_networks(
    holes: Holes,
    is_open: Array,
    omega: Array,
    air: AirState,
    chimney_wall: Array,
    *,
    lossless: bool,
    loss_factor: Array,
    series: LossSeries | None,
    narrow: tuple[int, ...] = (),
    any_pad: bool,
    any_undercut: bool,
) -> HoleNetwork:
    """T networks of all holes at one frequency.

    Parameters
    ----------
    holes
        Geometry, [H] each.
    is_open
        [H] booleans.
    omega
        Angular frequency (rad/s), a scalar.
    air
        State of the air at each hole, [H] or scalars.
    chimney_wall
        Wall (m) of raised chimneys at their rim.
    lossless, series, loss_factor
        As for :func:`borewright.acoustics.losses.line`.
    narrow
        Holes too narrow for ``series``, which take Bessel functions.
    any_pad, any_undercut
        Promises that spare work where no hole has such a thing.
    """
    bore, b = holes.bore_radius, holes.radius
    at_bore = holes.undercut_radius
    impulse = 1j * omega * air.density
    along = series_length(bore, at_bore, holes.height, is_open)
    along = along * jnp.where(is_open, holes.scale[:, 0], holes.scale[:, 1])
    branch = impulse * along / (jnp.pi * bore**2)

    def tube_of(radius: Array) -> Line:
        return hole_line(
            radius,
            omega,
            air,
            lossless=lossless,
            series=series,
            loss_factor=loss_factor,
            narrow=narrow,
        )

    tube = tube_of(b)
    height = holes.height + matching_length(bore, at_bore)
    outside = rim_length(b, holes.body_radius, holes.chimney, chimney_wall)
    resistance = radiation_resistance(omega / air.speed_of_sound * b, outside, b)
    if any_pad:
        covered = holes.pad_radius > 0
        safe = jnp.where(covered, holes.pad_radius, 2 * b)
        outside = outside + jnp.where(covered, pad_length(b, safe, holes.lift), 0.0)
    outside = outside * holes.scale[:, 2]
    # Beyond long waves, which is all that a scale knows.
    outside = outside + b**2 / 4 * wave_share(omega / air.speed_of_sound, holes.body_radius)
    characteristic = air.density * air.speed_of_sound / (jnp.pi * b**2)
    radiation = characteristic * resistance + impulse * outside / (jnp.pi * b**2)

    conductance = reciprocal(radiation)
    if any_undercut:
        # Outer cylinder, then the cone as a tube of the same inertance (exact for a cone).
        cone = tube_of(jnp.sqrt(b * at_bore))
        outer = tube.propagation * (height - holes.undercut_depth)
        inner = cone.propagation * holes.undercut_depth
        opened = _through(inner, cone.admittance, _through(outer, tube.admittance, conductance))
        closed = _through(inner, cone.admittance, _through(outer, tube.admittance, 0.0))
    else:
        opened = _through(tube.propagation * height, tube.admittance, conductance)
        closed = _through(tube.propagation * height, tube.admittance, 0.0)
    # The inner length lies in series with the tube: Y / (1 + Z Y).
    inner = inner_length(bore, at_bore) * jnp.where(is_open, holes.scale[:, 2], holes.scale[:, 3])
    inside = impulse * inner / (jnp.pi * at_bore**2)
    # What the open hole's near fields add as frequency rises, above what tube and waves do.
    inside = inside + jnp.where(is_open, rising_mass(holes, omega, air), 0.0)
    admittance = jnp.where(is_open, opened, closed * holes.scale[:, 4])
    shunt = admittance * reciprocal(1 + inside * admittance)
    # Bore air that a lining takes away: a negative compliance beside the hole.
    return HoleNetwork(branch, shunt - displaced_admittance(holes, omega, air))


def hole_line(
    radius: Array,
    omega: Array,
    air: AirState,
    *,
    lossless: bool,
    series: LossSeries | None,
    loss_factor: Array,
    narrow: tuple[int, ...] = (),
) -> Line:
    """Propagation and characteristic admittance of holes' tubes, [H, ...]; see hole_networks."""
    everywhere = line(radius, omega, air, lossless=lossless, series=series, loss_factor=loss_factor)
    if series is None or lossless or not narrow:
        return everywhere
    rows = np.array(narrow)
    precise = line(
        radius[rows],
        omega,
        AirState(*(entry[rows] for entry in air)),
        lossless=lossless,
        loss_factor=loss_factor,
    )
    return Line(
        *(
            whole.at[rows].set(exact.astype(whole.dtype))
            for whole, exact in zip(everywhere, precise, strict=True)
        )
    )


class TubeAtRest(NamedTuple):
    """A hole's tube in the limit of long waves (SI), [H]."""

    opened: Array  # length, as a tube of the hole's own section
    closed: Array  # length that its air has as a mass, shut above
    volume: Array


def tube_at_rest(holes: Holes) -> TubeAtRest:
    """Low-frequency lengths of the tubes that :func:`hole_networks` chains, undercut included."""
    b, mouth, depth = holes.radius, holes.undercut_radius, holes.undercut_depth
    straight = holes.height + matching_length(holes.bore_radius, mouth) - depth
    # The undercut is a tube of the geometric mean radius: section pi b mouth.
    wide = b * mouth / b**2  # sections of undercut over hole
    volume = straight + wide * depth  # over pi b²
    moment = straight**3 / 3 + (volume**3 - straight**3) / (3 * wide**2)
    return TubeAtRest(straight + depth / wide, moment / volume**2, jnp.pi * b**2 * volume)


def rising_mass(holes: Holes, omega: Array, air: AirState) -> Array:
    """Impedance (Pa s/m³) that open holes add inside as frequency rises; 0 in closed forms."""
    length = holes.scale[:, 6] * _MM3 * (omega / air.speed_of_sound) ** 2
    return 1j * omega * air.density * length / (jnp.pi * holes.radius**2)


def displaced_admittance(holes: Holes, omega: Array, air: AirState) -> Array:
    """What a lining takes away (m³/(Pa s)), to be subtracted from a hole's shunt."""
    return 1j * omega * holes.scale[:, 5] * _MM3 / (air.density * air.speed_of_sound**2)


def _through(phase: Array, characteristic: Array, end: Array | float) -> Array:
    """Input admittance of a tube of propagation times length ``phase`` ending in ``end``."""
    tangent = tanh(phase)
    below = reciprocal(characteristic + end * tangent)
    return characteristic * (end + characteristic * tangent) * below
