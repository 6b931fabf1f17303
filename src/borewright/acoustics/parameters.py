"""What is not a dimension and still moves the pitch: climate, reed, mouthpiece, wall.

Each parameter has a name and a unit; their order is that of the figures in :class:`Numbers`.
"""

from __future__ import annotations

from typing import Any, NamedTuple

import jax
import jax.numpy as jnp
from jax import Array

from borewright.acoustics.elements.top import REED_WORDS, ReedNumbers
from borewright.acoustics.structure import ClimateNumbers, Numbers
from borewright.words import Message, say


class Parameter(NamedTuple):
    """A named number of the playing circumstances."""

    words: Message
    unit: str

    @property
    def name(self) -> str:
        """Its key, as in ``model.Doubts``: its words in English."""
        return self.words.template


#: In the order of :func:`read_parameters`.
PARAMETERS = (
    Parameter(say("room temperature"), "°C"),
    Parameter(say("reed-end temperature"), "°C"),
    Parameter(say("temperature decay length"), "mm"),
    Parameter(say("relative humidity"), ""),
    Parameter(say("carbon dioxide"), ""),
    Parameter(say("pressure"), "Pa"),
    *(Parameter(*each) for each in REED_WORDS),
    Parameter(say("mouthpiece chamber"), "mm³"),
    Parameter(say("wall loss factor"), ""),
)


class _Circumstances(NamedTuple):
    climate: ClimateNumbers
    reed: ReedNumbers
    chamber_mm3: Any
    loss_factor: Any


def _circumstances(numbers: Numbers) -> _Circumstances:
    return _Circumstances(numbers.climate, numbers.reed, numbers.chamber_mm3, numbers.loss_factor)


def read_parameters(numbers: Numbers) -> Array:
    """Values of all parameters, [P], in the order of ``PARAMETERS``."""
    return jnp.stack([jnp.asarray(leaf) for leaf in jax.tree.leaves(_circumstances(numbers))])


def with_parameters(numbers: Numbers, values: Array) -> Numbers:
    """The numbers with all parameters replaced, [P]."""
    shape = jax.tree.structure(_circumstances(numbers))
    changed: _Circumstances = jax.tree.unflatten(shape, list(values))
    return numbers._replace(**changed._asdict())
