"""The bore below the lowest hole, with its mouth and the air outside, solved in the half plane.

A chain of cones knows one field over each section. In a flare, and round the mouth where the
front turns into a sphere, the field is another, more so as frequency rises. Here the bell as it
is drawn, inside and outside, is solved by Helmholtz's equation, turned about its axis, and what
it does at its top is written as another reflection at the end of the same chain of cones: a
length and a loss, smooth in frequency, which the engine adds to its own.
"""

from __future__ import annotations

import math
from collections import OrderedDict
from collections.abc import Sequence
from itertools import pairwise
from typing import Any

import numpy as np

from borewright.acoustics.compilation import cache_folder, compiled
from borewright.acoustics.elements.open_end import reflection
from borewright.acoustics.options import Air
from borewright.acoustics.solved._store import entry_path, recalled, remember
from borewright.acoustics.solved.solving import has_ngsolve, require_ngsolve
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


#: Bells met lately, by question and cache folder.
_met: OrderedDict[str, EndTerms] = OrderedDict()
_MOST_MET = 200
#: Bells that this process could not solve: not tried again with every note.
_refused: dict[str, AcousticsError] = {}


def solve_bell(instrument: Instrument) -> EndTerms:
    """What the solved bell adds to the bottom end; nothing where that end is no open one.

    Raises
    ------
    AcousticsError
        If NGSolve is missing, or the bell's air cannot be meshed or described.
    """
    known = known_bell(instrument)
    if known is not None:
        return known
    key, question = _question(instrument)
    if key in _refused:
        raise _refused[key]
    try:
        found = _terms(*((tuple(map(tuple, question[line]))) for line in ("bore", "outside")))
    except AcousticsError as error:
        if has_ngsolve():
            _refused[key] = error
        raise
    remember(_FOLDER, question, {name: value.tolist() for name, value in found._asdict().items()})
    return found


def known_bell(instrument: Instrument) -> EndTerms | None:
    """As :func:`solve_bell`, without solving: None where it was not solved before."""
    if instrument.bottom_end is not BottomEnd.RADIATING:
        return closed_end()
    key, question = _question(instrument)
    if key not in _met:
        answer = recalled(_FOLDER, question)
        if answer is None or set(answer) != set(EndTerms._fields):
            return None
        _met[key] = EndTerms(**{name: np.array(value) for name, value in answer.items()})
        while len(_met) > _MOST_MET:
            _met.popitem(last=False)
    return _met[key]


#: Questions of outlines met lately: laying out a bore takes longer than a note's share of it.
_asked: OrderedDict[Any, tuple[str, dict[str, Any]]] = OrderedDict()


def _question(instrument: Instrument) -> tuple[str, dict[str, Any]]:
    """What decides the solution, the bore below the lowest hole, inside and outside; its file."""
    joints = ("tenon_top", "socket_top", "tenon_bottom", "socket_bottom")
    outlines = tuple(
        (
            part.length_mm,
            tuple(part.bore),
            tuple(part.outside),
            *(str(getattr(part, joint)) for joint in joints),
        )
        for part in instrument.parts
    )
    edge = max(_lower_edges(instrument), default=0.0)
    key = (str(cache_folder()), outlines, edge)
    if key not in _asked:
        question = _outline_question(instrument)
        _asked[key] = str(entry_path(_FOLDER, question)), question
        while len(_asked) > _MOST_MET:
            _asked.popitem(last=False)
    return _asked[key]


def _lower_edges(instrument: Instrument) -> list[float]:
    """Where each hole ends in the bore (mm from the top of the first part)."""
    return [
        station + max(hole.diameter_mm, hole.undercut.diameter_mm if hole.undercut else 0.0) / 2
        for _, hole, station in instrument.placed_holes()
    ]


def _outline_question(instrument: Instrument) -> dict[str, Any]:
    part = below_holes(instrument).parts[0]
    bore, outside = (
        [[round(x, 4), round(d, 4)] for x, d in line] for line in (part.bore, part.outside)
    )
    return {"solver": BELL_VERSION, "bore": bore, "outside": outside}


def below_holes(instrument: Instrument) -> Instrument:
    """The bore from the lower edge of the lowest hole to the bottom end, as one part."""
    from borewright.acoustics.solved.whole.body import body_of

    parts = [part.model_copy(update={"holes": []}) for part in instrument.parts]
    # A joint drawn apart is a ring in the chain of cones: the bell is solved with joints home.
    nothing: dict[str, Any] = {"mouthpiece": None, "reed": None, "pulled": {}}
    bare = instrument.model_copy(update={"parts": parts, **nothing})
    body = body_of(bare, [])
    end = body.bore[-1][0]
    cut = max([*_lower_edges(instrument), end - _REACH * body.bore[-1][1], 0.0])
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
    part = Part(name="bell", length_mm=bore[-1][0], bore=list(bore), outside=list(outside))
    bell = Instrument(name="bell", invented=True, parts=[part])
    radius = bore[-1][1] / 2000
    highest = min(_HIGHEST, _WIDEST_KA * _AIR.speed_of_sound / (2 * math.pi * radius))
    hz = np.linspace(_LOWEST, highest, _COUNT)
    k = 2 * np.pi * hz / _AIR.speed_of_sound
    ka = k * radius
    solved = _end_reflection(part, k, _top_impedance(bell, hz))
    closed = _closed_reflection(part, k)
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


def _end_reflection(part: Part, k: np.ndarray, impedance: np.ndarray) -> np.ndarray:
    """The reflection at the end of the chain of cones that gives an impedance at its top.

    The engine's cones (``twoport.cone``) with the way along their walls: without losses one
    takes any length, so that a line of the drawing is one piece. Flow is over the admittance of
    the section at the top.
    """
    top = part.bore[0][1]
    pressure, flow = impedance, np.ones_like(impedance)
    for (x0, d0), (x1, d1) in pairwise(part.bore):
        length, slope = (x1 - x0) / 1000, (d1 - d0) / 2 / (x1 - x0) if x1 > x0 else 0.0
        if not length:
            continue
        slower = (1 + slope**2) ** 0.25
        turn, admittance = 1j * k * slower, d0 * d1 / top**2 / slower
        cosh, sinh = np.cosh(turn * length), np.sinh(turn * length)
        above, below = (slope / turn / (d / 2000) for d in (d0, d1))
        a, b = d1 / d0 * (cosh - below * sinh), sinh / admittance
        c = admittance * ((1 - above * below) * sinh + (above - below) * cosh)
        d = d0 / d1 * (cosh + above * sinh)
        pressure, flow = d * pressure - b * flow, -c * pressure + a * flow
    wave = (part.bore[-1][1] / top) ** 2 * pressure
    return np.asarray((wave - flow) / (wave + flow))


def _closed_reflection(part: Part, k: np.ndarray) -> np.ndarray:
    """The reflection that the engine's closed form has there."""
    inner, outer = part.bore[-1][1] / 2000, part.outside[-1][1] / 2000
    modulus, length = (np.asarray(each) for each in _reflection(k, inner, outer))
    return np.asarray(-modulus * np.exp(-2j * k * length))


_reflection = compiled(reflection, static_argnums=())
