"""The same physics as an honest plain loop, for comparison of figures and of speed.

One fingering after the other, one slice after the other, NumPy over frequencies, Bessel
functions from SciPy, a root bracketed by a sweep and refined by Brent's method, derivatives
by central differences with secant steps from the known root. It shares formulas with the
engine, but no code.

Run as a script it prints how far apart loop and engine are on both examples.
"""

from __future__ import annotations

import math
from pathlib import Path

import numpy as np
from plain.column import MM, Column, Gas, Side, column_of
from scipy.optimize import brentq
from scipy.special import jv

import borewright
from borewright.acoustics.inside import mutual_curvature, mutual_shape
from borewright.model import (
    BottomEnd,
    Fingering,
    FingeringTable,
    Instrument,
    load,
    read_fingerings,
    read_values,
    with_values,
)

#: Phase (rad) the reflection may turn between neighbours of the sweep, as in the engine.
SWEEP_STEP = 0.9
HEADROOM = 1.35


def zwikker_kosten(
    radius: float, omega: np.ndarray, gas: Gas, loss_factor: float
) -> tuple[np.ndarray, np.ndarray]:
    """Propagation constant and characteristic admittance of a lossy tube."""
    section = math.pi * radius**2
    x = radius * np.sqrt(omega * gas.rho / gas.mu)

    def loss(argument: np.ndarray) -> np.ndarray:
        z = argument * np.sqrt(-1j)
        return 2 * jv(1, z) / (z * jv(0, z))

    series = 1j * omega * gas.rho / section / (1 - loss(x))
    shunt = 1j * omega * section / (gas.rho * gas.c**2)
    shunt = shunt * (1 + (gas.gamma - 1) * loss(x * gas.root_prandtl))
    ideal = 1j * omega / gas.c
    propagation = np.sqrt(series * shunt)
    return ideal + loss_factor * (propagation - ideal), np.sqrt(shunt / series)


def end_correction(ratio: float) -> float:
    """End correction over radius of a pipe whose radius is ``ratio`` times the outer radius."""
    return 0.8217 + ratio * (0.6133 - 0.8217) + 0.057 * ratio * (1 - ratio**5)


def side_network(
    side: Side, is_open: bool, omega: np.ndarray, column: Column
) -> tuple[np.ndarray, np.ndarray]:
    """Series impedance and shunt admittance of a tone hole."""
    a, b, mouth, gas = side.bore, side.b, side.mouth, side.gas
    loss_factor = column.instrument.wall_loss_factor
    d = mouth / a
    impulse = 1j * omega * gas.rho
    tanh = math.tanh(1.84 * side.height / mouth)
    hyperbolic = tanh if is_open else 1 / tanh
    along = -mouth * d**2 / (1.78 * hyperbolic + 0.940 + 0.540 * d + 0.285 * d**2)
    inner = mouth * (0.82 - 0.193 * d - 1.09 * d**2 + 1.27 * d**3 - 0.71 * d**4)
    height = side.height + mouth * d / 8 * (1 + 0.207 * d**3)
    admittance: np.ndarray | float = 0.0
    if is_open:
        wall = column.instrument.fit.chimney_wall_mm * MM
        flush = b * (0.8217 - 0.47 * (b / side.body) ** 0.8)
        tall = b * end_correction(b / (b + wall))
        outside = flush + (1 - math.exp(-max(side.chimney, 0.0) / b)) * (tall - flush)
        flanged = min(max((outside / b - 0.6133) / (0.8217 - 0.6133), 0.0), 1.0)
        resistance = (omega / gas.c * b) ** 2 * (0.25 + 0.25 * flanged)
        if side.pad:
            h, w = side.lift / b, (side.pad - b) / b
            gap = 3.5 * h**0.8 * (h + 3 * w) ** -0.4 + 30 * (side.lift / side.pad) ** 2.6
            outside += b / gap
        outside = outside + b**2 / 4 * 0.72 * (omega / gas.c) ** 2 * side.body / (
            1 + 0.5 * (omega / gas.c * side.body) ** 2
        )
        section = math.pi * b**2
        admittance = 1 / (gas.rho * gas.c / section * resistance + impulse * outside / section)
    pieces = [(b, height - side.depth)]
    if side.depth:
        pieces.append((math.sqrt(b * mouth), side.depth))
    for radius, length in pieces:
        propagation, own = zwikker_kosten(radius, omega, gas, loss_factor)
        tangent = np.tanh(propagation * length)
        admittance = own * (admittance + own * tangent) / (own + admittance * tangent)
    inside = impulse * inner / (math.pi * mouth**2)
    return impulse * along / (math.pi * a**2), admittance / (1 + inside * admittance)


