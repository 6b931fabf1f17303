"""An instrument on which advised steps were done."""

from __future__ import annotations

from collections.abc import Sequence

from borewright.errors import PlayingError
from borewright.model import Instrument
from borewright.model.dimensions import read_values, with_values
from borewright.model.results.advice import Aim, CorrectionStep, Leak
from borewright.playing.moves import moves, with_neutral_undercuts
from borewright.words import say

#: Sizes are written as a person would: to a thousandth of a millimetre.
_DIGITS = 3


def with_steps(
    instrument: Instrument,
    steps: Sequence[CorrectionStep],
    aim: Aim,
    leaks: Sequence[Leak] = (),
) -> Instrument:
    """The instrument after some steps of a plan; leaks that were sealed are gone.

    Parameters
    ----------
    instrument
        What the plan was made for: as built for a rework, the design for the next print.
    steps
        All steps of the plan, or those that were chosen.
    aim
        Of the plan.
    leaks
        Of the as-built instrument.

    Raises
    ------
    PlayingError
        For a step that belongs to another instrument.
    ModelError
        Where the steps leave no sound instrument.
    """
    base = with_neutral_undercuts(instrument)
    known = {
        (move.kind, move.part, move.hole): move
        for move in moves(base, list(leaks), aim, allow_building_up=True)
    }
    values, sealed = read_values(base), set()
    for step in steps:
        move = known.get((step.kind, step.part, step.hole))
        if move is None:
            raise PlayingError(
                say("'{step}' cannot be done here", step=step.words),
                place=instrument.name,
                remedy=say("Work out the corrections again; the instrument was changed since."),
            )
        if not move.columns:
            sealed.add(step.hole)
        for column in move.columns:
            values[column] += step.by_mm
    return _tidied(instrument, with_values(base, values, _DIGITS), sealed)


def _tidied(before: Instrument, after: Instrument, sealed: set[str]) -> Instrument:
    """Without the undercuts of no width that were added, and without sealed leaks."""
    parts = []
    for old, part in zip(before.parts, after.parts, strict=True):
        holes = []
        for was, hole in zip(old.holes, part.holes, strict=True):
            if hole.name in sealed:
                continue
            neutral = hole.undercut and hole.undercut.diameter_mm <= hole.diameter_mm + 1e-6
            if neutral and was.undercut is None:
                hole = hole.model_copy(update={"undercut": None})
            holes.append(hole)
        parts.append(part.model_copy(update={"holes": holes}))
    return after.model_copy(update={"parts": parts})
