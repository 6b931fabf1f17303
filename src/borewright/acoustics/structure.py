"""The part of an instrument that a compiled kernel may not change: counts and connections.

A :class:`Structure` is hashable; two instruments of the same structure share one compiled
kernel, whatever their sizes. Everything continuous goes in through :class:`Numbers`.
"""

from __future__ import annotations

import itertools
import math
from dataclasses import dataclass
from typing import Any, NamedTuple

import jax
import numpy as np
from jax import Array

from borewright.acoustics.elements.top import ReedNumbers, reed_numbers
from borewright.model import BottomEnd, Cover, Instrument, dimensions, read_values

#: Columns of ``SolvedTerms.holes``: what each multiplies in the closed forms of a hole. Ends are
#: inner and outside length together; the last two are no factors but what a lining displaces
#: (mm³), and by how much the open shunt's length grows with k² (mm³).
HOLE_SCALES = (
    "series open",
    "series closed",
    "ends open",
    "inner closed",
    "volume closed",
    "displaced mm3",
    "rise open mm3",
)
#: Measures of a hole (mm) that those may follow, in the order of ``SolvedTerms.at``.
HOLE_MEASURES = (
    "bore_radius",
    "radius",
    "height",
    "chimney",
    "body_radius",
    "lift",
    "undercut_radius",
    "undercut_depth",
)
#: Terms of the bottom end's two series in (ka)²; see :class:`EndTerms`.
END_TERMS = 6
#: Longest slice (mm) of a tapered bore; see the convergence test for what halving it does.
SLICE_MM = 12.0
#: From this diameter (mm) on the Stokes number of a hole is at least 7.3 above 130 Hz.
NARROW_HOLE_MM = 2.0
#: Tapers flatter than this (mm of diameter per mm) count as cylinders: only losses and air vary.
_FLAT = 0.004
#: How much longer slices of a cylinder may be.
_COARSER = 3


@dataclass(frozen=True)
class PartStructure:
    """Connections of one part; positions index the vector of dimensions."""

    stations: tuple[int, ...]  # per bore point; from the bottom end on it is the part's length
    beyond: tuple[float, ...]  # per bore point, mm beyond the bottom shoulder, in the tenon
    diameters: tuple[int, ...]
    tops: tuple[int, ...]  # bore point at the top of each straight piece
    bottoms: tuple[int, ...]  # the same point twice: the end diameter goes on in a tenon
    top_joint: str  # "tenon", "socket" or ""; empty at the instrument's own ends
    bottom_joint: str
    gap_above: bool  # a ring between socket floor and tenon end belongs to this part's top
    gap_below: bool


@dataclass(frozen=True)
class HoleStructure:
    """Connections of one hole; -1 where a measure does not exist."""

    part: int
    station: int
    diameter: int
    chimney: int
    into_bore: int
    lift: int
    undercut_diameter: int
    undercut_depth: int


@dataclass(frozen=True)
class Structure:
    """Everything static about an instrument."""

    parts: tuple[PartStructure, ...]
    lengths: tuple[int, ...]
    pieces: tuple[int, ...]  # slices of every straight piece of the assembled bore
    holes: tuple[HoleStructure, ...]
    mouthpiece: tuple[int, int] | None  # bore length, bore diameter
    bottom_end: BottomEnd
    interaction: bool  # openings hear each other outside
    narrow_holes: tuple[int, ...]  # not wide enough for the loss series
    any_pad: bool
    any_undercut: bool

    @property
    def couples(self) -> bool:
        """Whether openings hear each other, outside or inside the bore."""
        return self.interaction or len(self.holes) > 1

    @property
    def bottom_is_closed(self) -> bool:
        """Whether the bottom end is stopped, which shifts the count of resonances by one."""
        return self.bottom_end is BottomEnd.CLOSED


Values = np.ndarray | Array


class EndTerms(NamedTuple):
    """What a solved bell adds to the reflection at the bottom end, in powers of (ka)².

    k is the wavenumber, a the radius at the end. Length: sum of ``length[i] (ka)^2i``, over a.
    Modulus: exp(-sum of ``loss[i] (ka)^(2i+2)``). Beyond ``highest`` both keep their value.
    """

    length: Values  # [END_TERMS]
    loss: Values  # [END_TERMS]
    highest: Values  # [] ka


class SolvedTerms(NamedTuple):
    """What is solved in two and three dimensions beyond the closed forms."""

    holes: Values  # [H, 7] columns as in HOLE_SCALES, where the holes' measures are ``at``
    slopes: Values  # [H, 7, 8] by mm of HOLE_MEASURES; 0 where they are not known
    at: Values  # [H, 8] mm
    lean: Values  # [] 1: sound runs along the wall of a cone; 0: plane sections
    end: EndTerms


