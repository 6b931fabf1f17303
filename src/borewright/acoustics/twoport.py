"""Two-ports as transfer matrices between (pressure, flow) above and below (SI).

Flow is multiplied by one reference impedance throughout, so that all four entries have the
size of 1 and products of many stay well scaled.
"""

from __future__ import annotations

from typing import NamedTuple

import jax.numpy as jnp
from jax import Array, lax

from borewright.acoustics.air import AirState
from borewright.acoustics.complex_numbers import cosh_sinh, reciprocal
from borewright.acoustics.geometry import Slices
from borewright.acoustics.losses import LossSeries, line


class TwoPort(NamedTuple):
    """Entries of the matrix [[a, b], [c, d]]; any common shape."""

    a: Array
    b: Array
    c: Array
    d: Array

    def after(self, lower: TwoPort) -> TwoPort:
        """Chain: this two-port above, ``lower`` below it."""
        return TwoPort(
            self.a * lower.a + self.b * lower.c,
            self.a * lower.b + self.b * lower.d,
            self.c * lower.a + self.d * lower.c,
            self.c * lower.b + self.d * lower.d,
        )

    def inverse(self) -> TwoPort:
        """Inverse of a reciprocal two-port (determinant 1)."""
        return TwoPort(self.d, -self.b, -self.c, self.a)

    def take(self, index: Array | slice) -> TwoPort:
        """Rows along the first axis."""
        return TwoPort(*(entry[index] for entry in self))


def cone(
    slices: Slices,
    omega: Array,
    air: AirState,
    reference: Array,
    *,
    lossless: bool,
    series: LossSeries | None,
    loss_factor: Array,
    lean: Array | float = 0.0,
) -> TwoPort:
    """Truncated cones with spherical waves.

    With x the distance from the apex, p x obeys the plane wave equation; losses are those of
    a tube of the geometric mean radius, which is exact for the inertance. For a cylinder the
    slope is 0 and the usual line remains. (Benade, J. Acoust. Soc. Am. 83 (1988) 1764, for the
    lossless cone; from memory, tested against exact resonances of closed and open cones.)

    Sections here are plane, of area pi r². Sound runs along the wall, and the drop of the mean
    pressure over a plane section is sqrt(1 + slope²) times as great: exactly so for spherical
    waves, whose front is a cap and whose path is longer than the axis. ``lean`` 1 counts that,
    which a real flare wants (docs/levels.md); 0 gives the cone along its axis.

    Parameters
    ----------
    slices
        Entries broadcast with ``omega``.
    omega
        rad/s.
    air
        State at each slice.
    reference
        Impedance (Pa s/m³) that multiplies flow.
    lossless, series, loss_factor
        As for :func:`borewright.acoustics.losses.line`.
    lean
        Share of the longer way along the wall.
    """
    top, bottom = slices.radius_top, slices.radius_bottom
    mean = jnp.sqrt(top * bottom)
    tube = line(mean, omega, air, lossless=lossless, series=series, loss_factor=loss_factor)
    # Inertance times sqrt(1 + slope²) at the same compliance.
    slower = (1.0 + lean * slices.slope**2) ** 0.25
    propagation = tube.propagation * slower
    cosh, sinh = cosh_sinh(propagation * slices.length)
    admittance = tube.admittance * reference / slower
    apex = slices.slope * reciprocal(propagation)
    shunt_top, shunt_bottom = apex / top, apex / bottom
    widening = bottom / top
    return TwoPort(
        widening * (cosh - shunt_bottom * sinh),
        sinh * reciprocal(admittance),
        admittance * ((1 - shunt_top * shunt_bottom) * sinh + (shunt_top - shunt_bottom) * cosh),
        (cosh + shunt_top * sinh) / widening,
    )


def climb(
    ports: TwoPort, series: Array, shunt: Array, end: tuple[Array, Array]
) -> tuple[tuple[Array, Array], Array]:
    """Pressure and flow at the top of a chain of slices with T networks above each of them.

    The second result is the pressure [N, ...] at the middle of each T.

    Parameters
    ----------
    ports
        [N, ...] two-ports, top first.
    series, shunt
        [N, ...] normalised series impedance and shunt admittance above each slice, 0 for none.
    end
        Pressure and flow at the bottom, [...].
    """

    def up(
        state: tuple[Array, Array], row: tuple[TwoPort, Array, Array]
    ) -> tuple[tuple[Array, Array], Array]:
        port, whole_series, admittance = row
        pressure, flow = apply(port, state)
        half = whole_series / 2
        pressure = pressure + half * flow
        flow = flow + admittance * pressure
        return (pressure + half * flow, flow), pressure

    return lax.scan(up, end, (ports, series, shunt), reverse=True)


def apply(port: TwoPort, state: tuple[Array, Array]) -> tuple[Array, Array]:
    """Pressure and flow above a two-port from those below it."""
    pressure, flow = state
    return port.a * pressure + port.b * flow, port.c * pressure + port.d * flow


def running_products(ports: TwoPort) -> TwoPort:
    """Products of the first 1, 2, … N two-ports, [N, ...]."""

    def down(product: TwoPort, port: TwoPort) -> tuple[TwoPort, TwoPort]:
        following = product.after(port)
        return following, following

    zero = jnp.zeros_like(ports.a[0])
    _, products = lax.scan(down, TwoPort(zero + 1, zero, zero, zero + 1), ports)
    return products
