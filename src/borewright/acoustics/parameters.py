"""What is not a dimension and still moves the pitch: climate, reed, mouthpiece, wall.

Each parameter has a name, a unit and a place in :class:`Numbers`.
"""

from __future__ import annotations

from typing import NamedTuple

import jax.numpy as jnp
from jax import Array

from borewright.acoustics.structure import Numbers


class Parameter(NamedTuple):
    """A named number of the playing circumstances."""

    name: str
    unit: str
    field: str  # of Numbers
    entry: int  # -1: the field is a scalar


PARAMETERS = (
    Parameter("room temperature", "°C", "climate", 0),
    Parameter("reed-end temperature", "°C", "climate", 1),
    Parameter("temperature decay length", "mm", "climate", 2),
    Parameter("relative humidity", "", "climate", 3),
    Parameter("carbon dioxide", "", "climate", 4),
    Parameter("pressure", "Pa", "climate", 5),
    Parameter("reed equivalent volume", "mm³", "reed", 0),
    Parameter("reed resonance", "Hz", "reed", 1),
    Parameter("reed damping", "", "reed", 2),
    Parameter("mouthpiece chamber", "mm³", "chamber_mm3", -1),
    Parameter("wall loss factor", "", "loss_factor", -1),
)


def read_parameters(numbers: Numbers) -> Array:
    """Values of all parameters, [P], in the order of ``PARAMETERS``."""
    return jnp.stack(
        [
            jnp.asarray(getattr(numbers, parameter.field))
            if parameter.entry < 0
            else jnp.asarray(getattr(numbers, parameter.field))[parameter.entry]
            for parameter in PARAMETERS
        ]
    )


def with_parameters(numbers: Numbers, values: Array) -> Numbers:
    """The numbers with all parameters replaced, [P]."""
    climate, reed, chamber, loss = values[:6], values[6:9], values[9], values[10]
    return numbers._replace(climate=climate, reed=reed, chamber_mm3=chamber, loss_factor=loss)
