"""Factors on the closed forms of an instrument's holes, and how they go with its measures."""

from __future__ import annotations

from collections import OrderedDict
from collections.abc import Sequence
from typing import NamedTuple

import jax
import jax.numpy as jnp
import numpy as np
from jax import Array

from borewright.acoustics.compilation import compiled
from borewright.acoustics.solved.shape import HoleShape
from borewright.acoustics.structure import HOLE_MEASURES
from borewright.acoustics.surrogate.families import PARTS, ratios
from borewright.acoustics.surrogate.lengths import (
    INSIDES,
    OUTSIDES,
    HoleLengths,
    hole_lengths,
    scales_of,
)
from borewright.acoustics.surrogate.ranges import HoleParts
from borewright.acoustics.surrogate.sizes import Sizes, sizes_of
from borewright.acoustics.surrogate.table import Figures, Near, cone_figures, near
from borewright.model.hole import PAD_CLEARANCE_MM

#: Holes that are computed together, filled up where fewer are left: one compiled kernel serves
#: all instruments, and a dragged hole costs no more than these.
_TOGETHER = 8
#: Step (mm) of the differences that slopes are taken by: right to 1e-7 of a factor per mm.
_STEP_MM = 1e-3


class Factors(NamedTuple):
    """As in ``structure.SolvedTerms``."""

    scales: np.ndarray  # [H, 7]
    slopes: np.ndarray  # [H, 7, 8] by mm of HOLE_MEASURES
    at: np.ndarray  # [H, 8] mm


#: Factors of shapes met lately: dragging one hole leaves all others as they are.
_known: OrderedDict[tuple[HoleShape, HoleParts], Factors] = OrderedDict()
_MOST_KNOWN = 4000


def factors_of(shapes: Sequence[HoleShape], parts: Sequence[HoleParts]) -> Factors:
    """Factors of holes that the surrogate covers.

    Parameters
    ----------
    shapes
        As ``solved.shape_of`` sees them.
    parts
        Of each, as :func:`borewright.acoustics.surrogate.ranges.parts_of` tells.
    """
    if not shapes:
        return Factors(*(np.zeros((0, *rest)) for rest in ((7,), (7, 8), (8,))))
    keys = list(zip(shapes, parts, strict=True))
    rows = {key: found for key in keys if (found := _known.get(key)) is not None}
    new = [key for key in dict.fromkeys(keys) if key not in rows]
    if new:
        found = _computed(*zip(*new, strict=True))
        for number, key in enumerate(new):
            rows[key] = _known[key] = Factors(*(each[number] for each in found))
        while len(_known) > _MOST_KNOWN:
            _known.popitem(last=False)
    return Factors(*(np.stack(each) for each in zip(*(rows[key] for key in keys), strict=True)))


def _computed(shapes: Sequence[HoleShape], parts: Sequence[HoleParts]) -> Factors:
    found = []
    for start in range(0, len(shapes), _TOGETHER):
        inputs = _filled(shapes[start : start + _TOGETHER], parts[start : start + _TOGETHER])
        found.append(_kernel(_near(*inputs), cone_figures(), *inputs))
    together = (np.concatenate(each) for each in zip(*found, strict=True))
    return Factors(*(each[: len(shapes)] for each in together))


def lengths_of(shapes: Sequence[HoleShape], parts: Sequence[HoleParts]) -> HoleLengths:
    """Lengths (mm), volumes and rises (mm³) of holes that the surrogate covers."""
    inputs = _filled(shapes, parts)
    found = _lengths_kernel(_near(*inputs), cone_figures(), *inputs)
    return HoleLengths(*(each[: len(shapes)] for each in found))


def _filled(
    shapes: Sequence[HoleShape], parts: Sequence[HoleParts]
) -> tuple[Sizes, np.ndarray, np.ndarray, np.ndarray]:
    more = -len(shapes) % _TOGETHER
    inside, outside, finger = np.array([*parts, *([parts[0]] * more)], dtype=int).T
    return sizes_of([*shapes, *([shapes[0]] * more)]), inside, outside, finger


def _near(
    sizes: Sizes, inside: np.ndarray, outside: np.ndarray, finger: np.ndarray
) -> dict[str, dict[str, Near]]:
    """Every figure near the holes, worked out for those only that have the part."""
    having = {
        **{part: inside == number for number, part in enumerate(INSIDES)},
        **{part: outside == number for number, part in enumerate(OUTSIDES)},
        "finger": finger > 0,
    }
    found: dict[str, dict[str, Near]] = {}
    for part, at in _ratios_kernel(sizes).items():
        ratios_of = np.asarray(at)
        rows = np.flatnonzero(having[part])
        found[part] = {}
        for figure in PARTS[part].figures:
            value, slopes = np.zeros(len(ratios_of)), np.zeros(ratios_of.shape)
            if len(rows):
                value[rows], slopes[rows] = near(part, figure, ratios_of[rows])
            found[part][figure] = Near(value, slopes, ratios_of)
    return found


def _ratios(sizes: Sizes) -> dict[str, Array]:
    return {part: ratios(part, sizes) for part in PARTS}


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
    return jnp.stack([jnp.asarray(columns[measure]) for measure in HOLE_MEASURES], axis=1)


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
    found: Figures,
    cone: Array,
    sizes: Sizes,
    inside: Array,
    outside: Array,
    finger: Array,
) -> tuple[Array, Array, Array]:
    at = _measures(sizes)
    count, width = at.shape
    # By differences: a forward sweep beside the value would take four times as long to compile.
    steps = jnp.concatenate([jnp.zeros((1, width)), jnp.eye(width), -jnp.eye(width)]) * _STEP_MM
    every = len(steps)

    def repeated(entry: Array) -> Array:
        entry = jnp.asarray(entry)
        return jnp.broadcast_to(entry, (every, *entry.shape)).reshape(-1, *entry.shape[1:])

    many, numbers, sized = jax.tree.map(repeated, (found, (inside, outside, finger > 0), sizes))
    moved = _changed(sized, (at + steps[:, None, :]).reshape(-1, width))
    scales = scales_of(hole_lengths(many, cone, moved, *numbers), moved)
    scales = scales.reshape(every, count, -1)
    slopes = (scales[1 : 1 + width] - scales[1 + width :]) / (2 * _STEP_MM)
    return scales[0], jnp.moveaxis(slopes, 0, 2), at


def _lengths(
    found: Figures, cone: Array, sizes: Sizes, inside: Array, outside: Array, finger: Array
) -> HoleLengths:
    return hole_lengths(found, cone, sizes, inside, outside, finger > 0)


_ratios_kernel = compiled(_ratios, static_argnums=())
_kernel = compiled(_factors, static_argnums=())
_lengths_kernel = compiled(_lengths, static_argnums=())
