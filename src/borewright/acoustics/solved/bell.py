"""The bore below the lowest hole, with its mouth and the air outside, solved in the half plane.

A chain of cones knows one field over each section. In a flare, and round the mouth where the
front turns into a sphere, the field is another, more so as frequency rises. Here the bell as it
is drawn, inside and outside, is solved by Helmholtz's equation, turned about its axis, and what
it does at its top is written as another reflection at the end of the same chain of cones: a
length and a loss, smooth in frequency, which the engine adds to its own.
"""

from __future__ import annotations

import json
import math
from collections.abc import Sequence
from typing import Any

import numpy as np

from borewright.acoustics.options import Air
from borewright.acoustics.solved._store import recalled, remember
from borewright.acoustics.solved.solving import require_ngsolve
from borewright.acoustics.structure import END_TERMS, EndTerms, closed_end
from borewright.errors import AcousticsError
from borewright.model import BottomEnd, Instrument, Part
from borewright.words import say

#: To be raised whenever results may change.
BELL_VERSION = 1
_FOLDER = "bells"
_AIR = Air(346.0, 1.18, losses=False)
#: Frequencies (Hz) that are compared, where the mouth is not too wide for them.
_LOWEST, _HIGHEST = 100.0, 3000.0
_COUNT = 60
#: Beyond this ka the closed reflection that is corrected holds no longer.
_WIDEST_KA = 1.5
#: Where the pressure and its derivatives are solved for, as shares of the highest frequency.
_POINTS = (0.25, 0.6, 0.92)
_MOMENTS = 10
#: Length of bore (radii of the mouth) that is solved where no hole ends it.
_REACH = 8.0
#: Largest misfit (radii of the mouth) of the length's series.
_FIT = 0.01


def solve_bell(instrument: Instrument) -> EndTerms:
    """What the solved bell adds to the bottom end; nothing where that end is no open one.

    Raises
    ------
    AcousticsError
        If NGSolve is missing, or the bell's air cannot be meshed or described.
    """
    if instrument.bottom_end is not BottomEnd.RADIATING:
        return closed_end()
    bell = below_holes(instrument)
    part = bell.parts[0]
    points = tuple((round(x, 4), round(d, 4)) for x, d in part.bore)
    outline = tuple((round(x, 4), round(d, 4)) for x, d in part.outside)
    question = {"solver": BELL_VERSION, "bore": points, "outside": outline}
    # As a file gives it back: lists, not tuples.
    question = json.loads(json.dumps(question))
    answer = recalled(_FOLDER, question)
    if answer is None or set(answer) != set(EndTerms._fields):
        answer = {name: value.tolist() for name, value in _terms(points, outline)._asdict().items()}
        remember(_FOLDER, question, answer)
    return EndTerms(**{name: np.array(value) for name, value in answer.items()})


def below_holes(instrument: Instrument) -> Instrument:
    """The bore from the lower edge of the lowest hole to the bottom end, as one part."""
    from borewright.acoustics.solved.whole.body import body_of

    parts = [part.model_copy(update={"holes": []}) for part in instrument.parts]
    bare = instrument.model_copy(update={"parts": parts, "mouthpiece": None, "reed": None})
    body = body_of(bare, [])
    end = body.bore[-1][0]
    edges = [
        station + max(hole.diameter_mm, hole.undercut.diameter_mm if hole.undercut else 0.0) / 2
        for _, hole, station in instrument.placed_holes()
    ]
    cut = max([*edges, end - _REACH * body.bore[-1][1], 0.0])
    # A hole at the very end leaves a mouth alone: a radius of bore is solved with it.
    cut = min(cut, max(end - body.bore[-1][1], 0.0))
    return Instrument(
        name=instrument.name,
        invented=instrument.invented,
        parts=[_part(_below(body.bore, cut), _below(body.outside, cut))],
    )


def _part(bore: list[tuple[float, float]], outside: list[tuple[float, float]]) -> Part:
    length = bore[-1][0]
    return Part(
        name="bell",
        length_mm=length,
        bore=[(x, 2 * r) for x, r in bore],
        outside=[(min(x, length), 2 * r) for x, r in outside],
    )


def _below(outline: Sequence[tuple[float, float]], cut: float) -> list[tuple[float, float]]:
    """An outline (mm) from a station on, which becomes 0."""
    stations, radii = zip(*outline, strict=True)
    kept = [(x - cut, r) for x, r in outline if x > cut + 1e-6]
    return [(0.0, float(np.interp(cut, stations, radii))), *kept]


Points = tuple[tuple[float, float], ...]


