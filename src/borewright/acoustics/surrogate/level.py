"""Factors on the closed forms of an instrument's holes, and how they go with its measures."""

from __future__ import annotations

from collections.abc import Sequence
from typing import NamedTuple

import jax
import jax.numpy as jnp
import numpy as np
from jax import Array

from borewright.acoustics.compilation import compiled
from borewright.acoustics.solved.shape import HoleShape
from borewright.acoustics.structure import HOLE_MEASURES
from borewright.acoustics.surrogate.lengths import HoleLengths, hole_lengths, scales_of
from borewright.acoustics.surrogate.ranges import HoleParts
from borewright.acoustics.surrogate.sizes import Sizes, sizes_of
from borewright.acoustics.surrogate.table import Table, cone_figures, table
from borewright.model.hole import PAD_CLEARANCE_MM

#: Holes are filled up to a multiple of this, so that instruments share a compiled kernel.
_TOGETHER = 32


class Factors(NamedTuple):
    """As in ``structure.SolvedTerms``."""

    scales: np.ndarray  # [H, 7]
    slopes: np.ndarray  # [H, 7, 8] by mm of HOLE_MEASURES
    at: np.ndarray  # [H, 8] mm


def factors_of(shapes: Sequence[HoleShape], parts: Sequence[HoleParts]) -> Factors:
    """Factors of holes that the surrogate covers.

    Parameters
    ----------
    shapes
        As ``solved.shape_of`` sees them.
    parts
        Of each, as :func:`borewright.acoustics.surrogate.ranges.parts_of` tells.
    """
    count = len(shapes)
    if not count:
        return Factors(*(np.zeros((0, *rest)) for rest in ((7,), (7, 8), (8,))))
    inputs = _filled(shapes, parts)
    at = _measures(inputs[0])
    scales, slopes = _kernel(table(), cone_figures(), at, *inputs)
    return Factors(*(np.array(each)[:count] for each in (scales, slopes, at)))


def lengths_of(shapes: Sequence[HoleShape], parts: Sequence[HoleParts]) -> HoleLengths:
    """Lengths (mm), volumes and rises (mm³) of holes that the surrogate covers."""
    found = _lengths_kernel(table(), cone_figures(), *_filled(shapes, parts))
    return HoleLengths(*(each[: len(shapes)] for each in found))


def _filled(
    shapes: Sequence[HoleShape], parts: Sequence[HoleParts]
) -> tuple[Sizes, Array, Array, Array]:
    more = -len(shapes) % _TOGETHER
    numbers = np.array([*parts, *([parts[0]] * more)], dtype=int)
    sizes = sizes_of([*shapes, *([shapes[0]] * more)])
    inside, outside, finger = (jnp.asarray(column) for column in numbers.T)
    return sizes, inside, outside, finger


def _measures(sizes: Sizes) -> Array:
    """The holes' HOLE_MEASURES (mm), [H, 8]."""
    columns = {
        "bore_radius": sizes.bore,
        "radius": sizes.radius,
        "height": sizes.tube,
        "chimney": sizes.chimney,
        "body_radius": sizes.body,
        "lift": sizes.lift,
        "undercut_radius": sizes.mouth,
        "undercut_depth": sizes.depth,
    }
    return jnp.stack([columns[measure] for measure in HOLE_MEASURES], axis=1)


def _changed(sizes: Sizes, measures: Array) -> Sizes:
    """The holes with other measures; what a drawing derives from them follows."""
    at = {name: measures[:, number] for number, name in enumerate(HOLE_MEASURES)}
    lined, padded, sunk = sizes.into > 0, sizes.pad > 0, sizes.counterbore > 0
    bare = at["body_radius"] - at["bore_radius"] + at["chimney"]
    mouth = jnp.where(sizes.mouth > sizes.radius, at["undercut_radius"], at["radius"])
    # A counterbore is as wide as its pad asks for, or else goes with the hole.
    of_pad = padded & (jnp.abs(sizes.counterbore - sizes.pad - PAD_CLEARANCE_MM) < 1e-9)
    wider = jnp.where(sunk & ~of_pad, at["radius"] - sizes.radius, 0.0)
    return sizes._replace(
        bore=at["bore_radius"],
        radius=at["radius"],
        height=bare,
        mouth=mouth,
        depth=at["undercut_depth"],
        body=at["body_radius"],
        # A rim that follows the body's curve stays one.
        chimney=jnp.where(sizes.wall > 0, at["chimney"], 0.0),
        counterbore=sizes.counterbore + wider,
        lift=jnp.where(padded, at["lift"], sizes.lift),
        into=jnp.where(lined, at["height"] - bare, 0.0),
        lining=jnp.where(lined, mouth + sizes.lining - sizes.mouth, 0.0),
    )


def _factors(
    found: Table,
    cone: Array,
    at: Array,
    sizes: Sizes,
    inside: Array,
    outside: Array,
    finger: Array,
) -> tuple[Array, Array]:
    def scales(measures: Array) -> Array:
        moved = _changed(sizes, measures)
        return scales_of(hole_lengths(found, cone, moved, inside, outside, finger > 0), moved)

    def along(direction: Array) -> Array:
        slope: Array = jax.jvp(scales, (at,), (jnp.broadcast_to(direction, at.shape),))[1]
        return slope

    slopes = jax.vmap(along)(jnp.eye(at.shape[1]))
    return scales(at), jnp.moveaxis(slopes, 0, 2)


def _lengths(
    found: Table, cone: Array, sizes: Sizes, inside: Array, outside: Array, finger: Array
) -> HoleLengths:
    return hole_lengths(found, cone, sizes, inside, outside, finger > 0)


_kernel = compiled(_factors, static_argnums=())
_lengths_kernel = compiled(_lengths, static_argnums=())
