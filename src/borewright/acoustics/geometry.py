"""From dimensions to slices: the assembled bore, cut at every hole (SI, differentiable)."""

from __future__ import annotations

from typing import NamedTuple

import jax.numpy as jnp
import numpy as np
from jax import Array
from jax.lax import stop_gradient

from borewright.acoustics.structure import HOLE_MEASURES, Numbers, SolvedTerms, Structure

_MM = 1e-3


class Slices(NamedTuple):
    """N truncated cones from the top down (SI)."""

    length: Array  # [N]
    radius_top: Array  # [N]
    radius_bottom: Array  # [N]
    slope: Array  # [N] dr/dx
    middle: Array  # [N] distance of the slice's middle from the top of the body


class Ends(NamedTuple):
    """Scalars of the two ends (SI)."""

    bore_radius: Array  # at the bottom
    outer_radius: Array  # at the bottom
    above: Array  # length of bore above the body's top, in the mouthpiece
    length: Array  # of the body, from its top to its bottom


class Holes(NamedTuple):
    """H side holes (SI)."""

    position: Array  # [H] from the top of the body
    bore_radius: Array
    radius: Array
    height: Array  # bore wall (or end of the lining) to rim
    chimney: Array  # beyond the body's outside
    body_radius: Array  # of the outside at the hole
    pad_radius: Array  # 0: no pad
    lift: Array
    undercut_radius: Array  # equals radius where there is none
    undercut_depth: Array
    place: Array  # [H, 3] of the rim's centre: across, across, along
    scale: Array  # [H, 7] of the closed forms, see structure.HOLE_SCALES (mm³ for the last two)


class _Segments(NamedTuple):
    """S straight pieces of the assembled bore, before it is cut into slices (m)."""

    start: Array  # [S]
    end: Array
    radius: Array  # at the start
    slope: Array


def slices_and_holes(structure: Structure, numbers: Numbers) -> tuple[Slices, Holes, Ends, Array]:
    """Assemble parts, joints and holes.

    In a joint the sound meets the tenon's bore, and a short wide ring where the socket is
    deeper than the tenon is long, or where the joint is drawn apart. Profiles are interpolated
    as straight lines. The last result is, for each slice, the index of the hole at its top, H
    where there is none.
    """
    values = jnp.asarray(numbers.values) * _MM
    lengths = values[np.array(structure.lengths)]
    pulled = jnp.asarray(numbers.pulled) * _MM
    offsets = jnp.concatenate([jnp.zeros(1), jnp.cumsum(lengths + pulled)])
    segments = _segments(structure, numbers, values, lengths, offsets)
    bottom = offsets[-1]
    above = values[structure.mouthpiece[0]] if structure.mouthpiece else jnp.zeros(())

    hole_parts = np.array([hole.part for hole in structure.holes], dtype=int)
    stations = values[np.array([hole.station for hole in structure.holes], dtype=int)]
    position = offsets[hole_parts] + stations
    owner_of_hole = (
        jnp.searchsorted(stop_gradient(segments.start), stop_gradient(position), "right") - 1
    )

    owners = np.repeat(np.arange(len(structure.pieces)), structure.pieces)
    shares = np.concatenate([np.arange(pieces) / pieces for pieces in structure.pieces])
    starts = segments.start[owners] + shares * (segments.end - segments.start)[owners]
    count = len(structure.holes)
    all_starts = jnp.concatenate([starts, position])
    order = jnp.argsort(stop_gradient(all_starts), stable=True)
    x_top = all_starts[order]
    x_bottom = jnp.concatenate([x_top[1:], bottom[None]])
    owner = jnp.concatenate([jnp.asarray(owners), owner_of_hole])[order]
    where = jnp.concatenate([jnp.full(len(owners), count), jnp.arange(count)])[order]

    def radius_at(x: Array, segment: Array) -> Array:
        return segments.radius[segment] + segments.slope[segment] * (x - segments.start[segment])

    slices = Slices(
        length=x_bottom - x_top,
        radius_top=radius_at(x_top, owner),
        radius_bottom=radius_at(x_bottom, owner),
        slope=segments.slope[owner],
        middle=(x_top + x_bottom) / 2,
    )
    last = np.array([len(structure.parts) - 1])
    ends = Ends(
        bore_radius=radius_at(bottom, owner[-1]),
        outer_radius=_outside(numbers, lengths, last, lengths[-1:])[0],
        above=above,
        length=bottom,
    )
    body = _outside(numbers, lengths, hole_parts, stations)
    holes = _holes(structure, numbers, values, position, body, radius_at(position, owner_of_hole))
    return slices, holes, ends, where