def _terms(bore: Points, outside: Points) -> EndTerms:
    import jax.numpy as jnp

    part = Part(name="bell", length_mm=bore[-1][0], bore=list(bore), outside=list(outside))
    bell = Instrument(name="bell", invented=True, parts=[part])
    radius = bore[-1][1] / 2000
    highest = min(_HIGHEST, _WIDEST_KA * _AIR.speed_of_sound / (2 * math.pi * radius))
    hz = np.linspace(_LOWEST, highest, _COUNT)
    ka = 2 * np.pi * hz / _AIR.speed_of_sound * radius
    column, omega = _column(bell), jnp.asarray(2 * np.pi * hz)
    solved = _end_reflection(column, omega, _top_impedance(bell, hz))
    closed = _closed_reflection(column, omega)
    longer = -np.unwrap(np.angle(solved / closed)) / (2 * ka)
    loss = -np.log(np.abs(solved / closed))
    powers = ka[:, None] ** (2 * np.arange(END_TERMS + 1))
    # The turn of the reflection is what moves a pitch: lengths count by their ka.
    length = np.linalg.lstsq(ka[:, None] * powers[:, :-1], ka * longer, rcond=None)[0]
    losses = np.linalg.lstsq(powers[:, 1:], loss, rcond=None)[0]
    misfit = float(np.max(ka * np.abs(powers[:, :-1] @ length - longer)))
    if misfit > _FIT:
        raise AcousticsError(
            say(
                "the bell's solution is no smooth change of its closed form (off by "
                "{misfit:.2g} radii of its mouth)",
                misfit=misfit,
            ),
            place="bell",
            remedy=say("Use closed forms, and look whether the bore's last stations are meant so."),
        )
    return EndTerms(length, losses, np.array(ka[-1]))


def _top_impedance(bell: Instrument, hz: np.ndarray) -> np.ndarray:
    """Impedance at the top over its characteristic impedance, by finite elements, [K]."""
    require_ngsolve()
    from borewright.acoustics.solved.whole._reduced import reduced_on
    from borewright.acoustics.solved.whole._round_mesh import round_mesh
    from borewright.acoustics.solved.whole._waves import Waves
    from borewright.acoustics.solved.whole.body import body_of
    from borewright.acoustics.solved.whole.detail import WholeDetail

    body, detail = body_of(bell, []), WholeDetail()
    k = 2 * np.pi * hz / (1000 * _AIR.speed_of_sound)
    try:
        mesh = round_mesh(body, detail, 1000 * _AIR.speed_of_sound / float(hz[-1]))
        waves = Waves(mesh, detail.round_order)
    except Exception as error:  # kernel and mesher share no base class
        raise AcousticsError(
            say("the bell's air could not be meshed ({reason})", reason=str(error).strip()),
            place="bell",
            remedy=say("Change one of its sizes by a hundredth of a millimetre."),
        ) from error
    snapshots = [waves.moments(share * float(k[-1]), _MOMENTS) for share in _POINTS]
    reduced = reduced_on(waves, np.concatenate(snapshots))
    return np.asarray(reduced.impedance(k) * math.pi * body.top_radius_mm**2)


def _end_reflection(column: Any, omega: Any, impedance: np.ndarray) -> np.ndarray:
    """The reflection at the end of the chain of cones that gives an impedance at its top."""
    from borewright.acoustics.network import slice_ports

    pressure, flow = impedance, np.ones_like(impedance)
    for a, b, c, d in zip(
        *(np.asarray(entry) for entry in slice_ports(column, omega)), strict=True
    ):
        pressure, flow = d * pressure - b * flow, -c * pressure + a * flow
    return _reflection(column, pressure, flow)


def _closed_reflection(column: Any, omega: Any) -> np.ndarray:
    """The reflection that the engine's closed form has there."""
    from borewright.acoustics.network import end_state

    return _reflection(column, *(np.asarray(part) for part in end_state(column, omega)))


def _reflection(column: Any, pressure: np.ndarray, flow: np.ndarray) -> np.ndarray:
    """Reflection at the end from pressure and normalised flow there."""
    from borewright.acoustics.network import reference_impedance

    air, radius = column.prepared.end_air, column.prepared.ends.bore_radius
    section = math.pi * radius**2 / (air.density * air.speed_of_sound)
    wave = np.asarray(section * reference_impedance(column)) * pressure
    return np.asarray((wave - flow) / (wave + flow))


def _column(bell: Instrument) -> Any:
    import jax.numpy as jnp

    from borewright.acoustics.network import Column
    from borewright.acoustics.options import options_of
    from borewright.acoustics.prepared import prepare
    from borewright.acoustics.structure import numbers_of, structure_of

    structure, numbers = structure_of(bell), numbers_of(bell)
    numbers = numbers._replace(solved=numbers.solved._replace(lean=np.array(1.0)))
    options, fixed = options_of(_AIR)
    return Column(structure, options, *prepare(structure, numbers, jnp.array(fixed), options))