def end_reflection(column: Column, omega: np.ndarray) -> np.ndarray:
    """Reflection of pressure at the bottom end."""
    end = column.instrument.bottom_end
    if end in (BottomEnd.CLOSED, BottomEnd.IDEAL):
        return np.full(omega.shape, 1.0 if end is BottomEnd.CLOSED else -1.0)
    a, k = column.end_radius, omega / column.end_gas.c
    ka = k * a
    free = (1 + 0.2 * ka - 0.084 * ka**2) / (1 + 0.2 * ka + 0.416 * ka**2)
    free_length = (1 + 0.044 * ka**2) / (1 + 0.19 * ka**2) - 0.02 * np.sin(2 * ka) ** 2
    free_length = 0.6133 * free_length
    flanged = (1 + 0.323 * ka - 0.077 * ka**2) / (1 + 0.323 * ka + 0.923 * ka**2)
    flanged_length = 0.8217 / (1 + (0.77 * ka) ** 2 / (1 + 0.77 * ka))
    ratio = 0.0 if end is BottomEnd.FLANGED else a / column.end_outside
    share = (end_correction(ratio) - 0.6133) / (0.8217 - 0.6133)
    modulus = np.maximum(free + share * (flanged - free), 1e-3)
    length = (free_length + share * (flanged_length - free_length)) * a
    return -modulus * np.exp(-2j * k * length)


def climb(
    column: Column,
    open_holes: tuple[str, ...],
    omega: np.ndarray,
    heard: dict[str, np.ndarray],
) -> tuple[np.ndarray, np.ndarray, dict[str, tuple[np.ndarray, np.ndarray]]]:
    """Pressure and flow at the top, and (pressure, flow) at every hole and the bottom end.

    ``heard`` is what the others add at an opening, over the pressure inside.
    """
    back = end_reflection(column, omega)
    gas = column.end_gas
    pressure = 1 + back
    flow = (1 - back) * math.pi * column.end_radius**2 / (gas.rho * gas.c)
    flow = flow / (1 + heard.get("", 0.0))
    openings = {"": (pressure, flow)}
    for piece in reversed(column.slices):
        top, bottom = piece.r_top, piece.r_bottom
        propagation, own = zwikker_kosten(
            math.sqrt(top * bottom), omega, piece.gas, column.instrument.wall_loss_factor
        )
        cosh, sinh = np.cosh(propagation * piece.length), np.sinh(propagation * piece.length)
        s_top = piece.slope / (propagation * top)
        s_bottom = piece.slope / (propagation * bottom)
        pressure, flow = (
            bottom / top * (cosh - s_bottom * sinh) * pressure + sinh / own * flow,
            own * ((1 - s_top * s_bottom) * sinh + (s_top - s_bottom) * cosh) * pressure
            + top / bottom * (cosh + s_top * sinh) * flow,
        )
        if piece.hole:
            name = piece.hole.name
            series, shunt = side_network(piece.hole, name in open_holes, omega, column)
            shunt = shunt / (1 + heard.get(name, 0.0))
            pressure = pressure + series / 2 * flow
            openings[name] = (pressure, shunt * pressure)
            flow = flow + shunt * pressure
            pressure = pressure + series / 2 * flow
    return pressure, flow, openings


def excess(one: tuple[float, ...], other: tuple[float, ...], k: np.ndarray) -> np.ndarray:
    """What a rigid body adds to the free-field pressure between two holes; the engine's fit."""
    (x0, y0, z0), (x1, y1, z1) = one, other
    r0, r1 = math.hypot(x0, y0), math.hypot(x1, y1)
    along = max(abs(z1 - z0) / ((r0 + r1) / 2), 1e-3)
    far = -0.49 / (1 + (along / 3.5) ** 2)
    share = max((1 + (x0 * x1 + y0 * y1) / (r0 * r1)) / 2, 1e-9)
    bent = share ** (1 + 2.3 * math.exp(-0.9 * along))
    quasi_static = far + (math.exp(-0.944 * along**0.717) - far) * bent
    radius = (r0 + r1) / 2
    rising = 0.72 * k**2 * radius / (1 + 0.5 * (k * radius) ** 2) * math.exp(-0.33 * along)
    facing = (x0 * x1 + y0 * y1) / (r0 * r1)
    chord = radius * math.sqrt(along**2 + max(2 - 2 * facing, 0) + 1e-6)
    return quasi_static + chord * facing * rising


