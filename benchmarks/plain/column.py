"""Bore, holes and air of an instrument in plain Python, for the plain loop.

Written a second time from what the model says of parts and joints; read from the engine are
only the coefficients of the air and the length of a slice.
"""

from __future__ import annotations

import itertools
import math
from dataclasses import dataclass, field

import numpy as np

from borewright.acoustics import air as engine_air
from borewright.acoustics.structure import SLICE_MM
from borewright.model import Cover, Instrument, ToneHole

MM = 1e-3


@dataclass
class Gas:
    """Air at one place (SI)."""

    c: float
    rho: float
    mu: float
    gamma: float
    root_prandtl: float


@dataclass
class Slice:
    """A truncated cone and the tone hole at its top, if there is one (SI)."""

    length: float
    r_top: float
    r_bottom: float
    slope: float
    gas: Gas
    hole: Side | None


@dataclass
class Side:
    """A tone hole in SI, with the bore and the body where it stands."""

    name: str
    bore: float
    b: float
    height: float
    chimney: float
    body: float
    pad: float
    lift: float
    mouth: float
    depth: float
    gas: Gas


@dataclass
class Column:
    """A whole instrument, ready for any fingering."""

    slices: list[Slice]
    end_radius: float
    end_outside: float
    end_gas: Gas
    top_gas: Gas
    reference: float
    instrument: Instrument
    places: dict[str, tuple[float, float, float]]  # of openings, m; the bottom end is ""
    masses: dict[tuple[str, str], float] = field(default_factory=dict)  # once they are known


def gas_at(instrument: Instrument, below_reed_m: float) -> Gas:
    """Air at a distance (m) below the reed: mixture rules of Wilke, and Mason and Saxena."""
    climate = instrument.climate
    fall = math.exp(-max(below_reed_m, 0.0) / (climate.decay_mm * MM))
    celsius = climate.room_c + (climate.reed_end_c - climate.room_c) * fall
    kelvin, pressure = celsius + 273.15, climate.pressure_hpa * 100
    saturated = 611.21 * math.exp((18.678 - celsius / 234.5) * celsius / (257.14 + celsius))
    water = climate.relative_humidity * saturated / pressure
    dioxide = max(climate.carbon_dioxide - 0.0004, 0.0)
    share = np.array([1 - water - dioxide, water, dioxide])
    powers = (celsius - 25.0) ** np.arange(3)
    masses = engine_air._MOLAR_MASS
    viscosity, conductivity = engine_air._VISCOSITY @ powers, engine_air._CONDUCTIVITY @ powers
    heats = engine_air._HEAT_CAPACITY @ powers
    # Carbon dioxide stands in for oxygen.
    heat = float(share @ heats) + dioxide * (heats[0] - engine_air._OXYGEN_HEAT_CAPACITY)
    mass_ratio = masses[:, None] / masses[None, :]
    factors = (1 + np.sqrt(viscosity[:, None] / viscosity[None, :]) * mass_ratio**-0.25) ** 2
    weights = factors / np.sqrt(8 * (1 + mass_ratio)) @ share
    mu, kappa = (float(np.sum(share * q / weights)) for q in (viscosity, conductivity))
    mass = float(share @ masses) + dioxide * (masses[0] - engine_air._OXYGEN_MASS)
    gas_constant = 8.314462618
    ideal = heat / (heat - gas_constant)
    return Gas(
        c=engine_air._REAL_SPEED * math.sqrt(ideal * gas_constant * kelvin / mass),
        rho=engine_air._REAL_DENSITY * pressure * mass / (gas_constant * kelvin),
        mu=mu,
        gamma=ideal + engine_air._REAL_GAMMA,
        root_prandtl=math.sqrt(mu * heat / mass / kappa),
    )


