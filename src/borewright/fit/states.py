"""Further states in which one body shall be in tune: another barrel, another pitch, pulled."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from borewright.acoustics import kernels
from borewright.acoustics.cents import CENTS_PER_LOG
from borewright.acoustics.side_holes import HoleLevel
from borewright.acoustics.tuning import tuning_at
from borewright.errors import FitError, RefusedValue
from borewright.fit.aims import Aims, aims
from borewright.fit.further import Off, Seen, usable
from borewright.model import (
    Dimension,
    FingeringTable,
    Instrument,
    StateTuning,
    dimensions,
    read_values,
    with_values,
)
from borewright.model.fit_wishes import AlsoPlayed
from borewright.words import say

#: A note that was lost counts as so many cents off, as in the search.
_LOST_CENTS = 100.0


def in_state(instrument: Instrument, state: AlsoPlayed) -> Instrument:
    """The instrument in a state of ``fit.also``.

    Raises
    ------
    FitError
        For a part that there is not, and a joint that cannot be pulled so far.
    """
    place = ("fit.also", state.name)
    values = read_values(instrument)
    for column, length in _exchanged(instrument, state):
        values[column] = length
    changed = with_values(instrument, values)
    pitch = changed.pitch
    if state.a4_hz is not None:
        pitch = pitch.model_copy(update={"a4_hz": state.a4_hz})
    changed = changed.model_copy(update={"pitch": pitch, "pulled": state.pulled})
    try:
        changed.joint_gaps_mm()
    except RefusedValue as error:
        raise FitError(error.cause, place=place, remedy=error.remedy) from error
    return changed


def _exchanged(instrument: Instrument, state: AlsoPlayed) -> list[tuple[int, float]]:
    """Columns of the lengths of exchanged parts, and those lengths (mm)."""
    index = {dimension: column for column, dimension in enumerate(dimensions(instrument))}
    parts = [part.name for part in instrument.parts]
    for name in state.lengths:
        if name not in parts:
            raise FitError(
                say("there is no part '{name}'", name=name),
                place=("fit.also", state.name),
                remedy=say("Parts are: {parts}.", parts=", ".join(parts)),
            )
    return [(index[Dimension(name, "length")], mm) for name, mm in state.lengths.items()]


@dataclass(frozen=True)
class AlsoInTune:
    """The fingerings' cents in another state, with the weights and tolerances of the table."""

    exchanged: list[tuple[int, float]]
    gaps_mm: np.ndarray  # [P]
    aims: Aims
    weight: float

    def off(self, seen: Seen) -> Off:
        """Of every fingering c √(1 + c² / 2t²), whose square is what the search lowers."""
        numbers = seen.request.numbers
        values = np.array(numbers.values)
        for column, length in self.exchanged:
            values[column] = length
        request = seen.request._replace(
            numbers=numbers._replace(values=values, pulled=self.gaps_mm)
        )
        solved = kernels.resonances(*request)
        slopes = CENTS_PER_LOG * np.asarray(kernels.jacobian(*request[:5], solved))
        slopes[:, [column for column, _ in self.exchanged]] = 0.0
        known = usable(solved)
        ratio = np.asarray(solved.frequency) / self.aims.target_hz
        cents = CENTS_PER_LOG * np.log(np.where(known, ratio, 1.0)) - self.aims.wish
        cents = np.where(known, cents, _LOST_CENTS)
        slopes = np.where(known[:, None], slopes, 0.0)
        share = (cents / self.aims.tolerance) ** 2
        root = np.sqrt(1 + share / 2)
        strength = self.weight * self.aims.weight
        first, second = self.aims.intervals[:, 0], self.aims.intervals[:, 1]
        uneven = self.weight * self.aims.interval_weight
        return Off(
            np.concatenate(
                [
                    strength * cents * root,
                    uneven * (cents[second] - cents[first] - self.aims.wanted),
                ]
            ),
            np.concatenate(
                [
                    (strength * (1 + share) / root)[:, None] * slopes,
                    uneven[:, None] * (slopes[second] - slopes[first]),
                ]
            ),
        )


def also_in_tune(instrument: Instrument, fingerings: FingeringTable) -> list[AlsoInTune]:
    """The aims of all further states."""
    found = []
    for state in instrument.fit.also:
        changed = in_state(instrument, state)
        found.append(
            AlsoInTune(
                _exchanged(instrument, state),
                np.array(changed.joint_gaps_mm()),
                aims(changed, fingerings),
                state.weight,
            )
        )
    return found


def state_tunings(
    before: Instrument, after: Instrument, fingerings: FingeringTable, levels: list[HoleLevel]
) -> list[StateTuning]:
    """Every further state's tuning before and after a fit, each with its own level of holes."""
    return [
        StateTuning(
            name=state.name,
            before=tuning_at(in_state(before, state), fingerings, levels[0]).summary,
            after=tuning_at(in_state(after, state), fingerings, levels[1]),
        )
        for state in before.fit.also
    ]