Impedances = dict[tuple[str, str], np.ndarray]


def inner_masses(column: Column) -> dict[tuple[str, str], float]:
    """Mutual inertances over density (1/m) of all pairs in the bore, by the engine's fit."""
    sides = [piece.hole for piece in column.slices if piece.hole]
    pairs = [(one, two) for one in sides for two in sides if one.name != two.name]
    if not pairs:
        return {}
    near, far = (np.array([column.places[p[n].name] for p in pairs]) for n in (0, 1))
    bore = np.array([(one.bore + two.bore) / 2 for one, two in pairs])
    width = np.array([one.mouth**2 + two.mouth**2 for one, two in pairs]) / bore**2
    facing = np.sum(near[:, :2] * far[:, :2], axis=1)
    facing = facing / np.hypot(*near[:, :2].T) / np.hypot(*far[:, :2].T)
    along = np.abs(near[:, 2] - far[:, 2]) / bore
    shape = mutual_shape(along, np.clip(facing, -1, 1))
    curvature = mutual_curvature(along, np.clip(facing, -1, 1))
    mass = np.asarray((shape + 0.15 * width * curvature) / (2 * math.pi * bore))
    return {(p[0].name, p[1].name): float(each) for p, each in zip(pairs, mass, strict=True)}


def mutual_impedances(column: Column, open_holes: tuple[str, ...], omega: np.ndarray) -> Impedances:
    """What a flow at one hole or end adds at another, in the bore and outside."""
    gas, places = column.end_gas, column.places
    sides = {piece.hole.name: piece.hole for piece in column.slices if piece.hole}
    column.masses = column.masses or inner_masses(column)
    loud = {*open_holes, ""}
    instrument = column.instrument
    outside = instrument.outside_interaction and instrument.bottom_end is BottomEnd.RADIATING
    found: Impedances = {}
    for name in places:
        for other in places:
            if other == name:
                continue
            total = np.zeros(omega.shape, complex)
            if name and other:
                total += 1j * omega * sides[name].gas.rho * column.masses[name, other]
            if outside and name in loud and other in loud:
                apart = math.dist(places[name], places[other])
                spread = np.exp(-1j * omega / gas.c * apart)
                if name and other:
                    spread = spread + excess(places[name], places[other], omega / gas.c)
                total += 1j * omega * gas.rho / (4 * math.pi * apart) * spread
            found[name, other] = total
    return found


def heard_by(
    openings: dict[str, tuple[np.ndarray, np.ndarray]], mutual: Impedances
) -> dict[str, np.ndarray]:
    """Pressure that all others add, over what is left for an opening's own impedance."""
    flows = {name: flow for name, (_, flow) in openings.items()}

    def added(name: str) -> np.ndarray:
        return sum(mutual[name, other] * flows[other] for other in openings if other != name)

    # Three rounds, as the engine's: flows change by what they hear, pressures in the bore hardly.
    for _ in range(2):
        flows = {
            name: flow if name == "" else flow / inside * (inside - added(name))
            for name, (inside, flow) in openings.items()
        }
    return {name: added(name) / (inside - added(name)) for name, (inside, _) in openings.items()}


