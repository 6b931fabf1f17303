"""What is not a dimension and still moves the pitch: climate, reed, mouthpiece, wall.

Each parameter has a name, a unit and a place in :class:`Numbers`.
"""

from __future__ import annotations

from typing import Any, NamedTuple

import jax.numpy as jnp
from jax import Array

from borewright.acoustics.structure import Numbers
from borewright.words import Message, say


class Parameter(NamedTuple):
    """A named number of the playing circumstances."""

    words: Message
    unit: str
    field: str  # of Numbers
    entry: int  # -1: the field is a scalar

    @property
    def name(self) -> str:
        """Its key, as in ``model.Doubts``: its words in English."""
        return self.words.template


PARAMETERS = (
    Parameter(say("room temperature"), "°C", "climate", 0),
    Parameter(say("reed-end temperature"), "°C", "climate", 1),
    Parameter(say("temperature decay length"), "mm", "climate", 2),
    Parameter(say("relative humidity"), "", "climate", 3),
    Parameter(say("carbon dioxide"), "", "climate", 4),
    Parameter(say("pressure"), "Pa", "climate", 5),
    Parameter(say("reed equivalent volume"), "mm³", "reed", 0),
    Parameter(say("reed resonance"), "Hz", "reed", 1),
    Parameter(say("reed damping"), "", "reed", 2),
    Parameter(say("mouthpiece chamber"), "mm³", "chamber_mm3", -1),
    Parameter(say("wall loss factor"), "", "loss_factor", -1),
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
    changed: dict[str, Any] = {}
    for column, parameter in enumerate(PARAMETERS):
        if parameter.entry < 0:
            changed[parameter.field] = values[column]
        elif parameter.entry == 0:
            last = max(p.entry for p in PARAMETERS if p.field == parameter.field)
            changed[parameter.field] = values[column : column + last + 1]
    return numbers._replace(**changed)
