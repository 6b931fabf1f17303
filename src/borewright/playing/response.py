"""How the notes answer to moves: re-solved resonances and exact derivatives."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

from borewright.acoustics import kernels
from borewright.acoustics.cents import CENTS_PER_LOG
from borewright.acoustics.request import request_of_table
from borewright.acoustics.side_holes import hole_level
from borewright.acoustics.status import statuses
from borewright.errors import PlayingError
from borewright.model import FingeringTable, Instrument
from borewright.playing.moves import BenchMove
from borewright.words import say


class Response:
    """Predicted cents of fingerings after any amounts of a list of moves.

    All fingerings of the table are solved, so that one compiled kernel serves an instrument
    whatever was measured; ``rows`` tells which of them are wanted (F in what follows), all by
    default. Solved holes are those of the instrument as it stands, and follow what their
    slopes foretell; ``model_level`` names the level.
    """

    def __init__(
        self,
        instrument: Instrument,
        fingerings: FingeringTable,
        moves: Sequence[BenchMove],
        rows: Sequence[int] | None = None,
    ) -> None:
        self._rows = np.arange(len(fingerings.fingerings)) if rows is None else np.array(rows)
        level = hole_level(instrument)
        self.model_level = level.words
        self._request = request_of_table(instrument, fingerings, solved=level.terms)
        self._start = np.array(self._request.numbers.values)
        self._targets = np.array(
            [instrument.pitch.target_hz(each.written) for each in fingerings.fingerings]
        )
        self._moves = list(moves)
        self._holes = instrument.hole_names()
        # [D, n]: which dimensions each move changes.
        self._directions = np.zeros((len(self._start), len(self._moves)))
        for column, move in enumerate(self._moves):
            self._directions[list(move.columns), column] = 1.0

    def cents(self, amounts: np.ndarray) -> np.ndarray:
        """Cents [F] after moves by ``amounts`` [n], solved anew."""
        return self._solve(amounts)[0]

    def cents_and_slopes(self, amounts: np.ndarray) -> tuple[np.ndarray, np.ndarray]:
        """Cents [F] and their derivatives [F, n] in the amounts.

        Sealing has no derivative: its column is the whole difference that it makes.
        """
        cents, request, solved = self._solve(amounts)
        jacobian = CENTS_PER_LOG * np.asarray(kernels.jacobian(*request[:5], solved))
        slopes = (jacobian @ self._directions)[self._rows]
        for column, move in enumerate(self._moves):
            if not move.columns:
                other = amounts.copy()
                other[column] = 1.0 - amounts[column]
                sign = 1.0 if amounts[column] < 0.5 else -1.0
                slopes[:, column] = sign * (self.cents(other) - cents)
        return cents, slopes

    def _solve(self, amounts: np.ndarray) -> tuple[np.ndarray, tuple, kernels.Solved]:  # type: ignore[type-arg]
        values = self._start + self._directions @ amounts
        masks = np.array(self._request.masks)
        for amount, move in zip(amounts, self._moves, strict=True):
            if not move.columns and amount > 0.5:
                masks[:, self._holes.index(move.hole)] = False
        request = self._request._replace(
            numbers=self._request.numbers._replace(values=values), masks=masks
        )
        solved = kernels.resonances(*request)
        found = statuses(solved)
        lost = [found[row] for row in self._rows if not found[row].usable]
        if lost:
            raise PlayingError(
                say("a fingering has no usable resonance: {lost}", lost=lost[0]),
                place=say("fingering table"),
                remedy=say("Take that fingering out; borewright tune shows which one it is."),
            )
        cents = CENTS_PER_LOG * np.log(np.asarray(solved.frequency) / self._targets)
        return cents[self._rows], request, solved