def bore_pieces(instrument: Instrument) -> list[tuple[float, float, float, float, int]]:
    """Straight pieces (start, end, radius at start, slope in m; slices) of the assembled bore."""
    pieces = []
    if instrument.mouthpiece:
        mouthpiece = instrument.mouthpiece
        pieces.append((-mouthpiece.bore_length_mm, 0.0, mouthpiece.bore_diameter_mm / 2, 0.0, 1))
    offset = 0.0
    last = len(instrument.parts) - 1
    for number, part in enumerate(instrument.parts):
        low, high = 0.0, part.length_mm
        profile = list(part.bore)
        if number > 0 and part.tenon_top:
            low = -part.tenon_top.length_mm
            profile.insert(0, (min(low, profile[0][0]), profile[0][1]))
        if number < last and part.tenon_bottom:
            high += part.tenon_bottom.length_mm
            profile.append((max(high, profile[-1][0]), profile[-1][1]))
        if number > 0 and part.socket_top:
            low = part.socket_top.depth_mm
            tenon = instrument.parts[number - 1].tenon_bottom
            ring = part.socket_top.diameter_mm / 2
            pieces.append((offset + tenon.length_mm, offset + low, ring, 0.0, 1))
        if number < last and part.socket_bottom:
            high -= part.socket_bottom.depth_mm
        for (s0, d0), (s1, d1) in itertools.pairwise(profile):
            start, end = max(s0, low), min(s1, high)
            if s1 - s0 < 1e-9 or end <= start:
                continue
            slope = (d1 - d0) / (s1 - s0) / 2
            cut = math.ceil((s1 - s0) / (3 * SLICE_MM if abs(slope) < 0.002 else SLICE_MM))
            radius = d0 / 2 + slope * (start - s0)
            pieces.append((offset + start, offset + end, radius, slope, cut))
        offset += part.length_mm
        if number < last and part.socket_bottom:
            tenon = instrument.parts[number + 1].tenon_top
            ring = part.socket_bottom.diameter_mm / 2
            pieces.append((offset - part.length_mm + high, offset - tenon.length_mm, ring, 0.0, 1))
    return [(s * MM, e * MM, r * MM, slope, cut) for s, e, r, slope, cut in pieces]


def column_of(instrument: Instrument) -> Column:
    """Slices from the top down, cut at every hole."""
    pieces = bore_pieces(instrument)
    above = -pieces[0][0]
    bottom = instrument.length_mm * MM
    starts: list[tuple[float, int, ToneHole | None]] = []
    for index, (start, end, _, _, cut) in enumerate(pieces):
        starts += [(start + (end - start) * i / cut, index, None) for i in range(cut)]
    bodies = {}
    places = {"": (0.0, 0.0, bottom)}
    for part, hole, position in instrument.placed_holes():
        index = max(i for i, piece in enumerate(pieces) if piece[0] <= position * MM)
        starts.append((position * MM, index, hole))
        bodies[hole.name] = part.outside_diameter_at(hole.station_mm) / 2 * MM
        rim, angle = bodies[hole.name] + hole.chimney_mm * MM, math.radians(hole.bearing_deg)
        places[hole.name] = (rim * math.sin(angle), rim * math.cos(angle), position * MM)
    starts.sort(key=lambda entry: entry[0])
    slices = []
    ends = [start for start, _, _ in starts[1:]] + [bottom]
    for (x0, index, hole), x1 in zip(starts, ends, strict=True):
        start, _, radius, slope, _ = pieces[index]
        r_top, r_bottom = radius + slope * (x0 - start), radius + slope * (x1 - start)
        side = None
        if hole:
            side = side_of(hole, r_top, bodies[hole.name], gas_at(instrument, x0 + above))
        gas = gas_at(instrument, (x0 + x1) / 2 + above)
        slices.append(Slice(x1 - x0, r_top, r_bottom, slope, gas, side))
    top_gas = gas_at(instrument, 0.0)
    reference = top_gas.rho * top_gas.c / (math.pi * slices[0].r_top ** 2)
    lowest = instrument.parts[-1]
    outside = lowest.outside_diameter_at(lowest.length_mm, -1) / 2 * MM
    end_gas = gas_at(instrument, bottom + above)
    # As in the engine, one ratio of heats and one Prandtl number serve the whole bore: their
    # means over the length. Keeping them local moves no note by 0.02 cent.
    sides = [piece.hole.gas for piece in slices if piece.hole]
    gases = [piece.gas for piece in slices] + sides + [top_gas, end_gas]
    for quantity in ("gamma", "root_prandtl"):
        weighted = [piece.length * getattr(piece.gas, quantity) for piece in slices]
        mean = sum(weighted) / sum(piece.length for piece in slices)
        for gas in gases:
            setattr(gas, quantity, mean)
    return Column(
        slices, slices[-1].r_bottom, outside, end_gas, top_gas, reference, instrument, places
    )


def side_of(hole: ToneHole, bore: float, body: float, gas: Gas) -> Side:
    """A tone hole in SI."""
    covered = hole.pad if hole.cover is Cover.PAD else None
    return Side(
        name=hole.name,
        bore=bore,
        b=hole.diameter_mm / 2 * MM,
        height=body - bore + (hole.chimney_mm + hole.into_bore_mm) * MM,
        chimney=hole.chimney_mm * MM,
        body=body,
        pad=covered.diameter_mm / 2 * MM if covered else 0.0,
        lift=covered.lift_mm * MM if covered else 0.0,
        mouth=hole.mouth_diameter_mm / 2 * MM,
        depth=hole.undercut.depth_mm * MM if hole.undercut else 0.0,
        gas=gas,
    )
