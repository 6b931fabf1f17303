"""Lengths of whole holes from fitted parts, and the factors that they put on closed forms."""

from __future__ import annotations

import math
from typing import NamedTuple

import jax
import jax.numpy as jnp
from jax import Array

from borewright.acoustics.elements.hole_junction import series_length
from borewright.acoustics.elements.hole_outside import pad_length, rim_length, wave_share
from borewright.acoustics.solved._rising import RISE_AT
from borewright.acoustics.surrogate.families import forms_of, ratios
from borewright.acoustics.surrogate.sizes import (
    Sizes,
    closed_length,
    displaced_volume,
    open_length,
    tube_of,
    tube_volume,
    waved_length,
)
from borewright.acoustics.surrogate.table import Figures, evaluate

#: Parts in the order of the numbers that ``hole_lengths`` is given.
INSIDES = ("inner", "lined")
OUTSIDES = ("drilled", "raised", "raised_pad", "sunk", "sunk_pad")
#: Terms in the square of the bore's slope, over b: constant, times b/a, times (b/a)².
CONE_FIGURES = ("series open", "series closed", "shunt open", "shunt closed")


class HoleLengths(NamedTuple):
    """What ``solved.SolvedHole`` says, open and closed (mm, mm³), [H] each."""

    series_open: Array
    series_closed: Array
    shunt_open: Array
    shunt_closed: Array
    volume: Array  # closed
    displaced: Array
    rise: Array  # of the open shunt, read off at RISE_AT


def outside_lengths(found: Figures, part: str, sizes: Sizes) -> tuple[Array, Array]:
    """Length (mm) beyond the rim plane, and its growth with k² (mm³)."""
    at, b = ratios(part, sizes), sizes.radius
    outside = b * jnp.exp(evaluate(found[part]["outside"], at))
    return outside, b**2 * outside * jnp.exp(evaluate(found[part]["rise"], at))


def inside_lengths(found: Figures, part: str, sizes: Sizes) -> HoleLengths:
    """Up to the rim plane: zero pressure there, or closed by a plane."""
    at, b, forms = ratios(part, sizes), sizes.radius, forms_of(sizes)
    figure = {name: evaluate(bumps, at) for name, bumps in found[part].items()}
    volume, displaced = tube_volume(sizes, finger=False), displaced_volume(sizes)
    shunt = forms.shunt_open + b * figure["shunt open"]
    return HoleLengths(
        forms.series_open * figure["series open"],
        forms.series_closed * figure["series closed"],
        shunt,
        forms.shunt_closed + b * figure["shunt closed"] * (1 + displaced / volume) ** 2,
        volume,
        displaced,
        b * sizes.tube**2 * figure["rise"],
    )


def finger_length(found: Figures, sizes: Sizes, flat: HoleLengths) -> tuple[Array, Array]:
    """Closed by a finger's flesh: shunt length (mm) and volume (mm³)."""
    b, area = sizes.radius, math.pi * sizes.radius**2
    volume = tube_volume(sizes, finger=True)
    off = evaluate(found["finger"]["shunt closed"], ratios("finger", sizes))
    # As much shorter as a plane that closes the same volume, and what the bulge does beyond.
    tube = tube_of(sizes)
    shorter = tube._replace(straight=tube.straight - (flat.volume - volume) / area)
    saved = closed_length(tube)[0] - closed_length(shorter)[0]
    curved = sizes.mouth**2 / 4 * area * (1 / volume - 1 / flat.volume)
    return flat.shunt_closed - saved - curved + b * off, volume


#: Decay (radii) of the slowest wave across a tube, and the share of it that an opening sends
#: back otherwise than a rim plane without pressure: fitted to whole holes ("fresh").
_ACROSS = 1.8412
_SENT_BACK = 0.69


def short_tube(sizes: Sizes, series_open: Array) -> Array:
    """What a short, wide hole's series length (mm) feels of the outside beyond its rim plane."""
    narrow = (sizes.tube - sizes.depth) / sizes.radius
    wide = sizes.depth / jnp.sqrt(sizes.radius * sizes.mouth)
    return -_SENT_BACK * series_open * jnp.exp(-2 * _ACROSS * (narrow + wide))


