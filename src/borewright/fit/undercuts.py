"""Undercuts that a fit may begin, and those that came to nothing.

A hole that is drawn straight has no undercut to move. Where a wish frees it, the fit begins with
one that is no wider than the hole; what did not open it by as much as a cutter can be set to is
drawn straight again.
"""

from __future__ import annotations

from collections.abc import Callable

from borewright.model import Instrument, ToneHole, drawn, remembering
from borewright.model.fit_wishes import read_free
from borewright.model.hole import Undercut

#: An undercut that a fit begins is half as deep as the tube, this (mm) at most; from memory.
_DEEPEST_MM = 3.0
#: An undercut wider than its hole by less than this (mm) cannot be cut on purpose; from memory.
LEAST_MM = 0.1


def begun(instrument: Instrument) -> Instrument:
    """The instrument with an undercut, as wide as the hole, wherever a wish frees one.

    A lined vent is never undercut.
    """
    wishes = [read_free(wish) for wish in instrument.fit.free]
    drawing = drawn(instrument)
    depths = {
        hole.name: round(min(_DEEPEST_MM, part.tube_height_mm(hole) / 2), 1)
        for part in drawing.parts
        for hole in part.holes
        if hole.undercut is None
        and not hole.into_bore_mm
        and any(wish.frees(("undercut",), part.name, hole.name) for wish in wishes)
    }
    if not depths:
        return instrument

    def begin(hole: ToneHole) -> ToneHole:
        if hole.name not in depths:
            return hole
        undercut = Undercut(diameter_mm=hole.diameter_mm, depth_mm=depths[hole.name])
        return hole.model_copy(update={"undercut": undercut})

    return remembering(_changed(instrument, begin), _changed(drawing, begin))


def without_idle(
    made: Instrument, given: Instrument, drawing: Instrument
) -> tuple[Instrument, Instrument]:
    """A fit's body and its drawing without the undercuts that were begun and came to nothing.

    Parameters
    ----------
    made
        What a fit found; it tells which came to nothing.
    given
        As before :func:`begun`.
    drawing
        Of the same structure as ``made``.
    """
    straight = {hole.name for part in given.parts for hole in part.holes if hole.undercut is None}
    idle = {
        hole.name
        for part in made.parts
        for hole in part.holes
        if hole.name in straight and hole.mouth_diameter_mm - hole.diameter_mm < LEAST_MM
    }

    def end(hole: ToneHole) -> ToneHole:
        return hole.model_copy(update={"undercut": None}) if hole.name in idle else hole

    return _changed(made, end), _changed(drawing, end)


def _changed(instrument: Instrument, change: Callable[[ToneHole], ToneHole]) -> Instrument:
    parts = []
    for part in instrument.parts:
        holes = [change(hole) for hole in part.holes]
        same = all(new is old for new, old in zip(holes, part.holes, strict=True))
        parts.append(part if same else part.model_copy(update={"holes": holes}))
    return instrument.model_copy(update={"parts": parts})