class ClimateNumbers(NamedTuple):
    """Where the instrument is played, and how warm and wet the air in it is."""

    room_c: Any
    reed_end_c: Any
    decay_mm: Any
    relative_humidity: Any
    carbon_dioxide: Any
    pressure_pa: Any


class Numbers(NamedTuple):
    """Everything continuous about an instrument (mm, °C), as arrays.

    ``values`` are the dimensions in the order of ``model.dimensions``; the rest is what a
    fit never moves.
    """

    values: Values  # [D]
    joint_lengths: np.ndarray  # [P, 2] tenon length or socket depth at top and bottom
    joint_diameters: np.ndarray  # [P, 2] socket diameters
    pulled: np.ndarray  # [P] how far each part is drawn apart from the next below
    outside_stations: np.ndarray  # [P, Q] padded with the last value; from the shoulder they follow
    outside_follows: np.ndarray  # [P, Q] 1 where a station follows the bottom shoulder, else 0
    outside_diameters: np.ndarray  # [P, Q]
    bearings: np.ndarray  # [H] rad
    pad_diameters: np.ndarray  # [H] mm, 0 for uncovered holes
    chimney_wall: np.ndarray  # []
    chamber_mm3: Values  # []
    reed: ReedNumbers
    climate: ClimateNumbers
    loss_factor: Values  # []
    solved: SolvedTerms


def structure_of(instrument: Instrument, slice_mm: float = SLICE_MM) -> Structure:
    """The static part of an instrument; ``slice_mm`` sets how finely flares are cut."""
    index = {(d.part, d.hole, d.measure, d.index): i for i, d in enumerate(dimensions(instrument))}
    parts = []
    pieces = [1] if instrument.mouthpiece else []
    for number in range(len(instrument.parts)):
        structure, own_pieces = _part_structure(instrument, number, index, slice_mm)
        parts.append(structure)
        pieces += [1] * structure.gap_above + own_pieces + [1] * structure.gap_below
    holes = tuple(
        HoleStructure(
            number,
            *(
                index.get((part.name, hole.name, measure, -1), -1)
                for measure in (
                    "station",
                    "diameter",
                    "chimney",
                    "into_bore",
                    "lift",
                    "undercut_diameter",
                    "undercut_depth",
                )
            ),
        )
        for number, part in enumerate(instrument.parts)
        for hole in part.holes
    )
    mouthpiece = None
    if instrument.mouthpiece:
        mouthpiece = (
            index["mouthpiece", "", "bore_length", -1],
            index["mouthpiece", "", "bore_diameter", -1],
        )
    return Structure(
        parts=tuple(parts),
        lengths=tuple(index[part.name, "", "length", -1] for part in instrument.parts),
        pieces=tuple(pieces),
        holes=holes,
        mouthpiece=mouthpiece,
        bottom_end=instrument.bottom_end,
        interaction=instrument.outside_interaction
        and instrument.bottom_end in (BottomEnd.RADIATING, BottomEnd.CLOSED),
        narrow_holes=_narrow_holes(instrument),
        any_pad=any(hole.lift >= 0 for hole in holes),
        any_undercut=any(hole.undercut_depth >= 0 for hole in holes),
    )


def _narrow_holes(instrument: Instrument) -> tuple[int, ...]:
    """Holes whose losses need Bessel functions.

    Lined vents always count, so that a fit that widens or narrows one changes no formula; a
    plain hole counts where it is narrow already, or free to become so.
    """
    least = instrument.fit.smallest_hole_mm
    return tuple(
        number
        for number, (_, hole, _) in enumerate(instrument.placed_holes())
        if hole.into_bore_mm > 0 or min(hole.diameter_mm, least) < NARROW_HOLE_MM
    )


