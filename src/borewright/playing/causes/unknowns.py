"""What may be otherwise than drawn or written down, as one vector; and how far it usually is.

The vector holds every dimension's deviation (mm), then the deviations of climate, reed,
mouthpiece and wall (``acoustics.parameters.PARAMETERS``), then the player's own pitch (cents)
and what the player's habit adds in each register.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence

import numpy as np

from borewright.acoustics.parameters import PARAMETERS
from borewright.model import Dimension, Doubts, FingeringTable, Instrument, Register, dimensions

#: One standard deviation (cents) of a player's own pitch, where nothing better is known, and of
#: what habit adds in one register (from memory).
PLAYER_CENTS = 3.0
_HABIT_CENTS = 1.5
#: The same (°C) of a room whose temperature nobody wrote down (from memory).
_ROOM_UNKNOWN_C = 3.0
_ROOM = "room temperature"
#: What differs from take to take and is none of the instrument. Breath's gases and how the air
#: cools along the bore are the same whoever plays: where they are off, they are off for good.
PASSING = (_ROOM, "reed-end temperature", "pressure")


class Unknowns:
    """Names and places of all unknowns of one instrument, with their usual spread.

    Attributes
    ----------
    dimensions
        The first columns.
    registers
        Of the table's fingerings, the last columns.
    count
        Number of unknowns, X.
    """

    def __init__(self, instrument: Instrument, fingerings: FingeringTable) -> None:
        self.dimensions = dimensions(instrument)
        present = {fingering.register_ for fingering in fingerings.fingerings}
        self.registers = [register for register in Register if register in present]
        self._parameters = len(self.dimensions)
        self.player = self._parameters + len(PARAMETERS)
        self.count = self.player + 1 + len(self.registers)

    def parameter(self, name: str) -> int:
        """Column of a parameter; ValueError where there is none of that name."""
        return self._parameters + [each.name for each in PARAMETERS].index(name)

    def habit(self, register: Register) -> int:
        """Column of the player's habit in a register."""
        return self.player + 1 + self.registers.index(register)

    def own(self) -> np.ndarray:
        """1 where an unknown belongs to the instrument, 0 for its day and its player, [X]."""
        found = np.zeros(self.count)
        found[: self.player] = 1.0
        found[[self.parameter(name) for name in PASSING]] = 0.0
        return found

    def along(self, chosen: Callable[[Dimension], bool]) -> np.ndarray:
        """Direction [X] in which all chosen dimensions grow by 1 mm."""
        direction = np.zeros(self.count)
        direction[[i for i, each in enumerate(self.dimensions) if chosen(each)]] = 1.0
        return direction

    def unit(self, column: int) -> np.ndarray:
        """Direction [X] of one unknown."""
        direction = np.zeros(self.count)
        direction[column] = 1.0
        return direction

    def usual(self, doubts: Doubts, player_cents: float, *, room_known: bool) -> np.ndarray:
        """Covariance [X, X] of unknowns while nothing is wrong.

        Parameters
        ----------
        doubts
            Of print, gauge and circumstances; a coupon's scatter goes in here.
        player_cents
            One standard deviation of the player's own pitch.
        room_known
            Whether the takes' room temperature was written down.
        """
        found = np.zeros((self.count, self.count))
        measures = np.array([each.measure for each in self.dimensions])
        for measure in sorted(set(measures.tolist())):
            columns = np.flatnonzero(measures == measure)
            spread = doubts.of(measure)
            found[np.ix_(columns, columns)] += spread.common**2
            found[columns, columns] += spread.each**2
        for parameter in PARAMETERS:
            spread_of = doubts.parameters.get(parameter.name, 0.0)
            if parameter.name == _ROOM and not room_known:
                spread_of = _ROOM_UNKNOWN_C
            column = self.parameter(parameter.name)
            found[column, column] = spread_of**2
        found[self.player, self.player] = player_cents**2
        for register in self.registers:
            column = self.habit(register)
            found[column, column] = _HABIT_CENTS**2
        return found

    def habits(self, registers: Sequence[Register]) -> np.ndarray:
        """What the player adds to notes of these registers, [F, X]."""
        rows = np.zeros((len(registers), self.count))
        rows[:, self.player] = 1.0
        for row, register in enumerate(registers):
            rows[row, self.habit(register)] = 1.0
        return rows