def _segments(
    structure: Structure, numbers: Numbers, values: Array, lengths: Array, offsets: Array
) -> _Segments:
    """All straight pieces in order, each clipped to the reach of its own part."""
    reach = jnp.asarray(numbers.joint_lengths) * _MM
    sockets = jnp.asarray(numbers.joint_diameters) * _MM / 2
    low, high = _reaches(structure, reach, lengths)
    starts, ends, radii, slopes = [], [], [], []

    def take(start: Array, end: Array, radius: Array, slope: Array) -> None:
        starts.append(start)
        ends.append(end)
        radii.append(radius)
        slopes.append(slope)

    if structure.mouthpiece:
        above = values[structure.mouthpiece[0]]
        radius = values[structure.mouthpiece[1]] / 2
        take(-above[None], jnp.zeros(1), radius[None], jnp.zeros(1))
    for number, part in enumerate(structure.parts):
        offset = offsets[number]
        stations = values[np.array(part.stations)] + np.array(part.beyond) * _MM
        profile = values[np.array(part.diameters)] / 2
        if part.gap_above:
            tenon = reach[number - 1, 1] - numbers.pulled[number - 1] * _MM
            take(
                (offset + tenon)[None],
                (offset + low[number])[None],
                sockets[number, :1],
                jnp.zeros(1),
            )
        first, second = np.array(part.tops), np.array(part.bottoms)
        run = stations[second] - stations[first]
        # Pieces inside a tenon, beyond the listed bore, go on with the last diameter.
        steady = first == second
        slope = jnp.where(
            steady, 0.0, (profile[second] - profile[first]) / jnp.where(steady, 1.0, run)
        )
        at = np.arange(len(first))
        start = jnp.where(steady & (at == 0), low[number], stations[first])
        end = jnp.where(steady & (at > 0), high[number], stations[second])
        inner_start = jnp.clip(start, low[number], high[number])
        inner_end = jnp.clip(end, low[number], high[number])
        take(
            offset + inner_start,
            offset + jnp.maximum(inner_end, inner_start),
            profile[first] + slope * (inner_start - stations[first]),
            slope,
        )
        if part.gap_below:
            tenon = reach[number + 1, 0]
            take(
                (offset + high[number])[None],
                (offsets[number + 1] - tenon)[None],
                sockets[number, 1:],
                jnp.zeros(1),
            )
    return _Segments(*(jnp.concatenate(column) for column in (starts, ends, radii, slopes)))


def _reaches(structure: Structure, reach: Array, lengths: Array) -> tuple[Array, Array]:
    """First and last station (m) of each part whose own bore the sound meets, [P] each."""
    sign = {"tenon": 1.0, "socket": -1.0, "": 0.0}
    top = np.array([sign[part.top_joint] for part in structure.parts])
    bottom = np.array([sign[part.bottom_joint] for part in structure.parts])
    return jnp.asarray(-top) * reach[:, 0], lengths + bottom * reach[:, 1]


def _outside(numbers: Numbers, lengths: Array, parts: np.ndarray, stations: Array) -> Array:
    """Outer radius (m) of bodies, one for each (part, station in m) pair.

    Linear interpolation written as a sum over the profile's pieces, so that all holes go at
    once; at a step the lower side counts.
    """
    profile_x = jnp.asarray(numbers.outside_stations)[parts] * _MM
    # Stations from the bottom shoulder on are stored as distances from it.
    profile_x = profile_x + jnp.asarray(numbers.outside_follows)[parts] * lengths[parts][:, None]
    profile_r = jnp.asarray(numbers.outside_diameters)[parts] * _MM / 2
    run = profile_x[:, 1:] - profile_x[:, :-1]
    rise = profile_r[:, 1:] - profile_r[:, :-1]
    step = run < 1e-12
    share = jnp.where(
        step,
        (stations[:, None] >= profile_x[:, 1:]).astype(float),
        jnp.clip((stations[:, None] - profile_x[:, :-1]) / jnp.where(step, 1.0, run), 0.0, 1.0),
    )
    return profile_r[:, 0] + jnp.sum(rise * share, axis=1)


def _holes(
    structure: Structure,
    numbers: Numbers,
    values: Array,
    position: Array,
    body: Array,
    bore: Array,
) -> Holes:
    def column(measure: str, missing: float = 0.0) -> Array:
        indices = np.array([getattr(hole, measure) for hole in structure.holes], dtype=int)
        return jnp.where(indices >= 0, values[indices], missing)

    radius = column("diameter") / 2
    chimney = column("chimney")
    rim = body + chimney
    bearing = jnp.asarray(numbers.bearings)
    undercut = np.array([hole.undercut_depth >= 0 for hole in structure.holes], dtype=bool)
    holes = Holes(
        position=position,
        bore_radius=bore,
        radius=radius,
        height=body - bore + chimney + column("into_bore"),
        chimney=chimney,
        body_radius=body,
        pad_radius=jnp.asarray(numbers.pad_diameters) * _MM / 2,
        lift=column("lift", 1.0),
        undercut_radius=jnp.where(undercut, column("undercut_diameter") / 2, radius),
        undercut_depth=column("undercut_depth"),
        place=jnp.stack([rim * jnp.sin(bearing), rim * jnp.cos(bearing), position], axis=1),
        scale=jnp.asarray(numbers.solved.holes),
    )
    return holes._replace(scale=_scales(holes, numbers.solved))


def _scales(holes: Holes, solved: SolvedTerms) -> Array:
    """Scales [H, 7] of holes that may have moved from where theirs were taken."""
    measures = jnp.stack([getattr(holes, measure) / _MM for measure in HOLE_MEASURES], axis=1)
    moved = jnp.sum(jnp.asarray(solved.slopes) * (measures - jnp.asarray(solved.at))[:, None], 2)
    return jnp.asarray(solved.holes) + moved