def reflection(column: Column, open_holes: tuple[str, ...], hz: np.ndarray) -> np.ndarray:
    """Reflection coefficient at the top, chamber and reed included, at frequencies (Hz)."""
    instrument, omega = column.instrument, 2 * math.pi * np.asarray(hz, dtype=float)
    pressure, flow, openings = climb(column, open_holes, omega, {})
    if len(openings) > 1:
        heard = heard_by(openings, mutual_impedances(column, open_holes, omega))
        pressure, flow, _ = climb(column, open_holes, omega, heard)
    admittance = flow / pressure
    stiffness = column.top_gas.rho * column.top_gas.c**2
    if instrument.mouthpiece:
        admittance = admittance + 1j * omega * instrument.mouthpiece.chamber_mm3 * 1e-9 / stiffness
    if instrument.reed:
        reed = instrument.reed
        ratio = omega / (2 * math.pi * reed.resonance_hz)
        compliance = reed.equivalent_volume_mm3 * 1e-9 / stiffness
        admittance = admittance + 1j * omega * compliance / (
            1 - ratio**2 + 1j * reed.damping * ratio
        )
    normal = admittance * column.reference
    return (1 - normal) / (1 + normal)


def sounding_hz(column: Column, fingering: Fingering, target_hz: float) -> float:
    """Resonance of a fingering (Hz), NaN where the sweep meets none."""
    instrument = column.instrument
    length = sum(piece.length for piece in column.slices)
    if instrument.mouthpiece:
        volume = instrument.mouthpiece.chamber_mm3
        volume += instrument.reed.equivalent_volume_mm3 if instrument.reed else 0.0
        length += volume * 1e-9 / (math.pi * column.slices[0].r_top ** 2)
    step = SWEEP_STEP * 345.0 / (4 * math.pi * length)
    grid = step * np.arange(1, math.ceil(target_hz * HEADROOM / step) + 1)
    angles = np.unwrap(np.angle(reflection(column, fingering.open_holes, grid)))
    sealed = instrument.bottom_end is BottomEnd.CLOSED and not fingering.open_holes
    goal = -2 * math.pi * (fingering.resonance_number - 1 + sealed)
    passed = np.flatnonzero((angles[:-1] > goal) & (angles[1:] <= goal))
    if not len(passed):
        return math.nan
    low, high = grid[passed[0]], grid[passed[0] + 1]

    def excess(hz: float) -> float:
        return float(np.angle(reflection(column, fingering.open_holes, np.array([hz])))[0])

    return float(brentq(excess, low, high, xtol=1e-9, rtol=1e-12))


def nearby_hz(column: Column, open_holes: tuple[str, ...], start_hz: float) -> float:
    """The resonance next to a known one, by secant steps: what a difference quotient needs."""

    def excess(hz: float) -> float:
        return float(np.angle(reflection(column, open_holes, np.array([hz])))[0])

    last, here = start_hz * (1 + 1e-4), start_hz
    at_last, at_here = excess(last), excess(here)
    for _ in range(20):
        if at_here == at_last or abs(at_here) < 1e-11:
            break
        last, here, at_last = here, here - at_here * (here - last) / (at_here - at_last), at_here
        at_here = excess(here)
    return here


def cents_per_tenth_mm(
    instrument: Instrument, fingerings: FingeringTable, starts_hz: list[float], index: int
) -> list[float]:
    """One column of the sensitivity map by central differences, 0.02 mm either way."""
    step = 0.02
    sides = []
    for shift in (step, -step):
        values = read_values(instrument)
        values[index] += shift
        column = column_of(with_values(instrument, values))
        sides.append(
            [
                nearby_hz(column, fingering.open_holes, start)
                for fingering, start in zip(fingerings.fingerings, starts_hz, strict=True)
            ]
        )
    return [
        1200 * math.log2(more / less) * 0.1 / (2 * step) for more, less in zip(*sides, strict=True)
    ]


def main() -> None:
    """How far apart loop and engine are, on both examples."""
    from borewright.acoustics import tuning

    examples = Path(borewright.__file__).parent / "examples"
    for name in ("loan-clarinet/clarinet.toml", "class-chalumeau/chalumeau.toml"):
        instrument = load(examples / name)
        table = read_fingerings((examples / name).parent / instrument.fingerings)
        column = column_of(instrument)
        worst = 0.0
        for fingering, note in zip(table.fingerings, tuning(instrument, table).notes, strict=True):
            loop_hz = sounding_hz(column, fingering, note.target_hz)
            worst = max(worst, abs(1200 * math.log2(loop_hz / note.sounding_hz)))
        print(
            f"{instrument.name}: plain loop and engine differ by {worst:.1e} cents at most, "
            f"over {len(table.fingerings)} fingerings"
        )


if __name__ == "__main__":
    main()
