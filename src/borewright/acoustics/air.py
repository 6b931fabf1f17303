"""Air as an ideal mixture of dry air, water vapour and carbon dioxide.

Breathed out, carbon dioxide has taken the place of oxygen: what exceeds the outdoor share
does so here, in molar mass and heat capacity. (Oxygen's own viscosity and conductivity are
near enough to those of air that 4 % of it change a tube's losses by 0.2 %.)

Pure-component viscosity, conductivity and heat capacity are short polynomials in
temperature, fitted by least squares from 0 to 40 °C to the reference equations of state
that CoolProp implements (dry air: Lemmon and others 2000; Lemmon and Jacobsen 2004; water:
IAPWS; carbon dioxide: Span and Wagner 1996). Mixtures follow Wilke, J. Chem. Phys. 18
(1950) 517, for viscosity, and Mason and Saxena, Phys. Fluids 1 (1958) 361, for conductivity.
The test room compares all of it with CoolProp itself, to 0.1 % for dry air.
"""

from __future__ import annotations

from typing import NamedTuple

import jax.numpy as jnp
import numpy as np
from jax import Array

GAS_CONSTANT = 8.314462618  # J/(mol K), CODATA 2018
ZERO_CELSIUS = 273.15  # K
NORMAL_PRESSURE_PA = 101325.0

# Rows: dry air, water vapour, carbon dioxide. Columns: powers of (T - 298.15 K).
_MOLAR_MASS = np.array([28.9655e-3, 18.01527e-3, 44.0098e-3])  # kg/mol
_VISCOSITY = np.array(
    [
        [1.84481e-5, 4.83198e-8, -3.4638e-11],
        [9.7075e-6, 3.198e-8, 1.7e-11],
        [1.49099e-5, 4.7853e-8, -1.17e-11],
    ]
)  # Pa s
_CONDUCTIVITY = np.array(
    [
        [2.624700e-2, 7.44282e-5, -4.1143e-8],
        [1.84340e-2, 6.945e-5, 0.98e-7],
        [1.66043e-2, 7.664e-5, 0.8e-7],
    ]
)  # W/(m K)
_HEAT_CAPACITY = np.array(
    [
        [29.14822, 1.0095e-3, 1.1477e-5],
        [33.5900, 8.0e-3, 1.0e-5],
        [37.1350, 4.41e-2, 0.0],
    ]
)  # J/(mol K)

# Oxygen that carbon dioxide replaces (handbook; heat capacity at 25 °C, 0.1 % less at 0 °C).
_OXYGEN_MASS = 31.9988e-3  # kg/mol
_OXYGEN_HEAT_CAPACITY = 29.38  # J/(mol K)

# Departures of dry air from the ideal gas at 101325 Pa and 20 °C (CoolProp): they vary by
# less than 0.02 % between 0 and 40 °C.
_REAL_DENSITY = 1.00037
_REAL_SPEED = 1.00062
_REAL_GAMMA = 0.0028


class AirState(NamedTuple):
    """Properties of air (SI); scalars or arrays of one shape."""

    speed_of_sound: Array  # m/s
    density: Array  # kg/m3
    viscosity: Array  # Pa s
    gamma: Array  # ratio of heats
    root_prandtl: Array  # square root of the Prandtl number


def saturation_pressure_pa(temperature_c: Array) -> Array:
    """Vapour pressure (Pa) over water, Buck, J. Appl. Meteorol. 20 (1981) 1527, eq. 8."""
    return 611.21 * jnp.exp(
        (18.678 - temperature_c / 234.5) * temperature_c / (257.14 + temperature_c)
    )


def air_state(
    temperature_c: Array,
    relative_humidity: Array | float = 0.0,
    carbon_dioxide: Array | float = 0.0004,
    pressure_pa: Array | float = NORMAL_PRESSURE_PA,
) -> AirState:
    """Air at a temperature (°C), any array shape.

    Parameters
    ----------
    temperature_c
        Air temperature, 0 to 45 °C.
    relative_humidity
        0 to 1.
    carbon_dioxide
        Mole fraction, 0.0004 outdoors, up to 0.04 in breath; what is more than outdoors
        replaces oxygen.
    pressure_pa
        Static pressure.
    """
    temperature_c = jnp.asarray(temperature_c, dtype=float)
    kelvin = temperature_c + ZERO_CELSIUS
    offset = temperature_c - 25.0
    water = relative_humidity * saturation_pressure_pa(temperature_c) / pressure_pa
    # Dry air already holds 0.04 % carbon dioxide; only the surplus is a component of its own.
    dioxide = jnp.maximum(jnp.asarray(carbon_dioxide) - 0.0004, 0.0) + jnp.zeros_like(water)
    fractions = jnp.stack([1.0 - water - dioxide, water, dioxide])

    def component(table: np.ndarray) -> Array:
        constant, linear, square = (column.reshape(3, *[1] * offset.ndim) for column in table.T)
        value: Array = constant + offset * (linear + offset * square)
        return value

    # Dry air less as much oxygen as there is carbon dioxide, instead of diluted dry air.
    exchange_mass = _MOLAR_MASS[0] - _OXYGEN_MASS
    molar_mass = jnp.tensordot(jnp.asarray(_MOLAR_MASS), fractions, axes=1)
    molar_mass = molar_mass + dioxide * exchange_mass
    heats = component(_HEAT_CAPACITY)
    heat_capacity = jnp.sum(fractions * heats, axis=0)
    heat_capacity = heat_capacity + dioxide * (heats[0] - _OXYGEN_HEAT_CAPACITY)
    viscosities = component(_VISCOSITY)
    viscosity = _wilke(fractions, viscosities, viscosities)
    conductivity = _wilke(fractions, viscosities, component(_CONDUCTIVITY))

    ideal_gamma = heat_capacity / (heat_capacity - GAS_CONSTANT)
    speed = _REAL_SPEED * jnp.sqrt(ideal_gamma * GAS_CONSTANT * kelvin / molar_mass)
    density = _REAL_DENSITY * pressure_pa * molar_mass / (GAS_CONSTANT * kelvin)
    prandtl = viscosity * heat_capacity / molar_mass / conductivity
    return AirState(speed, density, viscosity, ideal_gamma + _REAL_GAMMA, jnp.sqrt(prandtl))


def _wilke(fractions: Array, viscosities: Array, quantities: Array) -> Array:
    """Mixture rule of Wilke (eq. 13 and 14), with his interaction factors for any quantity."""
    mass = _MOLAR_MASS[:, None] / _MOLAR_MASS[None, :]
    mass = mass.reshape(mass.shape + (1,) * (viscosities.ndim - 1))
    ratio = viscosities[:, None] / viscosities[None, :]
    factors = (1 + jnp.sqrt(ratio) * mass**-0.25) ** 2 / np.sqrt(8 * (1 + mass))
    mixed: Array = jnp.sum(
        fractions * quantities / jnp.sum(fractions[None] * factors, axis=1), axis=0
    )
    return mixed


def temperature_profile(
    distance_m: Array, reed_end_c: Array | float, room_c: Array | float, decay_m: Array | float
) -> Array:
    """Air temperature (°C) at a distance (m) below the reed, falling exponentially to the room."""
    return room_c + (reed_end_c - room_c) * jnp.exp(-jnp.maximum(distance_m, 0.0) / decay_m)