def cone_lengths(found: Array, sizes: Sizes) -> Array:
    """What a conical bore adds to each of CONE_FIGURES (mm), [4, H]."""
    d = sizes.radius / sizes.bore
    terms = jnp.stack([jnp.ones_like(d), d, d**2])
    return (found @ terms) * sizes.radius * sizes.slope**2


def grown(sizes: Sizes, outside: Array, rise_outside: Array, inner_rise: Array) -> Array:
    """Growth of the open shunt (mm³) at RISE_AT, of tube, outside and what the parts add."""
    tube = tube_of(sizes)
    long = waved_length(tube, outside + rise_outside * RISE_AT**2, RISE_AT)
    return (long - open_length(tube) - outside) / RISE_AT**2 + inner_rise


def hole_lengths(
    found: Figures, cone: Array, sizes: Sizes, inside: Array, outside: Array, finger: Array
) -> HoleLengths:
    """Whole holes: parts put together.

    Parameters
    ----------
    found, cone
        The fitted figures, and the terms of conical bores [4, 3].
    sizes
        The holes, [H].
    inside, outside
        Which part each hole has, as numbers in INSIDES and OUTSIDES, [H].
    finger
        Whether a finger closes it, [H].
    """
    inner = jax.tree.map(
        lambda *each: jnp.select([inside == n for n in range(len(each))], each),
        *(inside_lengths(found, part, sizes) for part in INSIDES),
    )
    beyond, rising = (
        jnp.select([outside == n for n in range(len(OUTSIDES))], each)
        for each in zip(*(outside_lengths(found, part, sizes) for part in OUTSIDES), strict=True)
    )
    closed, volume = finger_length(found, sizes, inner)
    slanted = cone_lengths(cone, sizes)
    shunt = inner.shunt_open + slanted[2] + beyond
    # The bore's pressure is curved over the mouth, which goes with the whole shunt.
    curved = jnp.where(inside == 0, sizes.mouth**2 / 4 * shunt, 0.0)
    return HoleLengths(
        inner.series_open + short_tube(sizes, inner.series_open) + slanted[0],
        inner.series_closed + slanted[1],
        shunt,
        jnp.where(finger, closed, inner.shunt_closed) + slanted[3],
        jnp.where(finger, volume, inner.volume),
        inner.displaced,
        grown(sizes, beyond, rising, inner.rise + curved),
    )


def scales_of(lengths: HoleLengths, sizes: Sizes) -> Array:
    """Factors on the closed forms, [H, 7], as in ``structure.HOLE_SCALES``."""
    a, b, mouth, height = sizes.bore, sizes.radius, sizes.mouth, sizes.tube
    tube = tube_of(sizes)
    inertance, long = closed_length(tube)
    outside = rim_length(b, sizes.body, sizes.chimney, sizes.wall)
    covered = sizes.pad > 0
    pad = pad_length(b, jnp.where(covered, sizes.pad, 2 * b), jnp.where(covered, sizes.lift, b))
    outside = outside + jnp.where(covered, pad, 0.0)
    ends = (lengths.shunt_open - open_length(tube)) / (tube.inner + outside)
    volume = lengths.volume / (jnp.pi * b**2 * long)
    # What the scaled forms rise by themselves is not added a second time.
    waves = b**2 / 4 * wave_share(jnp.asarray(RISE_AT), sizes.body)
    wave = waved_length(tube, ends * outside + waves, RISE_AT)
    own = (wave - open_length(tube) - ends * outside) / RISE_AT**2
    return jnp.stack(
        [
            lengths.series_open / series_length(a, mouth, height, True),
            lengths.series_closed / series_length(a, mouth, height, False),
            ends,
            (lengths.shunt_closed - inertance / volume) / tube.inner,
            volume,
            lengths.displaced,
            lengths.rise - own,
        ],
        axis=-1,
    )
