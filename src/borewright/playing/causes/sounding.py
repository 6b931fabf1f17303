"""Cents of fingerings and their exact slopes in every unknown, about any point."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

import jax.numpy as jnp
import numpy as np

from borewright.acoustics import kernels
from borewright.acoustics.cents import CENTS_PER_LOG
from borewright.acoustics.model_levels import model_cents
from borewright.acoustics.parameters import read_parameters, with_parameters
from borewright.acoustics.request import request_of_table
from borewright.acoustics.side_holes import hole_level
from borewright.acoustics.status import statuses
from borewright.errors import PlayingError
from borewright.model import FingeringTable, Instrument, Register, dimensions
from borewright.playing.causes.unknowns import Unknowns
from borewright.playing.moves import with_neutral_undercuts
from borewright.words import say


class Sounding:
    """An instrument whose unknowns may take any values; all fingerings on one compiled kernel.

    That kernel is the one of corrections, in which holes may be undercut: an undercut of no
    width follows its hole's diameter.

    Attributes
    ----------
    unknowns
        What may vary.
    model_level, model_cents
        The level of the model in words, and its own error (cents).
    """

    def __init__(self, instrument: Instrument, fingerings: FingeringTable) -> None:
        self.unknowns = Unknowns(instrument, fingerings)
        ready = with_neutral_undercuts(instrument)
        self._follow = _follow(instrument, ready)
        level = hole_level(ready)
        self.model_level, self.model_cents = level.words, model_cents(level)
        self._request = request_of_table(ready, fingerings, solved=level.terms)
        self._values = np.array(self._request.numbers.values)
        self._parameters = np.asarray(read_parameters(self._request.numbers))
        self._names = [each.name for each in fingerings.fingerings]
        self._targets = np.array(
            [instrument.pitch.target_hz(each.written) for each in fingerings.fingerings]
        )
        self._registers = [each.register_ for each in fingerings.fingerings]
        self._habits = self.unknowns.habits(self._registers)
        self._strange: dict[Register, np.ndarray] | None = None

    def at(self, point: np.ndarray, rows: Sequence[int]) -> tuple[np.ndarray, np.ndarray]:
        """Cents [F] of some rows of the table with unknowns [X] at a point, and slopes [F, X].

        The player's own pitch counts.

        Raises
        ------
        PlayingError
            Where one of these fingerings has no usable resonance.
        """
        count = len(self.unknowns.dimensions)
        parameters = self._parameters + point[count : self.unknowns.player]
        numbers = with_parameters(self._request.numbers, jnp.asarray(parameters))
        numbers = numbers._replace(values=self._values + self._follow @ point[:count])
        request = self._request._replace(numbers=numbers)
        solved = kernels.resonances(*request)
        found = statuses(solved)
        for row in rows:
            if not found[row].usable:
                raise PlayingError(
                    say("'{note}' has no usable resonance", note=self._names[row]),
                    place=say("fingering table"),
                    remedy=say("Leave that fingering out of the takes."),
                )
        chosen = list(rows)
        cents = CENTS_PER_LOG * np.log(np.asarray(solved.frequency)[chosen] / self._targets[chosen])
        jacobian = CENTS_PER_LOG * np.asarray(kernels.full_jacobian(*request[:5], solved))[chosen]
        sizes = len(self._values)
        slopes = np.array(self._habits[chosen])
        slopes[:, :count] += jacobian[:, :sizes] @ self._follow
        slopes[:, count : self.unknowns.player] += jacobian[:, sizes:]
        return cents + self._habits[chosen] @ point, slopes

    def known_reads(self, register: Register | None = None) -> np.ndarray:
        """What a known instrument reads that the same player blew on the same day, [X].

        The player's own pitch with the habit of the register, and room and warm-up, which move
        an instrument of the same kind by as much: the mean over the fingerings of a register,
        or over all registers alike.
        """
        if register is None:
            each = [self.known_reads(own) for own in self.unknowns.registers]
            return np.mean([reads for reads in each if reads.any()], axis=0)  # type: ignore[no-any-return]
        if self._strange is None:
            rows = self.usable()
            slopes = self.at(np.zeros(self.unknowns.count), rows)[1] * (1 - self.unknowns.own())
            self._strange = {
                own: slopes[[self._registers[row] is own for row in rows]]
                for own in self.unknowns.registers
            }
        found = self._strange[register]
        reads: np.ndarray = found.sum(axis=0) / max(len(found), 1)
        return reads

    def usable(self) -> list[int]:
        """Rows of the table whose resonance can be trusted as drawn."""
        found = statuses(kernels.resonances(*self._request))
        return [row for row, status in enumerate(found) if status.usable]


def _follow(instrument: Instrument, ready: Instrument) -> np.ndarray:
    """Which dimensions with neutral undercuts follow those as drawn, [D ready, D]."""
    drawn = {each: column for column, each in enumerate(dimensions(instrument))}
    follow = np.zeros((len(dimensions(ready)), len(drawn)))
    for row, each in enumerate(dimensions(ready)):
        column = drawn.get(each)
        if column is None and each.measure == "undercut_diameter":
            column = drawn[replace(each, measure="diameter")]
        if column is not None:
            follow[row, column] = 1.0
    return follow
