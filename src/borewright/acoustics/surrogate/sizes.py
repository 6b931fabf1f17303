"""Sizes of holes as arrays, and what the closed forms make of them."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any, NamedTuple

import jax.numpy as jnp
import numpy as np
from jax import Array

from borewright.acoustics.elements.hole_junction import inner_length, matching_length
from borewright.acoustics.solved.shape import HoleCover, HoleShape

_RADII, _TURNS = 16, 24


class Sizes(NamedTuple):
    """A batch of holes (mm), as in ``solved.HoleShape``; [H] each."""

    bore: Array  # radius
    radius: Array
    height: Array  # without lining
    slope: Array
    mouth: Array  # radius; the hole's own where it is not undercut
    depth: Array
    body: Array  # radius
    chimney: Array
    wall: Array  # of a chimney, or flat land of a seat
    counterbore: Array
    relief: Array
    pad: Array
    lift: Array
    thickness: Array
    flesh: Array
    into: Array
    lining: Array

    @property
    def tube(self) -> Array:
        """Length (mm) of the tube on its centre line, lining included."""
        return self.height + self.into


def sizes_of(shapes: Sequence[HoleShape]) -> Sizes:
    """Sizes of shapes; a flat baffle has an endless body."""

    def column(read: str) -> Any:
        found = [getattr(shape, read) for shape in shapes]
        return np.array([np.inf if each is None else float(each) for each in found])

    finger = np.array([shape.cover == HoleCover.FINGER for shape in shapes])
    return Sizes(
        bore=column("bore_radius_mm"),
        radius=column("radius_mm"),
        height=column("height_mm"),
        slope=column("bore_slope"),
        mouth=column("mouth_radius_mm"),
        depth=column("undercut_depth_mm"),
        body=column("body_radius_mm"),
        chimney=column("chimney_mm"),
        wall=column("chimney_wall_mm"),
        counterbore=column("counterbore_radius_mm"),
        relief=column("seat_relief_mm"),
        pad=column("pad_radius_mm"),
        lift=column("lift_mm"),
        thickness=column("pad_thickness_mm"),
        flesh=finger * column("flesh_mm"),
        into=column("into_bore_mm"),
        lining=column("lining_radius_mm"),
    )


class Tube(NamedTuple):
    """A hole's tube as the network has it: a straight piece, and its undercut as another."""

    straight: Array  # mm
    wide: Array  # section of the undercut over the hole's
    depth: Array  # mm
    inner: Array  # mm of the hole's own section, between tube and bore


def tube_of(sizes: Sizes) -> Tube:
    """The closed forms' tube and inner length."""
    a, b, mouth = sizes.bore, sizes.radius, sizes.mouth
    height = sizes.tube + matching_length(a, mouth)
    inner = inner_length(a, mouth) * (b / mouth) ** 2
    return Tube(height - sizes.depth, mouth / b, sizes.depth, inner)


def open_length(tube: Tube) -> Array:
    """Length (mm) of the tube itself in long waves."""
    return tube.straight + tube.depth / tube.wide


def closed_length(tube: Tube) -> tuple[Array, Array]:
    """Inertance (mm) of the tube closed above, and its volume over the hole's section (mm)."""
    volume = tube.straight + tube.wide * tube.depth
    moment = tube.straight**3 / 3 + (volume**3 - tube.straight**3) / (3 * tube.wide**2)
    return moment / volume**2, volume


def waved_length(tube: Tube, beyond: Array, wavenumber: float) -> Array:
    """Length (mm) of the tube that ends in a length ``beyond``, at a wavenumber (1/mm)."""

    def through(end: Array, piece: Array) -> Array:
        tangent = jnp.tan(wavenumber * piece) / wavenumber
        return (end + tangent) / (1 - end * wavenumber**2 * tangent)

    outer = through(beyond, tube.straight)
    return through(outer * tube.wide, tube.depth) / tube.wide


def tube_volume(sizes: Sizes, *, finger: bool) -> Array:
    """Air (mm³) from the bore's wall, or a lining's end, up to what closes the hole."""
    b, mouth = sizes.radius, sizes.mouth
    up_to = sizes.bore + sizes.height

    def wall(inner: Array | float, outer: Array) -> tuple[Array, Array, Array]:
        nodes, weights = np.polynomial.legendre.leggauss(_RADII)
        share = jnp.asarray((nodes + 1) / 2)[:, None]
        r = inner + (outer - inner) * share
        turn = (np.arange(_TURNS) + 0.5) * np.pi / _TURNS
        sine, cosine = (jnp.asarray(each(turn))[:, None, None] for each in (np.sin, np.cos))
        local = sizes.bore + sizes.slope * r * cosine
        across = jnp.mean(jnp.sqrt(local**2 - (r * sine) ** 2), axis=0)
        return r, across, jnp.asarray(weights)[:, None] / 2 * (outer - inner) * 2 * jnp.pi * r

    r, across, weight = wall(0.0, b)
    ceiling = up_to + 0 * r
    if finger:
        height = up_to - _sagitta(sizes)
        depth = jnp.maximum(sizes.flesh, 1e-9)
        curvature = (b**2 + depth**2) / (2 * depth)
        ceiling = height - depth + curvature - jnp.sqrt(curvature**2 - r**2)
    floor = jnp.where(sizes.into > 0, sizes.bore - sizes.into, across)
    found = jnp.sum(weight * (ceiling - floor), axis=0)
    r, across, weight = wall(b, mouth)
    undercut = mouth > b * (1 + 1e-9)
    share = (mouth - r) / jnp.where(undercut, mouth - b, 1.0)
    cone = sizes.bore - sizes.into + sizes.depth * share
    ring = jnp.sum(weight * jnp.maximum(cone - across, 0.0), axis=0)
    return found + jnp.where(undercut, ring, 0.0)


def _sagitta(sizes: Sizes) -> Array:
    """How far the rim of a drilled hole lies below the crown of its round body, in the mean."""
    drilled = (sizes.chimney == 0) & (sizes.wall == 0) & jnp.isfinite(sizes.body)
    body = jnp.where(drilled, sizes.body, 4 * sizes.radius)
    turn = (np.arange(_TURNS) + 1) * np.pi / (_TURNS + 1)
    weight = np.sin(turn) ** 2 / np.sum(np.sin(turn) ** 2)
    across = sizes.radius * jnp.asarray(np.cos(turn))[:, None]
    low = jnp.sum(jnp.asarray(weight)[:, None] * (body - jnp.sqrt(body**2 - across**2)), axis=0)
    return jnp.where(drilled, low, 0.0)


def displaced_volume(sizes: Sizes) -> Array:
    """Bore air (mm³) that a lining takes away, tube and wall."""
    nodes, weights = np.polynomial.legendre.leggauss(2 * _RADII)
    r = sizes.lining * jnp.asarray((nodes + 1) / 2)[:, None]
    turn = (np.arange(_TURNS) + 0.5) * np.pi / _TURNS
    across = jnp.sqrt(sizes.bore**2 - (r * jnp.asarray(np.sin(turn))[:, None, None]) ** 2)
    taken = jnp.mean(jnp.maximum(across - (sizes.bore - sizes.into), 0.0), axis=0)
    weight = jnp.asarray(weights)[:, None] / 2 * sizes.lining * 2 * jnp.pi * r
    return jnp.where(sizes.into > 0, jnp.sum(weight * taken, axis=0), 0.0)