def _part_structure(
    instrument: Instrument,
    number: int,
    index: dict[tuple[str, str, str, int], int],
    slice_mm: float,
) -> tuple[PartStructure, list[int]]:
    """One part's connections, and the slices of each of its straight pieces."""
    part = instrument.parts[number]
    first, last = number == 0, number == len(instrument.parts) - 1
    top = "" if first else "tenon" if part.tenon_top else "socket" if part.socket_top else ""
    bottom = (
        "" if last else "tenon" if part.tenon_bottom else "socket" if part.socket_bottom else ""
    )
    tops, bottoms, pieces = [], [], []
    if top == "tenon":
        tops, bottoms, pieces = [0], [0], [1]
    for i, ((s0, d0), (s1, d1)) in enumerate(itertools.pairwise(part.bore)):
        run = s1 - s0
        if run < 1e-9:
            continue  # a step: the slices on either side meet with different radii
        tops.append(i)
        bottoms.append(i + 1)
        flat = abs(d1 - d0) < _FLAT * run
        # A cylinder is cut as well, more coarsely: the air cools along it.
        longest = _COARSER * slice_mm if flat else slice_mm
        pieces.append(max(1, math.ceil(run / longest)))
    if bottom == "tenon":
        tops.append(len(part.bore) - 1)
        bottoms.append(len(part.bore) - 1)
        pieces.append(1)
    length = index[part.name, "", "length", -1]
    stations = [
        length if station > part.length_mm - 1e-9 else index[part.name, "", "bore_station", i]
        for i, (station, _) in enumerate(part.bore)
    ]
    beyond = [max(station - part.length_mm, 0.0) for station, _ in part.bore]
    diameters = [index[part.name, "", "bore_diameter", i] for i in range(len(part.bore))]
    structure = PartStructure(
        stations=tuple(stations),
        beyond=tuple(beyond),
        diameters=tuple(diameters),
        tops=tuple(tops),
        bottoms=tuple(bottoms),
        top_joint=top,
        bottom_joint=bottom,
        gap_above=top == "socket",
        gap_below=bottom == "socket",
    )
    return structure, pieces


def numbers_of(instrument: Instrument) -> Numbers:
    """The continuous part of an instrument."""
    width = max(len(part.outside) for part in instrument.parts)
    outside = np.array(
        [
            part.outside + [part.outside[-1]] * (width - len(part.outside))
            for part in instrument.parts
        ]
    )
    lengths = np.array([[part.length_mm] for part in instrument.parts])
    follows = (outside[:, :, 0] > lengths - 1e-9).astype(float)
    joints = []
    for part in instrument.parts:
        row = []
        for tenon, socket in (
            (part.tenon_top, part.socket_top),
            (part.tenon_bottom, part.socket_bottom),
        ):
            length = tenon.length_mm if tenon else socket.depth_mm if socket else 0.0
            row.append((length, socket.diameter_mm if socket else 0.0))
        joints.append(row)
    holes = [hole for part in instrument.parts for hole in part.holes]
    climate = instrument.climate
    return Numbers(
        values=np.array(read_values(instrument)),
        joint_lengths=np.array(joints)[:, :, 0],
        joint_diameters=np.array(joints)[:, :, 1],
        pulled=np.array(instrument.joint_gaps_mm()),
        outside_stations=outside[:, :, 0] - follows * lengths,
        outside_follows=follows,
        outside_diameters=outside[:, :, 1],
        bearings=np.radians([hole.bearing_deg for hole in holes]),
        pad_diameters=np.array(
            [
                hole.pad.diameter_mm if hole.cover is Cover.PAD and hole.pad else 0.0
                for hole in holes
            ]
        ),
        chimney_wall=np.array(instrument.fit.chimney_wall_mm),
        chamber_mm3=np.array(instrument.mouthpiece.chamber_mm3 if instrument.mouthpiece else 0.0),
        reed=jax.tree.map(np.array, reed_numbers(instrument.reed)),
        climate=ClimateNumbers(
            np.array(climate.room_c),
            np.array(climate.reed_end_c),
            np.array(climate.decay_mm),
            np.array(climate.relative_humidity),
            np.array(climate.carbon_dioxide),
            np.array(climate.pressure_hpa * 100.0),
        ),
        loss_factor=np.array(instrument.wall_loss_factor),
        solved=closed_forms_alone(len(holes)),
    )


def plain_scales(count: int) -> np.ndarray:
    """Scales [H, 7] that leave the closed forms as they are."""
    return np.tile([1.0, 1.0, 1.0, 1.0, 1.0, 0.0, 0.0], (count, 1))


def closed_end() -> EndTerms:
    """No change of the bottom end."""
    return EndTerms(np.zeros(END_TERMS), np.zeros(END_TERMS), np.array(1.0))


def closed_forms_alone(count: int) -> SolvedTerms:
    """Nothing solved, for an instrument with that many holes."""
    return solved_terms(plain_scales(count), lean=0.0, end=closed_end())


def solved_terms(scales: np.ndarray, *, lean: float, end: EndTerms) -> SolvedTerms:
    """Scales [H, 7] that stay as they are when a hole's measures change."""
    count, measures = len(scales), len(HOLE_MEASURES)
    slopes = np.zeros((count, len(HOLE_SCALES), measures))
    return SolvedTerms(scales, slopes, np.zeros((count, measures)), np.array(lean), end)
