"""Parts that a hole is taken apart into: ratios that decide each, and what is fitted.

What is fitted is always a departure from a closed form, in sizes of the hole itself, so that it
is small and smooth. ``fitted`` turns a solved part into these figures, ``lengths`` of the
neighbouring module turns them back.
"""

from __future__ import annotations

from typing import NamedTuple

import jax.numpy as jnp
from jax import Array

from borewright.acoustics.elements.hole_junction import series_length
from borewright.acoustics.surrogate.sizes import (
    Sizes,
    Tube,
    closed_length,
    open_length,
    tube_of,
)

#: Along a hole's axis fields that go once round it die off as exp(-1.84 x/b), of which a little
#: less is linear in what is fitted.
_DECAY = 1.5


class Part(NamedTuple):
    """Ratios [H, d], and what each fitted figure is called."""

    ratios: tuple[str, ...]
    figures: tuple[str, ...]


PARTS = {
    "inner": Part(
        ("mouth/bore", "mouth/hole - 1", "undercut", "exp -tube", "hole/tube"),
        ("series open", "series closed", "shunt open", "shunt closed", "rise"),
    ),
    "lined": Part(
        ("hole/bore", "into/bore", "lining/bore", "exp -tube", "hole/tube"),
        ("series open", "series closed", "shunt open", "shunt closed", "rise"),
    ),
    "finger": Part(("hole/bore", "flesh/hole", "hole/body", "exp -tube"), ("shunt closed",)),
    "drilled": Part(("hole/body",), ("outside", "rise")),
    "raised": Part(("hole/body", "exp -chimney", "wall/hole"), ("outside", "rise")),
    "raised_pad": Part(
        ("hole/body", "exp -chimney", "wall/hole", "overlap/hole", "ln lift/hole", "pad/body",
         "thickness/body", "ln gap/hole", "ln lift/pad", "ln pad/hole"),
        ("outside", "rise"),
    ),
    "sunk": Part(("hole/body", "deep/hole", "wall/hole", "floor/hole"), ("outside", "rise")),
    "sunk_pad": Part(
        ("hole/body", "deep/hole", "land/hole", "overlap/hole", "ln lift/hole", "gap/hole",
         "relief/hole", "thickness/body", "deep/lift", "ln gap/hole", "ln lift/pad",
         "ln pad/hole"),
        ("outside", "rise"),
    ),
}  # fmt: skip


def ratios(part: str, sizes: Sizes) -> Array:
    """Ratios of every hole, [H, d], in the order of ``PARTS``."""
    a, b, body = sizes.bore, sizes.radius, sizes.body
    tube = jnp.exp(-_DECAY * (sizes.tube - sizes.depth) / b)
    chimney = jnp.exp(-jnp.maximum(sizes.chimney, 0.0) / b)
    deep = jnp.maximum(-sizes.chimney, 0.0)
    overlap = (sizes.pad - b) / b
    lift = jnp.log(jnp.maximum(sizes.lift, 1e-3 * b) / b)
    if part == "inner":
        wide = sizes.mouth / b - 1
        undercut = wide * jnp.log(jnp.where(wide > 0, sizes.depth, b) / b)
        columns = [sizes.mouth / a, wide, undercut, tube, b / sizes.tube]
    elif part == "lined":
        columns = [b / a, sizes.into / a, sizes.lining / a, tube, b / sizes.tube]
    elif part == "finger":
        drilled = (sizes.chimney == 0) & (sizes.wall == 0)
        # What a finger's bulge feels of the bore fades over the undercut as well.
        through = (sizes.tube - sizes.depth) / b + sizes.depth / jnp.sqrt(b * sizes.mouth)
        tube = jnp.exp(-_DECAY * through)
        columns = [b / a, sizes.flesh / b, jnp.where(drilled, b / body, 0.0), tube]
    elif part == "drilled":
        columns = [b / body]
    elif part == "raised":
        columns = [b / body, chimney, sizes.wall / b]
    elif part == "raised_pad":
        columns = [b / body, chimney, sizes.wall / b, overlap, lift, sizes.pad / body,
                   sizes.thickness / body, *_under_pad(sizes)]  # fmt: skip
    elif part == "sunk":
        columns = [b / body, deep / b, sizes.wall / b, (sizes.counterbore - b - sizes.wall) / b]
    else:
        gap = (sizes.counterbore - sizes.pad) / b
        columns = [b / body, deep / b, sizes.wall / b, overlap, lift, gap, sizes.relief / b,
                   sizes.thickness / body, deep / sizes.lift, *_under_pad(sizes)]  # fmt: skip
    return jnp.stack(jnp.broadcast_arrays(*columns), axis=-1)


def _under_pad(sizes: Sizes) -> list[Array]:
    """Logarithms of the length of the flat ring of air under a pad, and of lift and pad."""
    b, edge, lift = sizes.radius, sizes.radius + sizes.wall, jnp.maximum(sizes.lift, 1e-3)
    beyond = jnp.log(jnp.maximum(sizes.pad / edge, 1.0))
    ring = jnp.log(edge / b) / lift
    ring = ring + beyond / (lift + jnp.maximum(sizes.chimney, 0.0) + sizes.relief)
    return [jnp.log(b / 2 * ring), jnp.log(lift / sizes.pad), jnp.log(sizes.pad / b)]


class Forms(NamedTuple):
    """Closed forms (mm) that the fitted figures depart from."""

    series_open: Array
    series_closed: Array
    shunt_open: Array  # up to the rim plane, zero pressure there
    shunt_closed: Array
    tube: Tube


def forms_of(sizes: Sizes) -> Forms:
    """Of all holes."""
    a, b, mouth = sizes.bore, sizes.radius, sizes.mouth
    tube = tube_of(sizes)
    inertance, volume = closed_length(tube)
    lined = sizes.into > 0
    straight = sizes.tube
    return Forms(
        jnp.where(lined, sizes.lining, series_length(a, mouth, sizes.tube, True)),
        jnp.where(lined, sizes.lining, series_length(a, mouth, sizes.tube, False)),
        jnp.where(lined, straight + 0.6 * b, open_length(tube) + tube.inner),
        # The bore's pressure is curved over the mouth.
        jnp.where(lined, straight / 3 + 0.6 * b, inertance + tube.inner - mouth**2 / (4 * volume)),
        tube,
    )
